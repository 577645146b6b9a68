"""The slip spline: pressure on its flanks, shear of its teeth, torsion of the stub."""

from dataclasses import dataclass
from math import inf, pi

from sim.parts.materials import Material
from sim.parts.tube_section import TubeSection
from sim.quantities import require_fields
from sim.remark import Remark
from sim.strength.member import Member, StrengthError, member


@dataclass(frozen=True)
class Spline:
    """A splined stub in its sleeve, mm."""

    pitch_diameter: float
    root_diameter: float
    """Of the stub, between its teeth."""
    teeth: int
    tooth_height: float
    """Over which the flanks bear."""
    engaged: float
    """At ride height."""
    opens: float = 0.0
    """How far the travel pulls it out from there."""
    bore: float = 0.0
    """Of a hollow stub."""
    sharing: float = 0.5
    """Share of the teeth that carry: all of a perfect spline, half of a good one, a quarter of
    a worn one (from memory)."""

    def __post_init__(self) -> None:
        sizes = "pitch_diameter root_diameter teeth tooth_height"
        require_fields(StrengthError, self, sizes, "engaged opens bore", "sharing")
        if not self.bore < self.root_diameter <= self.pitch_diameter:
            raise StrengthError(
                f"spline: got bore {self.bore:g}, root {self.root_diameter:g}, pitch diameter "
                f"{self.pitch_diameter:g} mm, expected them to grow in this order"
            )

    @property
    def least_engaged(self) -> float:
        """Left engaged at the pulled-out end of the travel, mm; none at 0."""
        return max(self.engaged - self.opens, 0.0)


def spline_members(
    torque: float, spline: Spline, stub: Material, sleeve: Material
) -> tuple[Member, ...]:
    """Flanks, teeth and stub with the least engagement over the travel; torque in N mm.

    Flanks: T / (z k h L d/2). Teeth, cut off at the pitch diameter where half of the round is
    tooth: T / (k pi d L / 2 . d / 2), so that L = d/4 with all teeth sharing is as strong as a
    solid bar of that diameter. Stub: torsion between its teeth. [derivation]
    """
    load = abs(torque)
    length = spline.least_engaged
    half = 0.5 * spline.pitch_diameter
    flanks = spline.teeth * spline.sharing * spline.tooth_height * length * half
    teeth = spline.sharing * pi * half * length * half
    flags = _engagement_flags(spline)
    weaker = min(stub, sleeve, key=lambda made_of: made_of.bears)
    softer = min(stub, sleeve, key=lambda made_of: made_of.shears)
    return (
        member(
            "spline, pressure on its flanks",
            "pressure",
            _over(load, flanks),
            weaker,
            "2 T / (z k h L d)",
            flags=flags,
        ),
        member(
            "spline, shear of its teeth",
            "shear",
            _over(load, teeth),
            softer,
            "4 T / (k pi d^2 L)",
            flags=flags,
        ),
        member(
            "stub between its teeth, torsion",
            "shear",
            TubeSection(spline.root_diameter, spline.bore).torsion(load),
            stub,
            "16 T D / (pi (D^4 - d^4))",
        ),
    )


def _over(load: float, area: float) -> float:
    if load == 0.0:
        return 0.0
    return load / area if area > 0.0 else inf


def _engagement_flags(spline: Spline) -> tuple[Remark, ...]:
    left, wanted = spline.least_engaged, spline.pitch_diameter
    if left == 0.0:
        return (Remark("spline-shorter-than-stroke", engaged=spline.engaged, opens=spline.opens),)
    if left < wanted:
        return (Remark("spline-little-engaged", left=left, wanted=wanted),)
    return ()
