"""A length taped between other places than the joint centres, held to the built meshes."""

from math import pi

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from geometry.mesh import Mesh
from geometry.yoke import SlidingYoke
from geometry.yoke.strap.readings import SEAT
from sim.derive import derive, ride_height_of, vehicle_of
from sim.frames import FloatArray
from sim.hardware.head import HeadHardware, end_hardware
from sim.hardware.joint import joint_hardware
from sim.line import turn
from sim.rig import Rig, RigError, changed, load_demo, parse_rig
from sim.rig.fitted import fitted_cross, fitted_yoke
from sim.ticket.tape_check import tape_assumed, tape_readings
from viewer.words.problems import error_words
from viewer.words.remarks import said

PHONE = """
[output]
points_down = "3 deg"
[axle]
points_up = "2 deg"
points_left = "4 deg"
snout = "10 in"
[travel]
bump = "4 in"
droop = "5 in"
[ride_height]
shaft_points_down = "13 deg"
pinion_left = "3 in"
[ride_height.tape]
reads = "41 1/2 in"
at_output = "flange face"
at_pinion = "yoke flat"
"""

HEADED = """
[shaft.output_end]
joint = "double"
"""

SLIDING = """
[shaft]
slip = { at = "output", closes = "1 1/8 in", opens = "2 in" }
"""


def phone(output: str, pinion: str, more: str = "", keys: str = "") -> Rig:
    text = PHONE.replace('"flange face"', f'"{output}"').replace('"yoke flat"', f'"{pinion}"')
    return parse_rig(text + keys + more)


def flat_faces(mesh: Mesh) -> dict[float, float]:
    """Area (mm2) of what looks along +x, by its x (mm) to 1e-6."""
    corners = mesh.triangles
    vectors = np.cross(corners[:, 1] - corners[:, 0], corners[:, 2] - corners[:, 0])
    sizes = 0.5 * np.linalg.norm(vectors, axis=1)
    along = vectors[:, 0] > 2.0 * sizes * (1.0 - 1e-9)
    found: dict[float, float] = {}
    for x, size in zip(corners[along, 0, 0], sizes[along], strict=True):
        found[round(float(x), 6)] = found.get(round(float(x), 6), 0.0) + float(size)
    return found


def placed(rig: Rig, part: str, point: FloatArray) -> FloatArray:
    """A point of a part's own frame in the chassis at ride height."""
    X = turn(vehicle_of(rig), 0.0, 0.0, 0.0, 0.3).X_C[part]
    moved: FloatArray = X[:3, :3] @ point + X[:3, 3]
    return moved


ORIGIN = np.zeros(3)


def test_flange_face_and_yoke_flat_lie_where_the_meshes_have_them() -> None:
    rig = phone("flange face", "yoke flat")
    flange = joint_hardware(rig, "output").driving
    faces = flat_faces(flange.parts["body"])
    face = max(faces, key=lambda x: faces[x])
    mating = flange.parts["mating flange"]
    assert float(mating.bounds[0, 0]) == pytest.approx(face, abs=1e-6)
    strap = joint_hardware(rig, "pinion").driven.parts["body"]
    ears = float(strap.bounds[0, 0])
    assert ears == pytest.approx(SEAT, abs=1e-6)
    one = placed(rig, "output yoke", np.array([face, 0.0, 0.0]))
    other = placed(rig, "pinion yoke", np.array([ears, 0.0, 0.0]))
    assert np.linalg.norm(one - other) == pytest.approx(41.5 * 25.4, abs=1e-6)


@pytest.mark.parametrize(
    ("output", "parts"),
    [("outer cross", "output cross"), ("inner cross", "output second cross")],
)
def test_crosses_of_a_head_lie_where_they_are_posed(output: str, parts: str) -> None:
    rig = phone(output, "joint centre", HEADED)
    one, other = placed(rig, parts, ORIGIN), placed(rig, "pinion cross", ORIGIN)
    assert np.linalg.norm(one - other) == pytest.approx(41.5 * 25.4, abs=1e-6)


def test_a_flange_behind_a_head_is_measured_from_its_own_cross() -> None:
    rig = phone("flange face", "joint centre", HEADED)
    parts = end_hardware(rig, "output")
    assert isinstance(parts, HeadHardware)
    faces = flat_faces(parts.driving.parts["body"])
    face = max(faces, key=lambda x: faces[x])
    one = placed(rig, "output yoke", np.array([face, 0.0, 0.0]))
    other = placed(rig, "pinion cross", ORIGIN)
    assert np.linalg.norm(one - other) == pytest.approx(41.5 * 25.4, abs=1e-6)


