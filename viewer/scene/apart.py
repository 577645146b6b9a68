"""A joint taken apart: its real parts, pulled off each other along the ways they come apart.

The frame C of this picture is the joint's own, straight: x toward the engine, the bores of the yoke
nearer the engine turned `TURN` off level, so that no cap hides another. Nothing is at ride height
here; only the parts and which way the shaft goes are true.

Every part is called as an inspection file calls it: `caps.end_a`, `yokes.shaft`, `cross`.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from math import pi
from typing import Final

import numpy as np

from geometry.clock import apart, clock
from geometry.contact.naming import surface_at
from geometry.joint import rotations
from geometry.mesh import Booleans, Mesh
from geometry.nearest import NearSurface
from geometry.solids import Solid, cylinder
from geometry.yoke import Yoke
from sim.frames import Rx, pose
from sim.front_section import shaft_drives
from sim.hardware.joint import CENTRE, JointHardware
from sim.seen.words import YokeName
from viewer.draw.camera import UP, Floats
from viewer.scene.part import Piece
from viewer.scene.parts import LOOKS
from viewer.scene.shaft_parts import CENTRE_STEEL, END_STEEL, SHAFT_STEEL
from viewer.scene.stand_ins import plain_tube

TURN: Final = pi / 4.0
"""rad. Of the whole joint about the shaft: bores then stand as an X."""

AIR: Final = 9.0
"""mm between parts that came off each other."""

ARROW: Final = 70.0
"""mm. Length of the arrow along the shaft, which lies under its tube."""

STUB: Final = 25.0
"""mm of tube that is shown behind a yoke that is welded to one."""

WALL: Final = 2.1
"""mm. Wall of that tube; only to show."""

NEEDLE_SHARE: Final = 0.42
"""Diameter of a needle by the room between trunnion and outside of the cap; generic, from memory,
only to show."""


@dataclass(frozen=True, eq=False)
class Loose:
    """A part that came off.

    Attributes
    ----------
    name : what the stage calls it.
    table : where in an inspection it is told of, such as "caps.end_a".
    words : key of its words there, such as "trunnion"; "" where a click has to say which.
    pieces : what it is made of, in its own frame. X_CP : (4, 4) where that frame is.
    at : (3,) mm in its own frame, where its name is written; None without a name.
    title : that name.
    """

    name: str
    table: str
    words: str
    pieces: tuple[Piece, ...]
    X_CP: Floats
    title: str = ""
    at: Floats | None = None

    @property
    def points(self) -> Floats:
        """Its vertices, (n, 3) mm in C."""
        own = np.concatenate([piece.in_part.vertices for piece in self.pieces])
        return np.asarray(own @ self.X_CP[:3, :3].T + self.X_CP[:3, 3])


@dataclass(frozen=True, eq=False)
class Apart:
    """A joint taken apart.

    Attributes
    ----------
    hardware : the joint. titles : what a shop calls each of its yokes.
    parts : all that came off, the yokes first.
    way : (2, 3) mm, from where to where the arrow along the shaft goes.
    """

    hardware: JointHardware
    titles: Mapping[YokeName, str]
    parts: tuple[Loose, ...]
    way: Floats

    @property
    def yokes(self) -> Mapping[YokeName, Yoke]:
        """The built yokes."""
        return yokes_of(self.hardware)

    def named(self, name: str) -> Loose | None:
        """The part that the stage calls so."""
        return next((part for part in self.parts if part.name == name), None)

    def carrying(self, side: YokeName, surface: str, own: Floats) -> Loose | None:
        """The part that a surface of a yoke is on now, near a point (3,) in the yoke's frame.

        What came off a yoke took its own surfaces along.
        """
        key = cap_key(side, float(own[1]))
        off = {"bolt": f"bolts {key}", "strap": f"strap {key}", "cap": f"cap {key}"}
        return self.named(off.get(surface, "")) or self.named(yoke_name(side))

    @property
    def points(self) -> Floats:
        """Vertices of all parts, (n, 3) mm in C."""
        return np.concatenate([part.points for part in self.parts])


@dataclass(frozen=True)
class Place:
    """A place on a yoke: the surface it is on, and its clock (rad) as `geometry.clock` has it."""

    yoke: YokeName
    surface: str
    clock: float


def yokes_of(hardware: JointHardware) -> Mapping[YokeName, Yoke]:
    """The shaft's own yoke and the other one."""
    near, far = hardware.driving, hardware.driven
    shaft, end = (near, far) if shaft_drives(hardware.joint) else (far, near)
    return {"shaft": shaft, "end": end}


