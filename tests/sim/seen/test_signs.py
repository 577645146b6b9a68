"""The signs of an inspection: what is said of each word, and that silence says nothing."""

from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings

from sim.causes.codes import SeenCode
from sim.rig import changed, load_demo
from sim.seen import inspection_from_data, signs_of
from sim.seen.evidence import Or
from sim.seen.inspection import Inspection
from sim.seen.signs import SIGNS, WITHOUT_A_SIGN
from sim.seen.words import CAPS, YOKES
from sim.table.kinds import kind_of
from sim.table.structure import keys_of
from sim.table.words import Word
from tests.sim.seen.inspections import INSPECTIONS, swapped

SLOW = settings(max_examples=80, deadline=None, suppress_health_check=list(HealthCheck))


def signs(**data: Any) -> dict[SeenCode, bool]:
    return signs_of(inspection_from_data({"schema": 1, "kind": "inspection", **data}))


def every_cap(key: str, words: list[str]) -> dict[str, Any]:
    return {cap: {key: list(words)} for cap in CAPS}


def lists() -> dict[str, tuple[str, ...]]:
    """Path of every list of words in the schema, with the words."""
    found = {}
    for path, (_, info) in keys_of(Inspection).items():
        kind = kind_of(info)
        if isinstance(kind, Word) and "tuple" in str(info.annotation):
            found[path] = tuple(kind.legal)
    return found


def with_words(path: str, words: list[str]) -> dict[str, Any]:
    """An inspection with some words in one list; the lists beside it were looked at, and empty.

    Of a cap, in the list of both caps of its yoke: what is worn there is an axis.
    """
    *tables, key = path.split(".")
    if tables[0] == "caps":
        both = [cap for cap in CAPS if cap.startswith(tables[1].partition("_")[0])]
        return {"caps": every_cap(key, []) | {cap: {key: list(words)} for cap in both}}
    if tables[0] == "yokes":
        return {"yokes": {yoke: {key: []} for yoke in YOKES} | {tables[1]: {key: words}}}
    return {tables[0]: {key: words}}


WORDS = [(path, word) for path, words in lists().items() for word in words]


@pytest.mark.parametrize(("path", "word"), WORDS)
def test_every_word_has_its_sign_or_is_said_to_have_none(path: str, word: str) -> None:
    said, nothing = signs(**with_words(path, [word])), signs(**with_words(path, []))
    key = path.rpartition(".")[2]
    name = path.partition(".")[0] if key == "seen" and not path.startswith("caps") else key
    adds = any(nothing.get(code) is not there for code, there in said.items())
    assert adds != ((name, word) in WITHOUT_A_SIGN)


def test_no_word_is_said_to_have_none_that_is_no_word() -> None:
    keys = {path.partition(".")[0] if path.count(".") == 1 else "" for path in lists()}
    keys |= {path.rpartition(".")[2] for path in lists()}
    for name, word in WITHOUT_A_SIGN:
        assert name in keys
        assert any(word in words for words in lists().values())


def test_nothing_said_gives_no_sign() -> None:
    assert signs() == {}
    assert signs(caps={cap: {} for cap in CAPS}, yokes={"shaft": {}}, cross={}, history={}) == {}


def test_every_list_empty_and_looked_at_gives_no_sign_that_is_there() -> None:
    found: dict[str, Any] = {}
    for path in lists():
        *tables, key = path.split(".")
        here = found
        for table in tables:
            here = here.setdefault(table, {})
        here[key] = []
    assert not any(signs(**found).values())


@pytest.mark.parametrize("missing", CAPS)
@pytest.mark.parametrize("key", ["seen", "trunnion", "needles", "seat", "ear", "strap"])
def test_a_cap_that_nobody_looked_at_is_not_free_of_anything(key: str, missing: str) -> None:
    whole = every_cap(key, [])
    three = {cap: table for cap, table in whole.items() if cap != missing}
    assert signs(caps=whole)
    # One cap that is greased is enough to say that not all four are dry.
    told = {code for code, there in signs(caps=three).items() if not there}
    assert told <= {"all-caps-dry"}


@SLOW
@given(INSPECTIONS)
def test_it_does_not_matter_which_ear_is_called_a(data: dict[str, Any]) -> None:
    there = signs_of(inspection_from_data(data))
    assert signs_of(inspection_from_data(swapped(data))) == there


@SLOW
@given(INSPECTIONS)
def test_a_list_taken_away_never_makes_a_sign_absent(data: dict[str, Any]) -> None:
    """Where a list is taken away, what is said to be absent afterward was so before.

    But for what is told twice: where the reading that spoke is gone, the eye's word is left.
    """
    before = signs_of(inspection_from_data(data))
    for name in ("caps", "yokes", "cross", "tube", "spline", "symptoms"):
        less = {key: value for key, value in data.items() if key != name}
        for code, there in signs_of(inspection_from_data(less)).items():
            if not there and code not in _TOLD_TWICE:
                assert before.get(code) is False, code


