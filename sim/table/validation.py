"""From the plain data of a file to the tables of its schema, or to everything wrong with them."""

import json
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cache
from typing import Any

from pydantic import ValidationError, create_model
from pydantic_core import ErrorDetails

from geometry.printable import acts
from sim.table.kinds import LARGEST_NUMBER
from sim.table.part import Part
from sim.table.problems import NOTHING, Problem, as_typed, dotted
from sim.table.structure import (
    UNKNOWN,
    Path,
    field_at,
    fields_of,
    key_problems,
    kinds_of,
    parts_of,
)


def _nothing_between(sections: dict[str, Any], _: frozenset[str]) -> Iterable[Problem]:
    del sections
    return ()


@dataclass(frozen=True)
class Schema:
    """What one kind of file is checked by.

    Attributes
    ----------
    root : the table that is the whole file.
    lines : last keys of paths whose text may have several lines, each in a tuple.
    opposite : keys that say the opposite direction: where a negative number was meant to go.
    between : what is wrong between the sections that are sound by themselves, which it may put
        right; it is also told the names of those that are not.
    """

    root: type[Part]
    lines: frozenset[Path] = frozenset({("note",)})
    opposite: Mapping[str, str] = field(default_factory=dict)
    between: Callable[[dict[str, Any], frozenset[str]], Iterable[Problem]] = _nothing_between


def sections_of(data: Mapping[str, Any], schema: Schema) -> tuple[dict[str, Any], list[Problem]]:
    """The sections of a file that are sound, by name, and all that is wrong with the others.

    Each is validated by itself, so that one bad section hides nothing in another.
    """
    problems = list(key_problems(data, schema.root))
    misspelt = {_meant(problem) for problem in problems if problem.why == UNKNOWN}
    odd = list(_odd_values(data, schema))
    problems += odd
    sections = {}
    for key, info in schema.root.model_fields.items():
        name = info.alias or key
        if name not in data:
            if info.is_required():
                problems.append(Problem(name, NOTHING, _missing(name, schema)))
            continue
        try:
            alone = _alone(schema.root, key).model_validate({name: data[name]})
            sections[name] = getattr(alone, key)
        except ValidationError as fault:
            problems += _told(fault, data, schema)
    if "schema" not in sections:  # another schema has other keys: nothing else is worth telling
        return {}, [problem for problem in problems if problem.key == "schema"][:1]
    problems += schema.between(sections, frozenset(data) - frozenset(sections))
    problems = [p for p in problems if p.came != NOTHING or not _is_in(p.key, misspelt)]
    told = {problem.key for problem in odd}
    problems = [each for each in problems if each.key not in told or each in odd]
    order = list(fields_of(schema.root))
    return sections, sorted(problems, key=lambda problem: _place(problem, order))


def _odd_values(data: Any, schema: Schema, path: Path = ()) -> Iterator[Problem]:
    """Values that TOML allows and no key wants: texts that act on what shows them, endless numbers.

    A name of several lines could print lines of its own into an answer.
    """
    if isinstance(data, Mapping):
        for key, value in data.items():
            yield from _odd_values(value, schema, (*path, key))
    elif isinstance(data, list):
        for place, value in enumerate(data):
            yield from _odd_values(value, schema, (*path, place))
    elif isinstance(data, str):
        keep = "\n\t" if path[-1:] in schema.lines else ""
        found = next((each for each in data if acts(each) and each not in keep), None)
        if found is not None:
            why = "a line break" if found in "\n\r" else f"a control character, U+{ord(found):04X}"
            yield Problem(dotted(path), as_typed(data), "a text that is seen as it is", why)
    elif isinstance(data, int) and abs(data) > LARGEST_NUMBER:
        yield Problem(dotted(path), as_typed(data), "a number of a few digits", "too long")


def _meant(unknown: Problem) -> str:
    """Path of the key that was meant where an unknown one stands, by its nearest known one."""
    table, dot, _ = unknown.key.rpartition(".")
    return f"{table}{dot}{str(unknown.expected).partition(',')[0]}"


