"""What is not judged before it is complete: a set of links, a shaft whose bearing is to come."""

from collections.abc import Iterable, Mapping
from typing import Any

from sim.suspension import KINDS
from sim.table.problems import Problem
from viewer.interview.layout import PIECES
from viewer.interview.linking import LINKS_DONE
from viewer.interview.question import Said

_MEMBERS = ("suspension.links", "suspension.track_bar")


def told_now(said: Said, problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """Leave out what further links may put right: that the set does not hold or reach."""
    if not _links_to_come(said):
        return tuple(problems)
    return tuple(
        problem
        for problem in problems
        if not problem.key.startswith(("suspension", "travel")) or problem.key.startswith(_MEMBERS)
    )


def settled(said: Said, sections: Mapping[str, Any]) -> dict[str, Any]:
    """Sections that may be looked at for what is odd."""
    waits = set()
    if _links_to_come(said):
        waits.add("suspension")
    if said.get(PIECES) and sections.get("carrier") is None:
        waits.add("output")  # until then the front section would be taken for the shaft
    return {name: section for name, section in sections.items() if name not in waits}


def _links_to_come(said: Said) -> bool:
    kind = said.get("suspension.kind")
    return kind in KINDS and KINDS[kind].has_links and not said.get(LINKS_DONE)