_TOLD_TWICE = {"came-apart", *(c for c, e in SIGNS.items() if isinstance(e, Or) and e.only)}


def test_one_dry_cap_needs_another_that_is_not() -> None:
    dry, fine = {"seen": ["dry"]}, {"seen": []}
    assert "one-cap-dry" not in signs(caps={"end_b": dry})
    assert signs(caps={"end_b": dry, "shaft_a": fine})["one-cap-dry"]
    assert signs(caps={"end_b": dry, "shaft_a": fine})["all-caps-dry"] is False
    assert "one-cap-dry" not in signs(caps={"end_b": fine, "shaft_a": fine})
    assert signs(caps=every_cap("seen", []))["one-cap-dry"] is False
    assert signs(caps=every_cap("seen", ["dry"]))["one-cap-dry"] is False
    assert signs(caps=every_cap("seen", ["dry"]))["all-caps-dry"]


def test_one_axis_needs_a_look_at_both() -> None:
    worn, fine = {"trunnion": ["flakes"]}, {"trunnion": []}
    one = {"shaft_a": worn, "shaft_b": worn}
    assert "one-axis-worn" not in signs(caps=one)
    assert "one-axis-worn" not in signs(caps=one | {"end_a": fine})
    assert signs(caps=one | {"end_a": fine, "end_b": fine})["one-axis-worn"]
    assert signs(caps={"shaft_a": worn, "end_a": fine, "end_b": fine})["one-axis-worn"]
    assert signs(caps=one | {"end_a": worn})["one-axis-worn"] is False


def test_one_trunnion_is_no_axis() -> None:
    worn, fine = {"trunnion": ["flakes"]}, {"trunnion": []}
    one = {"shaft_a": worn, "shaft_b": fine}
    assert signs(caps=one)["one-axis-worn"] is False
    assert signs(caps=one | {"end_a": fine, "end_b": fine})["one-axis-worn"] is False


@pytest.mark.parametrize(
    ("bore", "egged"),
    [
        (["1.0625 in", "1.0640 in"], False),  # 0.0015 in, within what a joint may have
        (["1.0625 in", "1.0646 in"], True),  # 0.0021 in
        (["1.0646 in", "1.0625 in"], True),
        (["1.0625 in"], None),
    ],
)
def test_a_bore_is_out_of_round_past_two_thousandths(bore: list[str], egged: bool | None) -> None:
    caps = {cap: {"bore": bore, "seat": []} for cap in CAPS}
    assert signs(caps=caps).get("bores-egged") is egged
    assert signs(caps={"end_a": {"bore": bore}}).get("bores-egged") is (egged or None)


@pytest.mark.parametrize(("tips", "spread"), [("2.085 in", None), ("2.095 in", True)])
def test_ears_are_spread_where_the_tips_stand_wider(tips: str, spread: bool | None) -> None:
    yokes = {"shaft": {"gap_at_tips": tips, "gap_at_root": "2.080 in"}}
    assert signs(yokes=yokes).get("ears-spread") is spread


def test_ears_are_spread_against_the_yoke_that_was_measured_into_the_rig() -> None:
    """With no gap at the root, the gap that somebody typed for this very yoke says the same."""
    rig = load_demo("long-legged-trail-wagon")
    gap = {"schema": 1, "kind": "inspection", "joint": "pinion"}
    seen = inspection_from_data(gap | {"yokes": {"shaft": {"gap_at_tips": "2.110 in"}}})
    assert "ears-spread" not in signs_of(seen, rig)  # a generic yoke says nothing of this one
    table = {"kind": rig.shaft.pinion_end.shaft_yoke.name}
    for inside, spread in (("2.095 in", True), ("2.105 in", None)):
        own = changed(rig, {"shaft.pinion_end.shaft_yoke": table | {"inside_span": inside}})
        assert signs_of(seen, own).get("ears-spread") is spread


def test_a_bar_has_to_go_through_both_yokes() -> None:
    assert signs(yokes={"shaft": {"bar": "does not go through"}})["bores-skewed"]
    assert "bores-skewed" not in signs(yokes={"shaft": {"bar": "goes through"}})
    through = {yoke: {"bar": "goes through"} for yoke in YOKES}
    assert signs(yokes=through)["bores-skewed"] is False


