"""Every sign has its words."""

from typing import Any, get_args

import pytest

from sim.causes.codes import ComputedCode, SeenCode
from sim.seen import inspection_from_data, signs_of
from sim.seen.evidence import Listed, Or
from sim.seen.signs import SIGNS
from viewer.words.signs import COMPUTED_WORDS, NAMED, SEEN_WORDS, SIGN_WORDS, sign_words


def test_every_sign_has_words_and_a_rule() -> None:
    assert set(SEEN_WORDS) == set(get_args(SeenCode)) == set(SIGNS)
    assert set(COMPUTED_WORDS) == set(get_args(ComputedCode))


def test_phrases_go_on_a_sentence_and_questions_ask() -> None:
    for words in SIGN_WORDS.values():
        for phrase in (words.there, words.absent, words.tool):
            assert phrase[0].islower()
            assert not phrase.endswith(".")
        assert words.there != words.absent
        assert words.asks[0].isupper()
        assert words.asks.endswith("?")


def test_nothing_is_said_to_prove_anything() -> None:
    for words in SIGN_WORDS.values():
        assert "prove" not in f"{words.there}{words.absent}{words.asks}{words.tool}"


def _told(code: SeenCode, path: str, *words: str) -> str:
    """A sign as it is told of an inspection that names only some words at a key path."""
    *tables, key = path.split(".")
    data: dict[str, Any] = {"schema": 1, "kind": "inspection", "joint": "pinion"}
    table = data
    for name in tables:
        table = table.setdefault(name, {})
    table[key] = list(words)
    seen = inspection_from_data(data)
    assert signs_of(seen)[code]
    return sign_words(code, True, seen)


def _lists(rule: object) -> list[Listed]:
    if isinstance(rule, Or):
        return [each for way in (*rule.ways, *rule.only) for each in _lists(way)]
    return [rule] if isinstance(rule, Listed) else []


SEVERAL = [
    (code, each.paths[0], word)
    for code, rule in SIGNS.items()
    for each in _lists(rule)
    for word in sorted(each.words)
    if sum(len(other.words) for other in _lists(rule)) > 1
]


@pytest.mark.parametrize(("code", "path", "word"), SEVERAL)
def test_of_several_words_only_what_was_named_is_told(code: SeenCode, path: str, word: str) -> None:
    """A joint with burrs has no half-moons: nothing is put into the mouth of whoever looked."""
    told = _told(code, path, word)
    if code not in NAMED:  # one thing said at two places: a trunnion, or its cap, burned
        assert code == "burned"
        return
    others = set(NAMED[code].words) - {
        word,
        {"gouged": "gouge", "mushroomed edge": "edge"}.get(word),
    }
    for other in others:
        says = NAMED[code].words[other]
        assert says == NAMED[code].words.get(word) or says not in told.replace(
            NAMED[code].words.get(word, ""), ""
        )


def test_what_was_named_is_told_in_its_own_words() -> None:
    assert _told("half-moons", "yokes.shaft.tips", "burr") == "there are burrs on the ear tips"
    both = _told("half-moons", "yokes.end.tips", "dent", "burr")
    assert both == "there are dents and burrs on the ear tips"
    assert _told("spline-dry", "spline.seen", "rusty") == "the spline is rusty"
    assert _told("seat-damaged", "caps.end_a.seat", "burr") == "a seat is burred"


def test_a_sound_that_nobody_told_of_is_not_said_to_be_absent() -> None:
    for code in ("squeak", "clunk", "groan-at-droop", "rattle", "shudder", "lifted"):
        assert SEEN_WORDS[code].absent.startswith("nobody told of a ")