def taken_apart(hardware: JointHardware) -> Apart:
    """Take a joint apart."""
    R = rotations(0.0, 0.0)
    shaft, end = (R.R_JD, R.R_JN) if shaft_drives(hardware.joint) else (R.R_JN, R.R_JD)
    yokes = yokes_of(hardware)
    called: dict[YokeName, str] = {"shaft": "shaft yoke", "end": f"{hardware.joint} yoke"}
    titles = {side: CENTRE if yokes[side].kind == CENTRE else called[side] for side in called}
    turns: dict[YokeName, Floats] = {"shaft": Rx(TURN) @ shaft, "end": Rx(TURN) @ end}
    steels = {"shaft": SHAFT_STEEL, "end": END_STEEL}
    parts: list[Loose] = []
    for side, yoke in yokes.items():
        parts += _yoke(side, yoke, titles[side], turns[side], steels[side], hardware)
    for side, yoke in yokes.items():
        parts += _around_cross(side, yoke, titles[side], turns[side], hardware)
    parts += _cross(hardware, turns)
    along = turns["shaft"][:, 0]
    own = next(part for part in parts if part.name == yoke_name("shaft"))
    far = float(own.X_CP[:3, 3] @ along) + _reach(own)
    under = -(0.5 * hardware.cross_from.span + 2.0 * AIR) * UP
    way = np.stack([(far - ARROW) * along + under, far * along + under])
    return Apart(hardware, titles, tuple(parts), way)


def place_of(shown: Apart, part: Loose, point: Floats) -> Place | None:
    """Which place of a yoke a point (3,) mm in C on a part is; None where that is on no yoke."""
    own = (point - part.X_CP[:3, 3]) @ part.X_CP[:3, :3]
    kind, _, of = part.name.partition(" ")
    if kind in ("strap", "bolts"):
        return Place(side_of(of), kind.removesuffix("s"), float(clock(own)))
    if kind != "yoke":
        return None
    contact = shown.yokes[side_of(of)].contact
    # What came off is not where somebody points; it was all over the seats.
    off = np.isin(contact.labels, [contact.label_names.index(n) for n in _off(shown, side_of(of))])
    left = _some(contact, ~off)
    foot = NearSurface(left, 4_000).foot(own[None])
    surface = surface_at(left, int(foot.face[0]), own)
    return Place(side_of(of), surface, float(clock(own)))


def _off(shown: Apart, side: YokeName) -> list[str]:
    """Names of the surfaces of a yoke's contact solid that came off it."""
    yoke = shown.yokes[side]
    off = ["cap", *(["strap", "bolt"] if "straps" in yoke.parts else [])]
    return [name for name in off if name in yoke.contact.label_names]


def side_of(name: str) -> YokeName:
    """Which yoke something belongs to by its own name: "end", "end_a"."""
    return "shaft" if name.startswith("shaft") else "end"


def spot_of(yoke: Yoke, surface: str, hour: float) -> tuple[Floats, Floats] | None:
    """A place of a yoke in its frame, and the way out of the metal there, (3,) each.

    hour : rad, as `geometry.clock` has it.
    The middle of what there is of that surface within an eighth of the hour around; None where the
    yoke has no such surface.
    """
    mesh = yoke.contact
    if surface not in mesh.label_names:
        return None
    own = mesh.on(surface)
    middles, areas = mesh.triangles[own].mean(axis=1), mesh.areas[own]
    off = apart(clock(middles), hour)
    near = off <= off.min() + pi / 24.0
    weights = np.maximum(areas[near], 1e-9)
    at = np.average(middles[near], axis=0, weights=weights)
    out = np.average(mesh.normals[own][near], axis=0, weights=weights)
    nearest = int(np.argmin(np.linalg.norm(middles[near] - at, axis=1)))
    # Halfway between the ears their faces look opposite ways: there the nearer one counts.
    if float(np.linalg.norm(out)) < 1e-6:
        out = mesh.normals[own][near][nearest]
    return middles[near][nearest], out / np.linalg.norm(out)


def yoke_name(side: YokeName) -> str:
    """What the stage calls a yoke."""
    return f"yoke {side}"


def cap_key(side: YokeName, sign: float) -> str:
    """What an inspection calls a cap: "end_a"; a is on +y of its yoke."""
    return f"{side}_{'a' if sign > 0.0 else 'b'}"


