"""The caliper readings asked one at a time."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from sim.parts.caliper import caliper_form
from sim.parts.catalogue import CatalogueError, cross_sizes, yoke_kinds
from sim.units import parse_length
from viewer.caliper.talk import WELCOME, MeasuredYoke, ask_yoke

FORM = caliper_form("weld yoke", "27 x 82")


def talk(
    answers: list[str], kind: str | None = "weld yoke", cross: str | None = "27 x 82"
) -> tuple[MeasuredYoke | None, list[str]]:
    """Answer in turn and with Enter after that."""
    said: list[str] = []
    waiting: Iterator[str] = iter(answers)

    def ask(prompt: str) -> str:
        said.append(prompt)
        return next(waiting, "")

    return ask_yoke(ask, said.append, kind, cross), said


def test_enter_keeps_the_generic_yoke() -> None:
    found, said = talk([])
    assert found == MeasuredYoke("weld yoke", "27 x 82", {})
    assert said[0] == WELCOME
    assert "[54.0 mm, 2 1/8 in]" in said[1]
    assert len(said) == 1 + len(FORM)


def test_answers_with_help_a_slip_and_a_doubt() -> None:
    found, said = talk(["?", "wide", "-3 mm", "2 1/8 in", "0.65 mm", "back", "0.65 in"])
    assert found is not None
    assert found.readings == {
        "inside span": parse_length("2 1/8 in"),
        "ear thickness": parse_length("0.65 in"),
    }
    told = "\n".join(said)
    assert "Inside jaws between the flats" in told
    assert "expected more than 0" in told
    assert "Was it 0.65 in? If it is wrong, type back." in told


@pytest.mark.parametrize("word", ["back", "B", "<"])
def test_a_step_back_asks_the_one_before_again(word: str) -> None:
    found, said = talk(["53 mm", "16 mm", word, word, "54 mm", word, "55 mm"])
    assert found is not None
    assert found.readings == {"inside span": 55.0}
    asked = [line for line in said if FORM[0].asks in line]
    assert len(asked) == 3
    _, said = talk([word])
    assert "This is the first question." in said


def test_kind_and_cross_are_asked_for_by_name_number_or_trade_name() -> None:
    for kind, cross in (("weld", "27 x 82"), ("1", "1"), ("Weld Yoke", "1310")):
        found, said = talk(["", "bent", kind, "27", cross], None, None)
        assert found == MeasuredYoke("weld yoke", "27 x 82", {})
        told = "\n".join(said)
        assert "An answer is needed here." in told
        assert 'came "bent", expected one of weld yoke' in told
        assert all(each in told for each in yoke_kinds())
        assert all(each.name in told for each in cross_sizes())


def test_a_step_back_reaches_the_kind() -> None:
    found, _ = talk(["weld", "1", "54 mm", "back", "back", "back", "flange", "1"], None, None)
    assert found == MeasuredYoke("flange yoke", "27 x 82", {})


def test_readings_that_make_no_yoke_are_not_taken() -> None:
    """The floor of the throat behind the shoulder of the tube."""
    order = [item.name for item in FORM]
    answers = ["" for _ in FORM]
    answers[order.index("throat gap")] = "60 mm"
    back = ["back"] * (len(FORM) - 1 - order.index("throat gap"))
    found, said = talk([*answers, *back, "16 mm"])
    assert found is not None
    assert found.readings == {"throat gap": 16.0}
    assert any("make no sound yoke: " in line and "throat_depth" in line for line in said)


def test_quitting_and_running_dry_write_nothing() -> None:
    found, said = talk(["54 mm", "quit"])
    assert found is None
    assert said[-1] == "Ended early; nothing was written."

    def ask(_: str) -> str:
        raise EOFError

    assert ask_yoke(ask, said.append, "weld yoke", "27 x 82") is None


def test_help_names_the_drawing_and_each_pair_is_drawn_once() -> None:
    drawn: list[tuple[str, str]] = []

    def draw(kind: str, cross: str) -> dict[str, Path]:
        drawn.append((kind, cross))
        return {"inside span": Path("01-inside-span.png")}

    answers = iter(["?", "54 mm", "back"])
    said: list[str] = []
    ask_yoke(lambda _: next(answers, ""), said.append, "weld yoke", "27 x 82", draw)
    assert drawn == [("weld yoke", "27 x 82")]
    assert any(line.endswith("Drawing: 01-inside-span.png") for line in said)


def test_an_unknown_cross() -> None:
    with pytest.raises(CatalogueError, match="no cross"):
        talk([], "weld yoke", "1 x 1")
