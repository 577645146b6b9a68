"""A library of a joint's touch over all that its yokes may be, kept on disk as it grows.

The shapes are a quasi-random design of what may be off, a Sobol sequence, after the middle and a
step along each dimension. Of each is kept where each pair of surfaces meets at each turn, which is
seen and not proved. A library that was left half made goes on where it stopped.
"""

from __future__ import annotations

from collections.abc import Callable
from contextlib import nullcontext, suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

import numpy as np
from scipy.special import ndtri

from geometry.contact.joint_parts import ClosingJoint
from geometry.contact.surface_touch import Surfaces, lines_of, surface_touches
from geometry.errors import BindpointError
from geometry.tolerances import TOL
from sim.bench.both_cores import AllCores, done_by_all
from sim.bench.even import sobol
from sim.bench.free import Doubt
from sim.frames import FloatArray
from sim.kept.answers import TOUCH, cache_folder, entry_name, read_entry, write_entry
from sim.kept.by_one import by_one

SHAPES = 32
"""Shapes of the design; a power of two, which the sequence wants."""

MOST_ENTRIES = 60
"""About 40 MB."""

SAVED = 16
"""Shapes after which a library is put on disk."""

SEED = 20
"""Of the scrambling of the design; any other does as well."""

HALVES = 8
"""Times a shape that cannot be closed round its cross is pulled half way back to the middle."""


class NotKeptError(BindpointError, LookupError):
    """A library that is not on disk as a whole."""


@dataclass(frozen=True)
class Known:
    """One shape of a library.

    Attributes
    ----------
    z : (d,) the draw it stands for, of every dimension in doubt.
    pulled : whether another one was asked, which makes no sound yoke.
    first : (m,) rad, touch at every line; nan where none is seen.
    by : of each pair of surfaces its touch (m,), rad; nan where it is not near.
    """

    z: FloatArray
    pulled: bool
    first: FloatArray
    by: dict[Surfaces, FloatArray]

    @property
    def lowest(self) -> float:
        """The lowest touch at the lines, rad; the most a joint is bent where there is none."""
        return float(np.nanmin(np.append(self.first, TOL.bend_limit)))


@dataclass(frozen=True)
class Library:
    """Shapes of a joint.

    Attributes
    ----------
    doubt : its yokes with all that may be off.
    lines : (m,) rad, turns that speak for a whole turn.
    steps : the middle, then steps along each dimension.
    design : shapes over all that the yokes may be, every dimension off together.
    """

    doubt: Doubt
    lines: FloatArray
    steps: tuple[Known, ...]
    design: tuple[Known, ...]

    @property
    def pulled(self) -> float:
        """Share of the design that makes no sound yoke as drawn and was pulled to one that does."""
        return sum(each.pulled for each in self.design) / max(len(self.design), 1)


@dataclass(frozen=True)
class _Ask:
    """Makes the shape of a draw, in whatever process."""

    doubt: Doubt
    lines: FloatArray
    also: tuple[Surfaces, ...] = ()

    def __call__(self, z: FloatArray) -> dict[str, Any]:
        at = np.array(z)
        for _ in range(HALVES):
            pair, drawn = self.doubt.pair_at(at)
            try:
                known = self._known(pair.closing())
            except BindpointError:
                at = 0.5 * drawn
                continue
            pulled = not np.array_equal(drawn, z)
            return {"z": drawn.tolist(), "pulled": pulled, **known}
        middle = self._known(self.doubt.pair.closing())
        return {"z": [0.0] * len(at), "pulled": True, **middle}

    def _known(self, joint: ClosingJoint) -> dict[str, Any]:
        touches = surface_touches(joint, self.lines.tolist(), self.also)
        by = [[*surfaces, _short(touch)] for surfaces, touch in touches.by.items()]
        return {"first": _short(touches.first), "by": by}


def _short(touch: FloatArray) -> list[float | None]:
    return [None if np.isnan(each) else round(each, 7) for each in touch.tolist()]


