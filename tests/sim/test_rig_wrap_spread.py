"""How far off the numbers of a [wrap] table may be: as the file says, or generic."""

from math import asin, degrees

import jsonschema
import pytest

from sim.derive import derive
from sim.rig import json_schema, parse_rig, rig_text
from sim.table.loads import OFF
from sim.table.reading import parse_toml
from sim.wrap import AxleWrap
from sim.wrap.bushes import bush_wrap
from sim.wrap.estimate import Estimate
from tests.sim.rigs import only_problem, spoilt
from tests.sim.test_rig_wrap import EVERY, every_kind, spread
from viewer.words.problems import problem_words

SURE_DRIVE = 'engine_torque_off = "0 %"\naxle_load_off = "0 %"\nfriction_off = "0 %"\n'
OWN = {
    "angles": 'reading_off = "0 deg"\ntorque_off = "0 %"\n',
    "mark": 'reading_off = "0 in"\ntorque_off = "0 %"\n',
    "springs": 'stiffness_off = "0 %"\n',
    "bushes": 'stiffness_off = "0 %"\n',
}
GENERIC = {
    "angles": 'reading_off = "1/2 deg"\ntorque_off = "10 %"\n',
    "mark": 'reading_off = "1/16 in"\ntorque_off = "10 %"\n',
    "springs": 'stiffness_off = "10 %"\n',
    "bushes": 'stiffness_off = "30 %"\n',
}


def with_own(kind: str, own: str, drive: str = "") -> str:
    text = spoilt(EVERY[kind], (f'kind = "{kind}"\n', f'kind = "{kind}"\n{own}'))
    return text + drive


def wrapped(text: str) -> AxleWrap:
    found = derive(parse_rig(text)).wrap
    assert found is not None
    return found


@pytest.mark.parametrize("kind", EVERY)
def test_what_is_not_in_doubt_has_no_spread(kind: str) -> None:
    """At ride height; the bushes' spread over the travel is no doubt and stays."""
    found = wrapped(with_own(kind, OWN[kind], SURE_DRIVE))
    loose = wrapped(EVERY[kind])
    for way in ("nose_up", "nose_down"):
        sure, unsure = getattr(found, way), getattr(loose, way)
        assert sure.value == pytest.approx(unsure.value, rel=1e-12)
        assert unsure.low < sure.low <= sure.value <= sure.high < unsure.high
        if kind != "bushes":
            assert sure.spread == pytest.approx(0.0, abs=1e-12)
    assert found.torque.driving.spread == found.torque.braking.spread == 0.0


@pytest.mark.parametrize("kind", EVERY)
def test_the_generic_spreads_are_those_that_the_page_tells(kind: str) -> None:
    drive = 'engine_torque_off = "10 %"\naxle_load_off = "10%"\nfriction_off = "20 percent"\n'
    assert wrapped(with_own(kind, GENERIC[kind], drive)) == wrapped(EVERY[kind])


def test_leaves_are_known_less_well_than_a_rate() -> None:
    text = spoilt(
        EVERY["springs"],
        ('rate = "35 N/mm"', 'leaves = 7\nwidth = "2 1/2 in"\nthickness = "5/16 in"'),
    )
    own = spoilt(text, ("leaves = 7", 'leaves = 7\nstiffness_off = "20 %"'))
    assert wrapped(own) == wrapped(text)
    assert wrapped(spoilt(own, ('"20 %"', '"10 %"'))).nose_up.high < wrapped(text).nose_up.high


def test_two_angles_with_spreads_of_their_own() -> None:
    """5 deg at 2 kN m, read to 2 x 1/4 deg and 5 %; grip 4 kN m to 5 % and 10 %."""
    drive = 'axle_load_off = "5 %"\nfriction_off = "10 %"\n'
    own = 'reading_off = "1/4 deg"\ntorque_off = "5 %"\n'
    found = wrapped(with_own("angles", own, drive)).nose_up
    low, most = 4.5 * (4.0 * 0.95 * 0.9) / 2.1, 5.5 * (4.0 * 1.05 * 1.1) / 1.9
    assert spread(found) == pytest.approx([low, 10.0, most], rel=1e-12)


