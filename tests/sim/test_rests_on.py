"""What each finding rests on, against whole checks of rigs that say something else there.

The outside check puts each assumed value another way into the rig's data, as a user would type it,
and runs the whole check again: search, touch curves and all. A finding whose numbers come out
differently rests on that value, and on nothing else.
"""

from fractions import Fraction
from functools import cache
from math import degrees

import pytest

from geometry.tolerances import TOL
from sim.check import Check, check
from sim.findings import Finding
from sim.rig import Rig, RigError, changed, demo_names, load_demo, parse_rig
from sim.rig.otherwise import OF_THE_FILE
from sim.vehicle import Pose
from tests.sim.rigs import COORDINATES, MEASURED, PHONE_CALL, spoilt

Key = tuple[str, str]


def of(result: Check) -> dict[Key, Finding]:
    return {(each.code, each.subject): each for each in result.findings}


@cache
def sparse(name: str) -> Rig:
    texts = {
        "phone call": PHONE_CALL,
        "phone call of a front axle": PHONE_CALL.replace(
            "[axle]", '[axle]\nposition = "front"\ncaster = "5 deg"\nhubs = "full-time"'
        ),
        "readings": PHONE_CALL + MEASURED,
        "taped": spoilt(
            PHONE_CALL,
            ('length = "36 5/16 in"\n', ""),
            (
                "[axle]",
                '[ride_height.tape]\nreads = "39 1/4 in"\nat_output = "flange face"\n'
                'at_pinion = "yoke flat"\n[axle]',
            ),
        ),
    }
    return parse_rig(texts[name])


SPARSE = ("phone call", "phone call of a front axle", "readings", "taped")


@pytest.mark.slow
def test_a_rig_that_says_everything_rests_on_nothing_assumed() -> None:
    for finding in check(parse_rig(COORDINATES)).findings:
        assert finding.rests_on == ()


def test_a_phone_call_rests_on_what_it_leaves_out_and_only_on_that() -> None:
    rig = sparse("phone call")
    assumed = {each.key for each in rig.assumed}
    found = of(check(rig))
    for finding in found.values():
        assert set(finding.rests_on_assumed) <= assumed
    pinion = found["joint-bend", "pinion"]
    assert pinion.at is not None
    assert pinion.at.wrap < 0.0
    assert pinion.at.roll == 0.0
    keys = set(pinion.rests_on_assumed)
    # The worst pose has the nose down and is level, so neither nose up nor roll counts; the other
    # joint's parts are its own affair.
    assert {"travel.nose_down", "shaft.pinion_end.cross", "suspension.kind"} <= keys
    assert not {"travel.nose_up", "travel.roll", "output.points_left"} & keys
    assert not [key for key in keys if key.startswith("shaft.output_end")]
    ride = set(found["turns-at-ride", "axle"].rests_on_assumed)
    # At ride height the slopes that were typed decide.
    assert not {"suspension.kind", "travel.nose_down", "axle.wrap_centre"} & ride


@pytest.mark.slow
def test_a_length_taped_to_a_flange_rests_on_the_generic_flange() -> None:
    found = of(check(sparse("taped")))
    slip = found["slip-not-measured", "slip"]
    assert "shaft.output_end.output_yoke" in slip.rests_on_assumed
    plain = of(check(sparse("phone call")))["slip-not-measured", "slip"]
    assert "shaft.output_end.output_yoke" not in plain.rests_on_assumed


@pytest.mark.slow
def test_axle_tubes_that_are_told_rest_on_no_joint() -> None:
    """The first touches the axle's tubes, the second the slip's boot, sized for the cross."""
    tubes = PHONE_CALL.replace("[axle]", '[axle]\ntubes_outside = "3 in"\ntubes_long = "56 in"')
    rig = parse_rig(
        tubes
        + """
[[surroundings]]
name = "rail"
box = { at = ["0 in", "20 in", "4 in"], size = ["3 in", "3 in", "3 in"] }

[[surroundings]]
name = "pipe"
cylinder = { from = ["38 in", "2 in", "-20 in"], to = ["38 in", "2 in", "30 in"], outside = "1 in" }
"""
    )
    result = check(rig)
    parts = {gap.name: gap.part for gap in result.found.near}
    assert parts["rail"] == "axle tubes"
    rail, pipe = (of(result)["surroundings", name].rests_on_assumed for name in ("rail", "pipe"))
    assert not any(key.startswith("shaft.") for key in rail), parts
    assert "shaft.pinion_end.cross" in pipe, parts


