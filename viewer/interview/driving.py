"""Asking for what drives the shaft: engine, gears, tyres, speed."""

from collections.abc import Iterator
from typing import Final

from sim.ticket.drive_said import ASSUMED
from viewer.interview.answers import Reader, choice, length, number, words, yes
from viewer.interview.question import Question, Said

KNOWN: Final = "(drive)"

_ASKED: Final[tuple[tuple[str, str, str], ...]] = (
    ("engine_torque", "What is the engine's most torque?", "Such as 300 lb-ft or 400 N m."),
    ("low_gear", "What is the ratio of first gear?", "The lowest forward gear: such as 3.8."),
    ("low_range", "What is the ratio of low range?", "Of the transfer case: such as 2.7."),
    (
        "converter",
        "By how much does the torque converter multiply at stall?",
        "Such as 2; 1 with a clutch.",
    ),
    (
        "gearbox_efficiency",
        "How much of the torque does the gearbox let through?",
        "As a share: such as 0.85 for a manual one, 0.8 for an automatic (common practice, no "
        "source).",
    ),
    (
        "case_efficiency",
        "How much of the torque does the transfer case let through?",
        "As a share: such as 0.95.",
    ),
    (
        "share",
        "How much of the transfer case's torque can this shaft get?",
        "As a share: 1 where the case locks, or drives this axle alone.",
    ),
    ("axle_ratio", "What is the axle's ratio?", "Turns of the pinion for one of the wheels: 4.1."),
    (
        "axle_load",
        "How much weight is on this axle?",
        "At the steepest climb that is meant: such as 1900 lb or 860 kg.",
    ),
    (
        "tyre_radius",
        "How high is the axle's centre above the ground?",
        "The radius of the tyre under its load: such as 16 1/2 in.",
    ),
    ("friction", "What is the friction of the tyres?", "About 1 on dry rock (from memory)."),
    (
        "use",
        "Is it for the road or the trail?",
        "road: tyres that slip save the shaft. trail: a wedged tyre cannot slip.",
    ),
    (
        "comes_on",
        "How does the torque come on?",
        "slowly, or abruptly: a dropped clutch doubles it for a moment.",
    ),
    ("top_speed", "How fast is it on the road, at most?", "Such as 70 mph or 110 km/h."),
    (
        "top_gear",
        "What is the ratio of the highest gear?",
        "Under 1 for an overdrive: such as 0.75.",
    ),
    ("engine_top", "How fast does the engine turn, at most?", "Such as 4500 rpm."),
    (
        "cruise",
        "How much of the engine's torque does a steady cruise take?",
        "As a share, for how long the joints' needles last: such as 0.4.",
    ),
    ("balance", "Which balance grade is wanted?", "Such as G16 or G40."),
)
_LENGTHS: Final = ("tyre_radius",)
_WORDS: Final = ("engine_torque", "axle_load", "top_speed", "engine_top", "balance")
_CHOICES: Final = {"use": ("road", "trail"), "comes_on": ("slowly", "abruptly")}


def drive(said: Said) -> Iterator[Question]:
    """Ask for the drive where it is known; what the wrap test told of it is not asked again."""
    yield Question(
        KNOWN,
        "Do you know engine, gears and tyres? (for torque, speed and the ticket)",
        "No angle depends on them. yes: they are asked one by one, and Enter leaves one out.",
        yes(KNOWN),
        default="no",
    )
    if not said.get(KNOWN):
        return
    for name, asks, means in _ASKED:
        if f"wrap.drive.{name}" in said:
            continue
        key = f"drive.{name}"
        yield Question(key, asks, means, _reader(name, key), default=_left_out(name))


def _reader(name: str, key: str) -> Reader:
    if name in _LENGTHS:
        return length(key)
    if name in _WORDS:
        return words(key)
    if name in _CHOICES:
        return choice(key, {each: each for each in _CHOICES[name]})
    return number(key)


def _left_out(name: str) -> str:
    """What the ticket does with a key that is left out."""
    return str(ASSUMED[name][1].partition(":")[0]) if name in ASSUMED else "not known"
