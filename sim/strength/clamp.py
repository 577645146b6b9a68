"""What holds a cap in a yoke that is open toward it: straps, U-bolts, bolted caps."""

from dataclasses import dataclass
from math import pi

from sim.parts.materials import Material
from sim.quantities import require_fields
from sim.remark import Remark
from sim.strength.couples import JointLoad
from sim.strength.member import Member, StrengthError, member

NUT_FACTOR = 0.2
"""Tightening torque over (tension x diameter) of a dry, clean thread (common practice, from
memory); it scatters by a quarter either way, and by more with oil."""


@dataclass(frozen=True)
class BoltedCap:
    """Bolts of one cap, mm and N mm."""

    diameter: float
    """Nominal, of the thread."""
    pitch: float
    tightened: float
    """Torque of each bolt or nut."""
    bolts: int = 2
    """On one cap."""
    nut_factor: float = NUT_FACTOR

    def __post_init__(self) -> None:
        require_fields(StrengthError, self, "diameter pitch bolts nut_factor", "tightened")
        if not self.pitch < 0.5 * self.diameter:
            raise StrengthError(
                f"bolt: got a pitch of {self.pitch:g} mm on a diameter of {self.diameter:g} mm, "
                "expected less than half of it"
            )

    @property
    def stress_area(self) -> float:
        """mm2: pi/4 (d - 0.9382 p)^2 (from memory)."""
        return 0.25 * pi * (self.diameter - 0.9382 * self.pitch) ** 2

    @property
    def preload(self) -> float:
        """Tension of one bolt as tightened, N: M / (K d)."""
        return self.tightened / (self.nut_factor * self.diameter)


def clamp_members(load: JointLoad, cap: BoltedCap, made_of: Material) -> tuple[Member, ...]:
    """Whether the cap lifts off its seat, and the tension of its bolts.

    What lifts a cap is the part of its force along the shaft, T tan b / (2 R) and half of the
    thrust of a slip that sticks. It is held by the preload alone: past it the cap moves at
    every half turn and the strap wears and stretches. The part across is held by the seat and
    its tabs and not counted here. Once the cap is off its seat its bolts carry the whole lift;
    while it stays on, they keep about their preload, whatever the torque. [derivation]
    """
    lift = load.along
    held = cap.bolts * cap.preload
    return (
        member(
            "cap on its seat, held by straps or bolts",
            "clamp",
            lift,
            made_of,
            "T tan(b)/(2R) + F/2 against n M / (K d)",
            allowable=held,
            flags=_tightness_flags(cap, made_of),
        ),
        member(
            "bolts of the cap, tension of the lift",
            "tension",
            lift / (cap.bolts * cap.stress_area),
            made_of,
            "(T tan(b)/(2R) + F/2) / (n A)",
        ),
    )


def _tightness_flags(cap: BoltedCap, made_of: Material) -> tuple[Remark, ...]:
    if cap.preload == 0.0:
        return (Remark("bolts-loose"),)
    used = cap.preload / (cap.stress_area * made_of.yields)
    if used > 1.0:
        return (Remark("bolts-overtightened", used=used),)
    return ()
