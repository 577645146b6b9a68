"""The outline of a turned body: closed forms, and nothing of any body outside of it."""

from itertools import pairwise

import numpy as np
import pytest
import trimesh

from geometry.errors import ShapeError
from geometry.mesh import Mesh
from geometry.outline import STEP, Taper, outline, outline_of_profile
from geometry.slip import CLAMP_WIDTH, SlipShape
from geometry.tolerances import TOL

SLIP = SlipShape(
    name="slip", tube_diameter=76.2, shoulder=7.0, pilot_diameter=71.0, pilot_length=14.0,
    spline_diameter=35.0, spline_teeth=16, spline_length=130.0, neck_length=40.0,
    sleeve_diameter=48.0, sleeve_depth=140.0, boot_diameter=65.0,
)  # fmt: skip


def mesh_of(body: trimesh.Trimesh) -> Mesh:
    return Mesh.uniform(body.vertices, body.faces, "body")


def radius_at(tapers: tuple[Taper, ...], x: np.ndarray) -> np.ndarray:
    """Radius of an outline at places along x, the larger one where two tapers meet."""
    most = np.full(len(x), -np.inf)
    for each in tapers:
        within = (x >= each.start - 1e-9) & (x <= each.stop + 1e-9)
        share = (x - each.start) / (each.stop - each.start)
        here = each.radius[0] + np.clip(share, 0.0, 1.0) * (each.radius[1] - each.radius[0])
        most = np.maximum(most, np.where(within, here, -np.inf))
    return most


def spread_over(body: trimesh.Trimesh, count: int) -> np.ndarray:
    """Points all over the surface of a body, its corners among them."""
    points, _ = trimesh.sample.sample_surface(body, count, seed=3)
    return np.concatenate([points, body.vertices])


def ring_of_cubes() -> trimesh.Trimesh:
    cubes = [
        trimesh.creation.box([9.0, 7.0, 5.0]).apply_translation([3.0 * i, 20.0 + 2.0 * i, 4.0 * i])
        for i in range(6)
    ]
    return trimesh.util.concatenate(cubes)


BODIES = {
    "a ball": trimesh.creation.icosphere(4, 50.0),
    "a box turned askew": trimesh.creation.box([40.0, 30.0, 80.0]).apply_transform(
        trimesh.transformations.rotation_matrix(0.7, [1.0, 2.0, 3.0])
    ),
    "a cylinder across": trimesh.creation.cylinder(20.0, 100.0),
    "a ring of cubes": ring_of_cubes(),
}


@pytest.mark.parametrize("name", BODIES)
def test_no_point_of_a_body_goes_round_outside_of_its_outline(name: str) -> None:
    body = BODIES[name]
    tapers = outline(mesh_of(body))
    points = spread_over(body, 20_000)
    radius = np.hypot(points[:, 1], points[:, 2])
    assert (radius_at(tapers, points[:, 0]) >= radius - 1e-9).all()
    assert tapers[0].start == pytest.approx(body.bounds[0, 0])
    assert tapers[-1].stop == pytest.approx(body.bounds[1, 0])
    for one, other in pairwise(tapers):
        assert one.stop == other.start


@pytest.mark.parametrize("name", BODIES)
def test_the_outline_is_no_farther_off_than_is_said(name: str) -> None:
    """At most `TOL.outline` over what is as far out within a slice, as cut by another library."""
    body = BODIES[name]
    tapers = outline(mesh_of(body))
    low, high = body.bounds[:, 0]
    for x in np.linspace(low, high, 37)[1:-1]:
        near = [
            float(np.hypot(*cut.vertices[:, 1:].T).max())
            for place in np.linspace(x - STEP, x + STEP, 9)
            if (cut := body.section([1.0, 0.0, 0.0], [place, 0.0, 0.0])) is not None
        ]
        assert radius_at(tapers, np.array([x]))[0] <= max(near) + TOL.outline + 1e-6


