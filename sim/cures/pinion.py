"""Turning the pinion: shims, adjustable arms, perches cut and turned."""

from math import degrees, radians

from sim.cures.remedy import LITTLE_ELSE, Case, Dose, Item, Remedy
from sim.cures.restate import pinion_turned
from sim.derive import ride_height_of
from sim.rig import Rig
from sim.units import format_angle, format_spoken

HALF = radians(0.5)
"""Shims are had in half degrees; common practice, no source."""

MOST = 16
"""Half degrees. Past 8 deg little is right about the axle; common practice, no source."""

SHIMMED = radians(6.0)
"""A shim rarely turns a pinion farther; common practice, no source."""

BOLTS = radians(4.0)
"""Past this a shim loads the centre pin and wants a longer one; from memory."""

FAR_UP = radians(5.0)
"""Past this a pinion that points up is said to want more oil; from memory."""


class PinionTurn(Remedy):
    """The housing turned about its own axis, nose up or nose down."""

    code = "pinion-turn"
    changes = frozenset({"line", "slip"})
    series = tuple(tuple(Dose(HALF * (i + 1), way) for i in range(MOST)) for way in ("up", "down"))

    def applied(self, rig: Rig, dose: Dose) -> Rig:
        """The same shaft on a turned pinion."""
        return pinion_turned(rig, dose.size if dose.way == "up" else -dose.size)

    def says(self, case: Case) -> str:
        """How far, which way, and which end of a shim is thick."""
        pinion = format_spoken(ride_height_of(case.cured).pinion_up, "up", "down")
        by, far = case.rig.suspension.turned_by, past_shims(case.dose.size)
        if by == "arms":
            how = "adjust the arms, or cut and turn the perches,"
        elif by == "shims":
            thick = self._thick(case.rig, case.dose)
            how = f"{degrees(case.dose.size):g} deg shims, thick end {thick},"
            how = "cut and turn the perches" if far else how
        else:
            how = "longer arms, or the perches cut and turned"
            how = how if far else f"shims on leaf springs, {how},"
        how += FARTHER if far and by != "arms" else ""
        turn = f"{case.dose.way} {format_angle(case.dose.size)}"
        return f"Turn the pinion's nose {turn}: {how} to {pinion}"

    def bill(self, rig: Rig, dose: Dose, cured: Rig) -> tuple[Item, ...]:  # noqa: ARG002
        """Shims by the degree; arms, or perches cut and turned."""
        return (turning(rig, cured),)

    @staticmethod
    def _thick(rig: Rig, dose: Dose) -> str:
        """Where the thick end of a shim goes between the seat and a spring above the axle."""
        toward_nose = (dose.way == "down") == _spring_above(rig)
        if rig.axle.position == "front":
            return "to the rear" if toward_nose else "to the front"
        return "to the front" if toward_nose else "to the rear"

    def costs(self, case: Case) -> str:
        """Pins, oil, caster."""
        said: list[str] = []
        leaf = case.rig.suspension.turned_by == "shims"
        if case.dose.size > BOLTS and leaf and not past_shims(case.dose.size):
            said.append("a shim this thick loads the centre pin: longer pins, or turned perches")
        return "; ".join([*said, *from_turning(case)]) or LITTLE_ELSE


def turning(rig: Rig, cured: Rig) -> Item:
    """What it takes to turn the pinion from one rig to the other: shims, arms or perches."""
    turn = abs(ride_height_of(cured).pinion_up - ride_height_of(rig).pinion_up)
    if rig.suspension.turned_by == "arms":
        return Item("pinion-turn-arms", degrees(turn))
    return Item("pinion-turn-perches" if past_shims(turn) else "pinion-turn", degrees(turn))


def past_shims(turn: float) -> bool:
    """Whether a turn of the pinion (rad, either way) is more than shims give."""
    return abs(turn) > SHIMMED + 1e-9


FARTHER = ", farther than shims go,"


def from_turning(case: Case) -> list[str]:
    """What follows from the pinion's turn, whatever turned it: oil, and on a front axle caster."""
    up = ride_height_of(case.cured).pinion_up
    turn, said = up - ride_height_of(case.rig).pinion_up, []
    if turn > 0.0 and up > FAR_UP:
        said.append("a pinion that points up far starves its front bearing of oil")
    if case.rig.axle.position == "front":
        caster = case.cured.axle.steers
        then = "" if caster is None else f", {format_spoken(caster, 'positive', 'negative')} then,"
        way = "takes away" if turn > 0.0 else "adds"
        said.append(
            f"{way} {format_angle(abs(turn))} of caster{then} unless the knuckles are cut and "
            "turned"
        )
    return said


def _spring_above(rig: Rig) -> bool:
    """Whether the springs sit above the axle, so that a shim lies between them."""
    springs = rig.suspension.springs()
    return springs is None or springs.seat >= 0.0
