"""The lines that round parts turn about or lie on, and where they go with the axle."""

from collections.abc import Callable, Sequence
from typing import Literal

import numpy as np

from sim.frames import FloatArray
from sim.head.bend import ball_of, reach_of
from sim.line import LineState, line
from sim.suspension.base import AxlePoses
from sim.vehicle import Vehicle

Line = Literal[
    "shaft",
    "front section",
    "output head",
    "pinion head",
    "output yoke",
    "output",
    "pinion yoke",
    "axle",
]
"""What a round part lies on: the shaft from its own first cross to its own last one; the front
section from the output joint to the middle one; the center yoke of a head from the cross nearer the
engine to the other; the yoke on the output and that on the pinion, from their cross along their x
axis; the output, as that yoke's line at ride height; the axle, from the middle of its housing to
the left. The last four are 1 mm long."""

Ends = tuple[FloatArray, FloatArray]


def line_ends(
    vehicle: Vehicle, lines: Sequence[Line], poses: FloatArray, from_axle: bool = False
) -> Ends:
    """Both ends (lines, n, 3), mm, of lines at poses (n, 3): travel mm, roll and wrap rad.

    from_axle : seen from the axle housing in A, and not from the chassis in C.
    """
    state = line(vehicle, *poses.T)
    axle = vehicle.suspension.poses(*poses.T)
    ends = [_ENDS[each](vehicle, state, axle) for each in lines]
    begin, end = (np.stack([pair[i] for pair in ends]) for i in (0, 1))
    if not from_axle:
        return begin, end
    seen = (np.einsum("nij,lni->lnj", axle.R_CA, each - axle.p_C_A) for each in (begin, end))
    begin, end = seen
    return begin, end


def _shaft(vehicle: Vehicle, state: LineState, _axle: AxlePoses) -> Ends:
    u = state.shaft_axis_C
    return (
        state.p_C_output + reach_of(vehicle.output_head, state.output_bend)[:, None] * u,
        state.p_C_pinion - reach_of(vehicle.pinion_head, state.pinion_bend)[:, None] * u,
    )


def _front_section(vehicle: Vehicle, state: LineState, _axle: AxlePoses) -> Ends:
    if vehicle.section is None:
        raise LookupError("a front section of a one-piece shaft came; expected a two-piece one")
    still = np.zeros_like(state.p_C_pinion)
    return still + vehicle.section.p_C_output, still + vehicle.section.p_C_middle


def _output_head(vehicle: Vehicle, state: LineState, axle: AxlePoses) -> Ends:
    return _output_cross(vehicle, state), _shaft(vehicle, state, axle)[0]


def _pinion_head(vehicle: Vehicle, state: LineState, axle: AxlePoses) -> Ends:
    return _shaft(vehicle, state, axle)[1], _pinion_cross(vehicle, state)


def _output_yoke(vehicle: Vehicle, state: LineState, _axle: AxlePoses) -> Ends:
    if vehicle.section is not None:
        start = np.zeros_like(state.p_C_pinion) + vehicle.section.p_C_output
        return start, start + vehicle.section.axis_C_output
    start = _output_cross(vehicle, state)
    return start, start + vehicle.axis_C_output


def _output(vehicle: Vehicle, state: LineState, axle: AxlePoses) -> Ends:
    start, stop = _output_yoke(vehicle, state, axle)
    if vehicle.section is not None or vehicle.slip.at == "shaft":
        return start, stop
    # The yoke slides along the line.
    slid = state.slip[:, None] * vehicle.axis_C_output
    return start + slid, stop + slid


def _pinion_yoke(vehicle: Vehicle, state: LineState, _axle: AxlePoses) -> Ends:
    start = _pinion_cross(vehicle, state)
    return start, start + state.axis_C_pinion


def _axle(_vehicle: Vehicle, state: LineState, axle: AxlePoses) -> Ends:
    # A pose that the shaft cannot reach is no pose of the axle either.
    middle = axle.p_C_A + 0.0 * state.p_C_output
    return middle, middle + axle.direction((0.0, 1.0, 0.0))


_ENDS: dict[Line, Callable[[Vehicle, LineState, AxlePoses], Ends]] = {
    "shaft": _shaft,
    "front section": _front_section,
    "output head": _output_head,
    "pinion head": _pinion_head,
    "output yoke": _output_yoke,
    "output": _output,
    "pinion yoke": _pinion_yoke,
    "axle": _axle,
}


def _output_cross(vehicle: Vehicle, state: LineState) -> FloatArray:
    """Cross (n, 3) of the yoke on the output, mm."""
    return state.p_C_output + ball_of(vehicle.output_head) * vehicle.axis_C_output


def _pinion_cross(vehicle: Vehicle, state: LineState) -> FloatArray:
    """Cross (n, 3) of the yoke on the pinion, mm."""
    return state.p_C_pinion + ball_of(vehicle.pinion_head) * state.axis_C_pinion
