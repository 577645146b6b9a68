"""Where and in which poses two yokes come near: what the search for a grind stands on."""

from concurrent.futures import ThreadPoolExecutor
from functools import cached_property
from math import ceil, radians

import numpy as np

from geometry.contact.field import DistanceField
from geometry.contact.joint_parts import ClosingJoint
from geometry.contact.reach import reach
from geometry.contact.sweep import Sweep, Window
from geometry.relief.net import MARGIN, Net

COARSE, FINE = 1.6, 1.0
"""mm between the nodes of the nets: for the search, and for the grind itself, whose surface is
then true to a few hundredths."""

BETWEEN = 0.7
"""mm that the yokes may come nearer between the poses that are asked for the window."""

STEP = radians(1.0)
"""Step between the bends asked for the window."""

SPINS = 24
"""Spins asked, over the part of a turn that speaks for the whole, how near the yokes are."""


class Survey:
    """Fields, nets and poses of one joint, each made when first asked for.

    before, target : rad, the bend as it is and the highest that will be asked
    room : mm, the most clearance that a tool will be asked for
    """

    def __init__(self, joint: ClosingJoint, before: float, target: float, room: float) -> None:
        self.joint, self.before, self.target, self.room = joint, before, target, room
        self._meshes = joint.parts.driving, joint.parts.driven
        self._distances: dict[tuple[float, float], float] = {}

    @cached_property
    def radius(self) -> float:
        """Farther than this from the cross centre nothing is ground, mm."""
        return reach(*self._meshes, self.target) + self.room

    @cached_property
    def fields(self) -> tuple[DistanceField, DistanceField]:
        """Signed distance of the driving and of the driven yoke."""
        radius = self.radius + 2.0 * self.room
        with ThreadPoolExecutor(2) as pool:
            one, other = pool.map(lambda mesh: DistanceField(mesh, radius), self._meshes)
        return one, other

    @cached_property
    def coarse(self) -> tuple[Net, Net]:
        """Nets of the driving and of the driven yoke, to search on."""
        return self._nets(COARSE)

    @cached_property
    def fine(self) -> tuple[Net, Net]:
        """Nets of the driving and of the driven yoke, to grind on in the end."""
        return self._nets(FINE)

    def _nets(self, step: float) -> tuple[Net, Net]:
        (one, other), window = self.fields, self.window

        def net(driving: bool) -> Net:
            own, against = (one, other) if driving else (other, one)
            sweep, flips = Sweep(against, driving, window), self.joint.turn.flips(driving)
            return Net(step, own, sweep, flips, self.radius, self.target, self.room)

        with ThreadPoolExecutor(2) as pool:
            first, second = pool.map(net, (True, False))
        return first, second

    @cached_property
    def window(self) -> Window:
        """The poses in which the yokes come nearer than any tool's clearance.

        Distances at some poses tell; what is missed between them the certificate would find.
        """
        near = self.room + MARGIN * FINE + BETWEEN
        asked = np.linspace(0.0, self.joint.turn.end, SPINS).tolist()
        low = self.before
        while low > 0.0 and min(self._apart(low, spin) for spin in asked) < near:
            low = max(0.0, low - STEP)
        bends = np.linspace(low, self.target, max(2, ceil((self.target - low) / STEP))).tolist()
        whole = Window.whole()
        aside = [-0.7 * whole.half, 0.0, 0.7 * whole.half]
        spins = [
            spin
            for spin in whole.spins.tolist()
            if any(self._apart(bend, spin + d) < near for bend in bends for d in aside)
        ]
        return Window(low, np.array(spins, dtype=np.float32), whole.half)

    def _apart(self, bend: float, spin: float) -> float:
        """Distance of the yokes at one pose, mm."""
        key = round(bend, 9), round(self.joint.turn.fold(spin)[0], 9)
        if key not in self._distances:
            self._distances[key] = self.joint.yokes.nearest_at(*key).distance
        return self._distances[key]
