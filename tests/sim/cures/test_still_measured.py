"""Errors typed behind a value stay where a cure leaves it a measurement, and go where it is built.

Every number of a demo rig is given an error; every remedy is tried on the first demo that it makes
sense on. What stays measured and what is built is told here by hand, key by key.
"""

from collections.abc import Iterator
from typing import Any

import pytest

from geometry.errors import BindpointError
from sim.assessment import Assessor
from sim.cures import REMEDIES, Cure, Cures, weights
from sim.cures.as_typed import said_as_typed
from sim.cures.remedies.heights import OutputDrop
from sim.cures.remedies.pinion import PinionTurn
from sim.cures.remedies.slip import LongerSlip, ResetSlip
from sim.cures.remedies.travel import LimitStraps
from sim.cures.remedy import Case, Dose, Remedy, Trial
from sim.cures.still_measured import with_error_of
from sim.rig import Rig, changed, demo_names, load_demo, parse_rig
from sim.rig.document import rig_text
from sim.rig.keys import keys_by_path
from sim.rig.validation import OPPOSITE
from sim.units import UnitsError, behind, parse_angle, parse_length
from viewer.session.cures.text import cured_text, mended_text

LENGTH, ANGLE = "+- 0.002 in", "+- 0.01 deg by phone"

SLIP = ("shaft.slip.closes", "shaft.slip.opens", "shaft.slip.comes_apart")

BUILT = {
    "limit-straps": ("travel.droop",),
    "bump-stops": ("travel.bump",),
    "anti-wrap-bar": ("travel.nose_up", "travel.nose_down"),
    "longer-slip": (*SLIP, "shaft.output_end.output_yoke.barrel_end"),
    "slip-in-shaft": SLIP,
}
"""By remedy: what the shop builds. All else that a remedy changes was read, and moved."""


def leaves(data: Any, path: str = "") -> Iterator[tuple[str, str]]:
    """Key path and text of everything typed."""
    if isinstance(data, dict):
        for key, value in data.items():
            yield from leaves(value, f"{path}.{key}".lstrip("."))
    elif isinstance(data, list):
        for place, value in enumerate(data, start=1):
            yield from leaves(value, f"{path}[{place}]")
    elif isinstance(data, str):
        yield path, data


def number(text: str) -> float | None:
    for parse in (parse_length, parse_angle):
        try:
            return parse(text)
        except UnitsError:
            continue
    return None


def with_errors(rig: Rig) -> Rig:
    """The rig with an error behind every number that may have one."""
    for key, text in list(leaves(rig.typed())):
        if number(text) is None or key.startswith(("wanted", "wrap", "measured_with")):
            continue
        error = ANGLE if "deg" in text else LENGTH
        try:
            rig = changed(rig, {key: f"{text} {error}"})
        except BindpointError:
            continue
    return rig


def first_with(remedy: Remedy) -> tuple[Rig, Dose]:
    """The first demo that a remedy makes sense on, with errors, and its first dose."""
    for name in demo_names():
        rig = load_demo(name)
        series = [each for each in remedy.doses(rig) if each]
        if series:
            return with_errors(rig), series[0][0]
    raise AssertionError(remedy.code)


@pytest.mark.parametrize("remedy", REMEDIES, ids=lambda each: each.code)
def test_what_stays_a_measurement_keeps_its_error_and_what_is_built_has_none(
    remedy: Remedy,
) -> None:
    rig, dose = first_with(remedy)
    was = dict(leaves(rig.typed()))
    said = said_as_typed(rig, remedy.applied(rig, dose), remedy.builds)
    changes = 0
    for key, text in leaves(said.typed()):
        last = key.rsplit(".", maxsplit=1)[-1]
        old = was.get(key) or was.get(key.replace(last, OPPOSITE.get(last, last)))
        if old is None or number(old) is None or number(text) is None:
            continue
        if text != old and behind(old):
            changes += 1
            expected = "" if key in BUILT.get(remedy.code, ()) else behind(old)
            assert behind(text) == expected, key
        else:
            assert text == old, key
    other_parts = remedy.code in ("two-piece", "other-size", "deep-throat-yokes")
    assert changes or other_parts


@pytest.mark.parametrize("remedy", REMEDIES, ids=lambda each: each.code)
def test_what_is_built_are_keys_of_the_file(remedy: Remedy) -> None:
    """And errors change no number: the cured rig is the one without them."""
    assert all(any(key.startswith(each) for key in keys_by_path()) for each in remedy.builds)
    if remedy.builds:
        rig, dose = first_with(remedy)
        cured = remedy.applied(rig, dose)
        said = said_as_typed(rig, cured, remedy.builds)
        mine, its = (dict(leaves(each.typed())) for each in (said, cured))
        for key in BUILT[remedy.code]:
            if key in its and key in mine:
                assert number(mine[key]) == pytest.approx(number(its[key]), abs=0.005)


