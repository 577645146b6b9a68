"""Poses as typed on the command line: "6 in droop", "8 deg left up", "4 deg nose down"."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Final

from geometry.errors import BindpointError
from sim.units import UnitsError, parse_angle, parse_length
from sim.vehicle import Pose


class PoseTextError(BindpointError, ValueError):
    """A pose that cannot be read."""


@dataclass(frozen=True)
class TypedAxis:
    """One number of a pose, as it is typed.

    Attributes
    ----------
    option : what it is called on the command line.
    parse : reads it without its word (mm, rad).
    expected : examples, for an error.
    ways : its two direction words, the positive one first; none where it has no ways.
    rest : words for nothing of it.
    """

    option: str
    parse: Callable[[str], float]
    expected: str
    ways: tuple[str, ...] = ()
    rest: tuple[str, ...] = ()

    def read(self, text: str) -> float:
        """The number (mm, rad): "6 in droop"; without a direction word a plain sign is taken.

        Raises PoseTextError.
        """
        words = " ".join(text.split())
        if text.strip().lower() in self.rest:
            return 0.0
        for word, sign in zip(self.ways, (1.0, -1.0), strict=False):
            if words.lower().endswith(word):
                value = self._number(text, words[: -len(word)])
                if value < 0.0:
                    raise PoseTextError(
                        f'{self.option}: came "{text}" with both a minus and a word, expected '
                        f"{self.expected}"
                    )
                return sign * value
        return self._number(text, words)

    def tells_way(self, text: str) -> bool:
        """Whether a number says which way it goes, or is nothing."""
        words = text.strip().lower()
        return words.startswith("+") or words.endswith(self.ways) or self.read(text) <= 0.0

    def _number(self, text: str, number: str) -> float:
        if number.strip() == "0":
            return 0.0
        try:
            return self.parse(number)
        except UnitsError as fault:
            raise PoseTextError(
                f'{self.option}: came "{text}" ({fault.why}), expected {self.expected}'
            ) from None


TYPED_AXES: Final[Mapping[str, TypedAxis]] = {
    "travel": TypedAxis(
        "--travel",
        parse_length,
        '"6 in droop", "4 in bump" or "ride"',
        ("bump", "droop"),
        ("ride", "ride height"),
    ),
    "roll": TypedAxis(
        "--roll", parse_angle, '"8 deg left up" or "8 deg right up"', ("left up", "right up")
    ),
    "wrap": TypedAxis(
        "--wrap", parse_angle, '"4 deg nose down" or "8 deg nose up"', ("nose up", "nose down")
    ),
    "spin": TypedAxis("--spin", parse_angle, '"30 deg"'),
}
"""Axle height in bump, roll with the left wheel up, wrap nose up, turn of the output yoke."""


def parse_pose(travel: str, roll: str, wrap: str) -> Pose:
    """A pose from its three texts. Raises PoseTextError."""
    texts = {"travel": travel, "roll": roll, "wrap": wrap}
    return Pose(**{axis: TYPED_AXES[axis].read(text) for axis, text in texts.items()})


def directions_taken(travel: str, roll: str, wrap: str) -> Iterator[str]:
    """Tell, one line each, which direction a number without a word or a sign was taken in.

    The three texts are ones that `parse_pose` reads.
    """
    for axis, text in zip(TYPED_AXES.values(), (travel, roll, wrap), strict=False):
        if not axis.tells_way(text):
            words, (taken, other) = " ".join(text.split()), axis.ways
            yield (
                f'{axis.option} "{words}" has no direction and was taken as "{words} {taken}"; '
                f'for the other one say "{words} {other}"'
            )
