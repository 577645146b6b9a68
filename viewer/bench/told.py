"""What a joint's readings come to, as it is told at the bench and in the window."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import degrees

from sim.bench.fit import fitted_joint
from sim.bench.fitted import NextReading
from sim.bench.foretold import foretold_joint
from sim.bench.readings import unreached
from sim.progress import Progress
from sim.rig import Rig
from sim.vehicle import Joint
from viewer.words.fitted import NARROW, answer_lines, asked_for, foretold_lines

Span = tuple[float, float]


@dataclass(frozen=True)
class BenchTold:
    """What is known of a joint by its readings.

    Attributes
    ----------
    joint : which one.
    before, now : between which bends (deg) it first touches, before any reading and now; None
        where there is no reading.
    lines : all of it in words.
    next : the reading that would narrow that most, as a table of the rig file without its value;
        empty where a caliper does it, or nothing.
    next_says : the same in words.
    is_forecast : whether it is a forecast, and the yokes that agree are not built yet.
    """

    joint: Joint
    before: Span | None
    now: Span | None
    lines: tuple[str, ...]
    next: tuple[tuple[str, str], ...] = ()
    next_says: str = ""
    is_forecast: bool = False


NOTHING_YET = "No reading yet: the yokes of this joint are as the file has them."


def bench_told(rig: Rig, joint: Joint, tell: Progress) -> BenchTold:
    """Fit the yokes of a joint to its readings and tell what comes of it.

    Raises BindpointError for a rig whose joint cannot be built.
    """
    tell(f"{joint} joint: yokes that agree with the readings", 0.05)
    found = fitted_joint(rig, joint, lambda share: tell(f"{joint} joint: fitting its yokes", share))
    never = tuple(_unreached(rig, joint))
    if found is None:
        return BenchTold(joint, None, None, never or (NOTHING_YET,))
    best = next((each for each in found.next if each.narrows < NARROW), None)
    return BenchTold(
        joint,
        _span(found.before),
        _span(found.lowest),
        (*answer_lines(found), *never),
        () if best is None else tuple(_table(best).items()),
        "" if best is None else asked_for(best, found),
    )


def bench_foretold(rig: Rig, joint: Joint) -> BenchTold:
    """Tell at once what a joint's readings come to by forecast; nothing where none can be made.

    Raises BindpointError for a rig whose joint cannot be built.
    """
    found = foretold_joint(rig, joint)
    if found is None:
        return BenchTold(joint, None, None, ())
    return BenchTold(
        joint,
        _span(found.before),
        _span(found.lowest),
        tuple(foretold_lines(found)),
        is_forecast=True,
    )


def _unreached(rig: Rig, joint: Joint) -> Iterator[str]:
    """A sentence for each reading at a height that the axle, or the shaft, never comes to."""
    for key in unreached(rig, joint):
        number = key.rpartition("[")[2].rstrip("]")
        yield f"Reading {number}: by this rig the axle never comes to that height. It says nothing."


def _table(reading: NextReading) -> dict[str, str]:
    """A reading to take, as the rig file has it but for its value."""
    if reading.way == "caliper":
        return {}
    if reading.way == "lowest":
        return {"ears": "any"}
    turned = reading.turned
    held = {"clamped": turned.clamped.replace("_", " ")}
    if turned.word:
        return held | {"ears": turned.word}
    return held | {"turned": f"{degrees(turned.ears or 0.0):.0f} deg"}


def _span(rad: Span) -> Span:
    low, high = rad
    return degrees(low), degrees(high)
