"""What a user's file says never acts on a terminal, nor passes for the program's own words."""

import json
from pathlib import Path

import pytest

from geometry.errors import BindpointError
from geometry.printable import acts, shown
from sim.rig import RigError, parse_rig
from tests.sim.rigs import COORDINATES, PHONE_CALL, spoilt
from tests.viewer.run_command import run
from viewer import console

NAME = 'name = "Test wagon, rear shaft"'

# Unicode 15, general categories Cc, Zl, Zp, and the property Bidi_Control of UAX 9.
ACTING = [
    *map(chr, range(0x20)),
    *map(chr, range(0x7F, 0xA0)),
    *"\u061c\u200e\u200f\u2028\u2029\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069",
]


def test_every_control_and_direction_character_acts_and_letters_do_not() -> None:
    assert all(map(acts, ACTING))
    assert not any(map(acts, "aé\u05d0\u0645\u8eca\U0001f69a \u00a0\u200d'\"\\[]<>$"))
    for each in ACTING:
        assert shown(f"a{each}b") == f"a\\u{ord(each):04x}b"


@pytest.mark.parametrize("each", ACTING, ids=lambda each: f"U+{ord(each):04X}")
def test_none_of_them_reaches_a_terminal_raw(each: str, capsys: pytest.CaptureFixture[str]) -> None:
    console.say(f"a{each}b")
    console.note(f"a{each}b")
    console.complain(BindpointError(f"a{each}b"))
    console.say_json({"name": f"a{each}b"})
    told = capsys.readouterr()
    for text in (told.out, told.err):
        lines = text.split("\n")
        assert not any(acts(letter) for line in lines for letter in line)
    assert told.err.count("\n") == 2
    if each != "\t":  # which is a space on a line of its own, and told in JSON
        plain = told.out[told.out.index("{") :]
        assert json.loads(plain) == {"name": f"a{each}b"}


@pytest.mark.parametrize(
    "name",
    [
        "Wagon\\nCLEAR  Nothing touches.",
        "Wagon\\r\\u001b[2KCLEAR",
        "Wagon\\u001b]0;title\\u0007",
        "Wagon\\u202eRAELC",
        "Wagon\\u0085CLEAR",
        "Wagon\\u2028CLEAR",
    ],
)
def test_a_name_cannot_print_a_verdict_of_its_own(
    name: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    rig = tmp_path / "rig.toml"
    rig.write_text(spoilt(COORDINATES, (NAME, f'name = "{name}"')), encoding="utf-8")
    ran = run(monkeypatch, capsys, "check", str(rig))
    assert ran.code == 2
    assert ran.out == ""
    assert ran.err.startswith(f"bindpoint: {rig}: name: came ")
    assert ran.err.count("\n") == 1
    assert not any(map(acts, ran.err.rstrip("\n")))


def test_other_texts_and_keys_are_one_line_too() -> None:
    spoils = {
        "surroundings[1].name": ('name = "crossmember"', 'name = "cross\\nCLEAR"'),
        "note": (NAME, f'{NAME}\nnote = "one\\u001b[2J"'),
    }
    for key, change in spoils.items():
        with pytest.raises(RigError) as caught:
            parse_rig(spoilt(COORDINATES, change))
        assert str(caught.value).startswith(f"rig: {key}: came ")
        assert "\n" not in str(caught.value)
    with pytest.raises(RigError) as caught:
        parse_rig(f'"a\\nCLEAR" = 1\n{PHONE_CALL}')
    assert "\n" not in str(caught.value)
    assert parse_rig(spoilt(COORDINATES, (NAME, f'{NAME}\nnote = "one\\n\\ttwo"'))).note


def test_an_error_is_one_line_whatever_it_quotes() -> None:
    assert str(BindpointError("came a\nb\x1b[31m")) == "came a\\u000ab\\u001b[31m"


@pytest.mark.slow
def test_marks_of_rich_are_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    rig = tmp_path / "rig.toml"
    rig.write_text(spoilt(COORDINATES, (NAME, 'name = "[red]CLEAR[/]"')), encoding="utf-8")
    ran = run(monkeypatch, capsys, "check", str(rig))
    assert ran.out.startswith("[red]CLEAR[/]\n")


@pytest.mark.slow
def test_dollar_signs_in_a_picture_are_no_mathematics(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    rig = tmp_path / "rig.toml"
    name = 'name = "Joe\'s $\\\\foo{$100$"'
    rig.write_text(spoilt(COORDINATES, (NAME, name)), encoding="utf-8")
    ran = run(monkeypatch, capsys, "check", str(rig), "--path", str(tmp_path / "path.png"))
    assert (tmp_path / "path.png").read_bytes().startswith(b"\x89PNG"), ran.err
