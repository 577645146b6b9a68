"""A part chosen from the catalogue by name, with dimensions of one's own where measured."""

from collections.abc import Mapping
from types import MappingProxyType
from typing import Any, ClassVar

from pydantic import (
    ConfigDict,
    Field,
    GetJsonSchemaHandler,
    SerializerFunctionWrapHandler,
    model_serializer,
    model_validator,
)
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema

from sim.rig.fields import Name, Size, refusal
from sim.rig.part import Part


class Choice(Part):
    """A catalogue name alone, or a table with the name and dimensions that override it."""

    model_config = ConfigDict(extra="allow")

    name_key: ClassVar[str]
    """Key that holds the catalogue name when the choice is written as a table."""

    __pydantic_extra__: dict[str, Size]

    @property
    def name(self) -> str:
        """The catalogue name."""
        name: str = getattr(self, self.name_key)
        return name

    @property
    def overrides(self) -> Mapping[str, float]:
        """Own dimensions by their catalogue names, mm."""
        extra = self.__pydantic_extra__ or {}
        return MappingProxyType({key: size.mm for key, size in extra.items()})

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


class YokeChoice(Choice):
    """A yoke of the catalogue, such as "weld yoke"."""

    name_key = "kind"
    kind: Name = Field(description="Kind of yoke in the catalogue.", examples=["weld yoke"])


class CrossChoice(Choice):
    """A cross of the catalogue by its size, cap diameter x span in mm, such as "27 x 82"."""

    name_key = "size"
    size: Name = Field(description="Size of cross in the catalogue.", examples=["27 x 82"])
