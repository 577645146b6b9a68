"""A whole touch curve, its contacts and its lowest point, against the law of cosines.

Balls on yokes and cross touch where their centres come as near as their radii allow; where that is
at each spin follows from plane trigonometry alone, own derivation.
"""

from functools import cache
from math import acos, asin, atan, atan2, cos, degrees, hypot, pi, radians, sin, tan

import numpy as np
import numpy.typing as npt
import pytest

from geometry.contact.joint_parts import ClosingJoint, JointParts, Turn
from geometry.contact.touch import TouchCurve, touch_curve
from geometry.joint import driven_in_driving, rotations
from geometry.mesh import Mesh
from geometry.tolerances import TOL
from tests.geometry.pins import SIZE, meeting
from tests.simple_shapes import TOUCH_GAP, ball

EAR, NECK, EAR_RADIUS, NECK_RADIUS = 35.0, 40.0, 16.0, 14.0
NEED = (EAR**2 + NECK**2 - (EAR_RADIUS + NECK_RADIUS) ** 2) / (2 * EAR * NECK)
"""Ear and neck touch where sin(bend) cos(spin) is this: the cosine of the angle between the driving
bores and the driven shaft."""


@cache
def balls() -> tuple[ClosingJoint, TouchCurve]:
    """One ear on the driving bores, a neck on the driven shaft: mirrored, but not the same half a
    turn on."""
    ear, neck = ball((0, EAR, 0), EAR_RADIUS, "ear"), ball((NECK, 0, 0), NECK_RADIUS, "neck")
    joint = ClosingJoint(JointParts(ear, neck))
    return joint, touch_curve(joint, spins=120)


def test_the_curve_of_an_ear_and_a_neck() -> None:
    """At every spin of the turn: where they touch, where they never do, and how near it is told."""
    joint, curve = balls()
    assert joint.turn == Turn(half_turn=False, mirror=True)
    np.testing.assert_allclose(curve.spin, np.radians(np.arange(0.0, 360.0, 3.0)), atol=1e-12)
    reached = np.cos(curve.spin) * sin(TOL.bend_limit) > NEED + 1e-3
    never = np.cos(curve.spin) * sin(TOL.bend_limit) < NEED
    assert reached.sum() >= 11
    assert np.isnan(curve.touch[never]).all()
    assert (curve.clear[never] == TOL.bend_limit).all()
    assert all(contact is None for contact, n in zip(curve.contacts, never, strict=True) if n)
    exact = np.arcsin(NEED / np.cos(curve.spin[reached]))
    # The centres close by this much for each radian of bend; a mesh lies up to a chord inside.
    closing = EAR * NECK * np.cos(exact) * np.cos(curve.spin[reached])
    late = 2.0 * joint.parts.chord * (EAR_RADIUS + NECK_RADIUS) / closing
    touch, clear = curve.touch[reached], curve.clear[reached]
    assert (touch >= exact - 1e-9).all()
    assert (touch <= exact + late + 0.5 * TOL.certificate).all()
    assert (clear <= touch).all()
    assert (touch - clear <= TOL.certificate).all()
    assert (clear >= exact - TOUCH_GAP * late / joint.parts.chord).all()
    for spin, below, at in zip(curve.spin[reached].tolist(), clear, touch, strict=True):
        assert not joint.yokes.cut(float(below), spin)
        assert joint.yokes.cut(float(at), spin)


def test_contacts_of_an_ear_and_a_neck_lie_between_their_centres() -> None:
    """In the joint frame the ear stands at (0, cos s, sin s) and the neck at (-cos b, sin b, 0): a
    contact lies on the line between them, on either ball; on the mirrored half as on the other."""
    curve = balls()[1]
    seen = 0
    for spin, contact in zip(curve.spin, curve.contacts, strict=True):
        if contact is None:
            continue
        seen += 1
        assert contact.spin == spin
        assert contact.bodies == ("driving", "driven")
        assert contact.surfaces == ("ear", "neck")
        ear = EAR * np.array([0.0, cos(spin), sin(spin)])
        neck = NECK * np.array([-cos(contact.bend), sin(contact.bend), 0.0])
        toward = (neck - ear) / np.linalg.norm(neck - ear)
        # A facet's nearest point strays from the line by no more than half its edge.
        np.testing.assert_allclose(contact.points[0], ear + EAR_RADIUS * toward, atol=1.0)
        np.testing.assert_allclose(contact.points[1], neck - NECK_RADIUS * toward, atol=1.0)
        assert np.linalg.norm(contact.points[0] - contact.points[1]) <= TOUCH_GAP + 1e-9
        assert np.linalg.norm(contact.points[0] - ear) <= EAR_RADIUS + 1e-9
        assert np.linalg.norm(contact.points[1] - neck) <= NECK_RADIUS + 1e-9
    assert seen >= 11
    assert {contact.spin > pi for contact in curve.contacts if contact} == {True, False}


