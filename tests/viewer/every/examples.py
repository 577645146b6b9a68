"""A rig for every finding there is, so that each can be asked of every teller."""

from collections.abc import Callable
from contextlib import AbstractContextManager, nullcontext
from functools import partial
from unittest.mock import patch

from geometry.contact.clearance import clearance
from sim.check import Check, check
from sim.findings import Code, Finding
from sim.rig import Rig, load_demo, parse_rig
from sim.rig.change import changed
from tests.kept import kept
from tests.sim.rigs import PHONE_CALL, spoilt
from tests.sim.test_front_axle import with_keys


def _wagon(**keys: object) -> Rig:
    return changed(load_demo("long-legged-trail-wagon"), keys)


def _parts() -> Rig:
    slip = {"at": "shaft", "closes": "2 1/2 in", "opens": "1/2 in", "comes_apart": "5/8 in"}
    return _wagon(**{"shaft.slip": slip})


def _short() -> Rig:
    """A shaft between whose yokes there is no room for its slip."""
    slip = {"at": "shaft", "closes": "2 in", "opens": "3 in", "pushed_home": "40 in"}
    return _wagon(**{"shaft.slip": slip})


def _little_gap() -> Rig:
    """Clear by its bend, but not by the room between the yokes."""
    return _wagon(**{"travel.droop": "2 in", "wanted.gap": "1/2 in", "wanted.bend": "0.1 deg"})


def _past_its_reach() -> Rig:
    slip = 'slip = { at = "output", closes = "1 in", opens = "2 in" }'
    text = spoilt(PHONE_CALL, ('"36 5/16 in"', '"10 in"'), ("8 in", "9 in"))
    return parse_rig(f"schema = 1\n{text}\n[shaft]\n{slip}\n")


def _past_its_readings() -> Rig:
    return changed(load_demo("marsh-runner"), {"travel.droop": "10 in"})


EXAMPLES: dict[Code, Callable[[], Rig]] = {
    "joint-bend": _wagon,
    "joint-gap": _little_gap,
    "slip-closes": _wagon,
    "slip-opens": _wagon,
    "slip-comes-apart": _parts,
    "slip-not-measured": lambda: parse_rig(f"schema = 1\n{PHONE_CALL}"),
    "no-room-for-slip": _short,
    "turns-at-ride": _wagon,
    "surroundings": _wagon,
    "surroundings-unfinished": _wagon,
    "out-of-reach": _past_its_reach,
    "beyond-readings": _past_its_readings,
    "caster": lambda: with_keys('caster = "5 deg"'),
    "hubs": lambda: with_keys('hubs = "unlock"'),
}
"""A new code has to have its rig here."""


@kept
def told(code: Code) -> Check:
    """The check that has a finding of this code."""
    with _hurried() if code == "surroundings-unfinished" else nullcontext():
        return check(EXAMPLES[code]())


def _hurried() -> AbstractContextManager[object]:
    """Searches around the shaft that give up after a few looks."""
    return patch("sim.around.surroundings.clearance", partial(clearance, most=40))


def found(code: Code) -> Finding:
    """The finding of this code."""
    of_code = [each for each in told(code).findings if each.code == code]
    assert of_code, f"{code}: not found on its rig here; is what finds it in sim.finders.FINDERS?"
    return of_code[0]
