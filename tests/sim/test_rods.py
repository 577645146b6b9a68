"""The round stretches of a shaft: what they are, and that they lie where its parts lie."""

import numpy as np
import pytest
import trimesh

from geometry.contact.cone import project_to_cone
from geometry.outline import outline
from geometry.tolerances import TOL
from sim.around.outline import TUBE_BEFORE_SLIP
from sim.around.rods import Rod, rod_ends
from sim.around.surroundings import SurroundingGap, surrounding_gaps
from sim.around.surroundings import rods_of as everything
from sim.check import check
from sim.derive import vehicle_of
from sim.hardware.head import HeadHardware, end_hardware
from sim.line import turn
from sim.rig import Rig, changed, parse_rig
from sim.rig.demos import load_demo
from sim.vehicle import Vehicle
from tests.sim.rigs import COORDINATES, parts_of

ON_THE_SHAFT = 1e-9
"""Rounding of places (mm) that are computed two ways."""


def rods_of(rig: Rig) -> dict[str, list[Rod]]:
    """The rods of a rig by name."""
    joints = parts_of(rig)
    named: dict[str, list[Rod]] = {}
    for rod in everything(rig, vehicle_of(rig), joints):
        named.setdefault(rod.name, []).append(rod)
    return named


def near(rig: Rig, at: list[float], size: float) -> SurroundingGap:
    """The gap to a cube (mm) near the shaft."""
    cube = [{"name": "cube", "box": {"at": millimetre_texts(at), "size": [f"{size} mm"] * 3}}]
    rig = changed(rig, {"surroundings": cube})
    joints = parts_of(rig)
    (found,) = surrounding_gaps(rig, vehicle_of(rig), joints)
    return found


def millimetre_texts(values: list[float]) -> list[str]:
    return [f"{value:.6f} mm" for value in values]


def test_a_rig_is_its_tube_its_slip_and_what_its_yokes_are() -> None:
    rig = parse_rig(COORDINATES)
    named = rods_of(rig)
    yoke = end_hardware(rig, "output").driven
    assert list(named) == [
        "tube", "sleeve of the slip", "weld before the slip", "stub of the slip",
        "weld behind the slip", "boot on the slip", "ears at the output end",
        "yoke at the output end",
        "weld at the output end", "ears at the pinion end", "yoke at the pinion end",
        "weld at the pinion end", "pinion yoke", "output yoke",
    ]  # fmt: skip
    before, behind = named["tube"]
    assert before.radii == behind.radii == (38.1, 38.1)
    assert before.start == (0.0, yoke.tube_from)
    assert before.stop[1] - before.start[1] == TUBE_BEFORE_SLIP
    ears = named["ears at the output end"]
    assert ears[0].start[1] == pytest.approx(-yoke.dimensions["ear_radius"], abs=TOL.chord)
    assert ears[-1].stop[1] == yoke.dimensions["throat_depth"]
    assert all(rod.yields for rod in named["boot on the slip"])
    assert not any(rod.yields for rod in ears)


def depth(rods: list[Rod], vehicle: Vehicle, at: np.ndarray, points: np.ndarray) -> np.ndarray:
    """How far points (n, 3) lie outside of all rods, mm, in one pose."""
    least = np.full(len(points), np.inf)
    for rod in rods:
        start, stop = (np.repeat(end, len(points), axis=0) for end in
                       rod_ends(vehicle, rod, at[None]))  # fmt: skip
        radii = np.tile(rod.radii, (len(points), 1))
        foot = project_to_cone(start, stop, radii, points)
        least = np.minimum(least, np.linalg.norm(foot - points, axis=1))
    return least


HEADED = {"shaft.pinion_end.joint": "double", "shaft.pinion_end.pinion_yoke": "flange yoke"}


@pytest.mark.slow
@pytest.mark.parametrize(
    ("name", "changes"),
    [("ridge-crawler", {}), ("short-tailed-scout", HEADED), ("timber-crew-carrier", {})],
)
def test_all_that_turns_lies_within_the_rods_whatever_its_spin(name: str, changes: dict) -> None:
    """Every vertex of the built yokes, posed as `sim.line.turn` poses them, in random poses.

    Where the parts go a multibody library confirms (tests/outside).
    """
    rig = changed(load_demo(name), changes)
    vehicle = vehicle_of(rig)
    joints = parts_of(rig)
    rods = list(everything(rig, vehicle, joints))
    low, high = vehicle.travel.low, vehicle.travel.high
    rng = np.random.default_rng(3)
    first = vehicle.ends[0]
    bodies = {
        f"{first} shaft yoke": joints[first].driven,
        "pinion shaft yoke": joints["pinion"].driving,
        "pinion yoke": joints["pinion"].driven,
        "output yoke": joints["output"].driving,
    }
    if first == "middle":
        bodies |= {"middle yoke": joints["middle"].driving}
        bodies |= {"front section yoke": joints["output"].driven}
    for end in ("output", "pinion"):
        if isinstance(joints[end], HeadHardware):
            bodies[f"{end} center yoke"] = joints[end].centre
    for at in low + (high - low) * rng.uniform(size=(4, 3)):
        parts = turn(vehicle, *at, float(rng.uniform(0.0, 6.28))).X_C
        for part, yoke in bodies.items():
            vertices = yoke.contact.vertices
            if yoke.tube_from is not None:
                # The tube that the contact body goes on as is no part of the yoke.
                end = yoke.tube_from + 0.5 * yoke.dimensions["weld_bead"]
                vertices = vertices[vertices[:, 0] <= end]
            points = vertices @ parts[part][:3, :3].T + parts[part][:3, 3]
            assert depth(rods, vehicle, at, points).max() < 1e-6


