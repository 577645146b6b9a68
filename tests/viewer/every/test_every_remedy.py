"""Every remedy is told by all who tell cures, on a rig and at a dose that it makes sense for."""

import json
from collections.abc import Iterator
from functools import cache

import pytest

from geometry.errors import BindpointError
from sim.assessment import Assessor
from sim.assessment.glance import SLACK_BEND, SLACK_SLIP, glance
from sim.cures import REMEDIES, Cure, Cures
from sim.cures.ranking import weights
from sim.cures.remedy import Case, Remedy, Trial
from sim.derive import vehicle_of
from sim.rig import Rig, changed, demo_names, load_demo, rig_text
from viewer.cures.json import cures_data
from viewer.cures.text import cures_text
from viewer.session.cures.list import _line
from viewer.words.cure_names import cure_name
from viewer.words.cures import cure_says, remedy_name

every_remedy = pytest.mark.parametrize("remedy", REMEDIES, ids=lambda remedy: remedy.code)


def _rigs() -> Iterator[Rig]:
    """Demo rigs that need a cure, and a two-piece shaft that hangs too low."""
    rigs = [load_demo(name) for name in demo_names()]
    rigs.append(changed(load_demo("timber-crew-carrier"), {"travel.droop": "16 in"}))
    yield from (rig for rig in rigs if _assessor().assess(rig).verdict != "clear")


@cache
def _assessor() -> Assessor:
    return Assessor()


def tried(remedy: Remedy) -> Trial:
    """The remedy at its first dose that can be had, on the first rig that it is for."""
    for rig in _rigs():
        for series in remedy.doses(rig):
            for dose in series:
                try:
                    cured = remedy.applied(rig, dose)
                    after = _assessor().assess(cured)
                except BindpointError:
                    continue
                return Trial(remedy, Case(rig, dose, cured, _assessor().assess(rig), after))
    raise AssertionError(f"{remedy.code}: no rig is for it")


@pytest.mark.slow
@every_remedy
def test_it_does_what_it_says_of_itself(remedy: Remedy) -> None:
    """Whether it gives up travel, and what it does to a vehicle when its rig is not made."""
    pairs = [
        (vehicle_of(rig), vehicle_of(cured))
        for rig in map(load_demo, demo_names())
        for cured in least_doses(remedy, rig)
    ]
    assert pairs
    for was, now in pairs:
        given_up = [
            getattr(now.travel, name) < getattr(was.travel, name)
            for name in ("bump", "droop", "roll")
        ]
        assert remedy.takes_travel == any(given_up)
        added = remedy.effect.added(was, was, now)
        if added is not None:
            assert added.travel == now.travel
            one, other = glance(added), glance(now)
            assert one.bends == pytest.approx(other.bends, abs=SLACK_BEND)
            slip = one.shortest, one.longest, added.slip.closes, added.slip.opens
            assert slip == pytest.approx(
                (other.shortest, other.longest, now.slip.closes, now.slip.opens), abs=SLACK_SLIP
            )


def least_doses(remedy: Remedy, rig: Rig) -> Iterator[Rig]:
    """A rig with the first dose of each series in it that can be had."""
    for series in remedy.doses(rig):
        for dose in series:
            try:
                cured = remedy.applied(rig, dose)
            except BindpointError:
                continue
            yield cured
            break


LONGEST_NAME = 48
"""Letters: two of them, joined, are read in one breath."""


@pytest.mark.slow
@every_remedy
def test_it_is_told(remedy: Remedy) -> None:
    trial = tried(remedy)
    by, rig = weights(), trial.case.rig
    cure = Cure((trial,), by.price((trial,)), works=True)
    found = Cures(rig, cure.before, "clear", (cure,), by, (remedy.code,), ())
    text = cures_text(found)
    assert remedy_name(remedy.code)
    assert 5 < len(cure_name(cure)) <= LONGEST_NAME
    for sentence in cure_says(cure):
        assert " ".join(sentence.split()) in " ".join(text.split())
    assert json.dumps(cures_data(found), allow_nan=False)
    line = _line(found, cure, rig_text(rig))
    assert line.says
    assert line.price