def test_the_lowest_touch_of_an_ear_and_a_neck() -> None:
    """With the ear in the plane of the bend: asin of what is needed, certified to just below."""
    joint, curve = balls()
    assert curve.first is not None
    late = 2.0 * joint.parts.chord * (EAR_RADIUS + NECK_RADIUS) / (EAR * NECK * cos(asin(NEED)))
    assert asin(NEED) <= curve.touch_min <= asin(NEED) + late + TOL.certificate
    assert curve.touch_min <= np.nanmin(curve.touch)
    assert curve.touch_min - TOL.certificate <= curve.certified_clear <= curve.touch_min
    assert abs(sin(curve.first.spin)) < 0.1
    assert curve.chord == joint.parts.chord
    assert curve.limit == TOL.bend_limit
    for array in (curve.spin, curve.touch, curve.clear, curve.first.points):
        assert not array.flags.writeable


FITTING = 20.0
"""Distance of a grease fitting of 6 mm from the cross centre, mm."""
STOPS = {"driving": (30.0, 9.0), "driven": (10.0, 5.0)}
"""Distance and radius of what it runs into, one farther out and one farther in, so that the two
never meet each other, mm."""


def _swung(body: str, stop: float) -> float:
    """Swing (rad) at which the fitting meets a stop at so many degrees: as much less as the two
    are seen apart from the cross centre when they touch."""
    out, radius = STOPS[body]
    apart = acos((FITTING**2 + out**2 - (6.0 + radius) ** 2) / (2.0 * FITTING * out))
    return radians(stop) - apart if stop > 0.0 else radians(stop) + apart


def _stopped(body: str, stop: float | None) -> tuple[Mesh, npt.NDArray[np.float64]]:
    """A yoke with its stop, and where that is: a swing of a brings the fitting to (cos a, 0,
    sin a) in the driving yoke and to (-cos a, 0, sin a) in the driven one."""
    far = ball((90.0, 0.0, 0.0), 1.0, "far")
    if stop is None:
        return far, np.zeros(3)
    out, radius = STOPS[body]
    ahead = out * cos(radians(stop)) * (1.0 if body == "driving" else -1.0)
    middle = (ahead, 0.0, out * sin(radians(stop)))
    return Mesh.join([far, ball(middle, radius, "stop")]), np.array(middle)


@pytest.mark.parametrize("driving", [50.0, -60.0, None])
@pytest.mark.parametrize("driven", [40.0, -45.0, None])
def test_a_fitting_swings_into_either_yoke(driving: float | None, driven: float | None) -> None:
    """The fitting stands square to both bores; in the driving yoke it swings by an angle whose
    tangent is tan(bend) sin(spin), in the driven yoke by one whose sine is sin(bend) cos(spin),
    and a stop stands at so many degrees toward which it swings. The lower of the two is the
    curve, at every spin."""
    one, at_driving = _stopped("driving", driving)
    other, at_driven = _stopped("driven", driven)
    fitting = ball((0.0, 0.0, FITTING), 6.0, "fitting")
    curve = touch_curve(ClosingJoint(JointParts(one, other, fitting)), spins=40)
    bends = {"driving": np.full(40, np.inf), "driven": np.full(40, np.inf)}
    for i, spin in enumerate(curve.spin.tolist()):
        if driving is not None and sin(spin) * driving > 1e-9:
            bends["driving"][i] = atan(tan(_swung("driving", driving)) / sin(spin))
        if driven is not None and cos(spin) * driven > 1e-9:
            share = sin(_swung("driven", driven)) / cos(spin)
            bends["driven"][i] = asin(share) if abs(share) <= 1.0 else np.inf
    expected = np.minimum(*bends.values())
    met = expected < TOL.bend_limit - 0.02
    assert np.isnan(curve.touch[expected > TOL.bend_limit + 0.02]).all()
    np.testing.assert_allclose(curve.touch[met], expected[met], rtol=0.0, atol=radians(0.3))
    for i in np.flatnonzero(met):
        contact = curve.contacts[i]
        assert contact is not None
        body = min(bends, key=lambda name: bends[name][i])
        assert contact.bodies == (body, "cross")
        assert contact.surfaces == ("stop", "fitting")
        assert curve.touch[i] - 5.0 * TOL.certificate <= curve.clear[i] == contact.bend
        assert curve.clear[i] < curve.touch[i]
        frames = rotations(contact.bend, contact.spin)
        R_JA, stop = (frames.R_JD, at_driving) if body == "driving" else (frames.R_JN, at_driven)
        away = contact.points - [R_JA @ stop, frames.R_JX @ (0.0, 0.0, FITTING)]
        np.testing.assert_allclose(
            np.linalg.norm(away, axis=1), [STOPS[body][1], 6.0], rtol=0.0, atol=0.05
        )
        assert np.linalg.norm(contact.points[0] - contact.points[1]) <= TOUCH_GAP + 1e-9
    least = min(
        (abs(_swung(*stop)) for stop in (("driving", driving), ("driven", driven)) if stop[1]),
        default=np.inf,
    )
    if np.isinf(least):
        assert curve.first is None
        assert curve.certified_clear == TOL.bend_limit
    else:
        assert curve.first is not None
        assert curve.touch_min == pytest.approx(least, abs=radians(0.3))
        assert least <= curve.touch_min <= np.nanmin(curve.touch) + 1e-12
        assert 0.0 < curve.touch_min - curve.certified_clear <= TOL.certificate
        assert curve.first.bend == pytest.approx(curve.touch_min, abs=TOL.certificate)