SURFACES: Final[Mapping[str, tuple[str, ...]]] = {
    "tips": ("ear tip",),
    "throat": ("throat",),
    "ear": ("ear flank", "ear outside face", "ear inside face"),
    "seat": ("ear bore", "saddle"),
}
"""Surfaces of a forging by the words that tell of them; the seat of a cap is a bore, or the saddle
under a strap."""


def told_of(part: Loose, point: Floats) -> tuple[str, str]:
    """Table and words that a point (3,) mm in C on a part is told under."""
    if part.words:
        return part.table, part.words
    own = (point - part.X_CP[:3, 3]) @ part.X_CP[:3, :3]
    body = part.pieces[0].in_part
    surface = body.label_of(int(NearSurface(body, 4_000).foot(own[None]).face[0]))
    words = next((key for key, names in SURFACES.items() if surface in names), "")
    if words in ("ear", "seat"):
        return f"caps.{cap_key(side_of(part.name.partition(' ')[2]), float(own[1]))}", words
    return part.table, words


def skin_told(shown: Apart, table: str, words: str) -> tuple[Loose, Mesh] | None:
    """What of a yoke's forging is told of by some words of a table; None where none is."""
    group, _, name = table.partition(".")
    part = shown.named(yoke_name(side_of(name)))
    if part is None or group not in ("caps", "yokes") or words not in SURFACES:
        return None
    body = part.pieces[0].in_part
    names = [name for name in SURFACES[words] if name in body.label_names]
    own = np.isin(body.labels, [body.label_names.index(name) for name in names])
    if group == "caps":
        own &= (body.triangles.mean(axis=1)[:, 1] > 0.0) == name.endswith("a")
    return (part, _some(body, own)) if own.any() else None


# What comes off, one kind after the other.


def _yoke(
    side: YokeName, yoke: Yoke, title: str, R: Floats, steel: str, made: JointHardware
) -> Iterator[Loose]:
    """The forging with all that stays on it, and its tube."""
    X = pose(R, _away(yoke, made) * R[:, 0])
    off = (*OFF, "bolts") if "straps" in yoke.parts else OFF
    stays = [
        Piece(LOOKS.get(name, steel), mesh) for name, mesh in yoke.parts.items() if name not in off
    ]
    middle = np.array([0.5 * float(yoke.contact.bounds[1, 0]), 0.0, 0.0])
    yield Loose(yoke_name(side), f"yokes.{side}", "", tuple(stays), X, title, middle)
    if yoke.tube_from is not None:
        end = float(yoke.contact.bounds[1, 0])
        size = yoke.dimensions["tube_diameter"], WALL
        tube = plain_tube(*size, yoke.tube_from, end + STUB)
        pieces = tuple(Piece(look, mesh) for look, mesh in tube)
        yield Loose("tube", "tube", "seen", pieces, X)


OFF: Final = ("caps", "snap rings", "straps", "seal housing", "mating flange")
"""Pieces of a yoke that come off with the caps, or belong to what it is bolted to. So do the bolts
of straps; those of a flange stay."""


def _around_cross(
    side: YokeName, yoke: Yoke, title: str, R: Floats, made: JointHardware
) -> Iterator[Loose]:
    """Caps, needles, clips and straps of one yoke, pulled off the cross along its bores."""
    cross = made.cross_from
    half, long = 0.5 * cross.span, cross.cap_length
    needle = 0.6 * long
    off = AIR + needle + AIR
    for sign in (1.0, -1.0):
        key = cap_key(side, sign)
        out = sign * R[:, 1]
        table = f"caps.{key}"
        cap = _half(yoke.parts["caps"], sign)
        at = np.array([0.0, sign * (half + 0.8 * long), 0.0])
        name = f"cap {'a' if sign > 0.0 else 'b'}, {title}"
        yield Loose(
            f"cap {key}", table, "seen", (Piece(LOOKS["caps"], cap),), pose(R, off * out), name, at
        )
        ring = _needles(cross.trunnion_diameter, cross.cap_diameter, needle, sign)
        start = half - 2.0 + AIR
        X = pose(R, start * out)
        yield Loose(f"needles {key}", table, "needles", (Piece("bright steel", ring),), X)
        if "snap rings" in yoke.parts:
            clip = _half(yoke.parts["snap rings"], sign)
            piece = Piece(LOOKS["snap rings"], clip)
            past = float(np.abs(cap.vertices[:, 1]).max() - np.abs(clip.vertices[:, 1]).min())
            X = pose(R, (off + max(0.0, past) + AIR) * out)
            yield Loose(f"clip {key}", table, "seen", (piece,), X)
        if "straps" in yoke.parts:
            held = _half(yoke.parts["straps"], sign)
            X = pose(R, _strap_away(yoke, made) * R[:, 0])
            yield Loose(f"strap {key}", table, "strap", (Piece(LOOKS["straps"], held),), X)
            bolts = _half(yoke.parts["bolts"], sign)
            X = pose(R, (_strap_away(yoke, made) - 1.6 * AIR) * R[:, 0])
            yield Loose(f"bolts {key}", table, "strap", (Piece(LOOKS["bolts"], bolts),), X)


