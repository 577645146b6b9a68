"""The critical speed of a rig's two-piece shaft, its masses where they belong, by a second beam.

Lengths and masses are put together here anew, from the built yokes and the rig file: scikit-fem
bends the beam, trimesh weighs the yokes.
"""

from functools import cache

import numpy as np
import pytest
import trimesh

from sim.derive import ride_height_of, vehicle_of
from sim.parts.materials import material
from sim.parts.tube_section import TubeSection
from sim.rig import Rig, changed
from sim.rig.demos import load_demo
from sim.search.envelope import envelope
from sim.ticket.cut_list import SLIP, Cut, cut_list
from sim.ticket.pieces import pieces_of
from sim.ticket.shaft_parts import SLEEVE, STUB, TUBE, YOKE
from sim.ticket.slip_plan import SlipPlan, slip_plan
from sim.ticket.whirl_of import whirl_piece, whirl_speed
from sim.whirl import shaft_beam, slip_stretches
from tests.outside.test_whirl_second_library import library
from tests.sim.rigs import parts_of
from tests.sim.whirl.beams import slender

STUB_LENGTH = 101.6


@cache
def planned() -> tuple[Rig, SlipPlan, tuple[Cut, ...]]:
    rig = changed(load_demo("timber-crew-carrier"), {"carrier.bearing_stub": "4 in"})
    plan = slip_plan(rig, envelope(vehicle_of(rig)))
    cuts = cut_list(rig, pieces_of(rig, parts_of(rig)), plan)
    return rig, plan, cuts.cuts


def weight(yoke, cross) -> float:
    """Of a yoke with half of its cross, kg; what it is bolted to is not carried."""
    meshes = [
        mesh for name, mesh in yoke.parts.items() if name not in ("mating flange", "seal housing")
    ]
    volumes = [trimesh.Trimesh(mesh.vertices, mesh.faces).volume for mesh in meshes]
    whole = cross.parts["cross"]
    half = 0.5 * trimesh.Trimesh(whole.vertices, whole.faces).volume
    return float(material(YOKE).density * (sum(volumes) + half))


def second_beam(plain_slip: bool) -> list[float]:
    """Lowest speed by the library, rad/s, the slip either way round, or as so much tube."""
    rig, plan, cuts = planned()
    parts = parts_of(rig)
    output, middle, pinion = (parts[name] for name in ("output", "middle", "pinion"))
    tube = TubeSection.of_wall(rig.shaft.tube.outside.mm, rig.shaft.tube.wall.mm)
    own = tube.mass_per_length(material(TUBE).density)
    bending = material(TUBE).modulus * tube.second_moment
    ahead = weight(output.driven, output.cross), weight(middle.driving, middle.cross)
    behind = weight(middle.driven, middle.cross), weight(pinion.driving, pinion.cross)
    beyond = rig.carrier.middle_joint_beyond.mm
    land, back = output.driven.tube_from, STUB_LENGTH + beyond
    length = ride_height_of(rig).section.length
    lengths = [land, length - land - back, STUB_LENGTH, beyond]
    stiff = [3.0 * bending, bending, 3.0 * bending, 3.0 * bending]
    mass = [ahead[0] / land, own, ahead[1] / back, ahead[1] / back]
    near, far = middle.driven.tube_from, pinion.driving.tube_from
    built, rear = plan.built_part, cuts[1]
    slip = slip_stretches(
        built.shape.build(),
        built.stroke - plan.built.closes,
        material(SLEEVE),
        material(STUB),
        length=rear.slip_set,
    )
    names = [part.name for part in rear.parts]
    before = sum(part.length for part in rear.parts[1 : names.index(SLIP)])
    after = ride_height_of(rig).length - near - before - rear.slip_set - far
    speeds = []
    for way in (slip, slip[::-1]):
        bends = [bending if plain_slip else each.bending for each in way]
        weighs = [own if plain_slip else each.mass for each in way]
        rear_lengths = [near, before, *(each.length for each in way), after, far]
        rear_stiff = [3.0 * bending, bending, *bends, bending, 3.0 * bending]
        rear_mass = [behind[0] / near, own, *weighs, own, behind[1] / far]
        told = library(
            [*lengths, *rear_lengths],
            np.array([*stiff, *rear_stiff]),
            np.array([*mass, *rear_mass]),
            pins=[0, 3, 4 + len(rear_lengths)],
            hinge=4,
        )
        speeds.append(float(told[0]))
    return speeds


@pytest.mark.slow
def test_the_shaft_of_a_rig_whirls_where_the_second_beam_says() -> None:
    rig, plan, cuts = planned()
    front, rear = (whirl_piece(rig, cut, plan) for cut in cuts)
    assert front is not None
    assert rear is not None
    beam = shaft_beam([front, rear], rig.carrier.middle_joint_beyond.mm)
    ours = float(slender(beam).speeds(1)[0])
    told = min(second_beam(plain_slip=False), key=lambda speed: abs(speed - ours))
    assert ours == pytest.approx(told, rel=1e-4)
    with_shear = whirl_speed(rig, [front, rear])
    assert 0.96 * told < with_shear < told


@pytest.mark.slow
def test_each_section_carries_its_own_yokes() -> None:
    """Next to a pin a yoke hardly slows the shaft, so that its weight is looked at by itself."""
    rig, plan, cuts = planned()
    front, rear = (whirl_piece(rig, cut, plan) for cut in cuts)
    parts = parts_of(rig)
    output, middle, pinion = (parts[name] for name in ("output", "middle", "pinion"))
    told = [
        weight(output.driven, output.cross),
        weight(middle.driving, middle.cross),
        weight(middle.driven, middle.cross),
        weight(pinion.driving, pinion.cross),
    ]
    ours = [front.first_mass, front.last_mass, rear.first_mass, rear.last_mass]
    np.testing.assert_allclose(ours, told, rtol=1e-9)
    assert abs(told[1] - told[2]) > 0.1


@pytest.mark.slow
def test_a_slip_as_plain_tube_would_be_seen() -> None:
    """What the check of the speed can tell apart, by the library alone."""
    right = min(second_beam(plain_slip=False))
    assert abs(min(second_beam(plain_slip=True)) / right - 1.0) > 0.01
