"""What the person at the saw cuts: joint centres, weld lands, slip as set, tube."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil, floor
from typing import Literal

from sim.remark import Remark
from sim.rig import Rig
from sim.ticket.pieces import Piece, PieceEnd
from sim.ticket.slip_plan import SIXTEENTH, SlipPlan, Split

SLIP = "slip as set, weld land to weld land"

Kind = Literal["yoke", "head", "tube", "slip", "stub"]

JOINING = 32.0 * SIXTEENTH
"""mm, 2 in: the short tube that joins a weld yoke to the sleeve of the slip (from memory); left out
where it would leave less than the least of main tube."""

LEAST_TUBE = 64.0 * SIXTEENTH
"""mm, 4 in: less tube than this is hardly welded straight (from memory)."""

TOLERANCE = SIXTEENTH
"""mm. What a shaft is built to (common practice, no source)."""


@dataclass(frozen=True)
class Part:
    """One part of a piece along the shaft, in its order; mm."""

    name: str
    length: float
    kind: Kind

    @property
    def is_tube(self) -> bool:
        """Whether it is sawn."""
        return self.kind == "tube"


@dataclass(frozen=True)
class Cut:
    """One piece of the shaft as it is cut.

    Attributes
    ----------
    piece : what it is cut for.
    parts : from its first joint centre to its last, in order; together just its length where a
        slip in the shaft takes up the rounding. Empty where something is not known.
    tube : mm of tube in all before it is rounded to what is cut; None where not known.
    rounded : mm that the cut is longer than that.
    split : the slip after the cut, with its reserves; None in a piece without one.
    slip_set : mm from weld land to weld land of the slip, as set; None without one in the piece.
    """

    piece: Piece
    parts: tuple[Part, ...]
    tube: float | None
    rounded: float
    split: Split | None
    slip_set: float | None

    @property
    def tubes(self) -> tuple[Part, ...]:
        """What is sawn, in order."""
        return tuple(part for part in self.parts if part.is_tube)

    @property
    def cut(self) -> float | None:
        """Mm of tube in all, as cut."""
        return sum(part.length for part in self.tubes) if self.parts else None

    @property
    def off(self) -> tuple[Split, Split] | None:
        """The slip of a shaft built 1/16 in too long, and one built 1/16 in too short."""
        if self.split is None:
            return None
        return self.split.closed_by(TOLERANCE), self.split.closed_by(-TOLERANCE)


@dataclass(frozen=True)
class CutList:
    """Every piece, from the output to the pinion."""

    cuts: tuple[Cut, ...]
    missing: tuple[Remark, ...]
    assumed: tuple[Remark, ...]
    flags: tuple[Remark, ...]


def cut_list(rig: Rig, pieces: tuple[Piece, ...], plan: SlipPlan) -> CutList:
    """Work out what to cut. What is not known leaves its piece without a cut, and is named."""
    *others, last = pieces
    cuts = [*(_cut(piece) for piece in others), _cut(last, plan.built, _slip_set(rig, plan))]
    assumed = []
    if plan.at == "shaft" and rig.shaft.slip.pushed_home is None and plan.built_part is not None:
        assumed.append(
            Remark(
                "pushed-home-assumed",
                "shaft.slip.pushed_home",
                home=plan.built_part.pushed_home,
                slip=plan.built_part.name,
            )
        )
    missing = (found for piece in pieces for found in _lands_missing(piece))
    return CutList(tuple(cuts), tuple(missing), tuple(assumed), tuple(_flags(cuts)))


def rounded_cut(tube: float, split: Split | None) -> float:
    """Cut length (mm) in whole 1/16 in, toward the side that keeps the smaller slip reserve.

    A longer tube closes the slip. Without a slip to its name a piece is rounded to the nearest.
    """
    sixteenths = tube / SIXTEENTH
    if split is None or abs(sixteenths - round(sixteenths)) < 1e-6:
        return round(sixteenths) * SIXTEENTH
    up = split.opens_left < split.closes_left
    return (ceil(sixteenths) if up else floor(sixteenths)) * SIXTEENTH


def _slip_set(rig: Rig, plan: SlipPlan) -> float | None:
    """From weld land to weld land of the slip as it is set, mm; None without one in the shaft."""
    if plan.at != "shaft":
        return None
    home = rig.shaft.slip.pushed_home
    pushed = plan.built_part.pushed_home if plan.built_part is not None else 0.0
    return (pushed if home is None else home.mm) + plan.built.closes


def _cut(piece: Piece, split: Split | None = None, slip: float | None = None) -> Cut:
    """One piece, with its slip as it is set, and mm that this takes of it.

    Of a yoke that slides on the output the joint centres are as far apart as the tube makes them.
    """
    if piece.lands is None:
        return Cut(piece, (), None, 0.0, split, slip)
    tube = piece.length - piece.lands - (slip or 0.0)
    cut = rounded_cut(tube, split)
    if slip is not None and cut <= 0.0:
        return Cut(piece, (), tube, 0.0, split, slip)
    longer = cut - tube
    kept = None if slip is None else slip - longer
    parts = (*_end(piece.first), *_between(piece, cut, kept), *_end(piece.last)[::-1])
    set_so = None if split is None else split.closed_by(longer)
    return Cut(piece, parts, tube, longer, set_so, kept)


def _between(piece: Piece, cut: float, slip: float | None) -> tuple[Part, ...]:
    """Tube and slip of a piece, mm, in their order."""
    if slip is None:
        return (Part("front tube" if piece.last.beyond else "tube", cut, "tube"),)
    joining = JOINING if cut - JOINING >= LEAST_TUBE else 0.0
    name = f"joining tube, between the {piece.first.where} yoke and the slip"
    return (
        *((Part(name, joining, "tube"),) if joining else ()),
        Part(SLIP, slip, "slip"),
        Part("main tube", cut - joining, "tube"),
    )


def _end(end: PieceEnd) -> tuple[Part, ...]:
    """The parts at one end, from its joint centre to the tube: a yoke, a head's too, a stub."""
    land = end.land or 0.0
    if end.beyond:
        return (
            Part("behind the bearing, to the middle joint", end.beyond, "stub"),
            Part("stub, end of the tube to the middle of the bearing", land, "stub"),
        )
    yoke = f"{end.where} {end.yoke}"
    if not end.reach:
        return (Part(f"{yoke}, joint center to weld land", land, "yoke"),)
    head = f"{end.where} head, joint center (its ball) to inner cross"
    return Part(head, end.reach, "head"), Part(f"{yoke}, inner cross to weld land", land, "yoke")


_KEYS = {
    "output": "shaft.output_end.shaft_yoke",
    "pinion": "shaft.pinion_end.shaft_yoke",
    "middle": "carrier.middle.shaft_yoke",
}


def _lands_missing(piece: Piece) -> Iterator[Remark]:
    for end in (piece.first, piece.last):
        if end.land is None and end.beyond:
            yield Remark("stub-for-cut", "carrier.bearing_stub")
        elif end.land is None:
            key = f"{_KEYS[end.joint]}.weld_land"
            yield Remark("land-for-cut", key, yoke=end.yoke, joint=end.joint)


def _flags(cuts: list[Cut]) -> Iterator[Remark]:
    for cut in cuts:
        if cut.tube is not None and cut.tube <= 0.0:
            yield Remark("no-tube", longer=-cut.tube).about(cut.piece.name)
        elif cut.tube is not None and cut.tube < LEAST_TUBE:
            yield Remark("little-tube", tube=cut.tube).about(cut.piece.name)
