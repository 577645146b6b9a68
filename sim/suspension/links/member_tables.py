"""Links, wishbones and arms as a rig file describes them, one table each."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Annotated, Any, ClassVar, Literal

import numpy as np
from pydantic import BeforeValidator, Field, SerializerFunctionWrapHandler, model_serializer

from sim.frames import housing_turned
from sim.suspension.links.members import Arm, Link, Member, TorqueArm, Wishbone
from sim.table.fields import Name, Point, millimetres
from sim.table.form import field, maybe
from sim.table.kinds import refusal
from sim.table.loads import STIFFNESS, Stiffness
from sim.table.part import Part
from sim.table.typed import typed_point
from sim.units import Length


def _two(value: Any) -> Any:
    expected = 'two points, such as [["4 in", "17 in", "1 in"], ["-4 in", "17 in", "1 in"]]'
    if not isinstance(value, list | tuple):
        raise refusal("not an array in [ ]", expected)
    if value and not any(isinstance(point, list | tuple) for point in value):
        raise refusal("one point in place of two", expected)
    if len(value) != 2:
        raise refusal(f"{len(value)} in place of two", expected)
    return tuple(value)


TwoPoints = Annotated[
    tuple[Point, Point],
    BeforeValidator(_two),
    Field(examples=[[["4 in", "17 in", "1 in"], ["-4 in", "17 in", "1 in"]]]),
]


class TypedOnly(Part):
    """A table that is written back with the keys that were typed, and no others."""

    @model_serializer(mode="wrap")
    def _typed(self, handler: SerializerFunctionWrapHandler) -> dict[str, Any]:
        table: dict[str, Any] = handler(self)
        return {key: value for key, value in table.items() if key in self.model_fields_set}


class MemberTable(TypedOnly):
    """What every member has."""

    name: Name = field("What it is called.", "upper")
    mirrored: bool = field(
        "Whether there is the same one on the other side of the vehicle.",
        default=False,
        asks="Is there the same one on the other side?",
    )
    stiffness: Stiffness | None = maybe(
        "Stiffness of each of its bushings square to its sleeve, where known.", "5 kN/mm"
    )

    makes: ClassVar[type[Member]]
    """The member of the mathematics, which has the same keys."""

    @property
    def on_housing(self) -> str:
        """Key of the points that belong to the housing."""
        return "axle"

    def turned(self, typed: Mapping[str, Any], nose_up: float, front: bool) -> dict[str, Any]:
        """The table, which reads `typed`, after the housing has turned by `nose_up` (rad)."""

        def turn(point: Any) -> Any:
            if isinstance(point[0], tuple):
                return [turn(each) for each in point]
            return typed_point(housing_turned(np.array(millimetres(point)), nose_up, front))

        return {**typed, self.on_housing: turn(getattr(self, self.on_housing))}

    def members(self) -> Iterator[Member]:
        """Build it, and its mirror image where there is one. Raises `SuspensionError`."""
        keys = type(self).model_fields.keys() - {"name", "mirrored", "stiffness"}
        points = {key: _mm(getattr(self, key)) for key in keys}
        made = self.makes(name=self.name, stiffness=STIFFNESS.of(self.stiffness), **points)
        yield made
        if self.mirrored:
            yield made.mirrored(f"{self.name}, other side")


def _mm(value: Any) -> Any:
    """A typed point, or several, in mm; what is no point stays as it is."""
    if not isinstance(value, tuple):
        return value
    return millimetres(value) if isinstance(value[0], Length) else tuple(map(_mm, value))


class LinkTable(MemberTable):
    """A rod with a ball or a bush at either end."""

    makes = Link

    chassis: Point = field(
        "Its end on the chassis: forward, left, up.",
        ["33 in", "14 in", "1 in"],
        called="the chassis end of {name}",
    )
    axle: Point = field(
        "Its end on the axle: forward, left, up.",
        ["1 in", "21 in", "-3 in"],
        called="the axle end of {name}",
    )


class WishboneTable(MemberTable):
    """A triangle with one ball and two bushes."""

    makes = Wishbone

    apex: Point = field("Its ball: forward, left, up.", ["1 in", "0 in", "7 in"])
    bushes: TwoPoints = field(
        "Its two bushings, on whatever its ball does not sit on: forward, left, up of each."
    )
    apex_on: Literal["axle", "chassis"] = field("What its ball sits on.", default="axle")

    @property
    def on_housing(self) -> str:
        """Its ball, or its bushes."""
        return "apex" if self.apex_on == "axle" else "bushes"


class ArmTable(MemberTable):
    """A radius arm: held to the axle by two bushes, to the chassis by one."""

    makes = Arm

    chassis: Point = field("Its end on the chassis: forward, left, up.", ["36 in", "17 in", "1 in"])
    axle: TwoPoints = field("Its two bushings on the axle: forward, left, up of each.")


class TorqueArmTable(MemberTable):
    """An arm bolted to the housing, its far end held to the chassis."""

    makes = TorqueArm

    end: Point = field("Its far end: forward, left, up.", ["40 in", "2 in", "2 in"])
    held_by: Literal["slide", "shackle", "ball"] = field(
        "What holds its far end to the chassis; a slide holds its height.", default="slide"
    )
    shackle: Point | None = maybe(
        "Chassis end of the shackle, where one holds it: forward, left, up."
    )

    @property
    def on_housing(self) -> str:
        """Its far end, which is bolted to the housing as well."""
        return "end"
