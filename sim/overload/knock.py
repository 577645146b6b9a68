"""What the play of a worn joint adds: how fast it closes when torque comes on, and how hard.

Two inertias J1 (engine side) and J2 (wheel side), between them a spring k behind a gap g. Torque T
comes on at once at J1 with the gap open the whole way.

*Across the gap* J1 runs free. The work of the torque becomes its motion, T g = J1 w^2 / 2, so it
closes at w = sqrt(2 T g / J1); J2 stands.

*After it* the wind-up p follows J p'' = T J/J1 - k p, J = J1 J2/(J1 + J2), from p = 0 at p' = w. It
swings about the steady T0 = T J2/(J1 + J2) by sqrt(T0^2 + k J w^2), and k J w^2 = 2 k g T0, so the
greatest torque in the spring is

    T0 (1 + sqrt(1 + 2 k g / T0))

Without play that is 2 T0, as of any torque that comes on at once; what lies above it is the knock.
Damping is left out, so it is the most. [derivation]; the tests integrate the same in time.
"""

from dataclasses import dataclass
from math import inf, sqrt

from geometry.errors import BindpointError
from sim.overload.band import Band
from sim.quantities import require_not_negative, require_positive


class KnockError(BindpointError, ValueError):
    """Inertias, springs or gaps that there are none of."""


@dataclass(frozen=True)
class Train:
    """A drive as two inertias, a spring and a gap between them."""

    engine: float
    """Inertia of the engine's side as the shaft feels it, N mm s2 (1000 of them are 1 kg m2)."""
    wheels: float
    """Of the wheels' side; inf where these stand or are wedged."""
    stiffness: float
    """Of all between them, N mm/rad."""

    def __post_init__(self) -> None:
        require_positive(KnockError, engine_inertia=self.engine, stiffness=self.stiffness)
        if not self.wheels > 0.0:
            raise KnockError(f"wheel inertia: got {self.wheels}, expected a number above zero")

    def steady(self, torque: float) -> float:
        """Torque (N mm) that the spring settles at, T J2/(J1 + J2)."""
        return torque if self.wheels == inf else torque * self.wheels / (self.engine + self.wheels)

    def closing(self, torque: float, gap: float) -> float:
        """Speed (rad/s) at which a gap (rad) closes under a torque (N mm)."""
        require_not_negative(KnockError, torque=torque, gap=gap)
        return sqrt(2.0 * torque * gap / self.engine)

    def peak(self, torque: float, gap: float) -> float:
        """Greatest torque (N mm) in the spring as it comes on through a gap (rad)."""
        require_not_negative(KnockError, torque=torque, gap=gap)
        steady = self.steady(torque)
        if steady == 0.0:
            return 0.0
        return steady * (1.0 + sqrt(1.0 + 2.0 * self.stiffness * gap / steady))


@dataclass(frozen=True)
class Knock:
    """What play does as torque comes on; an estimate.

    Attributes
    ----------
    gap : rad of play at the tube. torque : N mm that comes on.
    speed : rad/s at which it closes.
    peak : N mm of the knock. without : the same torque coming on at once without play.
    force : N on a cap at that peak.
    """

    gap: float
    torque: float
    speed: Band
    peak: Band
    without: Band
    force: Band

    @property
    def adds(self) -> Band:
        """Times the torque that comes on at once without play."""
        return Band(
            *(
                one / other
                for one, other in (
                    (self.peak.value, self.without.value),
                    (self.peak.low, self.without.low),
                    (self.peak.high, self.without.high),
                )
            )
        )


def knock(
    trains: tuple[Train, Train, Train], torque: float, gap: float, force_per_torque: float
) -> Knock:
    """Ask the middle train, the one that knocks least and the one that knocks most.

    force_per_torque : N on a cap for each N mm in the shaft, 1/(2 R cos b).
    """
    closing = [train.closing(torque, gap) for train in trains]
    peak = Band(*(train.peak(torque, gap) for train in trains))
    return Knock(
        gap=gap,
        torque=torque,
        speed=Band(closing[0], min(closing), max(closing)),
        peak=peak,
        without=Band(*(train.peak(torque, 0.0) for train in trains)),
        force=peak.over(1.0 / force_per_torque),
    )
