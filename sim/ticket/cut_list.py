"""What the person at the saw cuts: joint centres, weld lands, slip as set, tube."""

from __future__ import annotations

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
    def said_length(self) -> float:
        """Joint centre to joint centre to the nearest 1/16 in, mm."""
        return round(self.piece.length / SIXTEENTH) * SIXTEENTH

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
    missing: list[Remark] = []
    cuts = []
    for piece in pieces:
        has_slip = piece is pieces[-1]
        missing += _lands_missing(piece)
        if piece.name == "front section":
            cuts.append(_front(rig, piece, missing))
        else:
            cuts.append(_with_slip(rig, piece, plan) if has_slip else _plain(piece))
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


def _with_slip(rig: Rig, piece: Piece, plan: SlipPlan) -> Cut:
    in_shaft = plan.at == "shaft"
    lands = piece.lands
    home = rig.shaft.slip.pushed_home
    slip = 0.0
    if in_shaft:
        pushed = plan.built_part.pushed_home if plan.built_part is not None else 0.0
        slip = (pushed if home is None else home.mm) + plan.built.closes
    if lands is None:
        return Cut(piece, (), None, 0.0, plan.built, slip if in_shaft else None)
    tube = piece.length - lands - slip
    cut = rounded_cut(tube, plan.built)
    longer = cut - tube
    split = plan.built.closed_by(longer)
    first, last = _end(piece.first), _end(piece.last)[::-1]
    if not in_shaft:
        # The joint centres are then as far apart as the tube makes them; the yoke slides.
        parts = (*first, Part("tube", cut, "tube"), *last)
        return Cut(piece, parts, tube, longer, split, None)
    if cut <= 0.0:
        return Cut(piece, (), tube, 0.0, plan.built, slip)
    joining = JOINING if cut - JOINING >= LEAST_TUBE else 0.0
    name = f"joining tube, between the {piece.first.where} yoke and the slip"
    whole = (
        *first,
        *((Part(name, joining, "tube"),) if joining else ()),
        Part(SLIP, slip - longer, "slip"),
        Part("main tube", cut - joining, "tube"),
        *last,
    )
    return Cut(piece, whole, tube, longer, split, slip - longer)


def _plain(piece: Piece) -> Cut:
    if piece.lands is None:
        return Cut(piece, (), None, 0.0, None, None)
    tube = piece.length - piece.lands
    cut = rounded_cut(tube, None)
    parts = (*_end(piece.first), Part("tube", cut, "tube"), *_end(piece.last)[::-1])
    return Cut(piece, parts, tube, cut - tube, None, None)


def _front(rig: Rig, piece: Piece, missing: list[Remark]) -> Cut:
    """The front section: its tube ends at the stub of the bearing."""
    carrier, land = rig.carrier, piece.first.to_tube
    stub = None if carrier is None else carrier.bearing_stub
    if stub is None:
        missing.append(Remark("stub-for-cut", "carrier.bearing_stub"))
    if carrier is None or stub is None or land is None:
        return Cut(piece, (), None, 0.0, None, None)
    beyond = carrier.middle_joint_beyond.mm
    tube = piece.length - beyond - stub.mm - land
    cut = rounded_cut(tube, None)
    parts = (
        *_end(piece.first),
        Part("front tube", cut, "tube"),
        Part("stub, end of the tube to the middle of the bearing", stub.mm, "stub"),
        Part("behind the bearing, to the middle joint", beyond, "stub"),
    )
    return Cut(piece, parts, tube, cut - tube, None, None)


def _end(end: PieceEnd) -> tuple[Part, ...]:
    """The parts at one end, from its joint centre to the tube: a yoke alone, or a head's too."""
    land = end.land or 0.0
    yoke = f"{end.where} {end.yoke}"
    if not end.reach:
        return (Part(f"{yoke}, joint centre to weld land", land, "yoke"),)
    head = f"{end.where} head, joint centre (its ball) to inner cross"
    return Part(head, end.reach, "head"), Part(f"{yoke}, inner cross to weld land", land, "yoke")


_KEYS = {
    "output": "shaft.output_end.shaft_yoke",
    "pinion": "shaft.pinion_end.shaft_yoke",
    "middle": "carrier.middle.shaft_yoke",
}


def _lands_missing(piece: Piece) -> list[Remark]:
    ends = [piece.first] if piece.name == "front section" else [piece.first, piece.last]
    return [
        Remark("land-for-cut", f"{_KEYS[end.joint]}.weld_land", yoke=end.yoke, joint=end.joint)
        for end in ends
        if end.land is None
    ]


def _flags(cuts: list[Cut]) -> list[Remark]:
    found = []
    for cut in cuts:
        if cut.tube is None:
            continue
        if cut.tube <= 0.0:
            found.append(Remark("no-tube", longer=-cut.tube).about(cut.piece.name))
        elif cut.tube < LEAST_TUBE:
            found.append(Remark("little-tube", tube=cut.tube).about(cut.piece.name))
    return found
