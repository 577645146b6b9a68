"""What the picture of each word of an inspection shows: a view, and what is painted on it."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from types import MappingProxyType

from viewer.seen import pictures_joint as joint
from viewer.seen import pictures_shaft as shaft
from viewer.seen import pictures_yoke as yoke
from viewer.seen.pictures_marks import (
    BLUE,
    BRIGHT,
    BROAD,
    DARK,
    MUD,
    PLAIN,
    RED,
    RUST,
    THIN,
    Box,
    Marks,
    arrow,
    burst,
    circling,
    coil,
    crack,
    dish,
    drop,
    ellipse,
    lines,
    lip,
    moon,
    patch,
    path,
    ripples,
    slanted,
    smooth,
    spots,
    struck,
)
from viewer.seen.pictures_places import View


@dataclass(frozen=True, eq=False)
class Drawing:
    """A picture: what is seen, and what is painted on it, the first thing undermost."""

    view: Callable[[], View]
    marks: Marks = ()


Row = Mapping[str, Drawing]


def _of(view: Callable[..., View], *marks: Marks, **how: object) -> Drawing:
    return Drawing(partial(view, **how), tuple(mark for some in marks for mark in some))


_BLUED = (
    *patch("side", (0.04, 0.0, 0.8, 1.0), BLUE),
    *slanted("side", 5, (0.04, 0.0, 0.8, 1.0), colour=BRIGHT),
)
_AGAIN = circling((0.15, 0.78), 0.13)


def _worn(place: str, box: Box, count: int = 5) -> Marks:
    """Metal worn away: bright, hatched."""
    return (*patch(place, box, BRIGHT), *slanted(place, count, box))


_CAP: Row = {
    "dry": _of(joint.mouth, drop((0.86, 0.68), 0.16, none=True)),
    "rust dust": _of(
        joint.capped, spots("seal", 34, 0.5, RUST, (-0.6, 0.0, 2.6, 1.0), squeeze=0.12)
    ),
    "burned blue": _of(joint.capped, _BLUED),
    "muddy": _of(joint.capped, spots("side", 15, 0.42, MUD, (-0.3, 0.0, 0.95, 1.0), squeeze=0.6)),
    "seal torn": _of(
        joint.capped,
        lip("seal", ((0.1, 0.74), (0.1, 0.4)), 1.1, 4),
        crack("seal", [(0.2, 0.74), (0.2, 0.4)], 0.1, BROAD),
    ),
    "will not purge": _of(
        joint.four,
        *(drop(at, 0.12) for at in ((0.17, 0.78), (0.17, 0.22), (0.83, 0.22))),
        drop((0.83, 0.78), 0.12, none=True),
    ),
    "spun": _of(joint.capped, lines("side", 9, (0.05, 0.0, 0.95, 1.0), "v", THIN), _AGAIN),
    "walked out": _of(joint.section, arrow((0.66, 0.5), (0.95, 0.5)), out=8.0, clip=None),
    "cracked": _of(joint.capped, crack("side", [(-0.02, 0.5), (0.4, 0.62), (0.98, 0.42)])),
    "sits crooked": _of(
        joint.section,
        path("cut", [(0.05, 0.5), (0.95, 0.5)], THIN, dashed=True),
        path("cut", [(0.25, 0.34), (0.95, 0.583)], PLAIN, RED, halo=1.5),
        tilt=0.15,
        clip=None,
    ),
    "wrong clip": _of(
        joint.section,
        patch("cut", (0.592, 0.22, 0.668, 0.78), BRIGHT),
        arrow((0.93, 0.5), (0.69, 0.5)),
        out=-2.0,
        clip=3.2,
    ),
    "clip out": _of(joint.section, arrow((0.7, 0.5), (0.82, 0.5)), clip=14.0),
}

_TRUNNION: Row = {
    "lines on the load side": _of(
        joint.trunnion, lines("flank", 6, (0.08, 0, 0.95, 1)), arrow((0.5, 0.99), (0.5, 0.79))
    ),
    "lines front and rear": _of(
        joint.trunnion, lines("front", 6, (0.08, 0, 0.95, 1)), arrow((0.34, 0.02), (0.45, 0.22))
    ),
    "lines all round": _of(joint.trunnion, lines("side", 13, (0.08, 0, 0.95, 1))),
    "worn at the corners": _of(
        joint.trunnion, _worn("flank", (0.62, 0.0, 1.0, 1.1)), _worn("front", (0.0, 0.0, 0.38, 1.0))
    ),
    "worn on one side": _of(joint.trunnion, _worn("flank", (0.03, -0.1, 0.98, 1.1), 8)),
    "flakes": _of(
        joint.trunnion, spots("side", 9, 0.26, DARK, (0.12, 0.25, 0.95, 0.95), squeeze=0.8)
    ),
    "burned blue": _of(joint.trunnion, _BLUED),
    "end galled": _of(
        joint.trunnion,
        *(
            ellipse("end", (0.5, 0.5), (r, r), width=PLAIN, arc=arc)
            for r, arc in (
                (0.12, (0.0, 0.8)),
                (0.22, (0.3, 1.2)),
                (0.32, (0.1, 0.7)),
                (0.4, (0.6, 1.3)),
            )
        ),
        spots("end", 5, 0.16, DARK, (0.25, 0.25, 0.75, 0.75)),
        end=True,
    ),
    "broken off": _of(
        joint.trunnion, spots("stump", 22, 0.11, DARK, (0.15, 0.1, 0.85, 0.9)), gone=True
    ),
}

_NEEDLES: Row = {
    "worn": _of(joint.mouth, size=0.62),
    "broken": _of(joint.mouth, short=(11, 12, 14, 15)),
    "missing": _of(joint.mouth, missing=(11, 12, 13, 14)),
    "one lay at the bottom": _of(
        joint.section,
        patch("cut", (0.598, 0.3, 0.636, 0.7), BRIGHT, PLAIN),
        arrow((0.95, 0.68), (0.7, 0.58)),
        out=3.0,
        clip=None,
    ),
    "rusty": _of(joint.mouth, spots("mouth", 44, 0.12, RUST, (0.05, 0.05, 0.95, 0.95), within=0.4)),
}

_SEAT: Row = {
    "gouged": _of(
        yoke.seat,
        dish("seat", (0.6, 0.5), (0.34, 0.15)),
        lines("seat", 1, (0.1, 0.28, 0.3, 0.72), "v", BROAD),
    ),
    "burr": _of(yoke.seat, lip("seat", ((1.0, 0.75), (1.0, 0.25)), 0.22)),
    "mushroomed edge": _of(yoke.seat, patch("seat", (0.86, 0.0, 1.08, 1.0), BRIGHT, BROAD)),
    "egg-shaped": _of(
        yoke.ear,
        ellipse("face", (0.5, 0.55), (0.36, 0.42), BRIGHT, BROAD),
        ellipse("face", (0.5, 0.5), (0.335, 0.335), width=PLAIN, dashed=True),
    ),
    "worn bright": _of(
        yoke.seat,
        patch("seat", (0.1, 0.12, 0.95, 0.88), BRIGHT),
        lines("seat", 5, (0.1, 0.12, 0.95, 0.88), "v", THIN),
    ),
    "rusty": _of(yoke.seat, spots("seat", 26, 0.16, RUST, squeeze=0.5)),
}

_EAR: Row = {
    "spread": _of(
        yoke.profile,
        path("plane", [(0.24, 0.4), (0.24, 0.84)], dashed=True),
        path("plane", [(0.76, 0.4), (0.76, 0.84)], dashed=True),
        arrow((0.42, 0.7), (0.27, 0.7)),
        arrow((0.58, 0.7), (0.73, 0.7)),
        spread=0.28,
    ),
    "bent": _of(
        yoke.profile,
        path("plane", [(0.76, 0.4), (0.76, 0.84)], dashed=True),
        arrow((0.58, 0.7), (0.76, 0.7)),
        bent=0.4,
    ),
    "cracked": _of(
        yoke.ear,
        crack("face", [(0.42, 0.81), (0.38, 1.02)], 0.1, bends=6),
        crack("face", [(0.81, 0.42), (1.0, 0.2)], 0.1, bends=6),
    ),
    "torn": _of(
        yoke.ear,
        crack("face", [(0.64, 0.8), (0.64, 1.02)], 0.12, bends=6),
        crack("face", [(0.36, 0.8), (0.36, 1.02)], 0.12, bends=6),
        torn=True,
    ),
    "hammer marks": _of(
        yoke.ear,
        *(dish("face", at, (0.1, 0.1)) for at in ((0.06, 0.6), (0.2, 0.86), (0.9, 0.25))),
    ),
}

_STRAP: Row = {
    "loose": _of(yoke.strap, arrow((0.5, 0.99), (0.5, 0.6), both=True), lift=9.0),
    "stretched": _of(yoke.strap, arrow((0.28, 0.86), (0.72, 0.86), both=True), long=7.0),
    "bent": _of(yoke.strap, arrow((0.16, 0.97), (0.34, 0.84)), wave=9.0),
    "bolt sheared": _of(yoke.strap, struck((0.76, 0.66), 0.15), bolt=False),
    "tab broken": _of(yoke.strap, struck((0.67, 0.4), 0.12), tab=False),
    "used again": _of(
        yoke.strap,
        _worn("strap", (0.0, 0.1, 1.0, 0.3), 3),
        _worn("strap", (0.0, 0.7, 1.0, 0.9), 3),
        _AGAIN,
    ),
}

_TIPS: Row = {
    "half-moon": _of(yoke.tip, moon("tip", (0.5, 0.32), (0.45, 0.36))),
    "dent": _of(yoke.tip, dish("tip", (0.5, 0.5), (0.32, 0.15))),
    "burr": _of(yoke.tip, lip("tip", ((0.0, 0.2), (0.0, 0.85)), 0.3)),
    "ground": _of(yoke.tip, _worn("tip", (0.0, 0.15, 1.0, 0.85), 8)),
}

_THROAT: Row = {
    "half-moon": _of(yoke.throat, moon("floor", (0.5, 0.5), (0.3, 0.3))),
    "dent": _of(yoke.throat, dish("floor", (0.5, 0.55), (0.26, 0.17))),
    "burr": _of(yoke.throat, lip("floor", ((0.15, 0.45), (0.85, 0.45)), 0.28)),
    "rubbed": _of(
        yoke.throat,
        patch("floor", (0.12, 0.35, 0.88, 0.75), BRIGHT),
        lines("floor", 5, (0.12, 0.35, 0.88, 0.75)),
    ),
}

_CROSS: Row = {
    "broken at the root": _of(joint.whole, split="root"),
    "broken through the middle": _of(joint.whole, split="middle"),
    "cracked": _of(
        joint.whole, crack("front", [(0.69, 0.72), (0.7, 0.5), (0.67, 0.32)], width=BROAD)
    ),
    "grease hole cracked": _of(
        joint.whole,
        crack("front", [(0.5, 0.52), (0.6, 0.62), (0.72, 0.68)], width=BROAD),
        ellipse("front", (0.5, 0.5), (0.05, 0.067), DARK),
        fitting=False,
    ),
    "fitting snapped off": _of(
        joint.whole,
        ellipse("front", (0.63, 0.335), (0.04, 0.055), BRIGHT),
        struck((0.77, 0.18), 0.13),
        fitting=False,
    ),
    "bent": _of(joint.whole, path("front", [(0.55, 0.5), (1.0, 0.5)], dashed=True), bent=0.35),
}

_SPLINE: Row = {
    "dry": _of(shaft.slip, drop((0.86, 0.7), 0.16, none=True)),
    "rusty": _of(shaft.slip, spots("teeth", 34, 0.09, RUST, (0.08, 0.0, 1.0, 1.0), squeeze=1.2)),
    "galled": _of(
        shaft.slip,
        *(
            crack("teeth", [(1.0, v), (0.7, v + 0.02), (0.35, v)], 0.02, BROAD)
            for v in (0.25, 0.45, 0.65)
        ),
        spots("teeth", 7, 0.12, DARK, (0.4, 0.1, 1.0, 0.9)),
    ),
    "worn loose": _of(shaft.teeth, arrow((0.15, 0.3), (0.15, 0.7), both=True)),
    "stuck": _of(
        shaft.slip, arrow((0.3, 0.9), (0.7, 0.9), both=True), struck((0.5, 0.48), 0.2), apart=-40.0
    ),
    "twisted": _of(shaft.slip, twist=0.9),
    "bottomed mark": _of(
        shaft.slip, burst("plane", (1.0, 0.5), (0.09, 0.2)), apart=-44.0, opened=True
    ),
    "polished at the end only": _of(shaft.slip, _worn("teeth", (0.78, 0.0, 1.0, 1.0), 6)),
}

_TUBE: Row = {
    "twisted": _of(
        shaft.pipe,
        *(path("tube", [(u, 0.0), (u + 0.25, 1.0)], BROAD) for u in (0.05, 0.27, 0.49, 0.71)),
    ),
    "wrinkled": _of(shaft.pipe, warp="wrinkle"),
    "dented": _of(shaft.pipe, warp="dent"),
    "rubbed": _of(
        shaft.pipe,
        patch("tube", (0.4, 0.0, 0.62, 1.0), BRIGHT),
        lines("tube", 6, (0.4, 0.0, 0.62, 1.0), "v", THIN),
    ),
    "torn round": _of(
        shaft.pipe,
        crack("tube", [(0.49, 0.0), (0.47, 0.5), (0.49, 1.0)], 0.04, BROAD),
        split=True,
    ),
    "weld cracked": _of(
        shaft.pipe, crack("weld", [(0.4, 0.1), (0.6, 0.5), (0.5, 0.95)], 0.3, BROAD)
    ),
    "weight missing": _of(
        shaft.pipe,
        patch("tube", (0.2, 0.38, 0.44, 0.66), BRIGHT, 0.0),
        path(
            "tube", [(0.2, 0.38), (0.44, 0.38), (0.44, 0.66), (0.2, 0.66), (0.2, 0.38)], dashed=True
        ),
        spots("tube", 1, 0.09, DARK, (0.13, 0.46, 0.27, 0.58), squeeze=2.0),
        spots("tube", 1, 0.09, DARK, (0.37, 0.46, 0.51, 0.58), squeeze=2.0),
        struck((0.75, 0.5), 0.16),
    ),
    "bent": _of(shaft.pipe, path("plane", [(0.1, 0.5), (1.0, 0.5)], dashed=True), warp="bend"),
}

_SPRING = coil("plane", ((0.61, 0.5), (0.905, 0.5)), 0.1, 5)
_BALL: Row = {
    "broken": _of(shaft.stud, _SPRING, broken=True),
    "worn": _of(shaft.stud, _SPRING, arrow((0.5, 0.99), (0.5, 0.62)), size=6.0),
    "dry": _of(shaft.stud, _SPRING, drop((0.3, 0.76), 0.14, none=True)),
    "spring broken": _of(
        shaft.stud,
        coil("plane", ((0.61, 0.52), (0.7, 0.54)), 0.1, 2),
        coil("plane", ((0.79, 0.46), (0.905, 0.5)), 0.1, 2),
        struck((0.75, 0.5), 0.13),
    ),
}

_GRAIN = spots("face", 110, 0.08, DARK, (0.0, 0.0, 1.0, 1.0), within=0.44)
_FACE: Row = {
    "rough": _of(joint.face, _GRAIN),
    "rippled": _of(joint.face, ripples("face", (0.14, 0.28, 0.42, 0.56, 0.7, 0.84))),
    "old and new": _of(
        joint.face, _GRAIN, smooth("face", 0.6, RUST), ripples("face", (0.15, 0.3, 0.45))
    ),
}

_PART: Row = {
    "cross": _CROSS["broken at the root"],
    "ear": _EAR["torn"],
    "tube": _TUBE["torn round"],
    "weld": _TUBE["weld cracked"],
    "stub": _of(shaft.slip, broken=True),
    "cap": _CAP["cracked"],
    "strap bolt": _STRAP["bolt sheared"],
    "ball": _BALL["broken"],
}

_BAR: Row = {
    "goes through": _of(yoke.profile, arrow((0.4, 0.9), (0.9, 0.9)), bar=72.0),
    "drags": _of(
        yoke.profile,
        burst("plane", (0.765, 0.74), (0.05, 0.08)),
        burst("plane", (0.8, 0.52), (0.05, 0.08)),
        bar=72.0,
        bent=0.12,
    ),
    "does not go through": _of(
        yoke.profile,
        struck((0.8, 0.84), 0.12),
        burst("plane", (0.7, 0.63), (0.05, 0.1)),
        bar=29.0,
        bent=0.35,
    ),
}

DRAWINGS: Mapping[str, Row] = MappingProxyType(
    {
        "caps.seen": _CAP,
        "caps.trunnion": _TRUNNION,
        "caps.needles": _NEEDLES,
        "caps.seat": _SEAT,
        "caps.ear": _EAR,
        "caps.strap": _STRAP,
        "yokes.tips": _TIPS,
        "yokes.throat": _THROAT,
        "yokes.bar": _BAR,
        "cross.seen": _CROSS,
        "fracture.part": _PART,
        "fracture.face": _FACE,
        "spline.seen": _SPLINE,
        "tube.seen": _TUBE,
        "ball.seen": _BALL,
    }
)
"""By the key of a list, as `pictures.LISTS` has them, and by word."""
