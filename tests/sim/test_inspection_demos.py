"""The demo inspections read without a complaint, each beside the demo rig of its name.

What each means to show is said in its first lines; here it is told from its signs. Common practice,
no source.
"""

import pytest

from sim.causes.codes import SeenCode
from sim.parts.catalogue import cross_shape
from sim.rig.demos import demo_names as rig_names
from sim.rig.demos import load_demo as load_rig
from sim.seen import demand_joint, demos, signs_of
from sim.seen.doubts import doubts
from sim.seen.words import CAPS
from sim.table.problems import RigError

SHOWN: dict[str, tuple[SeenCode, ...]] = {
    "goat-path-buggy": ("cross-broken", "fracture-old-and-new", "at-a-hard-pull", "more-torque"),
    "heather-moor-scout": ("clunk",),
    "long-legged-trail-wagon": ("half-moons", "marks-paired", "in-reverse-or-braking", "lifted"),
    "quarry-hauler": ("one-cap-dry", "burned", "not-all-purged", "squeak"),
    "ridge-crawler": ("lines-front-and-rear", "spline-stuck"),
    "timber-crew-carrier": ("one-axis-worn", "corners-worn", "ears-spread", "soon-again"),
}


def test_each_goes_with_the_demo_rig_of_its_name() -> None:
    assert demos.demo_names() == tuple(sorted(SHOWN))
    assert rig_names() == tuple(sorted(rig_names()))
    assert set(SHOWN) <= set(rig_names())


@pytest.mark.parametrize("name", SHOWN)
def test_it_says_what_it_means_to_show(name: str) -> None:
    seen, rig = demos.load_demo(name), load_rig(name)
    assert seen.rig == f"demo:{name}"
    assert (seen.note or "").startswith("Invented for demonstration.")
    demand_joint(seen, rig)
    signs = signs_of(seen, rig)
    assert [code for code in SHOWN[name] if signs.get(code) is not True] == []


@pytest.mark.parametrize("name", SHOWN)
def test_it_raises_no_doubt(name: str) -> None:
    assert doubts(demos.load_demo(name), load_rig(name)) == ()


def test_the_open_one_says_hardly_anything() -> None:
    assert sum(signs_of(demos.load_demo("heather-moor-scout")).values()) <= 2


@pytest.mark.parametrize("name", SHOWN)
def test_what_was_measured_belongs_to_the_joint_of_its_rig(name: str) -> None:
    """Caps and trunnions within wear of the size of the joint; nothing larger than its bore."""
    seen, rig = demos.load_demo(name), load_rig(name)
    shape = cross_shape(rig.shaft.pinion_end.cross.size)
    for cap in CAPS:
        told = getattr(seen.caps, cap) if seen.caps else None
        for key, size, least, most in (
            ("cap_diameter", shape.cap_diameter, -0.1, 0.03),
            ("bore", shape.cap_diameter, -0.01, 0.2),
            ("trunnion_diameter", shape.trunnion_diameter, -0.4, 0.03),
        ):
            for reading in getattr(told, key, None) or ():
                assert size + least <= reading.mm <= size + most, (cap, key)


def test_an_unknown_one_is_told_with_the_nearest() -> None:
    with pytest.raises(RigError, match="did you mean quarry-hauler"):
        demos.load_demo("quary-hauler")