def test_a_seal_lies_what_it_still_closes_behind_the_barrel() -> None:
    rig = phone("output seal", "joint centre", SLIDING)
    end = rig.shaft.output_end
    shape = fitted_yoke(end.output_yoke, fitted_cross(end.cross), rig.shaft.tube)
    assert isinstance(shape, SlidingYoke)
    body = joint_hardware(rig, "output").driving.parts["body"]
    corners = np.unique(body.vertices, axis=0)
    outside = np.hypot(corners[:, 1], corners[:, 2])
    # Behind the start of the barrel nothing stands out of its round; before it the neck does.
    start = shape.barrel_start
    radius = 0.5 * shape.barrel_diameter
    assert outside[corners[:, 0] > start + 1e-6].max() <= radius + 0.2
    assert outside[corners[:, 0] < start - 1.0].max() > radius + 1.0
    seal = placed(rig, "output yoke", np.array([start + 1.125 * 25.4, 0.0, 0.0]))
    pinion = placed(rig, "pinion cross", ORIGIN)
    assert np.linalg.norm(seal - pinion) == pytest.approx(41.5 * 25.4, abs=1e-6)
    told = [said(each.remark) for each in derive(rig).derived]
    (says,) = (line for line in told if "barrel bottoms at the seal" in line)
    assert f"({start:.1f} mm) of yoke before its barrel" in says


def test_seal_shaft_end_and_a_joint_measured_from_the_seal_agree() -> None:
    by_hand = phone("output seal", "joint centre", SLIDING, 'seal_to_joint = "3 1/4 in"\n')
    at_end = phone(
        "shaft end", "joint centre", SLIDING,
        'seal_to_joint = "3 1/4 in"\nstick_out = "1 1/2 in"\n',
    )  # fmt: skip
    for rig, behind in ((by_hand, 3.25), (at_end, 1.75)):
        datum = placed(rig, "output yoke", np.array([behind * 25.4, 0.0, 0.0]))
        pinion = placed(rig, "pinion cross", ORIGIN)
        assert np.linalg.norm(datum - pinion) == pytest.approx(41.5 * 25.4, abs=1e-6)


def test_the_tape_check_goes_by_what_was_measured_from_the_seal() -> None:
    """Once it took the barrel to bottom at the seal, whatever the tape had said."""
    words = 'seal_to_joint = "3 1/4 in"\nstick_out = "1 1/2 in"\n'
    rig = phone("shaft end", "joint centre", SLIDING, words)
    reads = {(each.at_output, each.at_pinion): each.reads for each in tape_readings(rig)}
    assert reads["shaft end", "joint centre"] == pytest.approx(41.5 * 25.4, abs=1e-6)
    datum = placed(rig, "output yoke", np.array([3.25 * 25.4, 0.0, 0.0]))
    pinion = placed(rig, "pinion cross", ORIGIN)
    by_mesh = np.linalg.norm(datum - pinion)
    assert reads["output seal", "joint centre"] == pytest.approx(by_mesh, abs=1e-6)
    assert tape_assumed(rig) == ()
    unsaid = phone("output seal", "joint centre", SLIDING)
    assert "bottoms at the seal" in said(tape_assumed(unsaid)[0])
    assert ("shaft end", "joint centre") not in {
        (each.at_output, each.at_pinion) for each in tape_readings(unsaid)
    }


def test_a_straight_shaft_subtracts_the_face_alone() -> None:
    text = PHONE.replace('"13 deg"', '"3 deg"').replace('pinion_left = "3 in"\n', "")
    rig = parse_rig(text.replace("yoke flat", "joint centre"))
    yoke = fitted_yoke(
        rig.shaft.output_end.output_yoke, fitted_cross(rig.shaft.output_end.cross), rig.shaft.tube
    )
    face = yoke.dimensions()["flange_face"]
    assert ride_height_of(rig).length == pytest.approx(41.5 * 25.4 - face, abs=1e-6)


@settings(max_examples=25, deadline=None)
@given(
    reads=st.floats(20.0, 70.0),
    down=st.floats(0.0, 30.0),
    left=st.floats(0.0, 6.0),
    datum=st.sampled_from(["joint centre", "flange face"]),
)
def test_any_tape_gives_a_shaft_that_reads_so(
    reads: float, down: float, left: float, datum: str
) -> None:
    rig = phone(datum, "yoke flat")
    made = changed(
        rig,
        {
            "ride_height.tape.reads": f"{reads:.6f} in",
            "ride_height.shaft_points_down": f"{down:.6f} deg",
            "ride_height.pinion_left": f"{left:.6f} in",
        },
    )
    face = 46.0 if datum == "flange face" else 0.0
    one = placed(made, "output yoke", np.array([face, 0.0, 0.0]))
    other = placed(made, "pinion yoke", np.array([SEAT, 0.0, 0.0]))
    assert np.linalg.norm(one - other) == pytest.approx(round(reads, 6) * 25.4, abs=1e-6)
    again = parse_rig(PHONE.replace("flange face", "joint centre"))
    assert again.typed()["ride_height"]["tape"]["reads"] == "41 1/2 in"


