"""What a bent joint does to its yokes: the couples of the cross and the forces on its caps.

The cross passes no moment but along the normal of its plane, which is not along either shaft
when the joint is bent; what is left over bends the shafts. With T in the driving shaft, bend b,
spin s (0 where the driving bores lie in the plane of the bend) and D^2 = 1 - cos(s)^2 sin(b)^2:

    moment of the cross          T D / cos b
    couple on the driving shaft  T tan b |sin s|
    couple on the driven shaft   T (D / cos b) sin b |cos s|

[derivation]; the extremes T tan b and T sin b, a quarter turn apart, are those of the handbooks
(from memory), and the tests compare both with vector statics worked apart.
"""

from dataclasses import dataclass
from math import cos, tan

from sim.quantities import require_bend, require_not_negative, require_positive
from sim.strength.member import StrengthError


@dataclass(frozen=True)
class JointLoad:
    """The greatest loads over a turn of one joint at a torque and a bend; N and N mm."""

    torque: float
    bend: float
    arm: float
    """From the cross centre to where a cap's load acts, mm."""
    thrust: float
    """Along the shaft, of a slip that sticks, N."""

    @property
    def greatest_torque(self) -> float:
        """The torque swings between T cos b and T / cos b from one shaft to the other."""
        return self.torque / cos(self.bend)

    @property
    def couple(self) -> float:
        """Greatest couple that bends either shaft: T tan b, on the driving one."""
        return self.torque * tan(self.bend)

    @property
    def cap_force(self) -> float:
        """Greatest force of a cap, square to its trunnion in the plane of the cross."""
        return self.greatest_torque / (2.0 * self.arm)

    @property
    def across(self) -> float:
        """Part of that across the shaft, when the couple is greatest: T / (2 R)."""
        return self.torque / (2.0 * self.arm)

    @property
    def along(self) -> float:
        """Part along the shaft then, T tan b / (2 R), and half of the thrust of the slip."""
        return self.couple / (2.0 * self.arm) + 0.5 * self.thrust


def joint_load(torque: float, bend: float, arm: float, thrust: float = 0.0) -> JointLoad:
    """Loads of a joint: torque (N mm, either way), bend (rad), arm (mm), thrust (N).

    Raises StrengthError for a bend of 90 deg or more, an arm not above zero.
    """
    require_bend(StrengthError, bend=bend)
    require_positive(StrengthError, arm=arm)
    require_not_negative(StrengthError, torque=abs(torque), thrust=abs(thrust))
    return JointLoad(abs(torque), bend, arm, abs(thrust))


def slip_thrust(torque: float, pitch_diameter: float, friction: float = 0.15) -> float:
    """Force (N) along the shaft before a spline under torque (N mm) slides: 2 mu T / d.

    Friction of a greased spline 0.1 to 0.15, dry and rusted much more (from memory).
    [derivation]
    """
    require_positive(StrengthError, pitch_diameter=pitch_diameter)
    require_not_negative(StrengthError, friction=friction)
    return 2.0 * friction * abs(torque) / pitch_diameter
