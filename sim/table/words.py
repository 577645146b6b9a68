"""Closed lists of words as a file holds them, as pydantic types."""

from dataclasses import dataclass
from typing import Any, Final, get_args

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema
from pydantic_core.core_schema import no_info_before_validator_function

from sim.table.kinds import Kind, Range, refusal
from sim.table.problems import one_of

_NO_RANGE: Final = Range(0.0, 0.0)


@dataclass(frozen=True)
class Word(Kind):
    """One word of a closed list."""

    title: str = "Word"
    range: Range = _NO_RANGE
    legal: tuple[Any, ...] = ()

    def read(self, value: Any) -> Any:
        """The word itself; the nearest one is named where it is none of the list."""
        if not isinstance(value, str):
            raise refusal("not a text in quotes", f"one of {', '.join(self.legal)}")
        if value not in self.legal:
            raise refusal("", one_of(value, self.legal))
        return value

    def json_schema(self) -> dict[str, Any]:
        """The list."""
        return {"type": "string", "enum": list(self.legal)}


def word(literal: Any) -> Word:
    """The kind of a `Literal` of words."""
    return Word(legal=get_args(literal))


@dataclass(frozen=True)
class Listed:
    """A list of words, each of them once.

    Attributes
    ----------
    expected : what is told where it is none, or too short.
    fewest : how many words it has at the least.
    alone : whether one word may stand without [ ].
    """

    expected: str
    fewest: int = 0
    alone: bool = False

    def read(self, value: Any) -> tuple[Any, ...]:
        """The list itself, its words unread."""
        if self.alone and isinstance(value, str):
            value = (value,)
        if not isinstance(value, list | tuple):
            raise refusal("not a list", self.expected)
        texts = [each for each in value if isinstance(each, str)]
        if twice := next((each for each in texts if texts.count(each) > 1), ""):
            raise refusal(f'"{twice}" is there twice', "each word once")
        if len(value) < self.fewest:
            raise refusal("too few", self.expected)
        return tuple(value)

    def __get_pydantic_core_schema__(
        self, source: Any, handler: GetCoreSchemaHandler
    ) -> CoreSchema:
        return no_info_before_validator_function(self.read, handler(source))

    def __get_pydantic_json_schema__(
        self, core_schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> dict[str, Any]:
        fewest = {"minItems": self.fewest} if self.fewest else {}
        several = handler(core_schema) | {"uniqueItems": True} | fewest
        return {"anyOf": [several["items"], several]} if self.alone else several
