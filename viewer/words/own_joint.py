"""What is worth knowing of a joint that was fitted to its readings: a sentence for each code."""

from collections.abc import Mapping
from typing import Final

from viewer.words.sentence import Sentence
from viewer.words.units import format_angle


def _fitted(joint: str, count: int, low: float, high: float) -> str:
    readings = "1 bench reading" if count == 1 else f"{count} bench readings"
    return (
        f"the yokes of the {joint} joint are fitted to {readings}, not measured; 95 of 100 joints "
        f"that read like it touch at {format_angle(low)} to {format_angle(high)} at the soonest"
    )


OWN_JOINT: Final[Mapping[str, Sentence]] = {
    "fitted": _fitted,
    "readings-none": (
        "no bench reading of the {joint} joint can be used, so its yokes are taken as before"
    ),
    "readings-fight": (
        "readings {numbers} of the {joint} joint cannot both be right; read them again"
    ),
    "yoke-fight": (
        "no yoke of this kind touches as reading {numbers} of the {joint} joint says; read it "
        "again, or name the yoke's kind"
    ),
    "reading-unreached": (
        "the {joint} joint never comes to that height, so that this reading says nothing of it"
    ),
}
