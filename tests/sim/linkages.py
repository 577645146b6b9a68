"""Invented sets of links for the tests: one of each layout, and shaken copies of them."""

from dataclasses import replace

import numpy as np
from hypothesis import strategies as st

from sim.suspension.links.members import Arm, Link, TorqueArm, Wishbone
from sim.suspension.links.motion import Links


def pair(member):
    """A member and its mirror image on the other side."""
    return member, member.mirrored(f"{member.name} right")


TRACK_BAR = Link(name="bar", chassis=(-150.0, 450.0, 120.0), axle=(-150.0, -400.0, 60.0))
LOWERS = pair(Link(name="lower", chassis=(750.0, 450.0, 20.0), axle=(0.0, 550.0, -80.0)))
STRAIGHT_LOWERS = pair(Link(name="lower", chassis=(800.0, 450.0, 0.0), axle=(0.0, 450.0, -80.0)))

TRIANGULATED = Links(
    members=(
        *pair(Link(name="upper", chassis=(600.0, 200.0, 250.0), axle=(0.0, 60.0, 200.0))),
        *LOWERS,
    )
)
THREE_LINK = Links(
    members=(
        Link(name="upper", chassis=(600.0, 100.0, 200.0), axle=(0.0, 100.0, 150.0)),
        *STRAIGHT_LOWERS,
        TRACK_BAR,
    )
)
WISHBONE = Links(
    members=(
        Wishbone(
            name="wishbone",
            apex=(0.0, 0.0, 200.0),
            bushes=((600.0, 200.0, 250.0), (600.0, -200.0, 250.0)),
        ),
        *pair(Link(name="lower", chassis=(750.0, 450.0, 20.0), axle=(0.0, 450.0, -80.0))),
    )
)
TURNED_WISHBONE = Links(
    members=(
        Wishbone(
            name="wishbone",
            apex=(700.0, 0.0, 180.0),
            bushes=((0.0, 250.0, 140.0), (0.0, -250.0, 140.0)),
            apex_on="chassis",
        ),
        *LOWERS,
    )
)
SLIDING_ARM = Links(
    members=(TorqueArm(name="arm", end=(1100.0, 50.0, 40.0)), *STRAIGHT_LOWERS, TRACK_BAR)
)
SHACKLED_ARM = Links(
    members=(
        TorqueArm(
            name="arm", end=(1100.0, 50.0, 40.0), held_by="shackle", shackle=(1110.0, 50.0, 160.0)
        ),
        *STRAIGHT_LOWERS,
        TRACK_BAR,
    )
)
BALL_ARM = Links(
    members=(
        TorqueArm(name="tube", end=(1300.0, 0.0, 60.0), held_by="ball"),
        TRACK_BAR,
    )
)
PARALLEL = Links(
    members=(
        *pair(Link(name="upper", chassis=(600.0, 300.0, 200.0), axle=(0.0, 300.0, 150.0))),
        *STRAIGHT_LOWERS,
        TRACK_BAR,
    )
)
RADIUS_ARMS = Links(
    front=True,
    members=(
        *pair(
            Arm(
                name="arm",
                chassis=(-900.0, 350.0, 40.0),
                axle=((90.0, 420.0, -10.0), (-90.0, 420.0, -10.0)),
            )
        ),
        Link(name="bar", chassis=(150.0, 450.0, 120.0), axle=(150.0, -400.0, 60.0)),
    ),
)
LADDER_BARS = Links(
    members=(
        *pair(
            Arm(
                name="ladder",
                chassis=(850.0, 300.0, 30.0),
                axle=((0.0, 480.0, 90.0), (0.0, 480.0, -110.0)),
            )
        ),
        TRACK_BAR,
    )
)

EXACT = {
    "triangulated": TRIANGULATED,
    "three link": THREE_LINK,
    "wishbone": WISHBONE,
    "turned wishbone": TURNED_WISHBONE,
    "sliding arm": SLIDING_ARM,
    "shackled arm": SHACKLED_ARM,
    "ball arm": BALL_ARM,
}
"""Four conditions each."""

BINDING = {"parallel": PARALLEL, "radius arms": RADIUS_ARMS, "ladder bars": LADDER_BARS}
"""More than four."""

SETS = EXACT | BINDING

SYMMETRIC = ("triangulated", "wishbone", "turned wishbone")


def moved(links, place):
    """The same set with every point put elsewhere by `place`."""
    return replace(links, members=tuple(_moved(member, place) for member in links.members))


def _moved(member, place):
    if isinstance(member, Link):
        return replace(member, chassis=place(member.chassis), axle=place(member.axle))
    if isinstance(member, Wishbone):
        one, other = member.bushes
        return replace(member, apex=place(member.apex), bushes=(place(one), place(other)))
    if isinstance(member, Arm):
        one, other = member.axle
        return replace(member, chassis=place(member.chassis), axle=(place(one), place(other)))
    shackle = None if member.shackle is None else place(member.shackle)
    return replace(member, end=place(member.end), shackle=shackle)


def mirror_image(links):
    """The set seen in a mirror, left to right."""
    x, y, z = links.wrap_centre
    members = tuple(member.mirrored(member.name) for member in links.members)
    return replace(links, members=members, wrap_centre=(x, -y, z))


@st.composite
def shaken(draw, links, by=25.0):
    """The set with every point moved a little, and a wrap centre of its own."""
    rng = np.random.default_rng(draw(st.integers(0, 10_000)))
    centre = draw(st.sampled_from([(0.0, 0.0, 0.0), (0.0, 0.0, 90.0), (-40.0, 10.0, -70.0)]))

    def place(point):
        return tuple((np.array(point) + rng.uniform(-by, by, 3)).tolist())

    return replace(moved(links, place), wrap_centre=centre)


@st.composite
def asked(draw, travel=(-200.0, 120.0), roll=0.15, wrap=0.1):
    """One pose."""
    return (
        draw(st.floats(*travel)),
        draw(st.floats(-roll, roll)),
        draw(st.floats(-wrap, wrap)),
    )
