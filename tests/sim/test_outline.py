"""What turns and moves near a thing: slip, yokes at both ends, axle, case. Closed forms."""

import numpy as np
import pytest

from geometry.outline import STEP
from geometry.tolerances import TOL
from sim.around.rods import Rod, rod_ends
from sim.around.surroundings import SurroundingGap, rods_of, surrounding_gaps
from sim.derive import vehicle_of
from sim.hardware.joint import joint_hardware
from sim.line import line, turn
from sim.rig import Rig, changed, parse_rig
from sim.table.problems import RigError
from sim.vehicle import Vehicle
from tests.sim.rigs import COORDINATES

UP_AND_DOWN = {"travel.roll": "0 deg", "travel.nose_up": "0 deg", "travel.nose_down": "0 deg"}
STILL = {**UP_AND_DOWN, "travel.bump": "0 in", "travel.droop": "0 in"}


def demo(**changes: str) -> Rig:
    return changed(parse_rig(COORDINATES), UP_AND_DOWN | changes)


def gap(rig: Rig, at: list[float], size: list[float], on: str = "chassis") -> SurroundingGap:
    """The gap to a box, its place and size in mm."""
    box = {"at": [f"{x:.6f} mm" for x in at], "size": [f"{x:.6f} mm" for x in size]}
    rig = changed(rig, {"surroundings": [{"name": "box", "fixed_to": on, "box": box}]})
    (found,) = surrounding_gaps(rig, vehicle_of(rig), parts(rig))
    return found


def parts(rig: Rig) -> dict:
    return {joint: joint_hardware(rig, joint) for joint in ("output", "pinion")}


def named(rig: Rig, vehicle: Vehicle, name: str) -> list[Rod]:
    return [rod for rod in rods_of(rig, vehicle, parts(rig)) if rod.name == name]


@pytest.mark.slow
def test_a_slip_is_as_long_as_it_is_in_each_pose() -> None:
    """From the sleeve's weld to the stub's it grows by what `line` says the slip opens."""
    rig = demo()
    vehicle = vehicle_of(rig)
    sleeve, stub = (named(rig, vehicle, f"{half} of the slip")[0] for half in ("sleeve", "stub"))
    travels = np.array([0.0, -vehicle.travel.droop, vehicle.travel.bump])
    poses = travels[:, None] * [1.0, 0.0, 0.0]
    ends = [rod_ends(vehicle, rod, poses)[0] for rod in (sleeve, stub)]
    long = np.linalg.norm(ends[1] - ends[0], axis=1)
    slip = line(vehicle, *poses.T).slip
    assert np.abs(slip[1:]).min() > 1.0
    assert long - long[0] == pytest.approx(slip, abs=1e-9)


@pytest.mark.slow
@pytest.mark.parametrize("tube", ["1 3/4 in", "2 in"])
def test_a_sleeve_thicker_than_the_tube_is_what_touches(tube: str) -> None:
    """A tube of 50.8 mm was once told clear of a rail with the sleeve of 51 mm in it."""
    size = {f"shaft.{end}_end.cross": "30 x 92" for end in ("output", "pinion")}
    rig = demo(**STILL, **size, **{"shaft.tube.outside": tube})
    vehicle = vehicle_of(rig)
    state = line(vehicle, 0.0, 0.0, 0.0)
    sleeve = named(rig, vehicle, "sleeve of the slip")[-1]
    assert sleeve.radii == pytest.approx((25.5, 25.5))
    u = state.shaft_axis_C
    up = np.cross(u, [0.0, 1.0, 0.0])
    up *= np.sign(up[2])
    middle = state.p_C_output + 0.5 * (sleeve.start[1] + sleeve.stop[1]) * u
    half_tube = 0.5 * rig.shaft.tube.outside.mm
    for off, touches in ((half_tube + 0.04, True), (27.0, False)):
        # A thin rod across, its upper and lower side 2 mm off its middle.
        found = gap(rig, list(middle + (off + 2.0) * up), [0.01, 200.0, 4.0])
        assert found.touches == touches
        assert found.part == ("sleeve of the slip")
    assert found.gap_mm == pytest.approx(1.5, abs=0.1)


@pytest.mark.slow
def test_the_boot_is_named_and_yields() -> None:
    rig = demo(**STILL)
    vehicle = vehicle_of(rig)
    folds = named(rig, vehicle, "boot on the slip")[0]
    (start,), (stop,) = rod_ends(vehicle, folds, np.zeros((1, 3)))
    place = 0.5 * (start + stop)
    radius = 0.5 * sum(folds.radii)
    found = gap(rig, list(np.add(place, [0.0, radius + 4.0, 0.0])), [2.0, 6.0, 2.0])
    assert (found.part, found.yields, found.of) == ("boot on the slip", True, "shaft")
    assert found.called == "boot on the slip"


