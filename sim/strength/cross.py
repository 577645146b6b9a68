"""The trunnions of a cross and the caps on them."""

from dataclasses import dataclass

from geometry.cross import CrossShape
from sim.bearing.needles import STATIC_PRESSURE, Needles
from sim.parts.materials import Material
from sim.parts.tube_section import TubeSection
from sim.quantities import require_fields
from sim.strength.couples import JointLoad
from sim.strength.member import Member, StrengthError, member


@dataclass(frozen=True)
class Trunnion:
    """One arm of a cross and its cap, mm."""

    diameter: float
    """Where the needles run."""
    lever: float
    """From the middle of the needles to the root of the trunnion."""
    needle_length: float
    """Over which the needles carry."""
    cap_diameter: float
    seat_length: float
    """Of the cap in its yoke."""
    arm: float
    """From the cross centre to the middle of the needles."""
    grease_hole: float = 0.0
    """Bore up the trunnion, 0 for a solid cross."""

    def __post_init__(self) -> None:
        sizes = "diameter lever needle_length cap_diameter seat_length arm"
        require_fields(StrengthError, self, sizes, "grease_hole")
        if not self.grease_hole < self.diameter:
            raise StrengthError(
                f"grease hole: got {self.grease_hole:g} mm in a trunnion of {self.diameter:g} mm, "
                "expected a smaller one"
            )

    @classmethod
    def of(
        cls, shape: CrossShape, seat_length: float | None = None, grease_hole: float = 3.0
    ) -> "Trunnion":
        """Trunnion of a cross of the catalogue.

        The needles are taken to carry over 0.7 of the cap and about its middle, the cap to sit
        with 0.9 of its length, the root to lie at the shoulder of the hub, and grease to come
        through a hole of 3 mm (from memory, generic).
        """
        arm = 0.5 * (shape.span - shape.cap_length)
        return cls(
            diameter=shape.trunnion_diameter,
            lever=arm - 0.5 * shape.hub_span,
            needle_length=0.7 * shape.cap_length,
            cap_diameter=shape.cap_diameter,
            seat_length=seat_length or 0.9 * shape.cap_length,
            arm=arm,
            grease_hole=grease_hole,
        )

    @property
    def root(self) -> TubeSection:
        """Section at the root."""
        return TubeSection(self.diameter, self.grease_hole)


def trunnion_members(
    load: JointLoad, trunnion: Trunnion, cross: Material, yoke: Material
) -> tuple[Member, ...]:
    """Bending and shear at the root, mean pressure under the needles and under the cap.

    All at the greatest cap force over a turn, T / (2 R cos b). Round section, nominal: the
    hole where the grease comes out and the fillet at the root are notches that come on top.
    """
    force = load.cap_force
    root = trunnion.root
    return (
        member(
            "trunnion, bending at its root",
            "bending",
            root.bending(force * trunnion.lever),
            cross,
            "32 P l d / (pi (d^4 - h^4))",
        ),
        member(
            "trunnion, shear at its root",
            "shear",
            root.across(force),
            cross,
            "P Q / (I (d - h))",
        ),
        member(
            "needles on the trunnion, mean pressure",
            "pressure",
            force / (trunnion.diameter * trunnion.needle_length),
            cross,
            "P / (d l)",
            "common practice, no source",
        ),
        member(
            "cap in its bore, mean pressure",
            "pressure",
            force / (trunnion.cap_diameter * trunnion.seat_length),
            yoke,
            "P / (D l)",
            "common practice, no source",
        ),
    )


def needle_member(load: JointLoad, needles: Needles, cross: Material) -> Member:
    """Give the pressure between the trunnion and its most loaded needle, against a lasting dent.

    It grows with the root of the torque only.
    """
    return member(
        "needles, lasting dent in the trunnion",
        "contact",
        needles.contact_pressure(load.cap_force),
        cross,
        "sqrt(5P/Z E* / (pi L R)) against 4000 MPa",
        "[BORESI, ch. 17], [ISO76, scope]",
        allowable=STATIC_PRESSURE,
        grows=0.5,
    )
