"""What nobody gave and what could turn the verdict over, found by trying it.

Each assumed value has others beside its default that may as well be true (`sim.rig.defaults`), and
so has the throat of a generic yoke (`sim.generic_throats`). Each of them is put into the rig as if
it were typed, and the whole rig is assessed again. Kept on disk by all that the rig says.
"""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import asdict, dataclass, replace
from math import isfinite
from pickle import dumps
from typing import Any, Final

from geometry.errors import BindpointError
from sim.assessment import Assessment, Assessor
from sim.check import Check
from sim.derive import vehicle_of
from sim.finders import verdict_of
from sim.findings import ORDER, Verdict
from sim.frames import angle_between
from sim.generic_throats import INCH, may_turn, throats
from sim.kept.answers import WHOLE, cache_folder, code_key, entry_name, read_entry, write_entry
from sim.progress import Progress, silent
from sim.rig import Rig
from sim.rig.change import changed
from sim.rig.content import content_of
from sim.rig.defaults import DEFAULTS
from sim.rig.typed_joints import typed_joints
from sim.table.default import Can

MOST: Final = 5
"""As many as anybody measures before a shaft is built."""

MOST_ENTRIES: Final = 500
"""About 500 kB."""

LEAST_MOVE: Final = 0.25
"""Share of the reserve wanted by which a value has to move what is left, to be told at all."""


@dataclass(frozen=True)
class Turn:
    """One assumed value, what was tried in its place, and what that comes to.

    Attributes
    ----------
    key, assumed : which value, as it would be typed; of a generic yoke, that of the catalogue.
    tried : what was typed for it, by key path.
    verdict : of the whole rig then; `metal` : where that touches, whether it is more than the slip
        that runs out.
    moves : how much more is left then of what has the least, as a share of the reserve wanted.
    """

    key: str
    assumed: Any
    tried: Mapping[str, Any]
    verdict: Verdict
    metal: bool
    moves: float


@dataclass(frozen=True)
class TurningOver:
    """What turns the verdict over, most strongly first; else the one that moves it most.

    Attributes
    ----------
    turns : one for each value that nobody gave and that turns the verdict.
    most : where none does, the one that moves what is left most toward another; None where none
        moves it to speak of.
    """

    turns: tuple[Turn, ...]
    most: Turn | None


def turning_over(result: Check, progress: Progress | None = None) -> TurningOver:
    """Try everything that a rig leaves out otherwise, or read what came of it when it was tried."""
    known = kept_turning(result.rig)
    if known is not None:
        return known
    tell = progress or silent
    found = result.found
    cases = [*_cases(result.rig, result.verdict), *_throats(found)]
    assessor = Assessor()
    assessor.knows(found)
    turns = []
    for number, (key, value, tried, rig) in enumerate(cases):
        tell(f"trying what nobody gave, {number + 1} of {len(cases)}", number / len(cases))
        with suppress(BindpointError):  # what cannot be is not the truth
            if not _aims_alike(found, rig):
                turns.append(_turn(found, (key, value, tried), assessor.assess(rig)))
    told = strongest(result.verdict, turns)
    _keep(result.rig, told)
    return told


Case = tuple[str, Any, Mapping[str, Any], Rig]
"""A key, what was taken for it, what is typed in its place by key path, and the rig that has it."""


def _cases(rig: Rig, verdict: Verdict) -> Iterator[Case]:
    """Every other value that could turn a verdict, with the rig that has it.

    What can only help a shaft that is clear, or hurt one that touches, is left out; and what is
    tried for one key already for another.
    """
    defaults, data = {default.key: default for default in DEFAULTS}, rig.typed()
    seen = []
    for each in rig.assumed:
        for other in defaults[each.key].others:
            tried = _not_read(rig, other.typed(each.key, data))
            if not tried or other.can == _NO_MATTER.get(verdict) or tried in seen:
                continue
            seen.append(tried)
            with suppress(BindpointError):  # the checks of a rig refuse it
                yield each.key, each.value, tried, changed(rig, tried)


def _not_read(rig: Rig, tried: Mapping[str, Any] | None) -> Mapping[str, Any] | None:
    """What is tried, but for parts of a joint that was read on the bench: it is what it is."""
    read = [each.table for each in typed_joints(rig) if each.typed.bench]
    if not tried or not read:
        return tried
    mine = tuple(f"{table}." for table in read)
    kept = {key: value for key, value in tried.items() if not key.startswith((*mine, "shaft.tube"))}
    return kept or None