def test_the_yoke_on_the_pinion_is_asked_against_the_chassis() -> None:
    """A plate over its back half at full bump, as far as the circles of its vertices come up."""
    rig = demo()
    vehicle = vehicle_of(rig)
    vertices = joint_hardware(rig, "pinion").driven.contact.vertices
    vertices = vertices[vertices[:, 0] > 75.0]
    X = turn(vehicle, vehicle.travel.bump, 0.0, 0.0, 0.0).X_C["pinion yoke"]
    radius = np.hypot(vertices[:, 1], vertices[:, 2])
    highest = float((X[2, 3] + vertices[:, 0] * X[2, 0] + radius * np.hypot(*X[2, 1:3])).max())
    behind = X[0, 3] + 70.0 * X[0, 0]
    found = gap(rig, [behind - 300.0, 0.0, highest + 40.0 + 10.0], [600.0, 400.0, 20.0])
    assert (found.part, found.of, found.called) == ("pinion yoke", "axle", "pinion yoke")
    # Beside a step of its radius the outline is as thick for a slice more.
    assert 40.0 - TOL.outline - STEP <= found.gap_mm <= 40.0 + 1e-6
    assert found.unseen == ("axle housing", "output yoke")


@pytest.mark.slow
def test_axle_tubes_are_asked_where_their_size_is_told() -> None:
    """Closed form: a beam over a tube's end at full bump, and one beside it."""
    told = demo(**{"axle.tubes_outside": "80 mm", "axle.tubes_long": "1200 mm"})
    vehicle = vehicle_of(told)
    p = vehicle.suspension.poses(vehicle.travel.bump, 0.0, 0.0).p_C_A
    over = [p[0], 550.0, p[2] + 40.0 + 25.0 + 10.0], [50.0, 60.0, 20.0]
    before = gap(demo(), *over)
    assert before.gap_mm > 100.0
    assert before.unseen == ("axle housing", "output yoke")
    found = gap(told, *over)
    assert (found.part, found.of) == ("axle tubes", "axle")
    assert found.gap_mm == pytest.approx(25.0, abs=TOL.clearance)
    assert found.unseen == ("rest of the axle housing", "output yoke")
    beside = gap(told, [p[0], 650.0, p[2]], [4000.0, 60.0, 4000.0])
    assert beside.gap_mm == pytest.approx(20.0, abs=TOL.clearance)


@pytest.mark.slow
def test_the_snout_is_asked_where_its_size_is_told() -> None:
    """Closed form: a pad over its middle, level with the axle at full bump."""
    rig = demo(**{"axle.snout_outside": "120 mm"})
    vehicle = vehicle_of(rig)
    axle = vehicle.suspension.poses(vehicle.travel.bump, 0.0, 0.0)
    along = axle.direction(-vehicle.axis_A_pinion)
    up = np.cross(along, [0.0, 1.0, 0.0])
    up *= np.sign(up[2])
    middle = axle.point(vehicle.p_A_pinion) - 180.0 * along
    found = gap(rig, list(middle + (60.0 + 8.0) * up + [0.0, 0.0, 5.0]), [0.01, 90.0, 10.0])
    assert (found.part, found.of) == ("snout", "axle")
    assert found.gap_mm == pytest.approx(8.0, abs=TOL.clearance)
    (snout,) = named(rig, vehicle, "snout")
    end = rod_ends(vehicle, snout, np.zeros((1, 3)))[1][0]
    assert end @ vehicle.axis_A_pinion == pytest.approx(0.0, abs=1e-9)


@pytest.mark.slow
def test_output_yoke_and_case_are_asked_against_the_axle() -> None:
    """A guard on the axle comes up under the output: seen from there, the output comes down."""
    rig = demo()
    vehicle = vehicle_of(rig)
    reach = joint_hardware(rig, "output").driving.contact.bounds[1, 0]
    x = vehicle.axis_C_output
    behind = vehicle.p_C_output + (reach + 80.0) * x
    down = np.cross(x, [0.0, 1.0, 0.0])
    down *= -np.sign(down[2])
    p = vehicle.suspension.poses(vehicle.travel.bump, 0.0, 0.0).p_C_A
    guard = list(behind + (90.0 + 30.0) * down - p - [0.0, 0.0, 5.0]), [0.01, 300.0, 10.0], "axle"
    before = gap(rig, *guard)
    assert before.unseen == ("case at the output", "pinion yoke")
    assert (before.part, before.of) == ("output yoke", "output")
    told = demo(**{"output.case_outside": "180 mm", "output.case_long": "200 mm"})
    found = gap(told, *guard)
    assert (found.part, found.of) == ("case at the output", "output")
    assert found.unseen == ("pinion yoke",)
    assert found.gap_mm == pytest.approx(30.0, abs=TOL.clearance)
    assert before.gap_mm > found.gap_mm


@pytest.mark.parametrize("key", ["output.case_outside", "axle.tubes_long"])
def test_half_a_size_is_asked_back(key: str) -> None:
    with pytest.raises(RigError, match="together"):
        demo(**{key: "100 mm"})
