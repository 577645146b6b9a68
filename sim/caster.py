"""On a front axle raising the pinion takes caster: both turn with the same housing."""

from dataclasses import dataclass
from math import isfinite

from geometry.errors import BindpointError


class CasterError(BindpointError, ValueError):
    """Angles that no caster change can be told from."""


@dataclass(frozen=True)
class CasterChange:
    """What turning a front axle's housing does to its caster."""

    raised: float
    """How far the pinion is raised, rad; negative is lowered."""
    change: float
    """Change of the caster, rad: caster is positive with the top of the steering axis rearward."""
    before: float | None
    """Caster before, rad, where known."""

    @property
    def after(self) -> float | None:
        """Caster after, rad, where known."""
        return None if self.before is None else self.before + self.change


def caster_change(raised: float, caster: float | None = None) -> CasterChange:
    """Tell what raising the pinion of a front axle does to its caster; rad, caster if known.

    The pinion looks rearward, so raising it turns the housing forward at its top, and the
    steering axis leans with it. Seen from the side every direction fixed to the housing turns by
    the same angle, whatever the kingpins lean sideways: the change is exactly the angle raised
    [derivation].
    """
    for name, angle in (("raised", raised), ("caster", caster)):
        if angle is not None and not isfinite(angle):
            raise CasterError(f"{name}: got {angle}, expected an angle in rad")
    return CasterChange(raised=raised, change=-raised, before=caster)