WORDS = {
    "shaft.output_end.joint": "double",
    "shaft.tube.wall": "0.120 in",
    "travel.droop_strap": "middle",
    "travel.wrap_at_droop": "95 %",
}
"""What else is typed at keys where a little more would not do."""


def other(key: str, value: object) -> object | None:
    """Something else that may be typed at a key; None where nothing else may."""
    last = key.rsplit(".", maxsplit=1)[-1]
    otherwise: object | None = WORDS.get(key)
    if last.endswith("yoke"):
        deep = str(value).startswith("deep-throat ")
        otherwise = str(value).removeprefix("deep-throat ") if deep else f"deep-throat {value}"
    elif last == "cross":
        otherwise = "27 x 92" if value == "27 x 82" else "27 x 82"
    elif isinstance(value, list):
        otherwise = ["1/4 in", "1/4 in", "1/4 in"]
    elif isinstance(value, float):
        otherwise = 0.9 * value
    elif otherwise is None and " " in str(value):
        number, unit = str(value).rsplit(" ", maxsplit=1)
        parts = [float(Fraction(part)) for part in number.split()]
        otherwise = f"{1.05 * sum(parts) + {'deg': 0.5, 'in': 0.2, 'kN/mm': 0.2}[unit]:g} {unit}"
    return otherwise


def numbers(finding: Finding) -> tuple[float, ...]:
    """Its three numbers, and where it first touches, mm and deg."""
    first: Pose | None = finding.detail.get("first")
    start: tuple[float, ...] = ()
    if first is not None and finding.code.startswith("slip-"):
        # Told to 1/16 in. Where crossing up hardly moves the slip, roll says nothing of itself.
        start = (round(first.travel / 1.6),)
    elif first is not None:
        start = first.travel, degrees(first.roll), degrees(first.wrap)
    return finding.margin.value, finding.limit.value, finding.worst.value, *start


def moved(one: Finding, two: Finding | None) -> bool:
    """Whether numbers differ by more than their search is true to."""
    true = 2.0 * TOL.clearance if one.code == "surroundings" else 1e-3
    if two is None or len(numbers(one)) != len(numbers(two)):
        return True
    return numbers(two) != pytest.approx(numbers(one), abs=true, nan_ok=True)


SHAPES = ("yoke", "cross", "head", "outside", "wall")
"""Last words of keys of shapes. A finding on a joint rests on all its shapes, although what meets
in it need not be on each of them."""


def _begins(finding: Finding) -> bool:
    """Whether it is of a slip that runs out: where that begins may rest on what moves it less."""
    return finding.code.startswith("slip-") and finding.detail.get("first") is not None


def _followers(rig: Rig, key: str) -> dict[str, object]:
    """What is assumed like the value at a key, typed as it is: each finding rests on its own."""
    last = key.rsplit(".", maxsplit=1)[-1]
    if last != "cross":
        return {}
    return {each.key: each.value for each in rig.assumed if each.key.endswith(".cross")}


@pytest.mark.slow
@pytest.mark.parametrize("name", [*demo_names(), *SPARSE])
def test_whole_checks_agree(name: str) -> None:
    rig = sparse(name) if name in SPARSE else load_demo(name)
    before = of(check(rig))
    for each in rig.assumed:
        value = None if each.key in OF_THE_FILE else other(each.key, each.value)
        if value is None:
            continue
        try:
            after = of(check(changed(rig, _followers(rig, each.key) | {each.key: value})))
        except RigError:  # nothing else can stand there, so nothing rests on the choice
            after = before
        for key, finding in before.items():
            rests = each.key in finding.rests_on_assumed
            moves = moved(finding, after.get(key))
            if key == ("slip-not-measured", "slip") and each.key.startswith("shaft.slip."):
                continue  # whoever measures it makes another finding of it
            if each.key.endswith(".joint") and key == ("turns-at-ride", "axle"):
                continue  # told of the tightest joint, which with a head may be another one
            if each.key.startswith("wanted."):
                # A wish moves the number itself only where the number is what is left of it; of a
                # joint that is short of both, bend or gap is told.
                assert rests or not moves or key not in after
            elif each.key.endswith(SHAPES) or finding.code == "surroundings" or _begins(finding):
                assert rests or not moves, (each.key, key)
            else:
                assert rests == moves, (each.key, key, numbers(finding), numbers(after[key]))
