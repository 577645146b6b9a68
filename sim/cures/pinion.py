"""Turning the pinion: shims, adjustable arms, perches cut and turned."""

from math import degrees, radians

from sim.cures.remedy import LITTLE_ELSE, Case, Dose, Remedy
from sim.cures.restate import pinion_turned
from sim.derive import ride_height_of
from sim.rig import Rig
from sim.units import format_angle, format_spoken

HALF = radians(0.5)
"""Shims are had in half degrees; common practice, no source."""

MOST = 16
"""Half degrees. Shims are sold to 8 deg; past that perches are cut; common practice, no source."""

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
        how = "adjust the arms, or cut and turn the perches,"
        if case.rig.suspension.kind in ("vertical", "measured"):
            how = "shims on leaf springs, or longer arms, or the perches cut and turned,"
        if case.rig.suspension.kind == "leaf":
            thick = self._thick(case.rig, case.dose)
            how = f"{degrees(case.dose.size):g} deg shims, thick end {thick},"
        turn = f"{case.dose.way} {format_angle(case.dose.size)}"
        return f"Turn the pinion's nose {turn}: {how} to {pinion}"

    @staticmethod
    def _thick(rig: Rig, dose: Dose) -> str:
        """Where the thick end of a shim goes between the seat and a spring above the axle."""
        toward_nose = (dose.way == "down") == _spring_above(rig)
        if rig.axle.position == "front":
            return "to the rear" if toward_nose else "to the front"
        return "to the front" if toward_nose else "to the rear"

    def costs(self, case: Case) -> str:
        """The other joint, oil, pins, caster."""
        worse = [
            joint
            for joint, margin in case.after.margins.items()
            if margin < case.before.margins[joint] - radians(0.05)
        ]
        said = []
        if worse:
            said.append(f"takes room from the {' and '.join(worse)} joint")
        said += shaken(case)
        if case.dose.size > BOLTS and case.rig.suspension.kind == "leaf":
            said.append("a shim this thick loads the centre pin: longer pins, or turned perches")
        if case.dose.way == "up" and ride_height_of(case.cured).pinion_up > FAR_UP:
            said.append("a pinion that points up far starves its front bearing of oil")
        if case.rig.axle.position == "front":
            way = "takes away" if case.dose.way == "up" else "adds"
            said.append(
                f"{way} {format_angle(case.dose.size)} of caster unless the knuckles are cut and "
                "turned"
            )
        return "; ".join(said) or LITTLE_ELSE


def shaken(case: Case) -> list[str]:
    """What a remedy does to the shake at ride height, where it makes it worse."""
    was, now = case.before.uneven, case.after.uneven
    if now < was + NOTICED:
        return []
    return [
        f"shakes more at ride height: the pinion leads and lags {format_angle(now, 2)} in place of "
        f"{format_angle(was, 2)}"
    ]


NOTICED = radians(0.05)
"""A change of lead and lag that the table shows."""


def _spring_above(rig: Rig) -> bool:
    """Whether the springs sit above the axle, so that a shim lies between them."""
    seat = getattr(rig.suspension, "seat", None)
    return seat is None or bool(seat[2].mm >= 0.0)
