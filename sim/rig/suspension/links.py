"""The axle on links, wishbones and arms."""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING, Annotated, Any, Literal

from pydantic import BeforeValidator

from sim.frames import Vec3
from sim.rig.fields import Size
from sim.rig.form import field, maybe
from sim.rig.kinds import refusal
from sim.rig.loads import STIFFNESS, Stiffness
from sim.rig.ride import Ride
from sim.rig.suspension.base import SuspensionPart
from sim.rig.suspension.members import (
    ArmTable,
    LinkTable,
    MemberTable,
    TorqueArmTable,
    TypedOnly,
    WishboneTable,
)

if TYPE_CHECKING:
    from sim.suspension import Links
    from sim.suspension.links import Member


def _list(value: Any) -> Any:
    if not isinstance(value, list | tuple):
        raise refusal("not an array of tables", "one [[suspension.links]] table for each link")
    return tuple(value)


class LinksTable(TypedOnly, SuspensionPart):
    """Links, wishbones and arms between chassis and axle, in any number that holds the axle."""

    kind: Literal["links"] = field("Links, wishbones and arms.")
    links: Annotated[tuple[LinkTable, ...], BeforeValidator(_list)] = field(
        "Rods with a ball or a bush at either end.", default=()
    )
    wishbones: Annotated[tuple[WishboneTable, ...], BeforeValidator(_list)] = field(
        "Triangles with one ball and two bushes.", default=()
    )
    arms: Annotated[tuple[ArmTable, ...], BeforeValidator(_list)] = field(
        "Radius arms.", default=()
    )
    track_bar: LinkTable | None = maybe("The bar that holds the axle sideways.")
    torque_arm: TorqueArmTable | None = maybe("An arm bolted to the housing.")
    bush_stiffness: Stiffness | None = maybe(
        "Stiffness of each bush that has none of its own. Matters only where the set binds.",
        "5 kN/mm",
    )
    most_give: Size | None = maybe(
        "Farthest that a bush gives; a pose that asks for more is out of reach. "
        "Matters only where the set binds.",
        "3/4 in",
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

        Raises `SuspensionError` for members that cannot be and sets that do not hold the axle.
        """
        from sim.suspension.links import GENERIC_GIVE, GENERIC_STIFFNESS  # noqa: PLC0415

        own = None if self.bush_stiffness is None else STIFFNESS.of(self.bush_stiffness)
        return _built(
            front,
            wrap_centre,
            tuple(member for _, table in self.tables for member in table.members()),
            own or GENERIC_STIFFNESS,
            GENERIC_GIVE if self.most_give is None else self.most_give.mm,
        )


@lru_cache(maxsize=32)
def _built(
    front: bool,
    wrap_centre: Vec3,
    members: tuple[Member, ...],
    bush_stiffness: float,
    most_give: float,
) -> Links:
    """Build links once, however often a rig is looked at: their first poses take the longest."""
    from sim.suspension import Links  # noqa: PLC0415

    return Links(
        front=front,
        wrap_centre=wrap_centre,
        members=members,
        bush_stiffness=bush_stiffness,
        most_give=most_give,
    )
