"""What can be asked about a failed joint, topic by topic, and the signs that each can settle."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, Final

from sim.causes.codes import SeenCode
from sim.rig.rig import Rig
from sim.rig.typed_joints import typed_joints
from sim.seen.inspection import Inspection
from sim.seen.joint import has_straps, is_head
from sim.seen.signs import SIGNS
from sim.seen.words import CAPS, YOKES, CapName
from viewer.interview.answers import Keys, Reader, choice
from viewer.interview.question import Question, Said
from viewer.seen.answers import NOTHING, on_caps, on_yokes, which_caps, which_yokes, yes_or_no
from viewer.seen.places import DRAWING, EXAMPLE, SHOWN
from viewer.seen.question import asked, legal_at

AT_HAND: Final = "at hand"
"""The question which caps are there to be looked at, and the key of its answer."""

SURFACES: Final = ("ear tip", "ear flank", "ear inside face", "ear outside face", "throat")
"""Surfaces of a yoke that a mark is on, as the yokes name them; of others the name is typed."""


@dataclass(frozen=True)
class Asking:
    """What is known while the questions are put.

    Attributes
    ----------
    before : the inspection as it was taken up.
    said : everything answered since.
    seen : both together.
    rig : the vehicle.
    """

    before: Inspection
    said: Said
    seen: Inspection
    rig: Rig

    @property
    def there(self) -> tuple[CapName, ...]:
        """The caps that can be looked at."""
        caps: tuple[CapName, ...] = self.said.get(AT_HAND, CAPS)
        return caps

    def known(self, path: str) -> bool:
        """Whether the inspection that was taken up has something at a key."""
        here: Any = self.before
        for key in path.split("."):
            here = getattr(here, key, None)
        return here is not None


Script = Callable[[Asking], Iterator[Question]]
"""The questions of a topic, one after another: those that come next hang on what was said."""


@dataclass(frozen=True)
class Topic:
    """Some questions that belong together.

    Attributes
    ----------
    name : with which the names of its questions begin.
    fills : key paths that it fills.
    script : its questions.
    fits : whether it can be asked of this vehicle, after what was said.
    """

    name: str
    fills: tuple[str, ...]
    script: Script
    fits: Callable[[Asking], bool] = lambda _: True

    @property
    def settles(self) -> frozenset[SeenCode]:
        """Signs that its answers can say something of."""
        return frozenset(code for code, sign in SIGNS.items() if set(sign.reads) & set(self.fills))

    def questions(self, asking: Asking) -> Iterator[Question]:
        """Its questions, as far as they are known; none where it has been answered before."""
        return self.script(asking)


def _each(*paths: str) -> Script:
    """Keys asked one after another, those that are known left out."""

    def script(asking: Asking) -> Iterator[Question]:
        for path in paths:
            if not asking.known(path):
                yield asked(path)

    return script


def single(path: str, *further: str, **fits: Any) -> Topic:
    """A topic of a key or a few."""
    return Topic(path, (path, *further), _each(path, *further), **fits)


@dataclass(frozen=True)
class OnCaps:
    """A list of words of all caps, asked for once: what is there, then on which of them."""

    key: str
    asks: str

    def __call__(self, asking: Asking) -> Iterator[Question]:
        """Which caps are at hand, what is seen, and where, word by word."""
        there = [cap for cap in asking.there if not asking.known(f"caps.{cap}.{self.key}")]
        if not there:
            return
        if AT_HAND not in asking.said:
            yield _at_hand(there)
        pending = f"on caps/{self.key}"
        yield _listing(f"caps.{there[0]}.{self.key}", pending, self.asks, there, self.key)
        for word in asking.said.get(pending, ()):
            place = f"{pending}/{word}"
            shown = ", ".join(f"{CAPS.index(cap) + 1} {SHOWN[cap]}" for cap in there)
            yield Question(
                place,
                f"Which of them: {word}?",
                f"Of {shown}: all, numbers, or names.",
                which_caps(place, there),
                DRAWING,
            )

    @property
    def fills(self) -> tuple[str, ...]:
        """The lists."""
        return tuple(f"caps.{cap}.{self.key}" for cap in CAPS)


def _at_hand(there: Sequence[CapName]) -> Question:
    return Question(
        AT_HAND,
        "Which of the four caps are there to be looked at?",
        f"{DRAWING}\nLabel them so, and keep them apart. Say {EXAMPLE}; what you do not name "
        "counts as not looked at.",
        which_caps(AT_HAND, there),
        "A cap that is lost tells nothing; that the others are dry or not still does.",
        "all four" if len(there) == len(CAPS) else "all of them",
    )


def _listing(path: str, pending: str, asks: str, there: Sequence[CapName], key: str) -> Question:
    legal = legal_at(path)
    made = asked(path, pending, on_caps(key, there, legal, pending), asks)
    example = f'"{SHOWN[there[0]]}: {legal[0]}; {SHOWN[there[-1]]}: {legal[1]}"'
    return replace(
        made, beware=f"{made.beware} By cap, in one answer: {example}.\n{DRAWING}".strip()
    )


@dataclass(frozen=True)
class OnYokes:
    """A list of words of both yokes, asked for once: what is there, then on which."""

    key: str
    asks: str

    def __call__(self, asking: Asking) -> Iterator[Question]:
        """What is seen, and on which yoke, word by word."""
        if any(asking.known(path) for path in self.fills):
            for path in self.fills:
                if not asking.known(path):
                    yield asked(path)
            return
        pending = f"on yokes/{self.key}"
        path = self.fills[0]
        legal = legal_at(path)
        made = asked(path, pending, on_yokes(self.key, legal, pending), self.asks)
        example = f'"shaft: {legal[0]}; end: {legal[1]}"'
        yield replace(made, beware=f"{made.beware} By yoke, in one answer: {example}.".strip())
        for word in asking.said.get(pending, ()):
            place = f"{pending}/{word}"
            means = "shaft: the shaft's own yoke. end: the other one. Or both."
            yield Question(place, f"On which yoke: {word}?", means, which_yokes(place))

    @property
    def fills(self) -> tuple[str, ...]:
        """The lists."""
        return tuple(f"yokes.{yoke}.{self.key}" for yoke in YOKES)


def placed(said: Said) -> dict[str, Any]:
    """What was said, with the words of lists put on the caps and yokes that were named for them."""
    found = {key: value for key, value in said.items() if "/" not in key and key != AT_HAND}
    for pending, words in said.items():
        kind, _, key = pending.partition("/")
        if kind not in ("on caps", "on yokes") or "/" in key:
            continue
        table = kind.removeprefix("on ")
        where = {word: said.get(f"{pending}/{word}") for word in words}
        if None in where.values():  # some are still to be placed: until then nothing is left out
            found[f"{table}.note"] = f"{key}: {', '.join(words)}; not said on which"
            continue
        places = said.get(AT_HAND, CAPS) if table == "caps" else YOKES
        for place in places:
            there = tuple(word for word in words if place in (where[word] or ()))
            found.setdefault(f"{table}.{place}.{key}", there)
    return found


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
        yield Question(more, "Is there another mark?", "", yes_or_no(more), default="no")
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
    """What the vehicle was doing; at which speed and throttle, unless it stood."""
    path = "symptoms.happened"
    if asking.known(path):
        return
    yield asked(path)
    if asking.said.get(path) not in (None, "parked"):
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
        known = [each.joint for each in typed_joints(asking.rig)]
        question = asked("joint", read=choice("joint", {each: each for each in known}))
        means = " ".join(f"{each}: {_JOINTS[each]}." for each in known)
        yield replace(question, means=means, default="")
    if is_head(asking.rig, asking.seen) and not asking.known("head_cross"):
        legal = {"outer": "outer", "inner": "inner"}
        question = asked("head_cross", read=choice("head_cross", legal))
        yield replace(question, means=_OF_A_HEAD)


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
    single("came"),
    Topic("joint", ("joint", "head_cross"), _which),
)
"""What is asked before anything else, in this order."""

TOPICS: Final[tuple[Topic, ...]] = (
    Topic(
        "fracture",
        ("fracture.part", "fracture.face"),
        _each("fracture.part", "fracture.face"),
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
    ),
    Topic(
        "gaps",
        tuple(f"yokes.{yoke}.{key}" for yoke in YOKES for key in ("gap_at_tips", "gap_at_root")),
        _each(*(f"yokes.{y}.{key}" for y in YOKES for key in ("gap_at_tips", "gap_at_root"))),
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

BY_NAME: Final[Mapping[str, Topic]] = {each.name: each for each in (*FIRST, *TOPICS, *LAST)}


def topic_of(question: str) -> Topic | None:
    """The topic that a question is of, by its name."""
    fitting = [each for name, each in BY_NAME.items() if _is_of(question, name, each)]
    return fitting[0] if fitting else None


def _is_of(question: str, name: str, topic: Topic) -> bool:
    if question == name or question.startswith((f"{name}/", f"{name}.", f"{name}[")):
        return True
    return question in topic.fills