def _cross(made: JointHardware, turns: Mapping[YokeName, Floats]) -> Iterator[Loose]:
    """The cross with its four trunnions, each to be chosen by itself, seals and fitting."""
    X = pose(Rx(TURN) @ rotations(0.0, 0.0).R_JX, np.zeros(3))
    whole = made.cross.parts["cross"]
    trunnion = whole.on("trunnion")
    middles = whole.triangles.mean(axis=1) @ X[:3, :3].T
    seals = made.cross.parts["seals"]
    seal_at = seals.triangles.mean(axis=1) @ X[:3, :3].T
    for side, R in turns.items():
        for sign in (1.0, -1.0):
            out, key = sign * R[:, 1], cap_key(side, sign)
            own = trunnion & (middles @ out > 0.7 * np.linalg.norm(middles, axis=1))
            skin = _skin(whole, own)
            table = f"caps.{key}"
            piece = Piece("bright steel", skin)
            yield Loose(f"trunnion {key}", table, "trunnion", (piece,), X)
            near = seal_at @ out > 0.7 * np.linalg.norm(seal_at, axis=1)
            lip = (Piece(LOOKS["seals"], _skin(seals, near)),)
            off = pose(X[:3, :3], 0.5 * AIR * out)
            yield Loose(f"seal {key}", table, "seen", lip, off)
    hub = (Piece(CENTRE_STEEL, _skin(whole, ~trunnion)),)
    yield Loose("cross", "cross", "seen", hub, X, "cross", np.zeros(3))
    fitting = (Piece(LOOKS["grease fitting"], made.cross.parts["grease fitting"]),)
    yield Loose("fitting", "cross", "seen", fitting, X)


def _away(yoke: Yoke, made: JointHardware) -> float:
    """How far (mm) a yoke goes along its axis, so that its ears are clear of caps and cross."""
    reach = -float(yoke.contact.bounds[0, 0])
    room = reach + 0.5 * made.cross_from.cap_diameter + 2.0 * AIR
    return room + (1.2 * made.cross_from.cap_diameter if "straps" in yoke.parts else 0.0)


def _strap_away(yoke: Yoke, made: JointHardware) -> float:
    return _away(yoke, made) - 0.9 * made.cross_from.cap_diameter


def _half(mesh: Mesh, sign: float) -> Mesh:
    """What of a mesh lies on one side of the shaft, along the bores."""
    return _skin(mesh, sign * mesh.triangles.mean(axis=1)[:, 1] > 0.0)


def _skin(mesh: Mesh, chosen: Booleans) -> Mesh:
    """Some triangles of a mesh, as one surface."""
    some = _some(mesh, chosen)
    return Mesh.uniform(some.vertices, some.faces, some.label_of(0), mesh.chord)


def _some(mesh: Mesh, chosen: Booleans) -> Mesh:
    """Some triangles of a mesh, each still on its own surface."""
    used, faces = np.unique(mesh.faces[chosen], return_inverse=True)
    return replace(
        mesh,
        vertices=mesh.vertices[used],
        faces=faces.reshape(-1, 3).astype(np.int32),
        labels=mesh.labels[chosen],
    )


def _needles(trunnion: float, cap: float, long: float, sign: float) -> Mesh:
    """A ring of needles from the origin out along the bore, mm."""
    thick = NEEDLE_SHARE * 0.5 * (cap - trunnion)
    radius = 0.5 * (trunnion + thick)
    count = int(2.0 * pi * radius / (1.02 * thick))
    turns = 2.0 * pi * np.arange(count) / count
    low, high = sorted((0.0, sign * long))
    each = [
        # The two coordinates that follow y are z and x.
        cylinder("y", 0.5 * thick, low, high, "needle", (radius * np.cos(t), radius * np.sin(t)))
        for t in turns
    ]
    return Mesh.join(Solid.mesh(needle) for needle in each)


def _reach(part: Loose) -> float:
    return max(float(piece.in_part.bounds[1, 0]) for piece in part.pieces)
