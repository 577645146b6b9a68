"""What was seen on the truck, and what was read on other days: asked last, skipped by one Enter."""

from collections.abc import Callable, Iterator
from dataclasses import replace
from functools import partial
from typing import Final, get_args

from sim.rig.seen_on_truck import PAINT
from sim.rig.tools import FOR_PARTS, generic_tools
from sim.rig.visits import State
from sim.units import behind
from viewer.interview.answers import Keys, choice, day, height, spoken
from viewer.interview.own import PIECES, TRUCK
from viewer.interview.question import Question, Said, asked

DONE: Final = "done"
NOT_SAID: Final = "not said"
NOT_READ: Final = "not read"

_SEEN: Final = {
    "touches": "turned",
    "free": "turned",
    "slip open": "slip_opened",
    "slip closed": "slip_closed",
    "paint open": "paint_ran",
    "paint closed": "paint_ran_in",
}
"""What may have been seen, as it is answered, with the key that it goes to."""

_MEANS: Final = (
    "touches, free: the shaft turned by hand, wheels off the ground. slip open, slip closed: how "
    "far it stood from where it is at ride height. paint open, paint closed: how far it ran at "
    "most in a drive. done: no more."
)

_READ: Final = (
    "length",
    "shaft_points_down",
    "pinion_points_up",
    "output_points_down",
    "frame_to_axle",
    "slip_shows",
)
"""What is read at a visit; of two opposite slopes one, whose answer says which way it goes."""


def on_truck(said: Said) -> Iterator[Question]:
    """Everything about it, where somebody wants to tell it."""
    yield TRUCK
    wants = said.get(TRUCK.name)
    if wants in ("seen", "both"):
        yield from _several("seen_on_truck", said, _what, _seen)
    if wants in ("visits", "both"):
        yield from _several("visits", said, _when, _visit)


def _several(
    table: str,
    said: Said,
    first: Callable[[str, int, Said], Question],
    more: Callable[[str, Said], Iterator[Question]],
) -> Iterator[Question]:
    """One entry after another, until there are no more."""
    place = 1
    while True:
        key = f"{table}[{place}]"
        start = first(key, place, said)
        yield start
        if said.get(start.name) in (None, DONE):
            return
        yield from more(key, said)
        place += 1


def _saw(key: str) -> str:
    return f"({key} saw)"


def _what(key: str, place: int, said: Said) -> Question:
    del said
    options = {each: each for each in (*_SEEN, DONE)}
    asks = "What did you see on the truck?" if place == 1 else "What else did you see?"
    return Question(_saw(key), asks, _MEANS, choice(_saw(key), options), default=DONE)


def _seen(key: str, said: Said) -> Iterator[Question]:
    """Where it was seen, how far it was, with what it was read, and when."""
    answer = said[_saw(key)]
    what = _SEEN[answer]
    if what not in PAINT:
        at = partial(_turned, key, answer) if what == "turned" else height(f"{key}.at")
        yield asked(f"{key}.at", said, read=at)
        rolled = {f"{side} up": f"{key}.{side}_up" for side in ("left", "right")}
        yield asked(f"{key}.left_up", said, read=spoken(rolled), default="level")
    if what == "turned":
        yield _joint(key, said)
    else:
        yield asked(f"{key}.{what}", said)
    yield from _tool(key, said, ("at",) if what == "turned" else (what,))
    yield asked(f"{key}.when", said, read=day(f"{key}.when"), default=NOT_SAID)
    yield asked(f"{key}.who", said, default=NOT_SAID)


def _turned(key: str, answer: str, text: str) -> Keys:
    """The height, and with it what the shaft did there."""
    return {**height(f"{key}.at")(text), f"{key}.turned": answer}


def _joint(key: str, said: Said) -> Question:
    joints = ("output", *(("middle",) if said.get(PIECES.name) else ()), "pinion")
    return asked(f"{key}.joint", said, read=choice(f"{key}.joint", {each: each for each in joints}))


def _when(key: str, place: int, said: Said) -> Question:
    del place
    return asked(f"{key}.when", said, read=day(f"{key}.when", DONE), default=DONE)


def _visit(key: str, said: Said) -> Iterator[Question]:
    """What was read, each of which may be left out, how the truck stood, and with what."""
    for each in _READ:
        yield asked(f"{key}.{each}", said, default=NOT_READ)
    of_visit = [name for name in said if name.startswith(f"{key}.") and name != f"{key}.when"]
    if not of_visit:
        return  # nothing was read: no visit
    state = f"{key}.state"
    yield asked(state, said, read=choice(state, {each: each for each in get_args(State)}))
    read = [name.rpartition(".")[2] for name in of_visit if name not in _told_of(key)]
    yield from _tool(key, said, tuple(read))
    yield asked(f"{key}.who", said, default=NOT_SAID)


def _told_of(key: str) -> tuple[str, ...]:
    """Keys of a visit that are no reading."""
    return tuple(f"{key}.{each}" for each in ("state", "tool", "who"))


def _tool(key: str, said: Said, read: tuple[str, ...]) -> Iterator[Question]:
    """With what it was read, unless that or the error is typed behind every reading."""
    if all(behind(str(said.get(f"{key}.{each}", ""))) for each in read):
        return
    angles = any("points" in each for each in read)
    lengths = any("points" not in each for each in read)
    tools = {
        each.name: each.name
        for each in generic_tools().values()
        if each.name not in FOR_PARTS
        and ((lengths and each.length is not None) or (angles and each.angle is not None))
    }
    question = asked(f"{key}.tool", said, read=choice(f"{key}.tool", tools), default=NOT_SAID)
    yield replace(question, means=f"{', '.join(tools)}. {_OR_TYPED}")


_OR_TYPED: Final = "Or go back and type the error behind the value: 1 1/4 in +- 1/16 in."
