"""The common ground of every table of a file."""

from abc import ABC, abstractmethod
from collections.abc import Callable, Iterator, Mapping
from dataclasses import KW_ONLY, dataclass
from itertools import combinations
from typing import Any, ClassVar, Generic, Self, TypeVar, overload

from pydantic import BaseModel, ConfigDict, GetJsonSchemaHandler, model_validator
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, PydanticCustomError

from sim.remark import Remark
from sim.table.problems import NOTHING, Problem, as_typed
from sim.table.typed import typed_angle
from sim.units import Angle

Neither = TypeVar("Neither", float, None)


@dataclass(frozen=True)
class Rule(ABC):
    """What holds between some keys of one table; it stands in the table's class under any name."""

    keys: tuple[str, ...]

    @abstractmethod
    def problems(self, table: Mapping[str, Any], path: str) -> Iterator[Problem]:
        """What is wrong with the keys of `table`, which lies at the key path `path`."""

    def json_schema(self) -> Iterator[dict[str, Any]]:
        """Clauses of JSON Schema that say the same, where it can."""
        yield from ()

    def given(self, table: Mapping[str, Any]) -> list[str]:
        """Which of the keys are there."""
        return [key for key in self.keys if table.get(key) is not None]


@dataclass(frozen=True)
class OneOf(Rule):
    """Keys of one table that say the same thing in different words: at most one of them."""

    needed: str = ""
    """What is wanted when none of the keys is there; empty when none is needed."""

    def problems(self, table: Mapping[str, Any], path: str) -> Iterator[Problem]:
        """The second one that is given, or that none is."""
        given = self.given(table)
        if len(given) > 1:
            yield Problem(
                _at(path, given[1]),
                _came(table[given[1]]),
                Remark("only-one-of", keys=" and ".join(given)),
                Remark("given-too", what=given[0]),
            )
        if not given and self.needed:
            yield Problem(_at(path, self.keys[0]), NOTHING, self.needed)

    def json_schema(self) -> Iterator[dict[str, Any]]:
        """No two of them, and one where it is needed."""
        for one, other in combinations(self.keys, 2):
            yield {"not": {"required": [one, other]}}
        if self.needed:
            yield {"anyOf": [{"required": [key]} for key in self.keys]}


@dataclass(frozen=True)
class Either(OneOf, Generic[Neither]):
    """Two keys that say one length or angle with opposite words, the positive one first.

    Of a table it is that number with its sign, mm or rad; `neither` where it says none of them.
    """

    _: KW_ONLY
    neither: Neither
    writes: Callable[[float], str] = typed_angle
    """How the program itself types such a number."""

    @overload
    def __get__(self, table: None, owner: object) -> Self: ...
    @overload
    def __get__(self, table: "Part", owner: object) -> float | Neither: ...
    def __get__(self, table: "Part | None", owner: object) -> Self | float | Neither:
        """The number that a table says, or these keys themselves of its class."""
        if table is None:
            return self
        for key, sign in zip(self.keys, (1.0, -1.0), strict=True):
            value = getattr(table, key)
            if value is not None:
                return sign * (value.rad if isinstance(value, Angle) else value.mm)
        return self.neither

    def typed(self, number: float, table: str = "") -> dict[str, str]:
        """Key, after the path of its table, and value that say a number (mm or rad)."""
        positive, negative = self.keys
        return {f"{table}{negative if number < 0.0 else positive}": self.writes(abs(number))}

    def said(self, table: "Part") -> tuple[str, str]:
        """Which of the keys a table has, and what was typed for it."""
        key = next(key for key in self.keys if getattr(table, key) is not None)
        return key, _came(getattr(table, key))


@dataclass(frozen=True)
class Together(Rule):
    """Keys of one table that are given together or not at all."""

    needed: str
    """What is wanted where one of them is missing."""

    def problems(self, table: Mapping[str, Any], path: str) -> Iterator[Problem]:
        """Which of the keys are missing beside the others."""
        given = self.given(table)
        for key in self.keys if given else ():
            if key not in given:
                yield Problem(_at(path, key), NOTHING, self.needed, Remark("given", what=given[0]))

    def json_schema(self) -> Iterator[dict[str, Any]]:
        """Each of them needs the others."""
        others = {key: [other for other in self.keys if other != key] for key in self.keys}
        yield {"dependentRequired": others}


@dataclass(frozen=True)
class Needless(Rule):
    """Keys of one table that say nothing where another key of it has one of some values."""

    where: str
    """The other key."""
    has: tuple[str, ...]
    needed: str
    """What would have to be instead."""
    why: str = ""

    def problems(self, table: Mapping[str, Any], path: str) -> Iterator[Problem]:
        """Each of the keys that is there all the same."""
        for key in self.given(table) if table.get(self.where) in self.has else ():
            yield Problem(_at(path, key), _came(table[key]), self.needed, self.why)


class Part(BaseModel):
    """One table of a file: immutable, with no key but the known ones."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True, ignored_types=(Rule,))

    rules: ClassVar[tuple[Rule, ...]] = ()
    """What holds between its keys, in the order in which it is told."""

    @classmethod
    def __pydantic_init_subclass__(cls, **kwargs: Any) -> None:
        """Gather the rules that stand in the class and in what it is made from."""
        super().__pydantic_init_subclass__(**kwargs)
        found = [each for base in reversed(cls.__mro__) for each in vars(base).values()]
        told = (OneOf, Together, Needless)
        cls.rules = tuple(each for kind in told for each in found if isinstance(each, kind))

    @classmethod
    def has_own_keys(cls) -> bool:
        """Whether a table may have keys that the schema does not know, as a part's own sizes."""
        return cls.model_config.get("extra") == "allow"

    @classmethod
    def exclusive(cls, key: str) -> OneOf | None:
        """The rule that lets the file have only one of this key and others; None for none."""
        return next((r for r in cls.rules if isinstance(r, OneOf) and key in r.keys), None)

    @classmethod
    def key_problems(cls, table: Mapping[str, Any], path: str) -> Iterator[Problem]:
        """Tell which of the table's rules its keys break."""
        for rule in cls.rules:
            yield from rule.problems(table, path)

    @classmethod
    def __get_pydantic_json_schema__(
        cls, core_schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        """Say the rules on keys in JSON Schema too."""
        schema = handler(core_schema)
        table = handler.resolve_ref_schema(schema)
        if rules := [clause for rule in cls.rules for clause in rule.json_schema()]:
            table["allOf"] = rules
        return schema

    @model_validator(mode="after")
    def _keys_agree(self) -> "Part":
        values = {name: getattr(self, name) for name in type(self).model_fields}
        for problem in type(self).key_problems(values, ""):
            raise PydanticCustomError(
                "keys", "{text}", {"text": f"{problem.key}: expected {problem.expected}"}
            )
        return self


def _at(path: str, key: str) -> str:
    return f"{path}.{key}" if path else key


def _came(value: Any) -> str:
    return as_typed(getattr(value, "typed", value))