def test_what_touches_first_is_entered_whoever_is_asked_last() -> None:
    """Yokes that meet where an ear comes to a neck, and a fitting that comes to a stop: at spins
    where both do, the lower bend is the curve's, now the yokes' and now the cross's."""
    neck = ball((NECK, 0, 0), NECK_RADIUS, "neck")
    stop, _ = _stopped("driving", 50.0)
    ear = Mesh.join([ball((0, EAR, 0), EAR_RADIUS, "ear"), stop])
    curve = touch_curve(
        ClosingJoint(JointParts(ear, neck, ball((0.0, 0.0, FITTING), 6.0, "fitting"))), spins=60
    )
    met = {"driven": 0, "cross": 0}
    for i, spin in enumerate(curve.spin.tolist()):
        if not 0.05 < spin < 0.95 * acos(NEED / sin(TOL.bend_limit)):
            continue
        yokes = asin(NEED / cos(spin))
        cross = atan(tan(_swung("driving", 50.0)) / sin(spin))
        lower = "cross" if cross < yokes else "driven"
        assert curve.touch[i] == pytest.approx(min(yokes, cross), abs=radians(0.3))
        contact = curve.contacts[i]
        assert contact is not None
        if abs(yokes - cross) > 0.01:
            assert contact.bodies[1] == lower
            met[lower] += 1
    assert min(met.values()) > 0


@pytest.mark.parametrize("between", range(12))
def test_pins_that_meet_between_the_sampled_spins_are_the_lowest_touch(between: int) -> None:
    """No sampled spin shows them; the certificate does, and the curve's lowest point is theirs,
    between whichever two of the samples they meet."""
    rng = np.random.default_rng(between)
    bend, spin = rng.uniform(0.25, 0.9), rng.uniform(0.05, 0.45) + between * pi / 6
    pair = meeting((bend, spin + 0.1), (bend, spin), 50.0)
    curve = touch_curve(ClosingJoint(JointParts(pair.a, pair.b)), spins=12)
    assert np.isnan(curve.touch).all()
    assert curve.first is not None
    assert curve.touch_min <= bend + 4.0 * SIZE / 50.0 + TOL.certificate
    placed = driven_in_driving(curve.first.bend, curve.first.spin)
    apart = pair.a.bounds.mean(axis=0) - placed @ pair.b.bounds.mean(axis=0)
    assert np.linalg.norm(apart) <= 4.0 * SIZE + TOUCH_GAP
    assert curve.touch_min - TOL.certificate <= curve.certified_clear < curve.touch_min


@pytest.mark.parametrize("lift", [3.0, -4.0])
def test_a_bump_off_the_samples_sets_the_lowest(lift: float) -> None:
    """The ear stands a few degrees off its bores: so does the spin of the lowest touch, which is
    told far more finely than the spins are sampled."""
    at = radians(lift)
    ear = ball((0, EAR * cos(at), EAR * sin(at)), EAR_RADIUS, "ear")
    joint = ClosingJoint(JointParts(ear, ball((NECK, 0, 0), NECK_RADIUS, "neck")))
    assert joint.turn == Turn(half_turn=False, mirror=False)
    curve = touch_curve(joint, spins=8)
    assert curve.first is not None
    late = 2.0 * joint.parts.chord * (EAR_RADIUS + NECK_RADIUS) / (EAR * NECK * cos(asin(NEED)))
    assert asin(NEED) <= curve.touch_min <= asin(NEED) + late + TOL.certificate
    turned = atan2(sin(curve.first.spin), cos(curve.first.spin))
    assert degrees(turned) == pytest.approx(-lift, abs=3.0)
    assert hypot(*curve.first.points[0][1:]) == pytest.approx(
        hypot(*curve.first.points[1][1:]), abs=TOUCH_GAP + 1e-9
    )
