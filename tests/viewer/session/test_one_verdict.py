"""What a joint comes to is one verdict: in the check, in `pose`, in the window, on map and strip.

The rigs want so much gap that it, and not the bend, is what runs short first.
"""

import numpy as np
import pytest

from sim.check import Check, check
from sim.findings import ORDER, worst_of
from sim.pose import check_pose, pose_of
from sim.rig import changed
from sim.rig.demos import load_demo
from sim.vehicle import Pose
from tests.kept import kept
from viewer.session.charts.travel_map import travel_map
from viewer.session.charts.turn_strip import StripWork
from viewer.words.now import now_limit, room_words

RIGS = ("quarry-hauler", "short-tailed-scout", "timber-crew-carrier")


@kept
def wanting(name: str, gap: str) -> Check:
    return check(changed(load_demo(name), {"wanted.gap": gap}))


def just_short(name: str) -> Check:
    """A rig that wants a little more gap than it has where its tightest joint bends most."""
    plain = wanting(name, "1/16 in")
    room = min(found.gap.distance for found in plain.joints.values())
    return wanting(name, f"{room + 0.3:.2f} mm")


@pytest.mark.slow
@pytest.mark.parametrize("name", RIGS)
def test_a_gap_that_is_short_is_told_alike_everywhere(name: str) -> None:
    result = just_short(name)
    short = [f.subject for f in result.findings if f.code == "joint-gap"]
    assert short
    for joint, found in result.joints.items():
        told = [f for f in result.findings if f.subject == joint and f.code.startswith("joint")]
        verdict = worst_of([finding.verdict for finding in told])
        assert (verdict == "close") == (joint in short)
        at = found.sweep.most.at
        assert pose_of(result, at, 0.3).joints[joint].verdict == verdict
        assert check_pose(result.rig, at, 0.3).joints[joint].verdict == verdict
        strip = StripWork(result, joint, at, 720).strip
        assert worst_of([*strip.verdicts, *(spot.verdict for spot in strip.spots)]) == verdict


@pytest.mark.parametrize("name", RIGS)
def test_the_map_judges_every_pose_as_the_window_does(name: str) -> None:
    result = just_short(name)
    found = travel_map(result, 0.0, heights=9, wraps=5)
    seen = set()
    for i, wrap in enumerate(found.wrap):
        for j, travel in enumerate(found.travel):
            now = pose_of(result, Pose(float(travel), 0.0, float(wrap)), 0.0)
            for joint, here in now.joints.items():
                assert found.verdict(joint, float(found.room[joint][i, j])) == here.verdict
                seen.add(here.verdict)
            assert found.verdict("worst", float(found.room["worst"][i, j])) == now.verdict
    assert len(seen) > 1


@pytest.mark.parametrize("name", RIGS)
def test_the_window_says_that_it_is_the_gap_that_is_short(name: str) -> None:
    result = just_short(name)
    joint = next(f.subject for f in result.findings if f.code == "joint-gap")
    now = pose_of(result, result.joints[joint].sweep.most.at, 0.0)
    wanted = str(result.rig.wanted.gap)
    assert f"gap under {wanted}" in room_words(now.joints[joint])
    assert f"gap under {wanted}" in now_limit(now)


def test_bends_on_either_side_of_each_limit_are_judged_by_it() -> None:
    for name in RIGS:
        for found in just_short(name).joints.values():
            room = found.room
            for limit in (room.clear_to, room.touch.certified_clear):
                below, above = (room.verdict(limit + step) for step in (-1e-6, 1e-6))
                assert ORDER.index(above) == ORDER.index(below) + 1
            assert room.clear_to <= room.touch.certified_clear - room.wanted_bend
            assert np.isclose(room.clear_to + room.reserve, room.touch.certified_clear)