def _is_in(key: str, misspelt: set[str]) -> bool:
    """Whether a key is missing only because it, or a table that it is in, is spelled wrong."""
    return any(key == meant or key.startswith((f"{meant}.", f"{meant}[")) for meant in misspelt)


def _place(problem: Problem, order: list[str]) -> int:
    """Sort key that tells problems section by section; what is unknown comes first."""
    section = problem.key.split(".")[0].split("[")[0]
    return order.index(section) if section in order else -1


def _missing(name: str, schema: Schema) -> str:
    """What is wanted where a section is not there."""
    examples = fields_of(schema.root)[name].examples or ()
    return f"{name} = {json.dumps(examples[0])}" if examples else f"a [{name}] table"


@cache
def _alone(root: type[Part], key: str) -> type[Part]:
    """Schema of a file that has one section and nothing else."""
    info = root.model_fields[key]
    definitions: dict[str, Any] = {key: (info.annotation, info)}
    return create_model(f"Only_{key}", __base__=Part, **definitions)


def _told(fault: ValidationError, data: Mapping[str, Any], schema: Schema) -> Iterator[Problem]:
    """Turn the errors of one section into problems."""
    for error in fault.errors(include_url=False):
        if error["type"] in {"extra_forbidden", "keys"}:
            continue  # told by `key_problems`, which also knows the nearest key
        if error["type"] == "too_short" and len(error["input"]) >= error["ctx"]["min_length"]:
            continue  # as typed it is long enough: what is wrong with its entries is told
        yield _problem(error, tuple(_key_path(error, data)), data, schema)


def _key_path(error: ErrorDetails, data: Mapping[str, Any]) -> Iterator[str | int]:
    """Give the keys of an error's place, without the names of the union members in it."""
    here: Any = data
    tagged: Any = None
    for place, part in enumerate(error["loc"]):
        last = place == len(error["loc"]) - 1
        if here is not tagged and isinstance(here, Mapping) and here.get("kind") == part:
            tagged = here  # the kind comes first, also where a key has the same name
            continue
        if isinstance(here, Mapping) and (part in here or (last and error["type"] == "missing")):
            here = here.get(part)
        elif isinstance(here, list) and isinstance(part, int) and part < len(here):
            here = here[part]
        else:
            continue
        yield part


def _problem(error: ErrorDetails, path: Path, data: Any, schema: Schema) -> Problem:
    context = error.get("ctx", {})
    key, came, why = dotted(path), as_typed(error["input"]), ""
    match error["type"]:
        case "missing":
            came, expected = NOTHING, _example(path, data, schema)
        case "measurement":
            expected, why = context["expected"], context["why"]
        case "impossible":
            key = dotted((*path, context["key"]))
            came, expected, why = context["came"], context["expected"], context["why"]
        case "negative":
            opposite = schema.opposite.get(str(path[-1]))
            other = f"; the other direction is {opposite}" if opposite else ""
            expected, why = f"zero or more{other}", "negative"
        case "literal_error":
            expected = context["expected"].replace("'", '"')
        case "union_tag_invalid":
            key, came, expected = f"{key}.kind", as_typed(context["tag"]), _kinds(path, schema)
        case "union_tag_not_found" if isinstance(error["input"], Mapping):
            key, came, expected = f"{key}.kind", NOTHING, _kinds(path, schema)
        case "model_type" | "model_attributes_type" | "union_tag_not_found":
            expected = "a table"
        case "string_type":
            expected = "a text in quotes"
        case _:
            expected = error["msg"][:1].lower() + error["msg"][1:]
    return Problem(key, came, expected, why)


def _example(path: Path, data: Any, schema: Schema) -> str:
    """Say what belongs at a key, by the examples of the schema."""
    info = field_at(schema.root, path, data)
    if info is None or not info.examples:
        return "a value"
    example = info.examples[0]
    shown = json.dumps(example) if isinstance(example, str | list) else str(example)
    return f"a value such as {shown}"


def _kinds(path: Path, schema: Schema) -> str:
    """Name the values a table's `kind` may have."""
    info = field_at(schema.root, path, {})
    parts = parts_of(info.annotation) if info is not None else ()
    return "one of " + ", ".join(f'"{kind}"' for part in parts for kind in kinds_of(part))