def test_a_mark_with_a_reading_of_its_own() -> None:
    """25 mm at 280 mm, each to 2 mm; nothing else in doubt; twice the torque of the test."""
    own = 'reading_off = "2 mm"\ntorque_off = "0 %"\n'
    found = wrapped(with_own("mark", own, SURE_DRIVE)).nose_up
    ends = [(23.0, 282.0), (25.0, 280.0), (27.0, 278.0)]
    expected = [2.0 * degrees(asin(rise / lever)) for rise, lever in ends]
    assert spread(found) == pytest.approx(expected, rel=1e-12)


def test_springs_and_bushes_with_a_stiffness_of_their_own() -> None:
    sure = wrapped(with_own("springs", OWN["springs"], SURE_DRIVE)).nose_up.value
    found = wrapped(with_own("springs", 'stiffness_off = "25 %"\n', SURE_DRIVE)).nose_up
    assert (found.low, found.high) == pytest.approx((sure / 1.25, sure / 0.75), rel=1e-12)
    rig = parse_rig(with_own("bushes", 'stiffness_off = "15 %"\n', SURE_DRIVE))
    told = derive(rig).wrap
    assert told is not None
    torque = Estimate.exactly(told.torque.driving.value)
    heights = (0.0, rig.travel.bump.mm, -rig.travel.droop.mm)
    mechanism = rig.suspension.mechanism()  # type: ignore[union-attr]
    ends = [bush_wrap(mechanism, torque, 400.0, 0.15, height).wrap for height in heights]
    assert told.nose_up.low == pytest.approx(min(each.low for each in ends), rel=1e-9)
    assert told.nose_up.high == pytest.approx(max(each.high for each in ends), rel=1e-9)


@every_kind
def test_spreads_stay_as_typed_and_the_schema_knows_them(text: str) -> None:
    kind = next(kind for kind, other in EVERY.items() if other == text)
    rig = parse_rig(with_own(kind, GENERIC[kind], SURE_DRIVE))
    assert parse_rig(rig_text(rig)) == rig
    typed = rig.typed()["wrap"]
    assert typed["drive"]["friction_off"] == "0 %"
    assert {key for key in typed if key.endswith("_off")} == {
        line.split(" = ")[0] for line in GENERIC[kind].splitlines()
    }
    jsonschema.validate(parse_toml(with_own(kind, GENERIC[kind], SURE_DRIVE)), json_schema())


@pytest.mark.parametrize(
    ("own", "key", "says"),
    [
        ("torque_off = 5", "wrap.torque_off", "a number without a unit"),
        ('torque_off = "5"', "wrap.torque_off", 'a share in per cent, such as "5 %"'),
        ('torque_off = "-5 %"', "wrap.torque_off", "a share in per cent"),
        ('torque_off = "100 %"', "wrap.torque_off", "a share from 0 to under 100 %"),
        ('reading_off = "1/16 in"', "wrap.reading_off", "measures a length"),
        ('reading_off = "-1 deg"', "wrap.reading_off", "negative"),
        ('stiffness_off = "5 %"', "wrap.stiffness_off", "known"),
    ],
)
def test_each_spread_that_cannot_be_gets_one_line(own: str, key: str, says: str) -> None:
    problem = only_problem(with_own("angles", f"{own}\n"))
    assert problem.key == key
    assert says in problem_words(problem)


@pytest.mark.parametrize(
    ("text", "share"),
    [("5 %", 0.05), ("12.5%", 0.125), (" 0 percent ", 0.0), ("5", None), ("", None), ("% 5", None)],
)
def test_a_share_as_typed(text: str, share: float | None) -> None:
    assert OFF.of(text) == share
