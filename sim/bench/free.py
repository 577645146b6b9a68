"""What nobody knows exactly of a joint's yokes: which dimensions, how far off, what goes along.

The middle is the joint as the rig has it: catalogue yokes, with the shop's own dimensions where it
took a caliper to them. Every dimension is told by a standard normal of its own. Of a generic part
it moves as far as real ones of its kind and size differ, and what a maker changes along with it
moves too (`models/accuracy/yokes.toml`); of a measured one it moves as far as the reading may be
off, alone.
"""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cache, cached_property
from importlib.resources import files
from typing import Any, Final

import numpy as np

from geometry.built import built, touching
from geometry.contact.joint_parts import ClosingJoint, JointParts
from geometry.cross import CrossShape
from geometry.errors import BindpointError
from geometry.mesh import Mesh
from geometry.yoke import Yoke, YokeShape
from sim.accuracy.off import off_of
from sim.accuracy.source import SURE
from sim.bench.shape import Free
from sim.frames import FloatArray
from sim.kept.touch_curves import pair_key
from sim.rig import Rig
from sim.rig.carrier import MiddleJoint
from sim.rig.choice import YokeChoice
from sim.rig.fitted import fitted_cross, fitted_head, yoke_source
from sim.rig.measured_with import MeasuredWith
from sim.rig.typed_joints import typed_joint
from sim.units import Angle, Length
from sim.vehicle import Joint

PULLS: Final = 10
"""Steps in which a draw that makes no sound yoke is pulled back toward the middle."""


@dataclass(frozen=True)
class YokePair:
    """What the two yokes and the cross of a joint are built from.

    driving, driven : from the engine on; the yoke itself where that came from a mesh file.
    """

    driving: YokeShape | Yoke
    driven: YokeShape | Yoke
    cross: CrossShape

    @cached_property
    def key(self) -> str:
        """Equal keys, equal parts; that of the joint's touch curve."""
        return pair_key(self.driving, self.driven, self.cross)

    def closing(self, gap: float = 0.0) -> ClosingJoint:
        """The built joint ready for queries. Raises BindpointError where it cannot be built."""
        return ClosingJoint(JointParts(*self.yokes, built(self.cross).contact), gap)

    @property
    def yokes(self) -> tuple[Mesh, Mesh]:
        """What can touch of the driving and the driven yoke."""
        return _touching(self.driving), _touching(self.driven)


def _touching(source: YokeShape | Yoke) -> Mesh:
    return source.contact if isinstance(source, Yoke) else touching(source)


@dataclass(frozen=True)
class Doubt:
    """The yokes of a joint with all that may be off.

    Attributes
    ----------
    joint : which one.
    pair : its middle.
    yokes : keys of the driving and the driven yoke, such as `pinion_yoke`.
    free : dimensions in doubt, each with a standard normal of its own.
    moved : every dimension that moves, by the key of its yoke and its name.
    moves : (m, d) mm by which each of `moved` goes for one deviation of each of `free`.
    """

    joint: Joint
    pair: YokePair
    yokes: tuple[str, str]
    free: tuple[Free, ...]
    moved: tuple[tuple[str, str], ...]
    moves: FloatArray

    @property
    def key(self) -> str:
        """All that draws depend on."""
        return f"{self.pair.key} {self.moved!r} {self.moves.tolist()!r}"

    def only(self, kept: list[int]) -> Doubt:
        """The same with some of the free dimensions alone; the others stay at their middle."""
        free = tuple(self.free[i] for i in kept)
        return replace(self, free=free, moves=self.moves[:, kept])

    def dimensions(self, z: FloatArray) -> FloatArray:
        """Free dimensions (n, d), mm, of draws (n, d) of standard normals."""
        rows = [self.moved.index((each.yoke, each.name)) for each in self.free]
        middle = np.array([each.value for each in self.free])
        return np.asarray(middle + np.asarray(z) @ self.moves[rows].T)

    def pair_at(self, z: FloatArray) -> tuple[YokePair, FloatArray]:
        """The yokes of one draw (d,), and the draw they stand for.

        Where its dimensions make no sound yoke, the draw of that yoke is pulled back toward the
        middle until they do.
        """
        drawn = np.array(z, dtype=np.float64)
        sources = [self.pair.driving, self.pair.driven]
        for number, (key, middle) in enumerate(zip(self.yokes, list(sources), strict=True)):
            mine = np.array([each.yoke == key for each in self.free])
            if isinstance(middle, Yoke) or not drawn[mine].any():
                continue
            for left in range(PULLS, -1, -1):
                at = np.where(mine, drawn * (left / PULLS), 0.0)
                try:
                    sources[number] = self._shaped(key, middle, at)
                except BindpointError:
                    continue
                drawn[mine] = at[mine]
                break
        return YokePair(sources[0], sources[1], self.pair.cross), drawn

    def _shaped(self, key: str, middle: YokeShape, z: FloatArray) -> YokeShape:
        off = self.moves @ z
        values = {
            name: getattr(middle, name) + float(by)
            for (yoke, name), by in zip(self.moved, off, strict=True)
            if yoke == key and by != 0.0
        }
        return replace(middle, **values)


