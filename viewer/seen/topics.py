"""What can be asked about a failed joint, topic by topic."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any, Final

from sim.rig.rig import Rig
from sim.rig.typed_joints import typed_joints
from sim.seen.joint import has_straps, is_head
from sim.seen.words import CAPS, YOKES
from viewer.interview.answers import Keys, Reader, choice
from viewer.interview.question import Question
from viewer.seen.answers import NOTHING, came, joint_named, yes_or_no
from viewer.seen.asking import BY_PHONE, Asking, Topic, each, single
from viewer.seen.on_several import OnCaps, OnYokes
from viewer.seen.question import asked

SURFACES: Final = ("ear tip", "ear flank", "ear inside face", "ear outside face", "throat")
"""Surfaces of a yoke that a mark is on, as the yokes name them; of others the name is typed."""


def _marks(asking: Asking) -> Iterator[Question]:
    """Each mark with its place, one after another."""
    if asking.known("marks"):
        return
    place = 1
    while True:
        key = f"marks[{place}]"
        yield asked(f"{key}.yoke", read=_mark_on(key) if place == 1 else None)
        if f"{key}.yoke" not in asking.said:
            return
        surface = asked(f"{key}.surface")
        yield replace(
            surface,
            means=f"One of: {_numbered(SURFACES)}; or another name.",
            default="",
            read=_surface(key),
        )
        yield replace(asked(f"{key}.clock"), default="")
        yield asked(f"{key}.depth")
        yield asked(f"{key}.pair")
        more = f"{key}/more"
        asks, help_ = (
            "Is there another mark?",
            "yes: its place is asked for. no, or Enter: that is all.",
        )
        yield Question(more, asks, "", yes_or_no(more), help_, "no")
        if not asking.said.get(more):
            return
        place += 1


def _mark_on(key: str) -> Reader:
    """The yoke that the first mark is on; or that there is no mark."""
    read = choice(f"{key}.yoke", {yoke: yoke for yoke in YOKES})
    return lambda text: {"marks": ()} if text.lower() in NOTHING else read(text)


def _surface(key: str) -> Reader:
    """A surface by its name or the beginning of one; any other is taken as typed."""

    def read(text: str) -> Keys:
        by_number = dict(enumerate(SURFACES, start=1)).get(int(text) if text.isdecimal() else 0)
        known = [name for name in SURFACES if name.startswith(text.lower())]
        return {f"{key}.surface": by_number or (known[0] if known else text)}

    return read


def _numbered(words: Sequence[str]) -> str:
    return ", ".join(f"{place} {word}" for place, word in enumerate(words, start=1))


def _touched(asking: Asking) -> bool:
    """Whether something was seen that a yoke leaves on the other."""
    met = {"half-moon", "dent", "burr", "rubbed"}
    return any(
        met.intersection(words or ())
        for name in YOKES
        for words in (asking.seen.yoke(name).tips, asking.seen.yoke(name).throat)
    )


def _bars(asking: Asking) -> Iterator[Question]:
    """The bar through both bores of each yoke, and how far off it is."""
    for name in YOKES:
        path = f"yokes.{name}.bar"
        if not asking.known(path):
            yield asked(path)
            if asking.said.get(path) in ("drags", "does not go through"):
                yield asked(f"yokes.{name}.off")


def _happened(asking: Asking) -> Iterator[Question]:
    """What the vehicle was doing; at which speed and throttle, where it still shows."""
    path = "symptoms.happened"
    if asking.known(path):
        return
    yield asked(path)
    if asking.seen.came == "runs" and set(asking.said.get(path) or ()) - {"parked"}:
        yield asked("symptoms.speed")
        yield asked("symptoms.throttle")


_READINGS: Final = ("clock", "cap_diameter", "trunnion_diameter", "bore", "end_float")


def _caliper(asking: Asking) -> Iterator[Question]:
    """What is left to measure, cap by cap, where somebody wants to."""
    want = "caliper/wanted"
    yield Question(
        want,
        "Have you caliper readings of caps, trunnions and ears to add?",
        "They tell how the caps sat, and are asked one by one; Enter leaves one out.",
        yes_or_no(want),
        "Along the shaft and across it; 1.062 in, 1.0615 in. They go into the file as typed.",
        default="no",
    )
    if not asking.said.get(want):
        return
    for cap in asking.there:
        for key in _READINGS:
            if not asking.known(f"caps.{cap}.{key}"):
                yield asked(f"caps.{cap}.{key}")
        seat = asking.seen.cap(cap).seat or ()
        for word, key in (("gouged", "gouge"), ("mushroomed edge", "edge")):
            if word in seat and not asking.known(f"caps.{cap}.{key}"):
                yield asked(f"caps.{cap}.{key}")
        if "sits crooked" in (asking.seen.cap(cap).seen or ()):
            yield asked(f"caps.{cap}.tilt")
    for name in YOKES:
        if asking.seen.yoke(name).tips and not asking.known(f"yokes.{name}.flat"):
            yield asked(f"yokes.{name}.flat")


_JOINTS: Final[Mapping[str, str]] = {
    "output": "at the transfer case or transmission",
    "middle": "at the carrier bearing",
    "pinion": "at the axle",
}
_OF_A_HEAD: Final = (
    "outer: the one toward the vehicle. inner: the one toward the tube. One of: outer, inner."
)


def _which(asking: Asking) -> Iterator[Question]:
    """Which joint of this rig, and of a head which cross."""
    if not asking.known("joint"):
        known = [end.joint for end in typed_joints(asking.rig)]
        read = joint_named("joint", known, _position(asking.rig))
        question = asked("joint", read=read, asks=f"Which joint: {', '.join(known)}?")
        told = " ".join(f"{joint}: {_JOINTS[joint]}." for joint in known)
        more = f"{told} The axle's end, front or rear will do where it can be but one."
        yield replace(question, means="", beware=more, default="")
    if is_head(asking.rig, asking.seen) and not asking.known("head_cross"):
        legal = {"outer": "outer", "inner": "inner"}
        question = asked("head_cross", read=choice("head_cross", legal))
        yield replace(question, means=_OF_A_HEAD)


def _position(rig: Rig) -> str:
    """Which axle it is, front or rear; "" where nobody said."""
    return rig.axle.position if "position" in rig.axle.model_fields_set else ""


def _came(asking: Asking) -> Iterator[Question]:
    """How it ended, and by the way whether anybody can look into it."""
    if not asking.known("came"):
        question = asked("came", read=came("came", BY_PHONE))
        yield replace(question, means="", beware=f"{question.means} {_PHONE}")


_PHONE: Final = (
    'On the phone say so, "broke, phone": only what a customer can tell is asked; look again when '
    "the joint is there, and the rest is asked into the same file."
)


def _by_phone(asking: Asking) -> Iterator[Question]:
    """Whether there is a joint to look into, where that was not said with how it ended."""
    if asking.known("came"):
        yield Question(
            BY_PHONE,
            "Apart, or on the phone?",
            "",
            choice(BY_PHONE, {"apart": False, "phone": True}),
            _PHONE,
            "apart",
        )


def _measured(asking: Asking) -> bool:
    """Whether bores and gaps can still say anything: not where one pull broke a cross at once."""
    fracture, symptoms = asking.seen.fracture, asking.seen.symptoms
    ears = any("spread" in (asking.seen.cap(cap).ear or ()) for cap in CAPS)
    at_once = fracture is not None and fracture.part == "cross" and fracture.face == "rough"
    pulled = symptoms is not None and set(symptoms.happened or ()) == {"hard pull"}
    return ears or not (asking.seen.came == "broke" and at_once and pulled)


def _strapped(asking: Asking) -> bool:
    return has_straps(asking.seen, asking.rig)


def _broke(asking: Asking) -> bool:
    return asking.seen.came in (None, "broke")


def _with_ball(asking: Asking) -> bool:
    return asking.seen.joint is None or is_head(asking.rig, asking.seen)


def _caps(key: str, asks: str, **fits: Any) -> Topic:
    lists = OnCaps(key, asks)
    return Topic(f"on caps/{key}", lists.fills, lists, **fits)


def _yokes(key: str, asks: str) -> Topic:
    lists = OnYokes(key, asks)
    return Topic(f"on yokes/{key}", lists.fills, lists)


FIRST: Final[tuple[Topic, ...]] = (
    Topic("came", ("came",), _came),
    Topic("joint", ("joint", "head_cross"), _which),
    Topic(BY_PHONE, (), _by_phone),
)
"""What is asked before anything else, in this order."""

TOPICS: Final[tuple[Topic, ...]] = (
    Topic(
        "fracture",
        ("fracture.part", "fracture.face"),
        each("fracture.part", "fracture.face"),
        _broke,
    ),
    _caps("seen", "What is seen on the four caps, their seals and clips?"),
    _caps("trunnion", "What is seen on the four trunnions?"),
    _yokes("tips", "What is seen on the ear tips of both yokes?"),
    _yokes("throat", "What is seen in the throats of both yokes?"),
    Topic("marks", ("marks",), _marks, _touched),
    _caps("needles", "What is seen on the needles of the four caps?"),
    _caps("seat", "What is seen in the four seats, the bores or half-rounds?"),
    _caps("ear", "What is seen on the four ears?"),
    _caps("strap", "What is seen on the straps or U-bolts?", fits=_strapped),
    Topic(
        "bars",
        tuple(f"yokes.{yoke}.{key}" for yoke in YOKES for key in ("bar", "off")),
        _bars,
        _measured,
    ),
    Topic(
        "gaps",
        tuple(f"yokes.{yoke}.{key}" for yoke in YOKES for key in ("gap_at_tips", "gap_at_root")),
        each(*(f"yokes.{y}.{key}" for y in YOKES for key in ("gap_at_tips", "gap_at_root"))),
        _measured,
    ),
    single("cross.seen"),
    single("spline.seen"),
    single("tube.seen"),
    single("ball.seen", fits=_with_ball),
    single("history.distance"),
    single("history.failed_before"),
    single("history.greased"),
    single("history.purged"),
    single("history.water"),
    single("history.changed"),
    Topic(
        "symptoms.happened",
        ("symptoms.happened", "symptoms.speed", "symptoms.throttle"),
        _happened,
    ),
    single("symptoms.noise"),
    single("symptoms.per_turn"),
    single("play.at_tube"),
    single("history.use"),
)
"""Everything else, as it is asked where nothing tells which settles most."""

LAST: Final[tuple[Topic, ...]] = (
    Topic(
        "caliper",
        (
            *(f"caps.{cap}.{key}" for cap in CAPS for key in (*_READINGS, "gouge", "edge", "tilt")),
            *(f"yokes.{yoke}.flat" for yoke in YOKES),
        ),
        _caliper,
    ),
    single("note"),
)
"""What is asked at the end."""

BY_NAME: Final[Mapping[str, Topic]] = {topic.name: topic for topic in (*FIRST, *TOPICS, *LAST)}


def topic_of(question: str) -> Topic | None:
    """The topic that a question is of, by its name."""
    fitting = [topic for name, topic in BY_NAME.items() if _is_of(question, name, topic)]
    return fitting[0] if fitting else None


def _is_of(question: str, name: str, topic: Topic) -> bool:
    if question == name or question.startswith((f"{name}/", f"{name}.", f"{name}[")):
        return True
    return question in topic.fills
