"""The common ground of every table of a rig file."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import combinations
from typing import Any, ClassVar

from pydantic import BaseModel, ConfigDict, GetJsonSchemaHandler, model_validator
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, PydanticCustomError

from sim.table.problems import NOTHING, Problem, as_typed


@dataclass(frozen=True)
class OneOf:
    """Keys of one table that say the same thing in different words: at most one of them."""

    keys: tuple[str, ...]
    needed: str = ""
    """What is wanted when none of the keys is there; empty when none is needed."""

    def problem(self, table: Mapping[str, Any], path: str) -> Problem | None:
        """What is wrong with the keys of `table`, which lies at the key path `path`."""
        given = [key for key in self.keys if table.get(key) is not None]
        dot = f"{path}." if path else ""
        if len(given) > 1:
            return Problem(
                f"{dot}{given[1]}",
                as_typed(_plain(table[given[1]])),
                f"only one of {' and '.join(given)}",
                f"{given[0]} is given too",
            )
        if not given and self.needed:
            return Problem(f"{dot}{self.keys[0]}", "nothing", self.needed)
        return None

    def json_schema(self) -> Iterator[dict[str, Any]]:
        """Clauses of JSON Schema that say the same."""
        for one, other in combinations(self.keys, 2):
            yield {"not": {"required": [one, other]}}
        if self.needed:
            yield {"anyOf": [{"required": [key]} for key in self.keys]}


@dataclass(frozen=True)
class Together:
    """Keys of one table that are given together or not at all."""

    keys: tuple[str, ...]
    needed: str
    """What is wanted where one of them is missing."""

    def problems(self, table: Mapping[str, Any], path: str) -> Iterator[Problem]:
        """Which of the keys are missing beside the others."""
        given = [key for key in self.keys if table.get(key) is not None]
        for key in self.keys if given else ():
            if key not in given:
                dot = f"{path}." if path else ""
                yield Problem(f"{dot}{key}", NOTHING, self.needed, f"{given[0]} is given")

    def json_schema(self) -> dict[str, Any]:
        """Clause of JSON Schema that says the same."""
        others = {key: [other for other in self.keys if other != key] for key in self.keys}
        return {"dependentRequired": others}


class Part(BaseModel):
    """One table of a rig file: immutable, with no key but the known ones."""

    model_config = ConfigDict(frozen=True, extra="forbid", strict=True)

    one_of: ClassVar[tuple[OneOf, ...]] = ()
    together: ClassVar[tuple[Together, ...]] = ()

    @classmethod
    def key_problems(cls, table: Mapping[str, Any], path: str) -> Iterator[Problem]:
        """Tell which of the table's `one_of` and `together` rules its keys break."""
        for rule in cls.one_of:
            problem = rule.problem(table, path)
            if problem is not None:
                yield problem
        for group in cls.together:
            yield from group.problems(table, path)

    @classmethod
    def __get_pydantic_json_schema__(
        cls, core_schema: CoreSchema, handler: GetJsonSchemaHandler
    ) -> JsonSchemaValue:
        """Say the rules on keys in JSON Schema too."""
        schema = handler(core_schema)
        table = handler.resolve_ref_schema(schema)
        rules = [clause for rule in cls.one_of for clause in rule.json_schema()]
        rules += [group.json_schema() for group in cls.together]
        if rules:
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


def _plain(value: Any) -> Any:
    return getattr(value, "typed", value)