def test_a_cone_is_one_taper_and_a_step_is_two() -> None:
    """Closed forms: a turned cone from 40 to 20 mm, then a round of 30 mm."""
    profile = np.array([[0.0, 0.0], [0.0, 40.0], [50.0, 20.0], [50.0, 30.0], [80.0, 30.0],
                        [80.0, 0.0]])  # fmt: skip
    (cone, round_) = outline_of_profile(profile[1:-1])
    assert cone == Taper(0.0, 50.0, (pytest.approx(40.0), pytest.approx(20.0)))
    assert round_ == Taper(50.0, 80.0, (pytest.approx(30.0), pytest.approx(30.0)))


@pytest.mark.slow
def test_a_ball_is_held_by_few_tapers() -> None:
    """A chord that stands off by 2 x 0.25 mm at the most spans sqrt(8 R 0.25) or so: 10 of 100."""
    tapers = outline(mesh_of(trimesh.creation.icosphere(6, 50.0)))
    x = np.linspace(-49.0, 49.0, 500)
    true = np.sqrt(2500.0 - x**2)
    found = radius_at(tapers, x)
    assert (found >= true - 0.02).all()
    assert (found[50:-50] <= true[50:-50] + TOL.outline + 0.02).all()
    assert len(tapers) <= 24


def test_a_part_of_a_body_between_two_places() -> None:
    body = mesh_of(trimesh.creation.icosphere(5, 50.0))
    tapers = outline(body, -10.0, 20.0)
    assert (tapers[0].start, tapers[-1].stop) == (-10.0, 20.0)
    assert max(max(each.radius) for each in tapers) == pytest.approx(50.0, abs=TOL.outline)
    assert tapers[-1].radius[1] == pytest.approx(np.sqrt(2500.0 - 400.0), abs=TOL.outline)
    with pytest.raises(ShapeError, match="nothing of the body"):
        outline(body, 60.0, 70.0)


def test_the_profiles_of_a_slip_hold_its_built_halves() -> None:
    """Every vertex of the built sleeve and stub, but for what goes into the tubes."""
    built = SLIP.build()
    for mesh, profile in ((built.sleeve, SLIP.sleeve_profile()), (built.stub, SLIP.stub_profile())):
        tapers = outline_of_profile(profile)
        vertices = mesh.vertices[mesh.vertices[:, 0] >= 0.0]
        radius = np.hypot(vertices[:, 1], vertices[:, 2])
        off = radius - radius_at(tapers, vertices[:, 0])
        assert off.max() <= TOL.chord
        assert tapers[-1].stop == pytest.approx(mesh.bounds[1, 0])
        straight = np.linspace(30.0, tapers[-1].stop - 2.0, 40)
        assert (
            radius_at(tapers, straight).max() <= radius[vertices[:, 0] > 25.5].max() + TOL.outline
        )


@pytest.mark.parametrize("engaged", [20.0, 75.0, 130.0])
def test_the_boot_of_a_slip_lies_within_what_it_keeps_clear_as(engaged: float) -> None:
    boot, start = SLIP.boot(engaged)
    near, far = SLIP.boot_ends
    assert start == near
    long = boot.bounds[1, 0]
    assert start + long == pytest.approx(SLIP.between_lands(engaged) - far)
    on_sleeve, on_stub = SLIP.clamp_radii
    places = np.array([0.0, CLAMP_WIDTH, long - CLAMP_WIDTH, long])
    tapers = (
        Taper(*places[:2], (on_sleeve, on_sleeve)),
        Taper(*places[1:3], SLIP.fold_radii),
        Taper(*places[2:], (on_stub, on_stub)),
    )
    off = np.hypot(boot.vertices[:, 1], boot.vertices[:, 2]) - radius_at(
        tapers, np.clip(boot.vertices[:, 0], 0.0, long)
    )
    # Its skin is cut into flats that stand off by up to 0.2 mm, as it is only to show.
    assert off.max() <= 0.2 + TOL.chord
    assert off.max() >= -0.5
