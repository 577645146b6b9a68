"""The axle on links, wishbones and arms."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import TYPE_CHECKING, Annotated, Any, Final, Literal

from pydantic import BeforeValidator, Field

from sim.frames import Vec3
from sim.rig.fields import Name, Point, millimetres, refusal
from sim.rig.part import Part
from sim.rig.ride import Ride
from sim.rig.suspension.base import SuspensionPart

if TYPE_CHECKING:
    from sim.suspension import Links
    from sim.suspension.links import Member

_NEWTON_PER_MM: Final = {"n/mm": 1.0, "kn/mm": 1000.0, "lb/in": 4.4482216152605 / 25.4}


def _two(value: Any) -> Any:
    if not isinstance(value, list | tuple) or len(value) != 2:
        raise refusal("", 'two points such as [["24 in", "20 in", "4 in"], [...]]')
    return tuple(value)


def _list(value: Any) -> Any:
    if not isinstance(value, list | tuple):
        raise refusal("not an array of tables", "one [[suspension.links]] table for each link")
    return tuple(value)


def stiffness_of(text: str) -> float | None:
    """Stiffness (N/mm) of a text such as "5 kN/mm" or "28000 lb/in"; None if it is none."""
    found = re.fullmatch(r"\s*([0-9]+(?:\.[0-9]+)?)\s*([A-Za-z]+/[A-Za-z]+)\s*", text)
    unit = _NEWTON_PER_MM.get(found[2].lower()) if found else None
    return float(found[1]) * unit if found and unit else None


def _stiffness(value: Any) -> Any:
    if not isinstance(value, str) or not stiffness_of(value):
        raise refusal("", 'a stiffness with its unit, such as "5 kN/mm" or "28000 lb/in"')
    return value


Stiffness = Annotated[str, BeforeValidator(_stiffness)]
TwoPoints = Annotated[tuple[Point, Point], BeforeValidator(_two)]


class MemberTable(Part):
    """What every member has."""

    name: Name = Field(description="What it is called.", examples=["upper left"])
    mirrored: bool = Field(
        False, description="Whether there is the same one on the other side of the vehicle."
    )
    stiffness: Stiffness | None = Field(
        None, description="Of each of its bushes, where known.", examples=["5 kN/mm"]
    )

    @property
    def newton_per_mm(self) -> float | None:
        """Stiffness of each bush, N/mm; None where not said."""
        return None if self.stiffness is None else stiffness_of(self.stiffness)

    def member(self) -> Member:
        """Build the member of the mathematics."""
        raise TypeError(type(self).__name__)

    def members(self) -> Iterator[Member]:
        """Build it, and its mirror image where there is one."""
        made = self.member()
        yield made
        if self.mirrored:
            yield made.mirrored(f"{self.name}, other side")


class LinkTable(MemberTable):
    """A rod with a ball or a bush at either end."""

    chassis: Point = Field(description="Its end on the chassis: forward, left, up.")
    axle: Point = Field(description="Its end on the axle: forward, left, up.")

    def member(self) -> Member:
        """Build the link."""
        from sim.suspension.links import Link  # noqa: PLC0415

        ends = {"chassis": millimetres(self.chassis), "axle": millimetres(self.axle)}
        return Link(name=self.name, stiffness=self.newton_per_mm, **ends)


class WishboneTable(MemberTable):
    """A triangle with one ball and two bushes."""

    apex: Point = Field(description="Its ball: forward, left, up.")
    bushes: TwoPoints = Field(description="Its two bushes.")
    apex_on: Literal["axle", "chassis"] = Field("axle", description="What its ball sits on.")

    def member(self) -> Member:
        """Build the wishbone."""
        from sim.suspension.links import Wishbone  # noqa: PLC0415

        one, other = self.bushes
        return Wishbone(
            name=self.name,
            stiffness=self.newton_per_mm,
            apex=millimetres(self.apex),
            bushes=(millimetres(one), millimetres(other)),
            apex_on=self.apex_on,
        )


class ArmTable(MemberTable):
    """A radius arm: held to the axle by two bushes, to the chassis by one."""

    chassis: Point = Field(description="Its end on the chassis: forward, left, up.")
    axle: TwoPoints = Field(description="Its two bushes on the axle.")

    def member(self) -> Member:
        """Build the arm."""
        from sim.suspension.links import Arm  # noqa: PLC0415

        one, other = self.axle
        return Arm(
            name=self.name,
            stiffness=self.newton_per_mm,
            chassis=millimetres(self.chassis),
            axle=(millimetres(one), millimetres(other)),
        )


class TorqueArmTable(MemberTable):
    """An arm bolted to the housing, its far end held to the chassis."""

    end: Point = Field(description="Its far end: forward, left, up.")
    held_by: Literal["slide", "shackle", "ball"] = Field(
        "slide", description="What holds its far end to the chassis."
    )
    shackle: Point | None = Field(
        None, description="Chassis end of the shackle, where one holds it: forward, left, up."
    )

    def member(self) -> Member:
        """Build the arm."""
        from sim.suspension.links import TorqueArm  # noqa: PLC0415

        return TorqueArm(
            name=self.name,
            stiffness=self.newton_per_mm,
            end=millimetres(self.end),
            held_by=self.held_by,
            shackle=None if self.shackle is None else millimetres(self.shackle),
        )


class LinksTable(SuspensionPart):
    """Links, wishbones and arms between chassis and axle, in any number that holds the axle."""

    kind: Literal["links"] = Field(description="Links, wishbones and arms.")
    links: Annotated[tuple[LinkTable, ...], BeforeValidator(_list)] = Field(
        (), description="Rods with a ball or a bush at either end."
    )
    wishbones: Annotated[tuple[WishboneTable, ...], BeforeValidator(_list)] = Field(
        (), description="Triangles with one ball and two bushes."
    )
    arms: Annotated[tuple[ArmTable, ...], BeforeValidator(_list)] = Field(
        (), description="Radius arms."
    )
    track_bar: LinkTable | None = Field(None, description="The bar that holds the axle sideways.")
    torque_arm: TorqueArmTable | None = Field(None, description="An arm bolted to the housing.")
    bush_stiffness: Stiffness | None = Field(
        None,
        description="Of each bush that has none of its own; generic where left out. Matters only "
        "where the set binds.",
        examples=["5 kN/mm"],
    )

    @property
    def tables(self) -> tuple[tuple[str, MemberTable], ...]:
        """Every member with its key path."""
        single = (("track_bar", self.track_bar), ("torque_arm", self.torque_arm))
        listed = (("links", self.links), ("wishbones", self.wishbones), ("arms", self.arms))
        found: list[tuple[str, MemberTable]] = []
        for key, group in listed:
            found += [(f"suspension.{key}[{i + 1}]", table) for i, table in enumerate(group)]
        return (*found, *((f"suspension.{key}", one) for key, one in single if one is not None))

    def build(self, ride: Ride, wrap_centre: Vec3) -> Links:
        """Build the suspension of the mathematics."""
        return self.mechanism(ride.front, wrap_centre)

    def mechanism(self, front: bool = False, wrap_centre: Vec3 = (0.0, 0.0, 0.0)) -> Links:
        """Build the links, which do not depend on where the shaft lies.

        Raises SuspensionError for members that cannot be and sets that do not hold the axle.
        """
        from sim.suspension import Links  # noqa: PLC0415

        members = tuple(member for _, table in self.tables for member in table.members())
        own = None if self.bush_stiffness is None else stiffness_of(self.bush_stiffness)
        if own is None:
            return Links(front=front, wrap_centre=wrap_centre, members=members)
        return Links(front=front, wrap_centre=wrap_centre, members=members, bush_stiffness=own)