def library(
    doubt: Doubt,
    progress: Callable[[float], None] | None = None,
    shapes: int = SHAPES,
    together: AllCores | None = None,
    make: bool = True,
) -> Library:
    """Give the library of a joint, as kept or made, on all cores.

    progress : told the share that is done, 0 to 1.
    shapes : of the design; a power of two.
    together : who works at it; all cores there are where left out.
    make : False asks for nothing that is not kept.

    Raises BindpointError where the middle itself makes no sound joint, `NotKeptError` for what is
    not there and not to be made.
    """
    lines = lines_of(doubt.pair.closing().turn)
    count = len(doubt.free)
    total = 1 + count + shapes

    def tell(done: int) -> None:
        if progress is not None:
            progress(min(1.0, done / total))

    with nullcontext(together) if together else AllCores() as working:
        maker = _Maker(_Ask(doubt, lines), working, make)
        steps = maker.made(list(np.vstack([np.zeros(count), np.eye(count)])), tell)
        maker = replace(maker, ask=replace(maker.ask, also=_met(steps)))
        design = maker.made(_design(count, shapes), lambda done: tell(1 + count + done))
    return Library(doubt, lines, steps, design)


def seen(
    known: Library, draws: list[FloatArray], tell: Callable[[int], None], cores: int | None = None
) -> tuple[Known, ...]:
    """Shapes beside a library, of draws (d,) of all dimensions; built at once and not kept.

    tell : told how many are built. cores : processes; as many as there are where left out.
    """
    ask = _Ask(known.doubt, known.lines, _met(known.steps))
    found: dict[int, Known] = {}
    for at, each in done_by_all(ask, draws, cores):
        found[at] = _read(each)
        tell(len(found))
    return tuple(found[at] for at in range(len(draws)))


def _met(shapes: tuple[Known, ...]) -> tuple[Surfaces, ...]:
    """Surfaces that meet in any of some shapes."""
    return tuple(sorted({surfaces for each in shapes for surfaces in each.by}))


def _design(count: int, shapes: int) -> list[FloatArray]:
    return list(ndtri(sobol(count, shapes, SEED)))


@dataclass(frozen=True)
class _Maker:
    """Gives shapes, as kept or made.

    make : whether what is not kept is made.
    """

    ask: _Ask
    together: AllCores
    make: bool

    def made(self, asked: list[FloatArray], tell: Callable[[int], None]) -> tuple[Known, ...]:
        """Shapes of draws; tell : told how many there are."""
        told = [each.round(9).tolist() for each in asked]
        key = self.ask.doubt.key
        name = entry_name((*TOUCH, "sim.bench"), doubt=key, also=self.ask.also, asked=told)
        place = cache_folder() / "shapes" / name
        found = _kept(place)
        if len(found) < len(asked):
            if not self.make:
                raise NotKeptError(f"{len(asked) - len(found)} shapes are not kept")
            with by_one(place):
                found = self._gone_on(place, asked, tell)
        tell(len(found))
        return tuple(_read(found[i]) for i in range(len(asked)))

    def _gone_on(
        self, place: Path, asked: list[FloatArray], tell: Callable[[int], None]
    ) -> dict[int, Any]:
        """All shapes of draws by their number; those that an entry lacks are made and put there."""
        found = _kept(place)
        missing = [i for i in range(len(asked)) if i not in found]
        tell(len(found))
        for at, each in self.together.done(self.ask, [asked[i] for i in missing]):
            found[missing[at]] = each
            tell(len(found))
            if len(found) % SAVED == 0 or len(found) == len(asked):
                with suppress(OSError):
                    write_entry(place, found, MOST_ENTRIES)
        return found


def _kept(place: Path) -> dict[int, Any]:
    """Shapes of an entry by their number."""
    kept = read_entry(place)
    return {int(number): each for number, each in kept.items()} if isinstance(kept, dict) else {}


def _read(data: dict[str, Any]) -> Known:
    by = {(one, other): _long(touch) for one, other, touch in data["by"]}
    return Known(np.array(data["z"]), bool(data["pulled"]), _long(data["first"]), by)


def _long(touch: list[float | None]) -> FloatArray:
    return np.array([np.nan if each is None else each for each in touch])