def _throats(found: Assessment) -> Iterator[Case]:
    """Other throats of the generic yokes of the joint with the least left, one at a time."""
    for throat in throats(found):
        for tried in throat.tried if may_turn(found, throat) else ():
            with suppress(BindpointError):  # the shape refuses it
                yield throat.key, f"{throat.depth / INCH:.2f} in", tried, changed(found.rig, tried)


_NO_MATTER: Final[Mapping[Verdict, Can]] = {"clear": "help", "touches": "hurt"}


def _aims_alike(before: Assessment, rig: Rig) -> bool:
    """Whether a rig differs in where output or pinion point alone, and by too little to tell.

    A joint then bends more or less by no more than its axis was turned, in any pose [derivation:
    the sides of a triangle of directions], and nothing else moves. Not asked of heads, of a shaft
    in two pieces, of a yoke that slides along the output and of what is near the shaft.
    """
    was, now = vehicle_of(before.rig), vehicle_of(rig)
    if was.slip.at != "shaft" or was.heads or was.section is not None or rig.surroundings:
        return False
    turned = {
        "output": float(angle_between(was.axis_C_output, now.axis_C_output)),
        "pinion": float(angle_between(was.axis_A_pinion, now.axis_A_pinion)),
    }
    same = replace(now, axis_C_output=was.axis_C_output, axis_A_pinion=was.axis_A_pinion)
    if not any(turned.values()) or dumps(same) != dumps(was):
        return False
    rooms = ((found.room, found.most, turned[joint]) for joint, found in before.joints.items())
    return all(
        room.verdict(most + by) == room.verdict(max(0.0, most - by)) for room, most, by in rooms
    )


def _turn(before: Assessment, typed: tuple[str, Any, Mapping[str, Any]], found: Assessment) -> Turn:
    if _runs_alike(before, found):
        vars(found)["near"] = before.near
    verdict, metal = verdict_of(found)
    return Turn(*typed, verdict, metal, found.least - before.least)


def _runs_alike(before: Assessment, found: Assessment) -> bool:
    """Whether the same shaft runs in the same poses, so that it comes as near to what is there."""
    return (
        found.swept.joints is before.swept.joints
        and found.vehicle.slip == before.vehicle.slip
        and found.rig.shaft.tube == before.rig.shaft.tube
        and all(found.joints[name].room is each.room for name, each in before.joints.items())
    )


def strongest(verdict: Verdict, turns: Sequence[Turn]) -> TurningOver:
    """Of each value the milder of those that turn the verdict furthest; the furthest first."""

    def far(turn: Turn) -> int:
        return abs(ORDER.index(turn.verdict) - ORDER.index(verdict))

    best: dict[str, Turn] = {}
    for turn in turns:
        if far(turn) > (far(best[turn.key]) if turn.key in best else 0):
            best[turn.key] = turn
    if best:
        ordered = sorted(best.values(), key=lambda turn: (-far(turn), -abs(turn.moves)))
        return TurningOver(tuple(ordered[:MOST]), None)
    way = {"clear": -1.0, "touches": 1.0}.get(verdict, 0.0)
    moving = [turn for turn in turns if isfinite(turn.moves) and turn.moves * way > LEAST_MOVE]
    return TurningOver((), max(moving, key=lambda turn: abs(turn.moves), default=None))


def kept_turning(rig: Rig) -> TurningOver | None:
    """What came of it when it was tried; None where it was not."""
    with suppress(OSError, ValueError, KeyError, TypeError):
        data = read_entry(cache_folder() / "turning" / _name(rig))
        most = data["most"]
        return TurningOver(
            tuple(Turn(**turn) for turn in data["turns"]), None if most is None else Turn(**most)
        )
    return None


def _keep(rig: Rig, told: TurningOver) -> None:
    """A cache that cannot be written costs time, never the answer."""
    with suppress(OSError):
        place = cache_folder() / "turning" / _name(rig)
        write_entry(place, json.loads(json.dumps(asdict(told))), MOST_ENTRIES)


def _name(rig: Rig) -> str:
    return entry_name(WHOLE, turning=content_of(rig))


code_key(WHOLE)  # of the sources as they were read to run
