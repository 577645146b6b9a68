"""How the four caps of a joint sit, from what an inspection measured of them."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot
from typing import Final

from geometry.yoke.base import ROOT_AT
from sim.cocked.joint import CrossAt
from sim.cocked.seat import (
    BAR_PLAY,
    MOST,
    Seat,
    Tip,
    bar_through,
    edge,
    gouge,
    loose_strap,
    play,
    skewed,
    spread,
    stated_tip,
    summed,
)
from sim.remark import Remark
from sim.seen.inspection import Inspection
from sim.seen.parts import Cap as SeenCap
from sim.seen.parts import SeenYoke
from sim.seen.words import YOKES, CapName, YokeName, caps_of
from sim.units import Length

FARTHEST: Final = 0.5
"""Share of the needles' length past which end float is no reading of a cap that is still in
(judgement)."""

_LOOSE: Final = frozenset({"loose", "stretched"})


def seats_of(seen: Inspection, at: CrossAt) -> dict[CapName, Seat]:
    """Every cap's seat; one that nothing was measured of is taken to be straight."""
    return {
        cap: _seat(seen.cap(cap), at, tuple(_of_yoke(seen.yoke(yoke), at, yoke)))
        for yoke in YOKES
        for cap in caps_of(yoke)
    }


def _of_yoke(seen: SeenYoke, at: CrossAt, yoke: YokeName) -> Iterator[Tip]:
    """What tips both caps of a yoke alike.

    Gaps are taken to be read at the far end of its ears and where their root begins.
    """
    between, shape = 2.0 * at.trunnion.arm, at.yokes[yoke]
    if seen.gap_at_tips is not None and seen.gap_at_root is not None:
        apart = shape.ear_reach[1] + ROOT_AT * shape.throat_depth
        yield spread(seen.gap_at_tips.mm, seen.gap_at_root.mm, apart)
    if seen.off is not None:
        yield skewed(seen.off.mm, between)
    elif seen.bar == "does not go through":
        yield skewed(BAR_PLAY, between, at_least=True)
    elif seen.bar == "goes through":
        yield bar_through(between)


def _of_cap(seen: SeenCap, length: float) -> Iterator[Tip]:
    """What tips one cap, in a seat of a length (mm)."""
    if seen.gouge is not None:
        yield gouge(seen.gouge.mm, length)
    if seen.edge is not None:
        yield edge(seen.edge.mm, length)
    if seen.bore is not None and seen.cap_diameter is not None:
        (bore_along, bore_across), (along, across) = map(_both, (seen.bore, seen.cap_diameter))
        yield play(bore_along - along, bore_across - across, length)
    if seen.strap is not None and not _LOOSE.isdisjoint(seen.strap):
        yield loose_strap(length)
    if seen.tilt is not None:
        yield stated_tip(seen.tilt.rad)


def _seat(seen: SeenCap, at: CrossAt, of_yoke: tuple[Tip, ...]) -> Seat:
    length = at.trunnion.seat_length
    tips = (*of_yoke, *_of_cap(seen, length))
    if seen.tilt is not None:  # what somebody measured goes before what it would come to
        tips = (*(Tip(tip.why, play=tip.play) for tip in tips[:-1]), tips[-1])
    tips = _possible(tips)
    loose = max((tip.play[1] for tip in tips if tip.why.code in _ROCKING), default=0.0)
    out = 0.0 if seen.end_float is None else seen.end_float.mm
    if out > FARTHEST * at.needles.length:
        odd = Remark("end-float-not-used", out=out)
        tips, out = (*tips, Tip(odd, play=(MOST, MOST))), 0.0
    words = frozenset(seen.needles or ())
    astray = "one lay at the bottom" in words
    return Seat(
        tips,
        loose,
        out=max(out, at.needles.diameter) if astray else out,
        lost=int(astray or "missing" in words),
    )


def _possible(tips: tuple[Tip, ...]) -> tuple[Tip, ...]:
    """Leave out what no cap can have, each reading by itself and all of them together.

    Of what was left out it is not known how the cap sits, so it might sit any way.
    """
    if not tips:
        return ()
    kept = tuple(tip if _most((tip,)) < 0.5 * MOST else _left_out(tip) for tip in tips)
    return kept if _most(kept) < MOST else tuple(map(_left_out, tips))


def _most(tips: tuple[Tip, ...]) -> float:
    """The most that they tip a cap, rad."""
    return max(hypot(*summed(way)) for way in zip(*((t.drive, t.coast) for t in tips), strict=True))


def _left_out(tip: Tip) -> Tip:
    return Tip(Remark("reading-not-used", of=tip.why), play=(MOST, MOST))


_ROCKING: Final = frozenset({"cap-plays-by", "strap-loose-by"})
"""What lets a cap rock, so that its needles bring it back that far."""


def _both(pair: tuple[Length, ...]) -> tuple[float, float]:
    """Along the shaft and across it, mm; one reading stands for both."""
    return pair[0].mm, pair[-1].mm
