"""What to do now: what to replace, what to set right, how to prove it, what to ask next."""

from collections.abc import Iterator
from typing import Any, Final

from sim.causes import CauseCode
from sim.why.mending import Asking, greasing, mending, strapped, yoke_gone
from sim.why.why import Weighed, Why
from viewer.words.causes import CAUSES
from viewer.words.mending import (
    ask_lines,
    do_lines,
    greasing_lines,
    proof_lines,
    swap_lines,
    swaps_short,
)

MOST: Final = 2
"""Causes that are told what to do about, where more than one is likely."""

NOT_YET: Final = "Nothing to replace yet. Look at what would settle it first."


def counter_do(why: Why, rig: str) -> Iterator[str]:
    """What one says at the counter: what to replace, what to set right, and what to ask next."""
    first = why.causes[0]
    mend = mended(why, first.code)
    gone = _gone(why, mend)
    swaps = swaps_short(mend, strapped(why.case.rig, why.joint), gone)
    steps = " ".join(_begun(line) for line in do_lines(mend, gone))
    asks = [typed for _, typed in ask_lines(mend, asking(why, rig))]
    then = f" Then: {asks[0]}" if asks else ""
    yield f"Do now: put in {swaps}. {steps}{then}"


def mended(why: Why, cause: CauseCode) -> CauseCode:
    """The cause whose mending a cause gets: too small a joint goes out after one hard pull too."""
    return "undersized" if cause == "overload" and why.too_small else cause


def _gone(why: Why, cause: CauseCode) -> bool:
    return yoke_gone(why.inspection, why.case.rig, cause)


def _begun(line: str) -> str:
    """The first sentence of a line; the rest of it is the reason."""
    return f"{line.split('. ', maxsplit=1)[0].removesuffix('.')}."


def to_do(why: Why, rig: str) -> Iterator[tuple[str, tuple[str, ...]]]:
    """A title and its lines for each cause that is likely. rig : its file name, or demo:NAME."""
    if not _told(why):
        yield "What to do now", (NOT_YET,)
    for each in _told(why):
        yield (
            f"What to do now: {CAUSES[each.code].name}",
            tuple(_lines(why, mended(why, each.code), rig)),
        )


def _lines(why: Why, cause: CauseCode, rig: str) -> Iterator[str]:
    held, gone = strapped(why.case.rig, why.joint), _gone(why, cause)
    yield from swap_lines(cause, held, gone)
    yield from do_lines(cause, gone)
    yield f"Prove it: {' '.join(proof_lines(cause))}"
    history = why.inspection.history
    if mending(cause).greasing:
        use, water = (None, None) if history is None else (history.use, history.water)
        yield from greasing_lines(greasing(use, water))
    for says, typed in ask_lines(cause, asking(why, rig)):
        yield f"{says}: {typed}"


def to_do_data(why: Why, rig: str) -> list[dict[str, Any]]:
    """The same as plain data, of every cause that is told."""
    held, history = strapped(why.case.rig, why.joint), why.inspection.history
    use, water = (None, None) if history is None else (history.use, history.water)
    return [
        {
            "cause": each.code,
            "replace": swap_lines(mend, held, _gone(why, mend)),
            "set_right": do_lines(mend, _gone(why, mend)),
            "prove": proof_lines(mend),
            "greasing": greasing_lines(greasing(use, water)) if mending(mend).greasing else [],
            "commands": [
                {"says": says, "command": typed}
                for says, typed in ask_lines(mend, asking(why, rig))
            ],
        }
        for each in _told(why)
        for mend in [mended(why, each.code)]
    ]


def _told(why: Why) -> tuple[Weighed, ...]:
    """What is likely."""
    return tuple(each for each in why.causes if each.likely)[:MOST]


def asking(why: Why, rig: str) -> Asking:
    """What the commands are filled in with."""
    symptoms = why.inspection.symptoms
    speed = None if symptoms is None else symptoms.speed
    return Asking(rig, why.joint, why.case.at_joint.most, speed)
