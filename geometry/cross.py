"""The cross: a forged hub, four trunnions that run in the caps, and the grease fitting.

Cross frame: origin at the centre, x along the driving bores, y along the driven bores.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import cos, sin, sqrt

import numpy as np

from geometry.built import Built
from geometry.dimensions import Shape, angle, length
from geometry.mesh import Mesh
from geometry.solids import Axis, Solid, prism, turned
from geometry.yoke.hardware import hexagon

WAIST = 1.12
"""Hub diameter in the middle against that at the trunnions; a forged cross is stout there."""

CHAMFER = 0.8
"""Chamfer at the end of a trunnion, mm."""


@dataclass(frozen=True, eq=False)
class Cross(Built):
    """A built cross in its own frame.

    contact : one closed solid of the hub and the grease fitting, which is all that a yoke
        could touch: the trunnions are inside the caps and behind the seals
    parts : the pieces to draw, by name ("cross", "seals", "grease fitting")
    dimensions : what it was built from, mm or rad
    """

    name: str
    contact: Mesh
    parts: Mapping[str, Mesh]
    dimensions: Mapping[str, float]


@dataclass(frozen=True, kw_only=True)
class CrossShape(Shape):
    """Dimensions of a cross with its caps, mm and rad.

    Raises ShapeError, naming the dimensions that clash, when they make no sound cross.
    """

    name: str

    cap_diameter: float = length("outside of a cap")
    span: float = length("over the outer ends of two opposite caps")
    cap_length: float = length("one cap from end to end")
    trunnion_diameter: float = length("a trunnion, where the needles run")
    hub_diameter: float = length("the forged arm behind a trunnion, across the arm")
    hub_span: float = length("over the shoulders of two opposite arms")
    fitting_length: float = length("how far the grease fitting stands out of the hub")
    fitting_hexagon: float = length("across the flats of the grease fitting")
    fitting_tilt: float = angle(
        "how far the grease fitting leans out of the plane of the cross, toward the driving shaft"
    )

    def __post_init__(self) -> None:
        self.check()
        self.require(
            self.trunnion_diameter < self.cap_diameter - 2.0,
            "{trunnion_diameter} leaves no room for needles in a {cap_diameter:of}",
        )
        self.require(
            self.trunnion_diameter < self.hub_diameter,
            "{hub_diameter} is not more than the {trunnion_diameter:of}",
        )
        self.require(
            self.hub_diameter * WAIST < self.hub_span,
            "{hub_span} is too short for arms of {hub_diameter}",
        )
        self.require(
            self.hub_span < self.mouth_span,
            "{hub_span} runs into the caps, which leave {room:g} mm between them (span less two "
            "cap_length)",
            room=self.mouth_span,
        )
        self.require(
            abs(self.fitting_tilt) < 1.2,
            "{fitting_tilt:is} rad; expected between -1.2 and 1.2",
        )

    @property
    def mouth_span(self) -> float:
        """Between the inner ends of two opposite caps, mm."""
        return self.span - 2.0 * self.cap_length

    def build(self) -> Cross:
        """Return the cross with its contact solid and its parts to show."""
        hub = Solid.union([self._arm("x"), self._arm("y")])
        fitting = self._fitting()
        trunnions = [self._trunnion("x"), self._trunnion("y")]
        whole = Solid.union([hub, *trunnions])
        return Cross(
            self.name,
            Solid.union([hub, fitting]).mesh(),
            {
                "cross": whole.mesh(),
                "seals": Mesh.join(seal.mesh() for seal in self._seals()),
                "grease fitting": fitting.mesh(),
            },
            self.dimensions(),
        )

    def _arm(self, axis: Axis) -> Solid:
        end, radius = 0.5 * self.hub_span, 0.5 * self.hub_diameter
        return _spindle([[end, radius], [0.62 * end, WAIST * radius]], axis, "hub")

    def _trunnion(self, axis: Axis) -> Solid:
        end, radius = 0.5 * self.span - 2.0, 0.5 * self.trunnion_diameter
        return _spindle([[end, radius - CHAMFER], [end - CHAMFER, radius]], axis, "trunnion")

    def _seals(self) -> list[Solid]:
        """Return the four seals, each between the shoulder of its arm and the mouth of its cap."""
        low, high = 0.5 * self.hub_span, 0.5 * self.mouth_span
        inner, outer = 0.5 * self.trunnion_diameter, 0.46 * self.cap_diameter
        ring = np.array(
            [[low, inner], [high, inner], [high, outer], [0.4 * high + 0.6 * low, outer],
             [low, 0.5 * (inner + outer)]]
        )  # fmt: skip
        axes: tuple[Axis, ...] = ("x", "y")
        return [turned(ring, axis, "seal", hole=True) for axis in axes] + [
            turned(ring[::-1] * [-1.0, 1.0], axis, "seal", hole=True) for axis in axes
        ]

    def _fitting(self) -> Solid:
        """Return the grease fitting: a hexagon and a nipple between two arms."""
        flats = self.fitting_hexagon
        # Where the two waists cross is the hollow of the hub; the hexagon sits on it.
        seat = 0.5 * WAIST * self.hub_diameter * sqrt(2.0)
        top = seat + self.fitting_length
        middle = seat + 0.4 * self.fitting_length
        nipple = [
            [0.5 * seat, 0.0],
            [top, 0.0],
            [top, 0.2 * flats],
            [top - 0.15 * self.fitting_length, 0.36 * flats],
            [top - 0.3 * self.fitting_length, 0.3 * flats],
            [middle, 0.36 * flats],
            [0.5 * seat, 0.36 * flats],
        ]
        upright = Solid.union(
            [
                prism(hexagon(flats), "x", 0.5 * seat, middle, "grease fitting"),
                turned(nipple, "x", "grease fitting"),
            ]
        )
        tilt = self.fitting_tilt
        level = sqrt(0.5)
        ahead = np.array([level * cos(tilt), level * cos(tilt), sin(tilt)])
        aside = np.array([-level, level, 0.0])
        return upright.turned_to(np.column_stack([ahead, aside, np.cross(ahead, aside)]))


def _spindle(half: list[list[float]], axis: Axis, name: str) -> Solid:
    """Return a turned body whose two halves are alike, by the outline of one from its end on."""
    over = np.array(half)
    end = over[0, 0]
    return turned(
        np.vstack([[[-end, 0.0], [end, 0.0]], over, over[::-1] * [-1.0, 1.0]]), axis, name
    )