def test_the_outline_stands_off_a_yoke_by_no_more_than_is_said() -> None:
    """Of all points of a taper's surface some point of the yoke's circle is as near as promised."""
    mesh = end_hardware(parse_rig(COORDINATES), "pinion").driven.contact
    tapers = outline(mesh)
    assert tapers[0].start == mesh.bounds[0, 0]
    assert tapers[-1].stop == mesh.bounds[1, 0]
    cuts = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    for taper in tapers:
        for share in (0.0, 0.25, 0.5, 0.75, 1.0):
            x = taper.start + share * (taper.stop - taper.start)
            radius = taper.radius[0] + share * (taper.radius[1] - taper.radius[0])
            wide = [widest(cuts, place) for place in (x - 0.5, x - 1e-6, x + 1e-6, x + 0.5)]
            if taper.start + 1e-3 < x < taper.stop - 1e-3:
                assert max(wide[1:3]) <= radius + 1e-3
            assert max(wide) >= radius - TOL.outline - 1e-6


def widest(body: trimesh.Trimesh, place: float) -> float:
    """Largest radius of a body cut across at a place along x, mm; 0 beside it."""
    section = body.section([1.0, 0.0, 0.0], [place, 0.0, 0.0])
    return 0.0 if section is None else float(np.hypot(*section.vertices[:, 1:].T).max())


@pytest.mark.slow
@pytest.mark.parametrize("pinion", [False, True])
def test_the_rods_of_a_head_begin_at_its_crosses(pinion: bool) -> None:
    """In random poses they lie where the turned parts do, which a multibody library confirms."""
    rig = changed(load_demo("short-tailed-scout"), HEADED if pinion else {})
    vehicle, rods = vehicle_of(rig), rods_of(rig)
    low, high = vehicle.travel.low, vehicle.travel.high
    poses = low + (high - low) * np.random.default_rng(3).uniform(size=(20, 3))
    parts = turn(vehicle, *poses.T, 0.4).X_C
    for end, ears in (("output", "ears at the output end"), ("pinion", "ears at the pinion end")):
        for rod in rods[ears]:
            yoke = parts[f"{end} shaft yoke"]
            for found, along in zip(rod_ends(vehicle, rod, poses), (rod.start, rod.stop),
                                    strict=True):  # fmt: skip
                there = yoke[:, :3, 3] + along[1] * sense(end) * yoke[:, :3, 0]
                assert found == pytest.approx(there, abs=ON_THE_SHAFT)
        for rod in rods.get(f"{end} head's center yoke", []):
            crosses = [parts[f"{end} {cross}"][:, :3, 3] for cross in ("cross", "second cross")]
            between = crosses[1] - crosses[0]
            u = between / np.linalg.norm(between, axis=-1, keepdims=True)
            for found, along in zip(rod_ends(vehicle, rod, poses), (rod.start, rod.stop),
                                    strict=True):  # fmt: skip
                assert found == pytest.approx(crosses[0] + along[1] * u, abs=ON_THE_SHAFT)
    assert ("pinion head's center yoke" in rods) == pinion


def sense(end: str) -> float:
    """Which way a shaft yoke's x axis points along the shaft, away from its own cross."""
    return 1.0 if end == "output" else -1.0


@pytest.mark.slow
def test_a_cube_in_the_centre_yoke_of_a_head_touches() -> None:
    """Beside the ball, where the ring of the center yoke turns and no ear does."""
    rig = load_demo("short-tailed-scout")
    radius = max(max(rod.radii) for rod in rods_of(rig)["output head's center yoke"])
    ball = vehicle_of(rig).p_C_output
    found = near(rig, [ball[0] + 30.0, radius - 1.0, ball[2]], 6.0)
    assert found.touches
    assert found.part == "output head's center yoke"


@pytest.mark.slow
def test_what_crosses_the_front_section_touches() -> None:
    """A crossmember through the front tube; clear of it, the gap is a closed form."""
    rig = load_demo("timber-crew-carrier")
    section = vehicle_of(rig).section
    assert section is not None
    at = 0.5 * (section.p_C_output + section.p_C_bearing)
    found = near(rig, list(at), 40.0)
    assert found.touches
    assert found.part == "front tube"
    beside = near(rig, [at[0], 100.0, at[2]], 40.0)
    assert beside.gap_mm == pytest.approx(100.0 - 20.0 - 0.5 * 3.5 * 25.4, abs=0.01)


@pytest.mark.slow
def test_the_whole_of_a_two_piece_shaft_is_judged() -> None:
    rig = changed(
        load_demo("timber-crew-carrier"),
        {
            "surroundings": [
                {
                    "name": "crossmember",
                    "box": {"at": ["75 in", "0 in", "10 1/4 in"], "size": ["3 in"] * 3},
                }
            ]
        },
    )
    assert check(rig).verdict == "touches"
