"""How a joint failed, of what an inspection tells: as far as it matters to what it got and took."""

from dataclasses import dataclass
from typing import Final, Literal

from sim.seen import Inspection
from sim.seen.words import Happened, Use, was_at
from sim.table.loads import MILE

When = Literal["worst", "ride", "typed"]
"""At which bend: the steepest of the travel, that of ride height, one that was typed."""

_BENT: Final[dict[Happened, When]] = {
    "droop": "worst",
    "highway": "ride",
    "slow and steady": "ride",
    "parked": "ride",
}
"""Where an axle stands as that happens, the worst of it first; a hard pull, or a change of ways,
is at any height."""


@dataclass(frozen=True)
class HowFailed:
    """What somebody knows of how a joint failed; None for what nobody said.

    Attributes
    ----------
    at : at which bend it failed. hard_pull : whether it was at a hard pull.
    miles : since it was new. use : what the vehicle does. play : rad at the tube.
    """

    at: When | None = None
    hard_pull: bool | None = None
    miles: float | None = None
    use: Use | None = None
    play: float | None = None


def how_failed(inspection: Inspection) -> HowFailed:
    """What an inspection tells of it."""
    history, symptoms, play = inspection.history, inspection.symptoms, inspection.play
    happened = (None if symptoms is None else symptoms.happened) or ()
    distance = None if history is None else history.distance
    free = None if play is None else play.at_tube
    return HowFailed(
        at=next((bent for word, bent in _BENT.items() if word in happened), None),
        hard_pull=was_at(happened, "hard pull"),
        miles=None if distance is None else distance.mm / MILE,
        use=None if history is None else history.use,
        play=None if free is None else free.rad,
    )
