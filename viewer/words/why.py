"""What stands over the parts of an answer to why a joint broke or wore."""

from typing import Final

from sim.cocked import CapResult, Cocked
from sim.seen.words import CapName
from viewer.words.seen import CAP_CALLED
from viewer.words.units import format_angle, torque

ODDS_HEADLINE: Final = "Causes that are not ruled out; several may have been at work"


def pressed_headline(cap: CapName) -> str:
    """Over the pressure on a trunnion."""
    return f"Where the needles press the trunnion in cap {CAP_CALLED[cap]}, unrolled"


def pressed_lines(found: Cocked, cap: CapResult) -> tuple[str, ...]:
    """Under it: how it sits, at which torque, and what that does."""
    sits = (
        f"It sits {format_angle(cap.seat.tipped, 2)} crooked by what was measured"
        if cap.seat.tipped > 0.0
        else "Nothing that was measured tips it"
    )
    others = [CAP_CALLED[name] for name in found.crooked if found.caps[name] is not cap]
    also = f" So does cap {' and cap '.join(others)}, no more than that." if others else ""
    return (
        f"{sits}.{also} Computed at the torque of every day, {torque(found.torques.everyday)}, at "
        f"{format_angle(found.at.bend)} of bend.",
    )
