"""The shapes a rig asks for: catalogue parts with its own numbers, fitted to its tube."""

from collections.abc import Mapping

from geometry.cross import CrossShape
from geometry.head import HeadShape
from geometry.yoke import YokeShape
from sim.catalogue import cross_shape, dimension_names, yoke_shape
from sim.head import Head
from sim.head_catalogue import head_of, head_shape
from sim.rig.choice import CrossChoice, YokeChoice
from sim.rig.shaft import OutputEnd, PinionEnd, Shaft, Tube


def fitted_cross(choice: CrossChoice) -> CrossShape:
    """A cross of the catalogue with the rig's own dimensions."""
    return cross_shape(choice.name, choice.overrides)


def fitted_yoke(choice: YokeChoice, cross: CrossShape, tube: Tube) -> YokeShape:
    """A yoke for this cross, made to fit the rig's tube where it is welded to one."""
    fit = {"tube_diameter": tube.outside.mm, "pilot_diameter": tube.outside.mm - 2.0 * tube.wall.mm}
    known = {dimension.name for dimension in dimension_names(choice.name)}
    fitted = {name: value for name, value in fit.items() if name in known}
    return yoke_shape(choice.name, cross, fitted | dict(choice.overrides))


def fitted_head(end: OutputEnd | PinionEnd, tube: Tube) -> HeadShape | None:
    """The double-Cardan head of one end; None where it has a single joint.

    The yoke on the output's or pinion's side carries the ball, that on the shaft the socket.
    Raises BindpointError for unknown names and dimensions that clash.
    """
    if end.joint == "single" or end.head is None:
        return None
    cross = fitted_cross(end.cross)
    outer = end.output_yoke if isinstance(end, OutputEnd) else end.pinion_yoke
    return head_shape(
        end.head.name,
        cross,
        fitted_yoke(outer, cross, tube),
        fitted_yoke(end.shaft_yoke, cross, tube),
        _numbers(end.head.overrides),
    )


def heads_of(shaft: Shaft) -> tuple[Head | None, Head | None]:
    """The heads at output and pinion end as the mathematics of the line sees them."""
    shapes = (fitted_head(end, shaft.tube) for end in (shaft.output_end, shaft.pinion_end))
    output, pinion = (None if shape is None else head_of(shape) for shape in shapes)
    return output, pinion


def _numbers(overrides: Mapping[str, float]) -> dict[str, float]:
    return {name: float(value) for name, value in overrides.items()}
