"""Asking how far the axle wraps: in degrees, or by a simple test under a known torque."""

from collections.abc import Iterator
from typing import Final

from viewer.interview.answers import Keys, angle, choice, length, number, spoken, words
from viewer.interview.question import Question, Said, assumed

TEST: Final = "(wrap)"
TORQUE: Final = "(test torque)"
_PLACES: Final = {"axle": "axle", "pinion": "pinion", "bar": "bar"}


def wrap(said: Said) -> Iterator[Question]:
    """Ask for the wrap of the axle."""
    yield Question(
        TEST,
        "Was axle wrap tested under a known torque?",
        "no: you give degrees, or take generic ones. angles: the pinion's slope was read before "
        "and under a torque. mark: a mark on the housing went up or down under a torque.",
        _test,
        beware="Only torque that reaches the ground counts, or one on a bar bolted to the housing. "
        "A test against the brakes of the same axle shows nothing: they hold it back within the "
        "housing. Chock the wheels, nobody under the vehicle.",
        default="no",
    )
    kind = said.get("wrap.kind")
    if kind is None:
        yield from _degrees(said)
        return
    yield from _angles() if kind == "angles" else _mark()
    yield from _torque(said)
    yield from _drive(said)


def _test(text: str) -> Keys:
    keys = choice(TEST, {"no": None, "angles": "angles", "mark": "mark"})(text)
    return {} if keys[TEST] is None else {"wrap.kind": keys[TEST]}


def _degrees(said: Said) -> Iterator[Question]:
    for key, asks, means in (
        (
            "travel.nose_up",
            "How far can the nose of the pinion wrap up?",
            "Axle wrap when driving forward on a rear axle, when braking on a front axle. Links: "
            "about 1 deg; stiff leaves 2 to 4; ordinary leaves 4 to 7; soft ones 7 to 12 (from "
            "memory).",
        ),
        (
            "travel.nose_down",
            "How far can the nose of the pinion wrap down?",
            "Axle wrap when braking or reversing on a rear axle, driving forward on a front axle. "
            "On a rear axle it adds to the bend of the pinion joint at droop.",
        ),
    ):
        yield Question(key, asks, means, angle(key), default=assumed(key, said))


def _angles() -> Iterator[Question]:
    for key, when in (("wrap.before", "without torque"), ("wrap.under_torque", "under the torque")):
        yield Question(
            key,
            f"How did the pinion point in the test, {when}?",
            "Against level, on the same face both times: such as 1 deg up.",
            spoken({"up": f"{key}.points_up", "down": f"{key}.points_down"}),
            beware="Where the frame tilts too, read it at the same moments and put frame_before "
            "and frame_under_torque into the file, or its squat counts as wrap.",
        )


def _mark() -> Iterator[Question]:
    yield Question(
        "wrap.rises",
        "How far did the mark go under the torque?",
        "Against the frame: such as 1 in up.",
        spoken(distances={"up": "wrap.rises", "down": "wrap.falls"}),
        beware="The axle must not go up or down meanwhile; mark it beside the tube too and take "
        "that off.",
    )
    yield Question(
        "wrap.lever",
        "How far from the axle's centre is the mark?",
        "Straight, from the centre of the axle tube: such as 11 in.",
        length("wrap.lever"),
    )
    yield Question(
        "wrap.points_up",
        "Does the line from the axle's centre to the mark point up or down?",
        "Against level: such as 10 deg up.",
        spoken({"up": "wrap.points_up", "down": "wrap.points_down"}),
        default="level",
    )


def _torque(said: Said) -> Iterator[Question]:
    yield Question(
        TORQUE,
        "Where is the torque of the test known?",
        "axle: what both wheels put on the ground. pinion: a wrench at the pinion, the wheels held "
        "by the ground. bar: a pull square to a bar bolted to the housing.",
        choice(TORQUE, _PLACES),
    )
    place = said.get(TORQUE)
    if place == "bar":
        yield Question(
            "wrap.pull",
            "How hard was the pull on the bar?",
            "By a spring scale, square to the bar: such as 200 lb or 900 N.",
            words("wrap.pull"),
        )
        yield Question(
            "wrap.arm",
            "How far from the axle's centre was the pull?",
            "Along the bar: such as 48 in.",
            length("wrap.arm"),
        )
    elif place is not None:
        key = "wrap.torque" if place == "axle" else "wrap.pinion_torque"
        yield Question(
            key,
            f"How large was the torque at the {place}?",
            "Such as 900 lb-ft or 1200 N m.",
            words(key),
        )


def _drive(said: Said) -> Iterator[Question]:
    """What caps the torque that the test is carried over to."""
    for key, asks, means in (
        ("engine_torque", "What is the engine's most torque?", "Such as 300 lb-ft or 400 N m."),
        ("axle_load", "How much weight is on this axle?", "At the steepest climb or hardest stop "
         "that is meant: such as 1900 lb or 860 kg."),
    ):  # fmt: skip
        yield Question(f"wrap.drive.{key}", asks, means, words(f"wrap.drive.{key}"))
    yield Question(
        "wrap.drive.tyre_radius",
        "How high is the axle's centre above the ground?",
        "The radius of the tyre under its load: such as 16 1/2 in.",
        length("wrap.drive.tyre_radius"),
    )
    for key, asks, means in (
        ("low_gear", "What is the ratio of the lowest gear?", "Such as 3.8."),
        ("low_range", "What is the ratio of low range?", "Such as 2.7; 1 where there is none."),
        ("converter", "By how much does the torque converter multiply?", "1 with a clutch."),
        ("axle_ratio", "What is the axle's ratio?", "Such as 4.1."),
        ("friction", "What is the friction of the tyres?", "About 1 on dry rock (from memory)."),
    ):
        path = f"wrap.drive.{key}"
        default = "" if key in {"low_gear", "axle_ratio"} else assumed(path, said)
        yield Question(path, asks, means, number(path), default=default)
