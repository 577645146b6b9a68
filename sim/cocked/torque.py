"""The torques a joint's needles are asked at: what it gets every day, and its hardest pull."""

from dataclasses import dataclass

from sim.bearing.needles import BearingError, Needles
from sim.quantities import require_positive
from sim.remark import Remark
from sim.rig import Rig
from sim.ticket.drive_said import drive_said
from sim.ticket.drive_torque import drive_torque

EVERY_DAY = 0.2
"""Share of the torque at which a straight cap would first be dented, taken for every day where a
rig tells nothing of its drive (generic, from memory)."""

HARDEST = 2.0 / 3.0
"""The same for the hardest pull: a joint of the right size keeps a safety of one and a half."""


@dataclass(frozen=True)
class Torques:
    """N mm in the driving shaft.

    Attributes
    ----------
    everyday, hardest : while cruising, and the greatest.
    pull_known : whether the rig tells of its hardest pull.
    assumed : which of them nobody told.
    """

    everyday: float
    hardest: float
    pull_known: bool
    assumed: tuple[Remark, ...] = ()


def torques_of(rig: Rig, needles: Needles, arm: float, everyday: float | None = None) -> Torques:
    """Torques of a rig's shaft, generic ones for a joint of its size where the rig has none.

    arm : from the cross centre to the middle of the needles, mm.
    everyday : N mm, in place of what the rig tells.
    Raises BearingError for one that is not above zero.
    """
    if everyday is not None:
        require_positive(BearingError, torque=everyday)
    said, generic = drive_said(rig), 2.0 * arm * needles.static_rating
    known, assumed = said.numbers, []
    usual = everyday
    if usual is None and {"engine_torque", "top_gear"} <= set(known):
        usual = known["cruise"] * known["engine_torque"] * known["top_gear"]
    if usual is None:
        usual = EVERY_DAY * generic
        assumed.append(Remark("everyday-torque-assumed", torque=usual, share=EVERY_DAY))
    peak = drive_torque(said).peak
    hardest = HARDEST * generic if peak is None else peak.value
    if peak is None:
        assumed.append(Remark("hardest-pull-assumed", torque=hardest, share=HARDEST))
    return Torques(usual, max(hardest, usual), peak is not None, tuple(assumed))
