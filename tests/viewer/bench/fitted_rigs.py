"""A demo rig whose pinion joint was read on the bench."""

from sim.bench.fit import fitted_joint
from sim.bench.fitted import FittedJoint
from sim.rig import Rig, changed
from sim.rig.demos import load_demo
from tests.kept import kept

READINGS = (
    {"ears": "in line", "touches_at": "27 deg"},
    {"ears": "across", "touches_at": "29 1/2 deg"},
    {"ears": "any", "touches_at": "26 deg"},
)
"""A little more than the catalogue's yokes give, which touch at 26.3, 29.0 and 25.6 deg."""


def read(name: str = "long-legged-trail-wagon", readings: object = READINGS) -> Rig:
    """The rig with the readings at its pinion joint."""
    return changed(load_demo(name), {"shaft.pinion_end.bench": [dict(each) for each in readings]})


@kept
def fitted(name: str) -> FittedJoint:
    """What they come to."""
    found = fitted_joint(read(name), "pinion")
    assert found is not None
    return found
