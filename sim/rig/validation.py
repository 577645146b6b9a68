"""From the plain data of a rig file to a rig, or to everything that is wrong with it."""

from collections.abc import Iterable, Mapping
from typing import Any, Final

from sim.rig.assumed import fill
from sim.rig.checks import impossible
from sim.rig.checks.tools import tools_can_be
from sim.rig.datum import with_taped_length
from sim.rig.ends import Axle, Output, RideHeight
from sim.rig.rig import Rig
from sim.table.part import Either
from sim.table.problems import NOTHING, Problem, RigError, in_file, one_problem
from sim.table.structure import fields_of
from sim.table.validation import Schema, sections_of

_TAPED: Final = ("ride_height", "output", "axle", "shaft")
"""Sections that a length is worked out from where it was taped between other places."""

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
    if data.get("kind") == "inspection":
        raise one_problem(file, "", "an inspection file", "a rig file")
    filled, assumed = fill(data)
    sections, problems = sections_of(filled, _SCHEMA)
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
    sections, problems = sections_of(filled, _SCHEMA)
    return sections, tuple(problem for problem in problems if problem.came != NOTHING)


def _between(sections: dict[str, Any], unsound: frozenset[str]) -> Iterable[Problem]:
    """What is wrong between sections, the taped length worked out where all are there."""
    if all(key in sections for key in _TAPED):
        sections["ride_height"] = with_taped_length(*(sections[key] for key in _TAPED))
    yield from tools_can_be(sections)
    yield from impossible(sections, unsound)


_SCHEMA: Final = Schema(Rig, opposite=OPPOSITE, between=_between)
