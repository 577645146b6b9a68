"""The picture of each word of an inspection: where it lies on the sheet that is shipped.

A picture shows what a word means; it is no finding of anything. `python -m tests.word_pictures`
draws the sheet anew after a change.
"""

from dataclasses import dataclass
from importlib.resources import files
from importlib.resources.abc import Traversable
from typing import Final, get_args

from sim.seen import words

TILE: Final = (240, 180)
"""Width and height of a picture on the sheet, px; it is read down to half of that."""

COLUMNS: Final = 10

LISTS: Final[dict[str, tuple[str, ...]]] = {
    key: get_args(literal)
    for key, literal in (
        ("caps.seen", words.CapWord),
        ("caps.trunnion", words.TrunnionWord),
        ("caps.needles", words.NeedleWord),
        ("caps.seat", words.SeatWord),
        ("caps.ear", words.EarWord),
        ("caps.strap", words.StrapWord),
        ("yokes.tips", words.TipWord),
        ("yokes.throat", words.ThroatWord),
        ("yokes.bar", words.Bar),
        ("cross.seen", words.CrossWord),
        ("fracture.part", words.BrokenPart),
        ("fracture.face", words.Face),
        ("spline.seen", words.SplineWord),
        ("tube.seen", words.TubeWord),
        ("ball.seen", words.BallWord),
    )
}
"""Words that have a picture, by the key of their list without the name of a cap or yoke."""

WORDS: Final = tuple((key, word) for key, row in LISTS.items() for word in row)
"""Key of the list, and word, in the order of the sheet."""

_NUMBER: Final = {word: number for number, word in enumerate(WORDS)}


@dataclass(frozen=True)
class Tile:
    """A picture's place on the sheet, px from its upper left corner."""

    left: int
    top: int
    width: int
    height: int


def tile_of(key: str, word: str) -> Tile | None:
    """Where the picture of a word lies; None for one that has none.

    key : of its list as the inspection has it, such as "caps.shaft_a.trunnion".
    """
    path = key.split(".")
    number = _NUMBER.get((f"{path[0]}.{path[-1]}", word))
    if number is None:
        return None
    row, column = divmod(number, COLUMNS)
    return Tile(column * TILE[0], row * TILE[1], *TILE)


def sheet_file() -> Traversable:
    """The sheet of all pictures, a PNG file, shipped with the program."""
    return files("models").joinpath("pictures", "words.png")


def called(key: str) -> str:
    """What a list is of, in a word or two."""
    thing, of = key.split(".")
    return {"caps": "cap", "fracture": "broken"}.get(thing, thing) if of in ("seen", "part") else of