def test_what_was_typed_stays_and_the_length_is_told() -> None:
    rig = phone("flange face", "yoke flat")
    assert "length" not in rig.typed()["ride_height"]
    told = next(each for each in derive(rig).derived if each.key == "ride_height.length")
    assert "from 41 1/2 in taped from the flange face at the output" in said(told.remark)
    assert told.value == pytest.approx(ride_height_of(rig).length, abs=1e-9)


@pytest.mark.parametrize(
    ("old", "new", "says"),
    [
        ('"flange face"', '"outer cross"', "a single joint has one cross"),
        ('"flange face"', '"output seal"', "does not slide on the output"),
        ('"flange face"', '"bearing"', "there is no [carrier]"),
        ('"flange face"', '"shaft end"', "ride_height.tape.stick_out"),
        ('"yoke flat"', '"flange face"', "a strap yoke has no flange face"),
        ('"41 1/2 in"', '"1 in"', "leaves no shaft"),
        ('"41 1/2 in"', '"130 mm"', "shorter than two yokes"),
        ('"41 1/2 in"', '"41 1/2"', "no unit after 41 1/2"),
        ('at_pinion = "yoke flat"', "", "ride_height.tape.at_pinion"),
        ('"yoke flat"', '"the nut"', "ride_height.tape.at_pinion"),
        ('at_pinion = "yoke flat"', 'at_pinion = "yoke flat"\nstick_out = "1 in"', "shaft end"),
        ('at_pinion = "yoke flat"', 'at_pinion = "yoke flat"\nseal_to_joint = "1 in"', "output se"),
        ("[ride_height]\n", '[ride_height]\nlength = "38 in"\n', "contradicts the joints"),
    ],
)
def test_a_tape_that_cannot_be_is_one_clear_line(old: str, new: str, says: str) -> None:
    with pytest.raises(RigError) as refused:
        parse_rig(PHONE.replace(old, new, 1))
    assert says in error_words(refused.value)
    assert len(str(refused.value).splitlines()) == 1


def test_a_tape_from_the_bearing_checks_the_joints_of_a_two_piece_shaft() -> None:
    rig = load_demo("timber-crew-carrier")
    vehicle = vehicle_of(rig)
    assert vehicle.section is not None
    there = float(np.linalg.norm(vehicle.p_A_pinion - vehicle.section.p_C_bearing))
    tape = {"at_output": "bearing", "at_pinion": "joint centre"}
    for off, fine in ((2.0, True), (4.0, False)):
        read = {"ride_height": {"tape": tape | {"reads": f"{there + off} mm"}}}
        if fine:
            assert changed(rig, read)
        else:
            with pytest.raises(RigError, match="contradicts"):
                changed(rig, read)


def test_the_weld_land_of_the_mesh_is_that_of_the_yoke() -> None:
    rig = phone("joint centre", "joint centre")
    yoke = joint_hardware(rig, "output").driven
    shape = yoke.dimensions
    outside, pilot = shape["tube_diameter"], shape["pilot_diameter"]
    ring = 0.25 * pi * (outside**2 - pilot**2)
    faces = flat_faces(yoke.parts["body"])
    assert yoke.tube_from is not None
    assert faces[round(yoke.tube_from, 6)] == pytest.approx(ring, rel=0.01)


@pytest.mark.parametrize("name", ["short-tailed-scout", "goat-path-buggy", "quarry-hauler"])
def test_what_the_ticket_says_a_tape_reads_is_taken_as_that_shaft(name: str) -> None:
    """Each reading typed back into the rig agrees with it."""
    rig = load_demo(name)
    readings = tape_readings(rig)
    assert len(readings) >= 2
    for each in readings:
        tape = {"at_output": each.at_output, "at_pinion": each.at_pinion}
        for off, fine in ((0.0, True), (5.0, False)):
            typed = {"ride_height.tape": tape | {"reads": f"{each.reads + off:.9f} mm"}}
            if fine:
                assert changed(rig, typed)
            else:
                with pytest.raises(RigError, match="contradicts"):
                    changed(rig, typed)
