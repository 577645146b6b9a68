"""The crosses of a joint, one or two of a head, and how far each bends where the joint does."""

from collections.abc import Callable
from dataclasses import dataclass
from typing import Literal

from geometry.contact.pair import CROSS, DRIVEN, DRIVING
from geometry.tolerances import TOL
from sim.front_section import shaft_drives
from sim.hardware.head import EndHardware, HeadHardware
from sim.hardware.head_touch import total_from_carrying, total_from_sliding
from sim.hardware.joint import CENTRE, JointHardware
from sim.vehicle import Joint

YokeSide = Literal["shaft", "end", "center", "cross"]
"""The shaft's own yoke, the one on what the joint is bolted or slid to, the one between the two
crosses of a head, or the cross itself. Of a middle joint the shaft is the one that moves."""


@dataclass(frozen=True, eq=False)
class CrossAt:
    """One cross with its two yokes.

    Attributes
    ----------
    number : 0, or 1 for the one of a head farther from the engine.
    hardware : its parts, those of a single joint.
    bend : the bend (rad) here, by that of the whole joint.
    whole : the bend of the whole joint, by that here; inf where it never bends so far.
    limit : rad, the largest bend of the whole joint that is asked: that of a head's ball.
    """

    number: int
    hardware: JointHardware
    bend: Callable[[float], float]
    whole: Callable[[float], float]
    limit: float = TOL.bend_limit

    def side(self, body: str) -> YokeSide:
        """Which of the parts a body is."""
        if body == CROSS:
            return "cross"
        parts = self.hardware
        source = parts.driving_from if body == DRIVING else parts.driven_from
        if source.kind == CENTRE:
            return "center"
        return "shaft" if body == shaft_body(parts.joint) else "end"


def shaft_body(joint: Joint) -> str:
    """Which body of a joint is on the shaft that moves: the driven one but at the pinion."""
    return DRIVING if shaft_drives(joint) else DRIVEN


def crosses_of(hardware: EndHardware) -> tuple[CrossAt, ...]:
    """The crosses of a joint, the one nearer the engine first."""
    if isinstance(hardware, JointHardware):
        return (CrossAt(0, hardware, _same, _same),)
    return tuple(_of_head(hardware, number) for number in (0, 1))


def _same(bend: float) -> float:
    return bend


def _of_head(hardware: HeadHardware, number: int) -> CrossAt:
    carrying = hardware.carrying_drives == (number == 0)
    total = total_from_carrying if carrying else total_from_sliding
    return CrossAt(
        number,
        hardware.crosses[number],
        lambda bend: hardware.bends(bend)[number],
        lambda bend: total(hardware.head, bend),
        min(hardware.head.limit, TOL.bend_limit),
    )
