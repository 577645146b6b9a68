"""What can be shown before there is an answer: case, axle, tube and axes, from the rig alone."""

from collections.abc import Iterator

import numpy as np

from geometry.solids import cylinder
from sim.rig import Rig
from sim.vehicle import Vehicle
from viewer.scene.facts import tube_facts
from viewer.scene.mount import SHAFT, On
from viewer.scene.part import Part, Piece
from viewer.scene.shaft_parts import ride_frames, tube_size
from viewer.scene.stand_ins import plain_tube
from viewer.scene.vehicle_parts import case_part, housing_part, spline_part

YOKE = 90.0
"""A yoke from its cross to where it ends, mm; only until the real one is there."""


def preview_parts(rig: Rig, vehicle: Vehicle) -> Iterator[Part]:
    """Simple parts that need no hardware."""
    state, frames = ride_frames(vehicle)
    size = tube_size(rig)
    apart = float(np.linalg.norm(frames["pinion shaft yoke"][:3, 3] - frames[SHAFT][:3, 3]))
    tube = tuple(Piece(*each) for each in plain_tube(*size, YOKE, apart - YOKE))
    yield Part("tube", "shaft", On(SHAFT), tube, tube_facts("tube", *size))
    bar = (Piece("grey steel", cylinder("x", 9.0, 0.0, apart, "axis").mesh()),)
    yield Part("axis", "shaft", On(SHAFT), bar, tube_facts("axis of the shaft", *size))
    yield case_part(vehicle, frames, YOKE)
    if vehicle.slip.at == "output":
        yield spline_part(vehicle, frames, YOKE, None)
    yield housing_part(state.line, YOKE)