def doubt_of(rig: Rig, joint: Joint) -> Doubt | None:
    """What may be off of the yokes of a joint; None of a double-Cardan head, and of two scans.

    A head's dimensions are left out: what its outer yokes differ by is not known even from memory.

    Raises BindpointError for names that are not in the catalogue and dimensions that clash.
    """
    end = typed_joint(rig, joint)
    if not isinstance(end.typed, MiddleJoint) and fitted_head(end.typed, rig.shaft.tube):
        return None
    cross = fitted_cross(end.cross)
    keys = list(end.yokes)
    near, far = (
        yoke_source(each, cross, rig.shaft.tube, rig.folder)[0] for each in end.yokes.values()
    )
    names = keys[0].rpartition(".")[2], keys[1].rpartition(".")[2]
    free: list[Free] = []
    moves: dict[tuple[str, str], dict[int, float]] = {}
    for source, name, (key, choice) in zip((near, far), names, end.yokes.items(), strict=True):
        if isinstance(source, Yoke):
            continue
        for each in _free(source, key, name, choice, rig.measured_with):
            for moved, by in _moved(source, each, choice).items():
                moves.setdefault((name, moved), {})[len(free)] = by
            free.append(each)
    if not free:
        return None
    table = np.zeros((len(moves), len(free)))
    for row, columns in enumerate(moves.values()):
        for column, by in columns.items():
            table[row, column] = by
    return Doubt(joint, YokePair(near, far, cross), names, tuple(free), tuple(moves), table)


def _free(
    source: YokeShape, key: str, yoke: str, choice: YokeChoice, said: MeasuredWith | None
) -> list[Free]:
    """The dimensions of one yoke that nobody knows exactly, in the order they are listed in."""
    dimensions, found = source.dimensions(), []
    for name, off in spread().items():
        if name in dimensions:
            own = choice.own.get(name)
            measured = isinstance(own, Length | Angle)
            far = off_of(own, said, part=True)[0] if isinstance(own, Length | Angle) else off
            found.append(Free(f"{key}.{name}", yoke, name, dimensions[name], far, measured))
    return found


def _moved(source: YokeShape, free: Free, choice: YokeChoice) -> dict[str, float]:
    """What moves by how much (mm) for one deviation of a dimension: itself, and what goes along."""
    by = {free.name: free.off / SURE}
    if free.measured:
        return by
    dimensions = source.dimensions()
    for lead, followers in along().items():
        for name, share in followers.items():
            if lead in by and name in dimensions and name not in choice.own:
                by[name] = by.get(name, 0.0) + share * by[lead]
    return by


@cache
def _data() -> dict[str, Any]:
    text = files("models").joinpath("accuracy", "yokes.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)


def spread() -> Mapping[str, float]:
    """How far off (mm) 95 of 100 real yokes are at most from the catalogue's, by dimension."""
    return dict(_data()["off"])


def along() -> Mapping[str, Mapping[str, float]]:
    """What goes along with a dimension, in mm for each of its mm; what leads comes first."""
    return dict(_data()["along"])
