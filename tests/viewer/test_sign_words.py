"""Every sign has its words."""

from typing import get_args

from sim.causes.codes import ComputedCode, SeenCode
from sim.seen.signs import SIGNS
from viewer.words.signs import COMPUTED_WORDS, SEEN_WORDS, SIGN_WORDS


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