@pytest.mark.parametrize(
    ("distance", "soon", "many"),
    [
        ("3000 mi", True, False),
        ("14000 mi", None, False),
        ("20000 mi", None, None),
        ("48000 mi", False, None),
        ("160000 km", False, True),
    ],
)
def test_a_distance_is_short_long_or_open(
    distance: str, soon: bool | None, many: bool | None
) -> None:
    """Common practice, no source: between little and much it hangs on the work it did."""
    told = signs(history={"distance": distance})
    assert (told.get("soon-again"), told.get("many-miles")) == (soon, many)


def test_greased_when_built_counts_as_never_only_after_some_distance() -> None:
    built = {"greased": "when built"}
    assert "never-greased" not in signs(history=built)
    assert signs(history=built | {"distance": "900 mi"})["never-greased"] is False
    assert "never-greased" not in signs(history=built | {"distance": "8000 mi"})
    assert signs(history=built | {"distance": "40000 mi"})["never-greased"]


def test_where_nobody_looked_at_the_seals_nothing_is_said_of_them() -> None:
    assert "not-all-purged" not in signs(history={"purged": "nobody looked"})
    assert signs(history={"purged": "all four"})["not-all-purged"] is False


def test_a_yoke_that_was_not_changed_after_a_failure_was_kept() -> None:
    assert signs(history={"changed": [], "failed_before": 1})["yoke-kept"]
    assert "yoke-kept" not in signs(history={"changed": [], "failed_before": 0})
    assert signs(history={"changed": ["yoke"], "failed_before": 1})["yoke-kept"] is False


@pytest.mark.parametrize(
    ("data", "apart"),
    [
        ({"came": "broke"}, True),
        ({"came": "wore"}, False),
        ({"came": "runs"}, False),
        ({}, None),
        ({"fracture": {"part": "cross"}}, True),
        ({"cross": {"seen": ["broken at the root"]}}, True),
        ({"cross": {"seen": ["cracked"]}}, None),
        ({"came": "wore", "fracture": {"part": "cross"}}, False),  # what is told comes first
    ],
)
def test_what_came_apart(data: dict[str, Any], apart: bool | None) -> None:
    assert signs(**data).get("came-apart") is apart


def test_it_shakes_once_twice_or_not_at_all() -> None:
    for times, there in ((0, (False, False)), (1, (True, False)), (2, (False, True))):
        told = signs(symptoms={"per_turn": times})
        assert (told["shakes-once-a-turn"], told["shakes-twice-a-turn"]) == there


def test_marks_say_whether_they_come_in_pairs() -> None:
    mark = {"yoke": "shaft", "surface": "ear tip", "clock": "12 o'clock"}
    assert signs(marks=[])["marks-paired"] is False
    assert "marks-paired" not in signs(marks=[mark])
    assert signs(marks=[mark | {"pair": True}])["marks-paired"]
    assert signs(marks=[mark | {"pair": True}])["mark-single"] is False
    assert signs(marks=[mark | {"pair": False}])["mark-single"]
    assert signs(marks=[mark])["half-moons"]


ONLY_THERE = {"will-not-purge", "fracture-rough", "at-droop"}
"""Signs of which nothing else that is seen or told says that they are not there."""


def test_every_sign_can_be_there_and_can_be_absent() -> None:
    mark = {"yoke": "shaft", "surface": "ear tip", "clock": "12 o'clock"}
    through = {yoke: {"bar": "goes through"} for yoke in YOKES}
    told: list[dict[str, Any]] = [
        *(with_words(path, words) for path, all_ in lists().items() for words in ([], [all_[0]])),
        *(with_words(path, [word]) for path, word in WORDS),
        *({"came": came} for came in ("broke", "wore")),
        *({"fracture": {"face": face}} for face in ("rough", "rippled", "old and new")),
        *({"marks": [mark | {"pair": pair}]} for pair in (True, False)),
        *({"symptoms": {"per_turn": times}} for times in (1, 2)),
        *({"symptoms": {"happened": word}} for word in one_of("symptoms.happened")),
        *({"history": {"greased": word}} for word in one_of("history.greased")),
        *({"history": {"purged": word}} for word in one_of("history.purged")),
        *({"history": {"water": word}} for word in one_of("history.water")),
        *({"history": {"failed_before": times}} for times in (0, 1)),
        *({"history": {"distance": road}} for road in ("5 mi", "200000 km")),
        *({"play": {"at_tube": turn}} for turn in ("0 deg", "1 deg")),
        {"caps": every_cap("seen", ["dry"])},
        {"caps": {"end_a": {"seen": ["dry"]}, "end_b": {"seen": []}}},
        {"yokes": {"end": {"bar": "drags"}}},
        {"yokes": through},
        {"yokes": {yoke: {"gap_at_tips": "2 in", "gap_at_root": "2 in"} for yoke in YOKES}},
        {"caps": {cap: {"bore": ["1 in", "1 in"]} for cap in CAPS}},
    ]
    found = [signs(**data) for data in told]
    for code in SIGNS:
        answers = {True} if code in ONLY_THERE else {True, False}
        assert {each[code] for each in found if code in each} == answers, code


