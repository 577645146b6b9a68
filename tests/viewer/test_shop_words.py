"""What a user reads: words of an American driveline shop, short sentences, one length told once.

The list of words that nobody says at the counter is common practice, no source.
"""

import ast
import re
from collections.abc import Iterator
from pathlib import Path
from string import Formatter

import pytest

from sim.check import check
from sim.cures import find_cures
from sim.pose import pose_of
from sim.rig import demo_names, load_demo
from sim.ticket.ticket import build_ticket
from sim.vehicle import Pose
from tests.kept import kept
from tests.viewer.whole_text import check_text
from viewer.cures.text import cures_text
from viewer.ticket.text import build_text
from viewer.words.finding_rows import ROWS
from viewer.words.posed import pose_lines
from viewer.words.remarks import SENTENCES
from viewer.words.touch_curve import curve_lines

ROOT = Path(__file__).parents[2]

NOBODY_SAYS = (
    r"lead(?:s)? and lag(?:s)?",
    r"doses?",
    r"neither \w+ nor",
    r"needs [\d.]+ deg\w* more",
    r"the shaft itself, coasting",
    r"is pulled \d",
    r"is enough: level",
    r"abut",
    r"amidst",
    r"whilst",
    r"propshaft",
    r"tyres?",
    r"cent(?:re|res|red|ring)",
    r"colou\w+",
    r"grey",
    r"bush(?:es)?",
    r"(?:milli)?metres?",
    r"earth",
    r"spanner",
    r"gets anywhere",
    r"does away",
    r"do away",
)
"""Patterns of words."""

TYPED = re.compile(r"\b[\w.]*[a-z]_[\w.]*|\bsuspension\.\w+|\"[^\"]*\"|\S+=\S+|\{[^{}]*\}")
"""Keys and values of the rig file, which are spelled as they are typed."""

LONGEST = 26
"""Words of a sentence or of the part of one up to a colon or semicolon, numbers with units as "
"one."""

LONGER = (
    "A geometry estimate from",
    "Catalogue shapes",
    "With generic",  # the names of parts that stand in
    "With a generic",
    "no shim goes",
)
"""Beginnings of sentences that may be longer: cautions, and names of parts."""

DOUBLE = re.compile(r"\(-?[\d.]+ in, -?[\d.]+ mm\)")
"""Once every length was told three times."""


@kept
def told(name: str) -> dict[str, str]:
    """Everything the commands print of a demo rig, by command."""
    rig = load_demo(name)
    result = check(rig)
    curves = (
        "\n".join(curve_lines(rig.name, found.hardware, found.curve))
        for found in result.joints.values()
    )
    return {
        "check": check_text(result),
        "cures": cures_text(find_cures(rig)),
        "build": build_text(build_ticket(rig)),
        "pose": "\n".join(pose_lines(rig.name, pose_of(result, Pose(travel=-25.4), 0.0))),
        "joint": "\n".join(curves),
    }


def tables() -> Iterator[tuple[str, str]]:
    """Every sentence that stands in a table of words, values shown by their names."""
    for code, rows in ROWS.items():
        for verdict, row in rows.items():  # type: ignore[attr-defined]
            for text in row:
                yield f"{code} {verdict}", plain(text)
    for code, sentence in SENTENCES.items():
        if isinstance(sentence, str):
            yield code, plain(sentence)


def plain(sentence: str) -> str:
    """A sentence with each value as one word."""
    return "".join(
        text + ("" if name is None else "X") for text, name, _, _ in Formatter().parse(sentence)
    )


def odd_words(text: str) -> list[str]:
    """What nobody says of it."""
    spoken = TYPED.sub("", text)
    return [found[0] for each in NOBODY_SAYS for found in re.finditer(rf"(?i)\b{each}\b", spoken)]


def thoughts(text: str) -> Iterator[str]:
    """What is read in one breath: sentences, and what a colon or semicolon ends."""
    one = re.sub(r"-?\d[\d,./ ]*(?:in|mm|deg\w*|rpm|mph|lb-ft|N m|km/h)?\b", "1 ", text)
    one = re.sub(r"\([^()]*\)", "", one)
    yield from (each.strip() for each in re.split(r"[.;:?!](?:\s|$)", one) if each.strip())


def test_no_table_of_words_has_a_word_that_nobody_says() -> None:
    assert {code: odd_words(text) for code, text in tables() if odd_words(text)} == {}


VALUES = ("joint centre", "grey steel", "metre(s) meter(s)", "millimetre(s) millimeter(s)")
"""Values of the rig file, looks of parts and spellings that are read, not said."""


def prose() -> Iterator[tuple[str, str]]:
    """Every text of more than one word that stands in the program, but for its docstrings."""
    for room in ("geometry", "sim", "viewer"):
        for file in sorted((ROOT / room).rglob("*.py")):
            tree = ast.parse(file.read_text(encoding="utf-8"))
            docs = {id(node.value) for node in ast.walk(tree) if isinstance(node, ast.Expr)}
            for node in ast.walk(tree):
                if isinstance(node, ast.Constant) and id(node) not in docs:
                    text = str(node.value)
                    for value in VALUES:
                        text = text.replace(value, "")
                    if " " in text.strip():
                        yield f"{file.relative_to(ROOT)}:{node.lineno}", text


def test_no_text_of_the_program_has_a_word_that_nobody_says() -> None:
    assert {place: odd_words(text) for place, text in prose() if odd_words(text)} == {}


def test_no_page_for_users_has_a_word_that_nobody_says() -> None:
    pages = [ROOT / "README.md", *(ROOT / "docs" / f"{name}.md" for name in ("guide", "own-yokes"))]
    for page in pages:
        said = re.sub(r"`[^`]*`", "", page.read_text(encoding="utf-8"))
        assert odd_words(said) == [], page.name


def test_no_sentence_of_a_table_is_longer_than_a_breath() -> None:
    long = {
        code: each
        for code, text in tables()
        for each in thoughts(text)
        if len(each.split()) > LONGEST
    }
    assert long == {}


@pytest.mark.slow
@pytest.mark.parametrize("name", demo_names())
def test_nothing_printed_has_a_word_that_nobody_says(name: str) -> None:
    assert {by: odd_words(text) for by, text in told(name).items() if odd_words(text)} == {}


@pytest.mark.slow
@pytest.mark.parametrize("name", demo_names())
def test_a_length_is_told_once_in_inches_and_once_in_mm(name: str) -> None:
    for text in told(name).values():
        assert DOUBLE.findall(" ".join(text.split())) == []


@pytest.mark.slow
@pytest.mark.parametrize("name", demo_names())
def test_what_is_printed_is_said_in_short_sentences(name: str) -> None:
    drawn = re.compile(r"(?m)^.*(?:#{3}|_{3}).*$|^ *\d+\. .*$")
    """Bars of a table, blanks to write on, names that head a list."""
    long = [
        each
        for by, printed in told(name).items()
        for text in [drawn.sub("", printed)]
        for block in re.split(r"\n(?=\S|\s*(?:-|!!|ok|~|\?|\d+\.) |  \S|\s*$)", text)
        for each in thoughts(" ".join(block.split()))
        if len(each.split()) > LONGEST and not each.startswith(LONGER)
    ]
    assert long == []
