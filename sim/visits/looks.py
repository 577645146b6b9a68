"""What it looks like that some numbers moved and others stayed (common practice, no source)."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Literal

from sim.rig.visits import State
from sim.visits.moved import Moved, Reading

Look = Literal[
    "tilted",
    "springs-settled",
    "springs-raised",
    "stops-lower",
    "hangs-lower",
    "hangs-higher",
    "pinion-turned",
    "mount-sagged",
    "length-alone",
]


@dataclass(frozen=True)
class LooksLike:
    """What some moves look like.

    Attributes
    ----------
    look : which.
    by : how far, mm or rad.
    """

    look: Look
    by: float


def looks_like(state: State, moves: Sequence[Moved]) -> tuple[LooksLike, ...]:
    """Everything that the moves of one state look like."""
    return tuple(_looks(state, {each.reading: each for each in moves}))


def _looks(state: State, moves: Mapping[Reading, Moved]) -> Iterator[LooksLike]:
    by = {reading: each.by for reading, each in moves.items() if each.move == "moved"}
    tilt = _tilt(moves)
    if tilt is not None:
        yield LooksLike("tilted", tilt)
        by = {reading: each for reading, each in by.items() if reading not in _SLOPES}
    height = by.get("frame_to_axle", 0.0)
    if state in ("ride", "loaded"):
        if _settled(moves, by):
            yield LooksLike("springs-settled", -height)
        elif height > 0.0 and by.get("shaft_down", 0.0) >= 0.0:
            yield LooksLike("springs-raised", height)
    elif state == "bump" and height < 0.0:
        yield LooksLike("stops-lower", -height)
    elif state == "droop" and height:
        yield LooksLike("hangs-lower" if height > 0.0 else "hangs-higher", abs(height))
    flatter = "shaft_down" in by and "frame_to_axle" not in moves
    if "pinion_up" in by and not height and not flatter:
        yield LooksLike("pinion-turned", by["pinion_up"])
    if "output_down" in by:
        yield LooksLike("mount-sagged", by["output_down"])
    others = [each for reading, each in moves.items() if reading != "length"]
    if set(by) == {"length"} and all(each.move == "stayed" for each in others) and tilt is None:
        yield LooksLike("length-alone", by["length"])


_SLOPES: tuple[Reading, ...] = ("shaft_down", "pinion_up", "output_down")
"""On a rear axle a nose that is higher makes each of them more; on a front axle each less."""


def _settled(moves: Mapping[Reading, Moved], by: Mapping[Reading, float]) -> bool:
    """Whether the frame came down, by its height, or by a flatter shaft with its slip closed up."""
    flatter, closed = by.get("shaft_down", 0.0) < 0.0, by.get("slip_shows", 0.0) < 0.0
    if "frame_to_axle" in moves:
        return by.get("frame_to_axle", 0.0) < 0.0 and by.get("shaft_down", 0.0) <= 0.0
    return flatter and (closed or by.get("length", 0.0) < 0.0)


def _tilt(moves: Mapping[Reading, Moved]) -> float | None:
    """How much all three slopes moved alike, as on a floor that is not level; None where not."""
    slopes = [moves[reading] for reading in _SLOPES if reading in moves]
    if len(slopes) < len(_SLOPES) or any(each.move != "moved" for each in slopes):
        return None
    middle = sum(each.by for each in slopes) / len(slopes)
    return middle if all(abs(each.by - middle) <= each.off for each in slopes) else None