DOING: tuple[SeenCode, ...] = (
    "at-a-hard-pull",
    "at-droop",
    "in-reverse-or-braking",
    "on-the-highway",
)


@pytest.mark.parametrize(
    ("happened", "answers"),
    [
        ("hard pull", (True, None, None, None)),
        ("droop", (None, True, None, None)),
        (["hard pull", "droop"], (True, True, None, None)),
        ("highway", (None, None, None, True)),
        ("parked", (False, None, False, False)),
        (["slow and steady", "droop"], (False, True, None, False)),
        ([], (None, None, None, None)),
    ],
)
def test_naming_one_circumstance_denies_no_other_that_goes_with_it(
    happened: str | list[str], answers: tuple[bool | None, ...]
) -> None:
    """Common practice, no source: a pull is hard with the axle hanging as well; not parked."""
    found = signs(symptoms={"happened": happened})
    assert tuple(found.get(code) for code in DOING) == answers


def test_what_somebody_tells_is_no_list_that_was_gone_through() -> None:
    clunk = signs(symptoms={"noise": ["clunk"]})
    assert clunk == {"clunk": True}
    assert signs(symptoms={"noise": []})["squeak"] is False
    assert "lifted" not in signs(history={"changed": ["joint only"]})
    for none in ([], ["nothing"]):
        assert signs(history={"changed": none})["lifted"] is False


def test_the_eye_does_not_clear_a_yoke_the_caliper_does() -> None:
    """Spread ears and egged bores are a few thousandths; common practice, no source."""
    clean = signs(caps={cap: {"ear": [], "seat": []} for cap in CAPS})
    assert "ears-spread" not in clean
    assert "bores-egged" not in clean
    assert clean["seat-damaged"] is False
    gaps = {yoke: {"gap_at_tips": "2.10 in", "gap_at_root": "2.10 in"} for yoke in YOKES}
    assert signs(yokes=gaps)["ears-spread"] is False


def test_what_hides_a_sign_does_not_deny_it() -> None:
    assert "lines-on-the-load-side" not in signs(caps=every_cap("trunnion", ["flakes"]))
    assert signs(caps=every_cap("trunnion", []))["lines-on-the-load-side"] is False
    stuck = signs(spline={"seen": ["stuck"]})
    assert stuck["spline-stuck"]
    assert not {"spline-dry", "spline-worn", "spline-short"} & stuck.keys()
    assert "strap-loose" not in signs(caps=every_cap("strap", ["used again"]))
    assert "will-not-purge" not in signs(caps=every_cap("seen", ["dry"]))


def test_dust_and_mud_leave_open_whether_a_cap_was_dry() -> None:
    for word in ("rust dust", "burned blue", "muddy"):
        caps = every_cap("seen", ["dry"]) | {"end_a": {"seen": [word]}}
        assert not {"all-caps-dry", "one-cap-dry"} & signs(caps=caps).keys()
    caps = every_cap("seen", []) | {"end_a": {"seen": ["dry"]}}
    assert signs(caps=caps)["one-cap-dry"]


@pytest.mark.parametrize(
    ("face", "rough", "rippled", "both"),
    [
        ("rough", True, False, False),
        ("rippled", None, True, None),
        ("old and new", None, None, True),
    ],
)
def test_any_break_ends_rough(
    face: str, rough: bool | None, rippled: bool | None, both: bool | None
) -> None:
    found = signs(fracture={"face": face})
    codes: tuple[SeenCode, ...] = ("fracture-rough", "fracture-rippled", "fracture-old-and-new")
    assert tuple(found.get(code) for code in codes) == (rough, rippled, both)


def one_of(path: str) -> tuple[str, ...]:
    """The words one of which stands at a key."""
    kind = kind_of(keys_of(Inspection)[path][1])
    assert isinstance(kind, Word)
    return tuple(kind.legal)


def test_some_caps_dry_are_neither_one_nor_all() -> None:
    dry, fine = {"seen": ["dry"]}, {"seen": list[str]()}
    one = signs(caps={"end_a": dry})
    assert one["a-cap-dry"]
    assert not {"one-cap-dry", "all-caps-dry"} & set(one)
    two = signs(caps={"end_a": dry, "end_b": dry, "shaft_a": fine, "shaft_b": fine})
    assert two["a-cap-dry"]
    assert not {"one-cap-dry", "all-caps-dry"} & set(two)
    for told in ({"end_a": dry, "end_b": fine}, every_cap("seen", ["dry"])):
        assert "a-cap-dry" not in signs(caps=told), "said by how many already"
    assert signs(caps=every_cap("seen", []))["a-cap-dry"] is False
