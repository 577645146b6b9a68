"""Rigs with their numbers put off: each one's vehicle, looked at or swept."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np

from geometry.errors import BindpointError
from sim.accuracy.source import Source
from sim.bars.look import NUMBERS, Of, look, looked_at
from sim.bars.near import Near
from sim.derive import vehicle_of
from sim.frames import FloatArray
from sim.rests_on import Stand
from sim.rig import Rig
from sim.search.envelope import envelope
from sim.travel.region import TravelRegion
from sim.vehicle import Joint, Pose


@dataclass(frozen=True, eq=False)
class Part:
    """A part of the draws, to be done by itself.

    Attributes
    ----------
    z : (n, k) draws.
    clear : (n,) bend (rad) at which each joint touches.
    whole : whether they are swept whole, and not looked at.
    near : whether the things near the shaft are swept too.
    """

    z: FloatArray
    clear: Mapping[Joint, FloatArray]
    whole: bool = False
    near: bool = False


@dataclass(frozen=True)
class Rigs:
    """What is needed to draw rigs, and little enough to be sent to another process.

    Attributes
    ----------
    rig : as it is.
    sources : what is put off, in the order of the columns of a draw.
    ends : its travel.
    worst : where a sweep of it found bends and slip the worst.
    near : things near the shaft that may be touched.
    """

    rig: Rig
    sources: tuple[Source, ...]
    ends: TravelRegion
    worst: tuple[Pose, ...]
    near: Near = field(default_factory=Near)

    def drawn(self, z: FloatArray) -> Rig:
        """The rig of one draw: standard normals (k,), of which the first are the sources'.

        Raises BindpointError where it cannot be.
        """
        rig = self.rig
        for source, off in zip(self.sources, z, strict=False):
            rig = source.put(rig, float(off) * source.deviation)
        return rig

    def done(self, part: Part) -> FloatArray:
        """A part done: looks (n, looked at, `NUMBERS`), or values (n, looked at) of whole sweeps.

        nan where a rig cannot be. Raises nothing.
        """
        if part.whole:
            return np.array([self._swept(draw, part.near) for draw in part.z])
        return self.looked(part.z, part.clear)

    def looked(self, z: FloatArray, clear: Mapping[Joint, FloatArray]) -> FloatArray:
        """Draws (n, k) looked at: (n, looked at, `NUMBERS`), nan where a rig cannot be.

        clear : (n,) bend (rad) at which each joint touches.
        """
        rows = np.full((len(z), len(self.looked_at), NUMBERS), np.nan)
        things = self.near.ready(self.rig)
        for number, draw in enumerate(z):
            try:
                rig = self.drawn(draw)
                vehicle = vehicle_of(rig)
            except BindpointError:
                continue
            mine = {joint: float(each[number]) for joint, each in clear.items()}
            stand = Stand(rig, vehicle, self.ends)
            seen = look(vehicle, self._also(stand), mine)
            rows[number] = np.concatenate([seen, things.look(stand)])
        return rows

    @property
    def looked_at(self) -> tuple[Of, ...]:
        """What is looked at, in order."""
        return looked_at(vehicle_of(self.rig), self.near.names)

    def _swept(self, draw: FloatArray, near: bool) -> FloatArray:
        """Values (looked at,) of one draw (k,); nan of what no sweep tells."""
        try:
            rig = self.drawn(draw)
            vehicle = vehicle_of(rig)
        except BindpointError:
            return np.full(len(self.looked_at), np.nan)
        found = envelope(vehicle)
        told: dict[Of, float] = {
            ("shortest", None): found.slip.shortest.value,
            ("longest", None): found.slip.longest.value,
            ("reach", None): 1.0 if found.unreachable is None else -1.0,
        }
        for joint, each in found.joints.items():
            told["bend", joint] = each.most.value
        if near:
            gaps = self.near.ready(self.rig).sweep(rig, vehicle)
            told |= {("near", name): gap for name, gap in gaps.items()}
        return np.array([told.get(of, np.nan) for of in self.looked_at])

    def _also(self, stand: Stand) -> FloatArray:
        """Poses (n, 3) that the sweep of the rig as it is found the worst, moved along."""
        poses = np.concatenate([stand.rivals(at).T for at in self.worst])
        return stand.vehicle.travel.held_all(poses)
