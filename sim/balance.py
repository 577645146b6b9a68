"""How well a shaft has to be balanced: grade, residual for each plane, force of what is left."""

from dataclasses import dataclass

from geometry.errors import BindpointError
from sim.quantities import require_positive

OUNCE_INCH = 28.349523125 * 25.4
"""g mm of one oz in; 720.0779."""

ROAD = 40.0
"""Grade G 40, mm/s: drive shafts of cars [ISO21940-11, table 1]."""

FINE = 16.0
"""Grade G 16, mm/s: drive shafts with universal joints, propeller shafts [ISO21940-11, table 1]."""

LEAST_SHARE, MOST_SHARE = 0.3, 0.7
"""What one of two planes gets of the whole, whatever the place of the middle of mass
[ISO21940-11, from memory]."""


class BalanceError(BindpointError, ValueError):
    """Masses, speeds or planes that no shaft can be balanced by."""


@dataclass(frozen=True)
class Balance:
    """What may be left, g mm."""

    grade: float
    """mm/s."""
    mass: float
    """kg."""
    speed: float
    """rad/s."""
    total: float
    """Residual of the whole shaft."""
    first: float
    """Residual of the plane at the first end."""
    last: float
    """Residual of the plane at the last end."""

    @property
    def per_plane_oz_in(self) -> tuple[float, float]:
        """Residuals of first and last plane, oz in."""
        return self.first / OUNCE_INCH, self.last / OUNCE_INCH

    def weights(self, radius: float) -> tuple[float, float]:
        """What these residuals are as weights (g) welded on at a radius (mm)."""
        require_positive(BalanceError, radius=radius)
        return self.first / radius, self.last / radius


def balance(
    mass: float,
    speed: float,
    grade: float = FINE,
    *,
    planes: float = 1.0,
    middle: float | None = None,
) -> Balance:
    """Permissible residual of a shaft of a mass (kg) at a speed (rad/s) in a grade (mm/s).

    Parameters
    ----------
    planes : between the two balance planes, mm.
    middle : from the first plane to the middle of mass, mm; half way when left out.

    The whole, 1000 G m / w in g mm, is shared as the weight rests on the two planes, each
    between 0.3 and 0.7 of it [ISO21940-11]. A rigid shaft is meant: one well under its critical
    speed.
    """
    require_positive(BalanceError, mass=mass, speed=speed, grade=grade, planes=planes)
    at = 0.5 * planes if middle is None else middle
    if not 0.0 <= at <= planes:
        raise BalanceError(
            f"middle of mass: got {at:g} mm, expected between the planes, 0 and {planes:g} mm"
        )
    total = 1000.0 * grade * mass / speed
    share = min(max(1.0 - at / planes, LEAST_SHARE), MOST_SHARE)
    return Balance(grade, mass, speed, total, share * total, (1.0 - share) * total)
