"""A member: one place of one part, its stress against what it can take."""

from collections.abc import Iterable
from dataclasses import dataclass
from math import inf, isnan
from typing import Literal

from geometry.errors import BindpointError
from sim.parts.materials import Material
from sim.remark import Remark

Kind = Literal[
    "bending", "shear", "tension", "combined", "pressure", "contact", "buckling", "clamp", "slip"
]


class StrengthError(BindpointError, ValueError):
    """Dimensions or loads that no strength can be told of."""


@dataclass(frozen=True)
class Member:
    """One place of one part under the load it was asked at."""

    name: str
    """Of the place, as a shop says it: "trunnion, bending"."""
    kind: Kind
    stress: float
    """MPa; N where the kind is "clamp" or "slip". Infinite where nothing is left to carry."""
    allowable: float
    """In the unit of the stress."""
    material: str
    material_source: str
    formula: str
    """The formula in one line, as on the page of the theory."""
    source: str
    """Key of the references, or where else the formula is from."""
    grows: float = 1.0
    """Power of the torque that the stress grows with; 1/2 for a contact of rollers."""
    flags: tuple[Remark, ...] = ()

    def __post_init__(self) -> None:
        if isnan(self.stress) or isnan(self.allowable) or self.stress < 0.0 or self.allowable < 0:
            raise StrengthError(
                f"{self.name}: got a stress of {self.stress} against {self.allowable}, expected "
                "numbers not under zero"
            )

    @property
    def lives_on(self) -> bool:
        """Whether past it there is a dent or a slip and not yet anything bent or torn."""
        return self.kind in ("contact", "slip")

    @property
    def safety(self) -> float:
        """What it can take over what it gets, as torque: 2 is twice the torque asked at."""
        if self.stress == 0.0:
            return inf
        return float((self.allowable / self.stress) ** (1.0 / self.grows))


@dataclass(frozen=True)
class Strength:
    """Every member at one torque and bend, and the one that gives first."""

    torque: float
    """N mm that they were asked at."""
    members: tuple[Member, ...]

    @property
    def weakest(self) -> Member:
        """The member that gives first: the least safety of all that bend, tear, fold or lift."""
        return weakest_of(member for member in self.members if not member.lives_on)

    @property
    def marked_first(self) -> Member | None:
        """What dents or slips first, which a shaft outlives for a while; None if not asked."""
        return min(
            (member for member in self.members if member.lives_on),
            key=lambda member: member.safety,
            default=None,
        )

    @property
    def holds(self) -> float:
        """Torque (N mm) at which the weakest member reaches what it can take, same bend."""
        return self.torque * self.weakest.safety

    @property
    def flags(self) -> tuple[Remark, ...]:
        """What is odd about any of them."""
        return tuple(dict.fromkeys(flag for member in self.members for flag in member.flags))


def weakest_of(members: Iterable[Member]) -> Member:
    """The member with the least safety. Raises StrengthError for none at all."""
    found = list(members)
    if not found:
        raise StrengthError("weakest: got no members, expected at least one")
    return min(found, key=lambda member: member.safety)


def member(
    name: str,
    kind: Kind,
    stress: float,
    made_of: Material,
    formula: str,
    source: str = "derivation",
    *,
    allowable: float | None = None,
    grows: float = 1.0,
    flags: tuple[Remark, ...] = (),
) -> Member:
    """A member of a material, held against what that material takes in this kind of stress."""
    if allowable is None:
        allowable = {
            "shear": made_of.shears,
            "pressure": made_of.bears,
        }.get(kind, made_of.yields)
    return Member(
        name=name,
        kind=kind,
        stress=stress,
        allowable=allowable,
        material=made_of.name,
        material_source=made_of.source,
        formula=formula,
        source=source,
        grows=grows,
        flags=flags,
    )