def test_a_cured_file_has_the_errors_and_tools_that_were_typed() -> None:
    """As it is written: a shimmed pinion is as well known as it was; a strap has no error."""
    rig = changed(
        load_demo("goat-path-buggy"),
        {"travel.droop": "5 in +- 1/4 in", "axle.points_up": "4 deg by digital level"},
    )
    turned = PinionTurn().applied(rig, Dose(0.0523599, "up"))
    text = mended_text(rig, rig_text(rig), turned, "pinion turn")
    assert 'points_up = "7 deg by digital level"' in text
    strapped = LimitStraps().applied(rig, Dose(25.4))
    assert said_as_typed(rig, strapped, LimitStraps.builds).travel.droop.typed == "4 in"
    assert said_as_typed(rig, strapped).travel.droop.typed == "4 in +- 1/4 in"


def test_a_kept_cure_is_written_by_what_its_remedies_build() -> None:
    """As the window keeps it: droop by a strap, the slip moved by a shim, in one file."""
    rig = changed(
        load_demo("long-legged-trail-wagon"),
        {
            "travel.droop": "8 in +- 1/4 in",
            "shaft.slip.opens": "1 in +- 1/8 in by tape",
            "shaft.slip.closes": "1 1/2 in +- 1/8 in",
        },
    )
    assessor, trials, here = Assessor(), [], rig
    before = assessor.assess(rig)
    for remedy, dose in ((LimitStraps(), Dose(25.4)), (PinionTurn(), Dose(0.0349066, "up"))):
        cured = remedy.applied(here, dose)
        trials.append(Trial(remedy, Case(here, dose, cured, before, assessor.assess(cured))))
        here = cured
    cure = Cure(tuple(trials), 1.0, works=False)
    found = Cures(rig, before, "close", (cure,), weights(), (), ())
    kept = parse_rig(cured_text(found, cure, rig_text(rig)))
    assert kept.travel.droop.typed == "7 in"
    slip = kept.shaft.slip
    assert slip.opens.mm != rig.shaft.slip.opens.mm
    assert behind(slip.opens.typed) == "+- 1/8 in by tape"
    assert behind(slip.closes.typed) == "+- 1/8 in"


@pytest.mark.parametrize(
    ("key", "old", "new", "said"),
    [
        ("shaft.slip.closes", "1 in +- 1/8 in", "0.75 in", "0.75 in +- 1/8 in"),
        ("shaft.slip.closes", "1 in +- 1/8 in by tape", "0.05 in", "0.05 in"),
        ("shaft.slip.closes", "1 in by tape", "0.05 in", "0.05 in by tape"),
        ("axle.points_up", "3 deg ± 1/2 deg", "0.1 deg", "0.1 deg ± 1/2 deg"),
        ("output.joint[3]", "9 in +- 1/8 in", "-0.05 in", "-0.05 in +- 1/8 in"),
        ("axle.points_up", "3 deg", "4 deg", "4 deg"),
        ("axle.points_up", "3 deg by phone", "4 deg by eye", "4 deg by eye"),
        ("shaft.tube.outside", "3 in by caliper", "3.5 in", "3.5 in"),
    ],
)
def test_an_error_that_the_file_would_refuse_is_left_out(
    key: str, old: str, new: str, said: str
) -> None:
    assert with_error_of(old, new, key, ()) == said


@pytest.mark.parametrize(
    ("remedy", "dose", "built"),
    [
        (ResetSlip(), Dose(3.175, "shorter"), False),
        (OutputDrop(), Dose(6.35, "down"), False),
        (LongerSlip(), Dose(12.7, "opens"), True),
    ],
    ids=lambda each: getattr(each, "code", ""),
)
def test_a_slip_set_elsewhere_was_read_and_another_one_is_built(
    remedy: Remedy, dose: Dose, built: bool
) -> None:
    rig = changed(
        load_demo("long-legged-trail-wagon"), {"shaft.slip.opens": "1 in +- 1/8 in by tape"}
    )
    slip = said_as_typed(rig, remedy.applied(rig, dose), remedy.builds).shaft.slip
    assert slip.opens.mm != rig.shaft.slip.opens.mm
    assert behind(slip.opens.typed) == ("" if built else "+- 1/8 in by tape")
