"""A part chosen from the catalogue by name, with dimensions of one's own where measured."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Annotated, Any, ClassVar, Final, Literal

from pydantic import (
    BeforeValidator,
    ConfigDict,
    GetJsonSchemaHandler,
    PlainSerializer,
    PlainValidator,
    SerializerFunctionWrapHandler,
    WithJsonSchema,
    model_serializer,
    model_validator,
)
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema

from sim.table.fields import FARTHEST, Name
from sim.table.form import field, maybe
from sim.table.kinds import LARGEST_NUMBER, refusal
from sim.table.part import Part
from sim.units import Angle, Length, UnitsError

_EXPECTED: Final = 'a length, an angle or a count of this part, such as "1 3/8 in", "10 deg" or 6'

Own = Length | Angle | int
"""A dimension of one's own: a length, an angle, or a whole number of things."""


def _own(value: Any) -> Own:
    """Read a dimension; which of the three it has to be is known to the catalogue."""
    if isinstance(value, int) and not isinstance(value, bool):
        if value <= 0:
            raise refusal("not above zero", _EXPECTED)
        return value
    if not isinstance(value, str):
        raise refusal("a number without a unit" if isinstance(value, float) else "", _EXPECTED)
    try:
        length = Length.parse(value)
    except UnitsError as fault:
        try:
            return Angle.parse(value)
        except UnitsError:
            raise refusal(fault.why, _EXPECTED) from None
    if not 0.0 < length.mm < FARTHEST:
        raise refusal("not above zero" if length.mm <= 0.0 else "longer than any part", _EXPECTED)
    return length


OwnDimension = Annotated[
    Any,
    PlainValidator(_own),
    PlainSerializer(lambda own: own if isinstance(own, int) else own.typed),
    WithJsonSchema(
        {
            "description": "A dimension of the part as measured, by its name in the catalogue.",
            "anyOf": [{"type": "string", "minLength": 2}, {"type": "integer", "minimum": 1}],
            "examples": ["1 3/8 in", "10 deg", 6],
        }
    ),
]


class Choice(Part):
    """A catalogue name alone, or a table with the name and dimensions that override it."""

    model_config = ConfigDict(extra="allow")

    name_key: ClassVar[str]
    """Key that holds the catalogue name when the choice is written as a table."""

    __pydantic_extra__: dict[str, OwnDimension]

    @property
    def name(self) -> str:
        """The catalogue name."""
        name: str = getattr(self, self.name_key)
        return name

    @property
    def own(self) -> Mapping[str, Own]:
        """Own dimensions by their catalogue names, as typed."""
        return MappingProxyType(self.__pydantic_extra__ or {})

    @property
    def overrides(self) -> Mapping[str, float]:
        """Own dimensions by their catalogue names: mm, rad or a count."""
        return MappingProxyType({key: _number(own) for key, own in self.own.items()})

    @model_validator(mode="before")
    @classmethod
    def _from_name(cls, value: Any) -> Any:
        if isinstance(value, str):
            return {cls.name_key: value}
        if not isinstance(value, Mapping | cls):
            raise refusal("", "a name of the catalogue in quotes, or a table")
        return value

    @model_serializer(mode="wrap")
    def _to_name(self, handler: SerializerFunctionWrapHandler) -> Any:
        table: dict[str, Any] = handler(self)
        return table[self.name_key] if len(table) == 1 else table

    @classmethod
    def __get_pydantic_json_schema__(
        cls, core_schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        table = handler.resolve_ref_schema(handler(core_schema))
        return {"anyOf": [{"type": "string", "minLength": 1}, dict(table)]}


OWN_YOKE: Final = "own yoke"
"""Kind of a yoke that comes from a mesh file."""

Pick = tuple[float, float, float]
"""A point in the numbers of a mesh file."""


def _tuples(value: Any) -> Any:
    expected = "three points such as [[0, 41, 0], [0, -41, 0], [90, 0, 0]]"
    if not isinstance(value, list | tuple) or len(value) != 3:
        raise refusal("not three points", expected)
    points = []
    for point in value:
        numbers = list(point) if isinstance(point, list | tuple) else []
        plain = [
            float(n) for n in numbers if isinstance(n, int | float) and abs(n) < LARGEST_NUMBER
        ]
        if len(numbers) != 3 or len(plain) != 3:
            raise refusal("a point without three finite numbers", expected)
        points.append(tuple(plain))
    return tuple(points)


class YokeChoice(Choice):
    """A yoke of the catalogue, such as "weld yoke"."""

    name_key = "kind"
    kind: Name = field(
        'Kind of yoke in the catalogue, or "own yoke" for one from a mesh file.', "weld yoke"
    )
    file: str | None = maybe(
        "Mesh file of an own yoke (STL, OBJ, PLY, 3MF or GLB), seen from the folder "
        "of the rig file.",
        more={"min_length": 1},
    )
    unit: Literal["mm", "cm", "m", "in", "ft"] | None = maybe(
        "Unit of the mesh file; guessed and told where left out."
    )
    picks: Annotated[tuple[Pick, Pick, Pick], BeforeValidator(_tuples)] | None = maybe(
        "Where the bores are not found by themselves: three points in the numbers of "
        "the mesh file, the middle of either bore and a point on the axis of the shaft."
    )

    @property
    def is_own(self) -> bool:
        """Whether it comes from a mesh file."""
        return self.kind == OWN_YOKE


class HeadChoice(Choice):
    """A double-Cardan head of the catalogue, such as "ordinary head"."""

    name_key = "kind"
    kind: Name = field("Kind of head in the catalogue.", "ordinary head")


class CrossChoice(Choice):
    """A cross of the catalogue by its size, cap diameter x span in mm, such as "27 x 82"."""

    name_key = "size"
    size: Name = field("Size of cross in the catalogue.", "27 x 82")


def _number(own: Own) -> float:
    if isinstance(own, Length):
        return own.mm
    return own.rad if isinstance(own, Angle) else float(own)
