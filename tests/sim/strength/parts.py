"""A made-up shaft for the tests of strength."""

from math import radians

from sim.bearing import Needles
from sim.parts.catalogue import cross_shape, yoke_shape
from sim.parts.materials import material
from sim.parts.tube_section import TubeSection
from sim.strength import (
    BoltedCap,
    Ear,
    FlangeBolts,
    JointEnd,
    ShaftParts,
    Spline,
    Trunnion,
    WeldRing,
    YokeEnd,
)

FORGED = material("forged yoke steel")
CROSS = material("case-hardened cross steel")
TUBE = material("drawn steel tube")
STRAPS = BoltedCap(7.94, 25.4 / 24.0, 25e3)


def joint(size="27 x 82", bend=0.0, needles=True):
    """A weld yoke and a strap yoke of the catalogue on a cross."""
    cross = cross_shape(size)
    return JointEnd(
        "pinion",
        radians(bend),
        Trunnion.of(cross),
        CROSS,
        (
            YokeEnd("weld yoke", Ear.of(yoke_shape("weld yoke", size)), FORGED),
            YokeEnd(
                "flange yoke",
                Ear.of(yoke_shape("flange yoke", size)),
                FORGED,
                bolts=material("bolt 10.9"),
                flange=FlangeBolts(BoltedCap(11.1, 1.27, 80e3, bolts=4), 83.5),
            ),
            YokeEnd(
                "strap yoke",
                Ear.of(yoke_shape("strap yoke", size)),
                FORGED,
                STRAPS,
                material("bolt 8.8"),
            ),
        ),
        Needles.full(2.5, 0.7 * cross.cap_length, cross.trunnion_diameter) if needles else None,
    )


def shaft(size="27 x 82", bend=0.0, spline=True):
    """A whole shaft with one joint that bends."""
    steel = material("hardened spline steel")
    return ShaftParts(
        (joint(size, bend),),
        TubeSection.of_wall(76.2, 2.1),
        TUBE,
        WeldRing(76.2, 2.1, 2.1),
        material("weld metal"),
        Spline(35.0, 32.0, 16, 2.2, 100.0, 40.0) if spline else None,
        steel,
        steel,
    )
