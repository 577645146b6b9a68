"""Every remark of sim has its sentence, made of the numbers that it is given, and none is idle."""

import ast
from collections.abc import Iterator
from inspect import signature
from math import radians
from pathlib import Path
from string import Formatter

import pytest

import geometry.imported
import sim
from sim.remark import Remark
from sim.speed import ORDERS
from sim.ticket.drive_said import ASSUMED
from sim.ticket.odd_drive import PLAUSIBLE
from viewer.words import build_orders
from viewer.words.cure_names import NAMES, remedy_called
from viewer.words.remarks import SENTENCES, said
from viewer.words.remedies import DOES
from viewer.words.sentence import SHOWN, filled

SIM = Path(sim.__file__).parent
NOTES = Path(geometry.imported.__file__).parent
"""What is noted there is said as a remark."""
BY_NAME = {"code": [f"odd-{key.replace('_', '-')}" for key in PLAUSIBLE]}
"""The codes that a name in sim can stand for: of a number of [drive] that is odd."""


def made() -> Iterator[tuple[str, str, frozenset[str]]]:
    """Place, code and names of the values of every remark that is made anywhere in sim."""
    for file in sorted((*SIM.rglob("*.py"), *NOTES.rglob("*.py"))):
        for node in ast.walk(ast.parse(file.read_text(encoding="utf-8"))):
            called = isinstance(node, ast.Call) and getattr(node.func, "id", "")
            if isinstance(node, ast.Call) and node.args and called in ("Remark", "note"):
                place = f"{file.relative_to(SIM.parent)}:{node.lineno}"
                values = frozenset(each.arg or "**" for each in node.keywords)
                if values == {"**"}:
                    continue  # the same of another subject
                code = ast.unparse(node.args[0])
                for each in BY_NAME.get(code, [code.strip("'")]):
                    yield place, each, values


def told(code: str) -> frozenset[str]:
    """Names of the values that a sentence is made of."""
    sentence = SENTENCES[code]
    if callable(sentence):
        return frozenset(signature(sentence).parameters)
    return frozenset(named(sentence))


def named(sentence: str) -> Iterator[str]:
    """Names of the values in a text, those in what stands after a colon too."""
    for _, name, spec, _ in Formatter().parse(sentence):
        if name:
            yield name.partition(".")[0]
            yield from named(spec or "")


@pytest.mark.parametrize(("place", "code", "values"), list(made()))
def test_a_remark_has_a_sentence_with_all_of_its_values(
    place: str, code: str, values: frozenset[str]
) -> None:
    assert code in SENTENCES, f"{place}: viewer/words has no sentence for {code}"
    assert told(code) == values, place


@pytest.mark.slow
def test_no_sentence_is_for_nothing() -> None:
    assert set(SENTENCES) == {code for _, code, _ in made()}


def test_every_unit_that_a_sentence_asks_for_is_known() -> None:
    for code, sentence in SENTENCES.items():
        if isinstance(sentence, str):
            for _, name, spec, _ in Formatter().parse(sentence):
                shown = not name or not spec or spec.split()[0] in SHOWN or spec[0] in ".g+,?"
                assert shown, (code, spec)


def test_a_sentence_has_its_numbers_in_a_shops_units() -> None:
    remark = Remark("front-section", length=922.3375, bend=radians(3.0))
    assert said(remark).startswith(
        "the front section, output joint to middle joint: 36 5/16 in (922.3 mm), bent "
        "3.0 deg at the output"
    )


def test_a_remark_within_a_remark_is_said_within_it() -> None:
    inner = Remark("out-of-seal", out="3 in")
    assert said(Remark("shaft-end-out", seal=inner, out="2 in")) == (
        "the joint stands 3 in out of the seal; the shaft's end stands 2 in out"
    )


def test_plain_words_stay_as_they_are() -> None:
    assert said("as {typed}") == "as {typed}"


def test_in_sim_a_remark_reads_as_its_code_and_numbers() -> None:
    remark = Remark("bends-joint", joint="output", bend=1.5)
    assert str(remark) == "bends-joint(joint=output, bend=1.5)"
    assert remark["bend"] == 1.5
    assert remark == Remark("bends-joint", joint="output", bend=1.5)
    assert len({remark, Remark("bends-joint", joint="output", bend=1.5)}) == 1


def test_every_value_of_the_drive_that_may_be_assumed_is_said() -> None:
    for key in ASSUMED:
        assert said(Remark("drive-assumed", name=key)).startswith(f"drive.{key} taken as ")


def test_every_order_of_shaking_says_what_it_feels_like() -> None:
    assert list(build_orders.ORDERS) == [order.name for order in ORDERS]


@pytest.mark.parametrize(
    ("sentence", "value", "words"),
    [
        ("{x:angle up|down}", radians(3.0), "3.0 deg up"),
        ("{x:angle up|down}", radians(-3.0), "3.0 deg down"),
        ("{x:angle up|down}", 0.0, "0.0 deg"),
        ("{x:length left|right}", -25.4, "1 in (25.4 mm) right"),
        ("{x:length_under {y}}", 19.02, "just under 3/4 in (19.0 mm)"),
        ("it{x:? is| is not}", True, "it is"),
        ("it{x:? is| is not}", -1.0, "it is not"),
        ("one{x:after , }", None, "one"),
        ("one{x:after , }", "two", "one, two"),
        ("the {x} {x:agree hits|hit}", "ears", "the ears hit"),
    ],
)
def test_a_value_is_shown_by_the_name_and_words_after_its_colon(
    sentence: str, value: object, words: str
) -> None:
    assert filled(sentence, {"x": value, "y": 19.05}) == words


def test_every_remedy_has_a_short_name() -> None:
    ways = {code for code in DOES if code.startswith("by-")}  # how a pinion is turned
    assert set(NAMES) == set(DOES) - ways
    turned = Remark("pinion-turned", way="up", turn=radians(3.0), how=SHIMS, up=radians(4.0))
    assert remedy_called(turned) == "3 deg shims (pinion nose up)"
    straps = Remark("straps-end-droop", in_middle=False, apart=812.8, droop=165.1, earlier=63.5)
    assert remedy_called(straps) == "limit straps at 6 1/2 in droop"
    plain = {code: name for code, name in NAMES.items() if isinstance(name, str)}
    moved = [code for code in plain if code.endswith(("dropped", "raised", "lowered", "longer"))]
    assert len(moved) == 8
    for code in moved:
        called = plain[code].replace("carrier ", "").replace(" {by:fraction}", "")
        assert called == code.replace("-", " "), "what is moved, and which way"


SHIMS = Remark("by-shims", size=radians(3.0), to_front=False)
