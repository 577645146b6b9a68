"""From the plain data of a rig file to a rig, or to everything that is wrong with it."""

import json
from collections.abc import Iterator, Mapping
from functools import cache
from typing import Any, Final

from pydantic import ValidationError, create_model
from pydantic_core import ErrorDetails

from geometry.printable import acts
from sim.rig.assumed import fill
from sim.rig.checks import impossible
from sim.rig.datum import with_taped_length
from sim.rig.ends import Axle, Output, RideHeight
from sim.rig.rig import Rig
from sim.rig.structure import UNKNOWN, Path, field_at, fields_of, key_problems, kinds_of, parts_of
from sim.table.kinds import LARGEST_NUMBER
from sim.table.part import Either, Part
from sim.table.problems import NOTHING, Problem, RigError, as_typed, dotted, in_file

_TAPED: Final = ("ride_height", "output", "axle", "shaft")
"""Sections that a length is worked out from where it was taped between other places."""

_LINES: Final = frozenset({("note",)})
"""Keys whose text may have several lines."""

_SAID: Final = [rule for part in (Output, RideHeight, Axle) for rule in part.rules]
_DIRECTIONS: Final = (
    *(rule.keys for rule in _SAID if isinstance(rule, Either)),
    *(("nose_up", "nose_down"), ("bump", "droop"), ("closes", "opens")),
)
OPPOSITE: Final[Mapping[str, str]] = {
    one: other for pair in _DIRECTIONS for one, other in (pair, pair[::-1])
}
"""Keys that say the opposite direction: where a negative number was meant to go."""


def rig_from_data(data: Mapping[str, Any], file: str = "rig") -> Rig:
    """Check the data of a whole rig file and build the rig.

    Raises `RigError` with every problem there is; sections that are sound are checked against
    one another even while others are not.
    """
    filled, assumed = fill(data)
    sections, problems = _sections(filled)
    if problems:
        raise RigError(in_file(file, problems))
    rig = Rig.model_validate({key: sections[key] for key in fields_of(Rig) if key in sections})
    rig._assumed = assumed
    return rig


def sound_sections(data: Mapping[str, Any]) -> tuple[dict[str, Any], tuple[Problem, ...]]:
    """Give the sections of unfinished data that are sound by themselves, and all problems.

    For a front end that fills a rig in step by step: what is missing is no problem yet.
    """
    filled, _ = fill(data)
    sections, problems = _sections(filled)
    return sections, tuple(problem for problem in problems if problem.came != NOTHING)


def _sections(filled: Mapping[str, Any]) -> tuple[dict[str, Any], list[Problem]]:
    """Validate each section by itself, so that one bad section hides nothing in another."""
    problems = list(key_problems(filled, Rig))
    misspelt = {_meant(problem) for problem in problems if problem.why == UNKNOWN}
    odd = list(_odd_values(filled))
    problems += odd
    sections = {}
    for key, field in Rig.model_fields.items():
        name = field.alias or key
        if name not in filled:
            if field.is_required():
                problems.append(Problem(name, NOTHING, f"a [{name}] table"))
            continue
        try:
            sections[name] = getattr(_alone(key).model_validate({name: filled[name]}), key)
        except ValidationError as fault:
            problems += _told(fault, filled)
    if "schema" not in sections:  # another schema has other keys: nothing else is worth telling
        return {}, [problem for problem in problems if problem.key == "schema"][:1]
    if all(key in sections for key in _TAPED):
        sections["ride_height"] = with_taped_length(*(sections[key] for key in _TAPED))
    problems += impossible(sections, frozenset(filled) - frozenset(sections))
    problems = [p for p in problems if p.came != NOTHING or not _is_in(p.key, misspelt)]
    told = {problem.key for problem in odd}
    problems = [each for each in problems if each.key not in told or each in odd]
    return sections, sorted(problems, key=_place_in_file)


def _odd_values(data: Any, path: Path = ()) -> Iterator[Problem]:
    """Values that TOML allows and no key wants: texts that act on what shows them, endless numbers.

    A name of several lines could print lines of its own into an answer.
    """
    if isinstance(data, Mapping):
        for key, value in data.items():
            yield from _odd_values(value, (*path, key))
    elif isinstance(data, list):
        for place, value in enumerate(data):
            yield from _odd_values(value, (*path, place))
    elif isinstance(data, str):
        keep = "\n\t" if path in _LINES else ""
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


def _place_in_file(problem: Problem) -> int:
    """Sort key that tells problems section by section; what is unknown comes first."""
    order = list(fields_of(Rig))
    section = problem.key.split(".")[0].split("[")[0]
    return order.index(section) if section in order else -1


@cache
def _alone(key: str) -> type[Part]:
    """Schema of a file that has one section of the rig and nothing else."""
    field = Rig.model_fields[key]
    definitions: dict[str, Any] = {key: (field.annotation, field)}
    return create_model(f"Only_{key}", __base__=Part, **definitions)


def _told(fault: ValidationError, data: Mapping[str, Any]) -> Iterator[Problem]:
    """Turn the errors of one section into problems."""
    for error in fault.errors(include_url=False):
        if error["type"] in {"extra_forbidden", "keys"}:
            continue  # told by `key_problems`, which also knows the nearest key
        if error["type"] == "too_short" and len(error["input"]) >= error["ctx"]["min_length"]:
            continue  # as typed it is long enough: what is wrong with its entries is told
        yield _problem(error, tuple(_key_path(error, data)), data)


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


def _problem(error: ErrorDetails, path: Path, data: Any) -> Problem:
    context = error.get("ctx", {})
    key, came, why = dotted(path), as_typed(error["input"]), ""
    match error["type"]:
        case "missing":
            came, expected = NOTHING, _example(path, data)
        case "measurement":
            expected, why = context["expected"], context["why"]
        case "impossible":
            key = dotted((*path, context["key"]))
            came, expected, why = context["came"], context["expected"], context["why"]
        case "negative":
            opposite = OPPOSITE.get(str(path[-1]))
            other = f"; the other direction is {opposite}" if opposite else ""
            expected, why = f"zero or more{other}", "negative"
        case "literal_error":
            expected = context["expected"].replace("'", '"')
        case "union_tag_invalid":
            key, came, expected = f"{key}.kind", as_typed(context["tag"]), _kinds(path)
        case "union_tag_not_found" if isinstance(error["input"], Mapping):
            key, came, expected = f"{key}.kind", NOTHING, _kinds(path)
        case "model_type" | "model_attributes_type" | "union_tag_not_found":
            expected = "a table"
        case "string_type":
            expected = "a text in quotes"
        case _:
            expected = error["msg"][:1].lower() + error["msg"][1:]
    return Problem(key, came, expected, why)


def _example(path: Path, data: Any) -> str:
    """Say what belongs at a key, by the examples of the schema."""
    field = field_at(Rig, path, data)
    if field is None or not field.examples:
        return "a value"
    example = field.examples[0]
    shown = json.dumps(example) if isinstance(example, str | list) else str(example)
    return f"a value such as {shown}"


def _kinds(path: Path) -> str:
    """Name the values a table's `kind` may have."""
    field = field_at(Rig, path, {})
    parts = parts_of(field.annotation) if field is not None else ()
    return "one of " + ", ".join(f'"{kind}"' for part in parts for kind in kinds_of(part))
