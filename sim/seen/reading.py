"""From a file on disk to an inspection, and back."""

from collections.abc import Mapping
from os import PathLike
from typing import Any, Final

from sim.seen.inspection import Inspection
from sim.table.document import commented
from sim.table.json_schema import DIALECT, without_null
from sim.table.problems import NOTHING, Problem, RigError, in_file, one_problem
from sim.table.reading import parse_toml, read_text
from sim.table.structure import fields_of
from sim.table.validation import Schema, sections_of

_A_FILE: Final = "an inspection file"
_SCHEMA: Final = Schema(Inspection)
_OF_A_RIG: Final = frozenset({"output", "axle", "shaft", "suspension", "travel", "ride_height"})
"""Tables by which a rig file is known."""
_HEAD: Final = (
    "An inspection of Bindpoint: what is seen, measured and told of one failed joint. Everything "
    "may be left out. A list that is missing was not looked at; an empty one, [ ], was looked at "
    "and there was nothing; with words, those are there and the others of that list are not."
)


def load_inspection(path: str | PathLike[str]) -> Inspection:
    """Read and check an inspection. Raises `RigError` with everything that is wrong with it."""
    return parse_inspection(read_text(path, _A_FILE), str(path))


def parse_inspection(text: str, file: str = "inspection") -> Inspection:
    """Read and check the text of an inspection; `file` is what errors call it."""
    return inspection_from_data(parse_toml(text, file, _A_FILE), file)


def inspection_from_data(data: Mapping[str, Any], file: str = "inspection") -> Inspection:
    """Check the data of a whole inspection. Raises `RigError` with every problem there is."""
    if "kind" not in data and _OF_A_RIG & data.keys():
        raise one_problem(file, "", "a rig file", _A_FILE)
    sections, problems = sections_of(data, _SCHEMA)
    if problems:
        raise RigError(in_file(file, problems))
    names = fields_of(Inspection)
    return Inspection.model_validate({key: sections[key] for key in names if key in sections})


def sound_so_far(data: Mapping[str, Any]) -> tuple[Problem, ...]:
    """What is wrong with the data of an unfinished inspection, but for what is missing."""
    return tuple(each for each in sections_of(data, _SCHEMA)[1] if each.came != NOTHING)


def inspection_text(inspection: Inspection) -> str:
    """TOML text of an inspection with a remark on every key."""
    return commented(Inspection, inspection.typed(), _HEAD, {})


def inspection_schema() -> dict[str, Any]:
    """JSON Schema of an inspection: every key with what it means and examples."""
    schema = Inspection.model_json_schema(by_alias=True)
    without_null(schema)
    return {"$schema": DIALECT, **schema}
