"""What the rig says of what was seen: that it was asked of this joint, and which part is named."""

from dataclasses import replace
from functools import cache
from typing import Any

import pytest

from sim.assessment import Assessor
from sim.causes import SettledJoint, load_graph, next_questions, none_confirmed
from sim.marks import Overlap, Placed, SeenMark
from sim.overload import how_failed
from sim.rig.demos import load_demo
from sim.seen import Inspection, inspection_from_data
from sim.seen.words import CAPS, CapName
from sim.why.asked import Asked, ask
from sim.why.case import Case
from sim.why.why import SEEN, priors_of, weigh


@cache
def case() -> Case:
    """A joint that clears its travel, of a rig that tells of its drive."""
    return Case(Assessor().assess(load_demo("quarry-hauler")), "pinion")


def seen(**tables: Any) -> Inspection:
    """An inspection of that joint."""
    return inspection_from_data({"schema": 1, "kind": "inspection", "joint": "pinion", **tables})


def asked(**tables: Any) -> Asked:
    """What the rig says of it."""
    return ask(case(), seen(**tables))


def told(found: Asked) -> dict[str, Any]:
    """Sign -> whether it is so, and the numbers behind it."""
    return {each.code: (each.says, each.why) for each in found.signs}


@pytest.mark.parametrize("cap", CAPS)
def test_the_cap_that_sits_crooked_is_named_whichever_it_is(cap: CapName) -> None:
    found = asked(caps={cap: {"tilt": "0.4 deg"}})
    says, why = told(found)["cap-cocked"]
    assert says is True
    assert why["cap"] == cap
    assert why["tilt"] == found.cocked.caps[cap].seat.tipped
    assert why["both"] is False


@pytest.mark.parametrize("loose", CAPS)
def test_of_two_caps_that_a_yoke_tips_alike_the_one_pressed_harder_is_told(loose: CapName) -> None:
    """Bad ears tip both caps alike; needles bring that one back which has play, so it gets less."""
    yoke = loose.partition("_")[0]
    bad = {"gap_at_tips": "2.380 in", "gap_at_root": "2.362 in", "off": "0.018 in"}
    wide = {"cap_diameter": ["1.188 in"], "bore": ["1.193 in"]}
    found = asked(yokes={yoke: bad}, caps={loose: wide})
    _, why = told(found)["cap-cocked"]
    (tight,) = (cap for cap in CAPS if cap.startswith(yoke) and cap != loose)
    caps = found.cocked.caps
    assert caps[tight].seat.tipped == caps[loose].seat.tipped
    assert caps[tight].peak_mpa > caps[loose].peak_mpa
    assert why["cap"] == tight
    assert why["life"] == caps[tight].life_ratio < caps[loose].life_ratio
    assert why["both"] is True


@pytest.mark.parametrize(
    ("times", "there"), [(0.01, False), (0.49, False), (0.51, None), (1.99, None), (2.01, True)]
)
def test_marks_tell_where_they_are_twice_as_likely_or_half(
    times: float, there: bool | None
) -> None:
    mark = Placed(SeenMark("shaft", "ear tip"), 0.5, times, None)
    signs = told(replace(asked(), lie=Overlap((mark,), 0.5), both=True))
    if there is None:
        assert not {"marks-where-computed", "marks-elsewhere"} & set(signs)
        return
    (here, why), (away, _) = signs["marks-where-computed"], signs["marks-elsewhere"]
    assert (here, away) == (there, not there)
    assert why["times"] == pytest.approx(times if there else 1.0 / times)
    if there:
        assert why["reached"] is False, "no pose of this axle bends it so far"


def test_how_it_failed_is_asked_of_its_strength() -> None:
    tables: dict[str, Any] = {
        "play": {"at_tube": "1.5 deg"},
        "history": {"distance": "900 mi", "use": "tow"},
        "symptoms": {"happened": "highway"},
    }
    found = asked(**tables).overload
    assert found.how == how_failed(seen(**tables))
    assert found.knock is not None
    assert found.failed is found.at["ride"]
    assert found.how.miles == pytest.approx(900.0)


def test_a_slip_pushes_by_what_was_found_on_its_spline() -> None:
    """Stuck or dry it rubs with 0.5, greased with 0.15; nobody looked, nothing is told."""
    stuck, clean, unseen = (
        asked(**tables) for tables in ({"spline": {"seen": ["dry"]}}, {"spline": {"seen": []}}, {})
    )
    assert "slip-thrust-dents" not in told(unseen)
    for found in (stuck, clean):
        says, why = told(found)["slip-thrust-dents"]
        assert says is found.cocked.thrust.dents
        assert why["force"] == found.cocked.thrust.force
    assert stuck.cocked.thrust.force / clean.cocked.thrust.force == pytest.approx(0.5 / 0.15)


def test_what_to_look_at_next_knows_the_joints_that_the_shop_settled() -> None:
    joints = (SettledJoint(causes=("frozen-slip",)),) * 20
    settled = none_confirmed().model_copy(update={"joints": joints})
    found = weigh(case(), seen(came="wore"), settled)
    evidence, priors = found.posterior.evidence, priors_of(case(), settled)
    may = {sign: [sign] for sign in load_graph().signs if sign in SEEN and sign not in evidence}
    by_hand = next_questions(load_graph(), evidence, may, priors)
    assert {each.sign: each.bits for each in found.next} == pytest.approx(
        {each.name: each.bits for each in by_hand}
    )
    plain = next_questions(load_graph(), evidence, may, priors_of(case(), None))
    assert by_hand[0].bits != pytest.approx(plain[0].bits, rel=0.05)


def test_what_speaks_most_is_told_first() -> None:
    found = weigh(case(), seen(came="wore", caps={cap: {"seen": ["dry"]} for cap in CAPS}))
    for cause in found.causes:
        for signs in (cause.speaks_for, cause.against):
            pushes = [abs(each.alone) for each in signs]
            assert pushes == sorted(pushes, reverse=True)
