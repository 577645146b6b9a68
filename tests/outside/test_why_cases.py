"""What the program says of invented cases is what a practitioner says first.

The cases, their causes and their stories were written down from common practice (no source) before
the program could answer, and no strength was set by them.
"""

from collections.abc import Collection
from functools import cache
from typing import get_args

import pytest

from sim.causes import CauseCode
from sim.rig.demos import load_demo
from sim.seen import inspection_from_data
from sim.why.why import Why, why
from tests.outside.why_cases import ToldCase, told_cases

CASES = {case.name: case for case in told_cases()}
CAUSES = set(get_args(CauseCode))

each_case = pytest.mark.parametrize("case", CASES.values(), ids=CASES.keys())

OTHER_FIRST = {
    "24-rock-strike": "overload: many a trail truck has a dent that did nothing",
}
"""Cases in which the program names another cause first than a practitioner, and why it does."""

OTHER_STORY: frozenset[str] = frozenset()
"""Cases of which it does not say what a practitioner does, that it broke or that it wore."""


RULED_OUT = {
    name
    for name in CASES
    if int(name[:2]) in (1, 2, 3, 5, 6, *range(8, 14), *range(16, 23), 27, 28)
}
"""Cases of which it rules out a cause that a practitioner keeps in mind: once one cause explains
what is seen, it counts the others as unlikely, though nothing that was looked at speaks against
them."""


def known(names: Collection[str]) -> pytest.MarkDecorator:
    """The cases, those of some names known to fail."""
    fails = pytest.mark.xfail(reason="known, and told in this file", strict=False)
    return pytest.mark.parametrize(
        "case",
        [pytest.param(c, id=n, marks=[fails] if n in names else []) for n, c in CASES.items()],
    )


@cache
def answer(name: str) -> Why:
    """The program's answer, once a run."""
    case = CASES[name]
    return why(load_demo(case.rig), inspection_from_data(case.inspection, name))


@each_case
def test_a_case_names_causes_there_are(case: ToldCase) -> None:
    named = {*case.also, *case.not_first, *([case.first] if case.first else [])}
    assert named <= CAUSES
    assert case.first not in (*case.also, *case.not_first)
    assert case.story in ("broke", "wore", "open")
    assert (case.first == "") == (case.story == "open")


def test_nearly_every_cause_comes_first_somewhere() -> None:
    assert CAUSES - {case.first for case in CASES.values()} == {"slip-pulled-out"}


@pytest.mark.slow
@known(OTHER_FIRST)
def test_the_first_cause_is_the_one_a_practitioner_names(case: ToldCase) -> None:
    told = answer(case.name)
    first = told.causes[0]
    if case.first:
        assert first.code == case.first
    else:
        assert not first.likely


@pytest.mark.slow
@known(OTHER_STORY)
def test_it_broke_or_wore_as_a_practitioner_says(case: ToldCase) -> None:
    assert answer(case.name).story == case.story


@pytest.mark.slow
@known(RULED_OUT)
def test_what_else_may_be_is_not_ruled_out(case: ToldCase) -> None:
    kept = {each.code for each in answer(case.name).not_ruled_out}
    assert set(case.also) - kept == set()


@pytest.mark.slow
@each_case
def test_what_a_beginner_jumps_to_does_not_come_first(case: ToldCase) -> None:
    assert answer(case.name).causes[0].code not in case.not_first
