"""Poses as typed on the command line: "6 in droop", "8 deg left up", "4 deg nose down"."""

from collections.abc import Callable, Iterator
from typing import Final

from geometry.errors import BindpointError
from sim.units import UnitsError, parse_angle, parse_length
from sim.vehicle import Pose

RIDE_WORDS = ("ride", "ride height")

Ways = tuple[tuple[str, float], ...]
"""Direction words with their signs, the positive one first."""

TRAVEL: Final[Ways] = (("bump", 1.0), ("droop", -1.0))
ROLL: Final[Ways] = (("left up", 1.0), ("right up", -1.0))
WRAP: Final[Ways] = (("nose up", 1.0), ("nose down", -1.0))


class PoseTextError(BindpointError, ValueError):
    """A pose that cannot be read."""


def parse_travel(text: str) -> float:
    """Axle height (mm, bump positive): "6 in droop", "4 in bump", "ride"; "-6 in" is droop too."""
    if text.strip().lower() in RIDE_WORDS:
        return 0.0
    return _signed(
        "--travel",
        text,
        TRAVEL,
        parse_length,
        '"6 in droop", "4 in bump" or "ride"',
    )


def parse_roll(text: str) -> float:
    """Roll (rad, positive with the left wheel up): "8 deg left up", "8 deg right up"."""
    return _signed(
        "--roll",
        text,
        ROLL,
        parse_angle,
        '"8 deg left up" or "8 deg right up"',
    )


def parse_wrap(text: str) -> float:
    """Axle wrap (rad, nose up positive): "4 deg nose down", "8 deg nose up"."""
    return _signed(
        "--wrap",
        text,
        WRAP,
        parse_angle,
        '"4 deg nose down" or "8 deg nose up"',
    )


def parse_spin(text: str) -> float:
    """Turn of the output yoke (rad): "30 deg"."""
    return _signed("--spin", text, (), parse_angle, '"30 deg"')


def parse_pose(travel: str, roll: str, wrap: str) -> Pose:
    """A pose from its three texts."""
    return Pose(parse_travel(travel), parse_roll(roll), parse_wrap(wrap))


def directions_taken(travel: str, roll: str, wrap: str) -> Iterator[str]:
    """Tell, one line each, which direction a number without a word or a sign was taken in.

    The three texts are ones that `parse_pose` reads.
    """
    for option, text, ways, parse in (
        ("--travel", travel, TRAVEL, parse_travel),
        ("--roll", roll, ROLL, parse_roll),
        ("--wrap", wrap, WRAP, parse_wrap),
    ):
        words = " ".join(text.split())
        if not tells_way(words, ways) and parse(text) > 0.0:
            (taken, _), (other, _) = ways
            yield (
                f'{option} "{words}" has no direction and was taken as "{words} {taken}"; '
                f'for the other one say "{words} {other}"'
            )


def tells_way(text: str, ways: Ways) -> bool:
    """Whether a number has a plus or a direction word; a minus tells it too, but is less than 0."""
    words = text.strip().lower()
    return words.startswith("+") or any(words.endswith(word) for word, _ in ways)


def _signed(
    option: str,
    text: str,
    ways: Ways,
    parse: Callable[[str], float],
    expected: str,
) -> float:
    """A number with a direction word behind it; without one, a plain sign is taken."""
    words = " ".join(text.split())
    for word, sign in ways:
        if words.lower().endswith(word):
            value = _number(option, text, words[: -len(word)], parse, expected)
            if value < 0.0:
                raise PoseTextError(
                    f'{option}: came "{text}" with both a minus and a word, expected {expected}'
                )
            return sign * value
    return _number(option, text, words, parse, expected)


def _number(
    option: str, text: str, number: str, parse: Callable[[str], float], expected: str
) -> float:
    if number.strip() == "0":
        return 0.0
    try:
        return parse(number)
    except UnitsError as fault:
        raise PoseTextError(f'{option}: came "{text}" ({fault.why}), expected {expected}') from None
