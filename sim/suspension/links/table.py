"""The axle on links, wishbones and arms: its table, what it assumes, what a shop does with it."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from functools import lru_cache
from typing import TYPE_CHECKING, Annotated, Any, ClassVar, Final, Literal

from sim.frames import Vec3
from sim.remark import Remark
from sim.ride import Ride
from sim.suspension.links.bushes import GENERIC_GIVE, GENERIC_STIFFNESS
from sim.suspension.links.checks import impossible, link_notes
from sim.suspension.links.member_tables import (
    ArmTable,
    LinkTable,
    MemberTable,
    TorqueArmTable,
    TypedOnly,
    WishboneTable,
)
from sim.suspension.links.members import Member
from sim.suspension.links.motion import Links
from sim.suspension.table import Change, SuspensionPart, TurnedBy
from sim.table.default import Data, Default, Other, at
from sim.table.fields import Size, several
from sim.table.form import field, maybe
from sim.table.loads import STIFFNESS, Stiffness
from sim.table.problems import Problem

if TYPE_CHECKING:
    from sim.travel.table import Travel
    from sim.vehicle import Vehicle


_LIST: Final = several("one [[suspension.links]] table for each link")
FREEDOMS: Final = 4
"""What links have to hold of an axle at a given height and roll."""

LISTED: Final = ("links", "wishbones", "arms")
SINGLE: Final = ("track_bar", "torque_arm")
"""Keys of the members: lists of tables, and tables."""


CONDITIONS: Final = {"links": 1, "wishbones": 2, "arms": 3, "track_bar": 1, "torque_arm": 1}
"""How many conditions one of them sets; a torque arm on a ball sets two more."""


def binds(data: Data) -> bool:
    """Whether the links in the plain data of a rig file set more conditions than they have to."""
    suspension = at(data, "suspension")
    if not isinstance(suspension, Mapping) or suspension.get("kind") != "links":
        return False
    count = 0
    for key, each in CONDITIONS.items():
        value = suspension.get(key)
        for member in value if isinstance(value, list) else [value]:
            if isinstance(member, Mapping):
                more = 2 if key == "torque_arm" and member.get("held_by") == "ball" else 0
                count += (each + more) * (2 if member.get("mirrored") is True else 1)
    return count > FREEDOMS


def _stiffness_counts(data: Data) -> str | None:
    """A stiffness where it counts: for links that bind, and where bushes tell the wrap."""
    wraps = at(data, "suspension.kind") == "links" and at(data, "wrap.kind") == "bushes"
    return "5 kN/mm" if binds(data) or wraps else None


class LinksTable(TypedOnly, SuspensionPart):
    """Links, wishbones and arms between chassis and axle, in any number that holds the axle."""

    kind: Literal["links"] = field("Links, wishbones and arms.")
    links: Annotated[tuple[LinkTable, ...], _LIST] = field(
        "Rods with a ball or a bushing at either end.",
        default=(),
        entry="Link",
        asks="What is link {place} called?",
        datum="Such as lower left, or lower for a pair; {done} when there are no more. One of a "
        "mirrored pair is enough.",
        beware="Four conditions hold an axle at a given height and roll: four links, or three and "
        "a track bar. A mirrored link counts twice.",
    )
    wishbones: Annotated[tuple[WishboneTable, ...], _LIST] = field(
        "Triangles with one ball and two bushings.", default=(), entry="Wishbone"
    )
    arms: Annotated[tuple[ArmTable, ...], _LIST] = field(
        "Radius arms.", default=(), name="Radius arms", entry="Radius arm"
    )
    track_bar: LinkTable | None = maybe("The bar across the vehicle that holds the axle sideways.")
    torque_arm: TorqueArmTable | None = maybe("An arm bolted to the housing.")
    bush_stiffness: Stiffness | None = maybe(
        "Stiffness of each bushing that has none of its own. Matters only where the set binds.",
        "5 kN/mm",
    )
    most_give: Size | None = maybe(
        "Farthest that a bushing gives; a pose that asks for more is out of reach. "
        "Matters only where the set binds.",
        "3/4 in",
    )

    has_links: ClassVar[bool] = True

    adds: ClassVar[Mapping[str, Mapping[str, Any]]] = {
        "suspension.links": {
            "name": "link",
            "chassis": ["30 in", "15 in", "2 in"],
            "axle": ["0 in", "18 in", "-2 in"],
            "mirrored": True,
        },
        "suspension.wishbones": {
            "name": "wishbone",
            "apex": ["1 in", "0 in", "7 in"],
            "bushes": [["25 in", "14 in", "8 in"], ["25 in", "-14 in", "8 in"]],
        },
        "suspension.arms": {
            "name": "arm",
            "chassis": ["30 in", "15 in", "2 in"],
            "axle": [["3 in", "18 in", "1 in"], ["-3 in", "18 in", "1 in"]],
            "mirrored": True,
        },
        "suspension.track_bar": {
            "name": "track bar",
            "chassis": ["-3 in", "17 in", "6 in"],
            "axle": ["-3 in", "-17 in", "4 in"],
        },
        "suspension.torque_arm": {"name": "torque arm", "end": ["40 in", "2 in", "2 in"]},
    }

    defaults: ClassVar[tuple[Default, ...]] = (
        Default(
            "suspension.bush_stiffness",
            _stiffness_counts,
            "generic bushing (from memory); only ratios of bushings matter to motion, the number "
            "to wrap",
            others=(Other("2 kN/mm"), Other("10 kN/mm")),
            because="soft road bushings, and hard ones of plastic",
        ),
        Default(
            "suspension.most_give",
            lambda data: "3/4 in" if binds(data) else None,
            "generic: the rubber of a large bushing is not thicker (from memory)",
            others=(Other("3/8 in"),),
            because="an ordinary bushing has half of that",
            off="3/8 in",
        ),
    )

    @classmethod
    def starts(cls, vehicle: Vehicle, travel: Travel) -> Iterator[dict[str, Any]]:
        """Two pairs of links of an ordinary size (from memory)."""
        del vehicle, travel
        lower = [["33 in", "14 in", "1 in"], ["1 in", "21 in", "-3 in"]]
        upper = [["27 in", "15 in", "8 in"], ["1 in", "3 in", "7 in"]]
        pairs = (("lower", *lower), ("upper", *upper))
        yield {
            "links": [
                {"name": name, "chassis": chassis, "axle": axle, "mirrored": True}
                for name, chassis, axle in pairs
            ]
        }

    @property
    def tables(self) -> tuple[tuple[str, MemberTable], ...]:
        """Every member with its key path."""
        found = [
            (f"suspension.{key}[{i + 1}]", table)
            for key in LISTED
            for i, table in enumerate(getattr(self, key))
        ]
        single = ((f"suspension.{key}", getattr(self, key)) for key in SINGLE)
        return (*found, *((key, table) for key, table in single if table is not None))

    def build(self, ride: Ride, wrap_centre: Vec3) -> Links:
        """Build the suspension of the mathematics."""
        return self.mechanism(ride.front, wrap_centre)

    def mechanism(self, front: bool = False, wrap_centre: Vec3 = (0.0, 0.0, 0.0)) -> Links:
        """Build the links, which do not depend on where the shaft lies.

        Raises `SuspensionError` for members that cannot be and sets that do not hold the axle.
        """
        own = None if self.bush_stiffness is None else STIFFNESS.of(self.bush_stiffness)
        return _built(
            front,
            wrap_centre,
            tuple(member for _, table in self.tables for member in table.members()),
            own or GENERIC_STIFFNESS,
            GENERIC_GIVE if self.most_give is None else self.most_give.mm,
        )

    def against_ride(self, ride: Ride | None) -> Iterator[Problem]:
        """Links go with every place of the joints."""
        del ride
        return iter(())

    def against_travel(self, travel: Travel) -> Iterator[Problem]:
        """The members must be sound, different, hold the axle, and reach the whole travel."""
        return impossible(self.tables, self.mechanism, travel)

    def notes(self, ride: Ride | None, travel: Travel | None) -> Iterator[Remark]:
        """Axles held weakly, and bushes that give much."""
        del ride
        return link_notes(self.tables, self.mechanism, travel)

    @property
    def turned_by(self) -> TurnedBy:
        """Arms that can be adjusted."""
        return "arms"

    def restated(
        self, typed: Mapping[str, Any], vehicle: Callable[[], Vehicle], change: Change
    ) -> dict[str, Any]:
        """Ends on the housing turn with it, as with adjustable links."""
        if not change.nose_up:
            return {}
        front = vehicle().front
        out: dict[str, Any] = {}
        for key in LISTED:
            if key in typed:
                pairs = zip(getattr(self, key), typed[key], strict=True)
                out[key] = [table.turned(raw, change.nose_up, front) for table, raw in pairs]
        for key in SINGLE:
            if key in typed:
                out[key] = getattr(self, key).turned(typed[key], change.nose_up, front)
        return out


@lru_cache(maxsize=32)
def _built(
    front: bool,
    wrap_centre: Vec3,
    members: tuple[Member, ...],
    bush_stiffness: float,
    most_give: float,
) -> Links:
    """Build links once, however often a rig is looked at: their first poses take the longest."""
    return Links(
        front=front,
        wrap_centre=wrap_centre,
        members=members,
        bush_stiffness=bush_stiffness,
        most_give=most_give,
    )
