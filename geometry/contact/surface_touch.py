"""First touch of a joint by each pair of surfaces, whichever of them touches first.

What stops a joint changes from turn to turn and with its dimensions, and there its touch has a
kink; that of one surface by another goes on smoothly past it. The touch of the joint is the least
of all of them.

Contact is seen here and not proved: `geometry.contact.touch` certifies.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import inf, nan, pi, radians

import numpy as np
from numpy.typing import NDArray

from geometry.contact.distance import MeshPair
from geometry.contact.first_touch import Bracket, first_touches, seen_first
from geometry.contact.joint_parts import ClosingJoint, Turn
from geometry.contact.pair import ClosingPair, SwingingPair
from geometry.mesh import Mesh
from geometry.tolerances import TOL

Array = NDArray[np.float64]

Surfaces = tuple[str, str]
"""Names of a surface of the driving yoke and of one of the driven."""

SPACING = radians(2.5)
"""rad between the spins asked; all of a turn in no more than `MOST` of them."""

MOST = 73

PAST = radians(8.0)
"""How far past the first touch that of other surfaces is sought."""

STEP = radians(0.7)
"""Step in which it is sought where nothing is known yet."""

NEAR = radians(0.15)
"""First step from where the two spins before let it be expected."""

LOOK, EVERY = radians(4.0), 3
"""How far past the first touch, and at each how many-th spin, all surfaces that cut are noted to be
asked."""

FINE = radians(0.003)
"""How exactly it is found; the first touch is found as exactly as on a touch curve."""


@dataclass(frozen=True)
class SurfaceTouches:
    """First touch by each pair of surfaces.

    Attributes
    ----------
    first : (n,) rad, touch of the joint at each line; nan where none is seen.
    by : of each pair of surfaces its touch (n,), rad; nan where it is more than `PAST` past the
        first. A cross counts as one surface, and so does a yoke to it.
    """

    first: Array
    by: Mapping[Surfaces, Array]


def lines_of(turn: Turn) -> Array:
    """Spins (n,) rad that speak for a whole turn of two yokes."""
    count = min(MOST, round(turn.end / SPACING) + 1)
    return np.linspace(0.0, turn.end, count)


def seen_touch(pair: ClosingPair, lines: Sequence[float]) -> Array:
    """Bend (n,) rad at which two yokes are seen to touch first on each of some lines, by size.

    nan where nothing is seen.
    """
    found = np.array([each.touch for each in seen_first(pair, lines)])
    return np.where(np.isfinite(found), found, nan)


def surface_touches(
    joint: ClosingJoint, lines: Sequence[float], also: Iterable[Surfaces] = ()
) -> SurfaceTouches:
    """First touch by each pair of surfaces of a joint on each of some lines, by size.

    also : pairs of surfaces asked as well; else those that are found to meet before long.
    """
    pair = joint.yokes
    seen = seen_first(pair, lines)
    met = [_met(pair, line, each) for line, each in zip(lines, seen, strict=True)]
    known = set(pair.a.label_names), set(pair.b.label_names)
    asked = {each for each in also if each[0] in known[0] and each[1] in known[1]}
    asked |= {surfaces for surfaces in met if surfaces is not None}
    for line, each in list(zip(lines, seen, strict=True))[::EVERY]:
        if each.touch < inf:
            asked |= _cutting(pair, each.touch + LOOK, line)
    alone: tuple[dict[str, Mesh], dict[str, Mesh]] = {}, {}
    by = {}
    for surfaces in sorted(asked):
        a, b = (
            cut.setdefault(name, _only(mesh, name))
            for cut, mesh, name in zip(alone, (pair.a, pair.b), surfaces, strict=True)
        )
        if len(a.faces) and len(b.faces):
            first = [each == surfaces for each in met]
            by[surfaces] = _along(pair, MeshPair(a, b), lines, seen, first)
    found = np.array([each.touch for each in seen])
    least = np.where(np.isfinite(found), found, nan)
    for swing in joint.swings:
        swung = cross_touch(swing, joint.turn, lines)
        if np.isfinite(swung).any():
            by[swing.bodies] = swung
            least = np.fmin(least, swung)
    return SurfaceTouches(least, by)


def cross_touch(pair: SwingingPair, turn: Turn, lines: Sequence[float]) -> Array:
    """Bend (n,) rad at which the cross touches a yoke on each of some lines; nan where it does not.

    It swings in the bores of that yoke either way, so that this is told by one angle each. Of all
    turns that a line speaks for by the symmetries of the yokes, which a cross may not have, that
    counts at which it touches first.
    """
    at = np.array(lines)
    ways = [at, -at] if turn.mirror else [at]
    images = [way + half for way in ways for half in ((0.0, pi) if turn.half_turn else (0.0,))]
    found = np.full(len(lines), nan)
    for way, swung in zip((-1.0, 1.0), first_touches(pair, (-1.0, 1.0)), strict=True):
        if swung is not None:
            for image in images:
                bends = np.array([pair.swing.bend(way * swung.touch, spin) for spin in image])
                found = np.fmin(found, np.where(bends <= TOL.bend_limit, bends, nan))
    return found


def _along(
    pair: ClosingPair,
    meshes: MeshPair,
    lines: Sequence[float],
    seen: Sequence[Bracket],
    known: Sequence[bool],
) -> Array:
    """Touch (n,) of two surfaces on all lines, started from that on the line before.

    known : where it is what touches first.
    """
    found = np.full(len(lines), nan)
    before = earlier = nan
    for i, (line, first) in enumerate(zip(lines, seen, strict=True)):
        if known[i]:
            found[i] = first.touch
        elif first.touch < inf:
            guess = before if np.isnan(earlier) else 2.0 * before - earlier
            found[i] = _after(pair, meshes, line, first.touch, guess)
        before, earlier = found[i], before
    return found


def _after(pair: ClosingPair, meshes: MeshPair, line: float, first: float, guess: float) -> float:
    """Bend (rad) past the first touch at which two surfaces cut; nan where there is none."""

    def cut(bend: float) -> bool:
        return meshes.cut(pair.at(bend, line))

    low, high, top, width = first, inf, first + PAST, STEP
    if first < guess < top:
        width = NEAR
        if cut(guess):
            high = guess
            while high - width > first and cut(high - width):
                high, width = high - width, 2.0 * width
            low = max(first, high - width)
        else:
            low = guess
    while high == inf and low < top:
        ahead = min(low + width, top)
        low, high = (low, ahead) if cut(ahead) else (ahead, high)
        width = min(2.0 * width, STEP)
    while high < inf and high - low > FINE:
        middle = 0.5 * (low + high)
        low, high = (low, middle) if cut(middle) else (middle, high)
    return high if high < inf else nan


def _met(pair: ClosingPair, line: float, seen: Bracket) -> Surfaces | None:
    """The surfaces that touch first on a line; None where none do."""
    if not seen.touch < inf:
        return None
    cut = pair.meshes.cut_triangles(pair.at(seen.touch, line))
    return None if cut is None else (pair.a.label_of(cut[0]), pair.b.label_of(cut[1]))


def _cutting(pair: ClosingPair, bend: float, line: float) -> set[Surfaces]:
    """All pairs of surfaces that cut each other at a pose."""
    cuts = pair.meshes.all_cuts(pair.at(bend, line))
    return {(pair.a.label_of(a), pair.b.label_of(b)) for a, b in cuts}


def _only(mesh: Mesh, surface: str) -> Mesh:
    kept = mesh.on(surface)
    return Mesh(mesh.vertices, mesh.faces[kept], mesh.labels[kept], mesh.label_names, mesh.chord)
