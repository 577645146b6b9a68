"""Poses as typed, and which direction a number without one is taken in."""

import pytest

from viewer.pose.posing import directions_taken, parse_pose


@pytest.mark.parametrize(
    ("place", "option", "bare", "taken", "other"),
    [
        (0, "--travel", "3 in", "3 in bump", "3 in droop"),
        (1, "--roll", "2 deg", "2 deg left up", "2 deg right up"),
        (2, "--wrap", " 2  deg", "2 deg nose up", "2 deg nose down"),
    ],
)
def test_a_bare_number_is_told_and_a_word_or_a_sign_is_not(
    place: int, option: str, bare: str, taken: str, other: str
) -> None:
    def pose(text: str) -> tuple[str, str, str]:
        texts = ["ride", "0 deg", "0"]
        texts[place] = text
        return texts[0], texts[1], texts[2]

    (line,) = directions_taken(*pose(bare))
    words = " ".join(bare.split())
    assert line == (
        f'{option} "{words}" has no direction and was taken as "{taken}"; for the other one say '
        f'"{other}"'
    )
    assert parse_pose(*pose(bare)) == parse_pose(*pose(taken)) == parse_pose(*pose(f"+{words}"))
    assert parse_pose(*pose(other)) == parse_pose(*pose(f"-{words}")) != parse_pose(*pose(taken))
    for text in (taken, taken.upper(), other, f"+{words}", f"-{words}", f"\N{MINUS SIGN}{words}"):
        assert list(directions_taken(*pose(text))) == []


def test_every_bare_number_gets_its_line_and_nothing_needs_none() -> None:
    assert len(list(directions_taken("3 in", "2 deg", "1 deg"))) == 3
    assert list(directions_taken("0 in", "-0 deg", "0")) == []
