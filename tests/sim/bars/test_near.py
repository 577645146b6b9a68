"""Things near the shaft in drawn rigs, against moving the thing itself: a shift of it is exact."""

import pytest

from sim.accuracy.source import Source
from sim.around.surroundings import deepest, rods_of
from sim.around.things import thing_of
from sim.assessment import Assessor
from sim.bars import first_bars
from sim.rig import Rig, load_demo
from sim.units import Length


def lowered(rig: Rig, off: float) -> Rig:
    """The rig with the crossmember so much lower, mm."""
    (thing,) = rig.surroundings
    assert thing.box is not None
    x, y, z = thing.box.at
    box = thing.box.model_copy(update={"at": (x, y, Length.exactly(z.mm - off))})
    return rig.model_copy(update={"surroundings": (thing.model_copy(update={"box": box}),)})


@pytest.mark.slow
@pytest.mark.parametrize("lower", [0.0, 14.0, 19.0])
def test_a_crossmember_in_doubt_comes_as_near_as_one_that_was_moved(lower: float) -> None:
    rig = lowered(load_demo("quarry-hauler"), lower)
    found = Assessor().assess(rig)
    # The tube comes up to its flat underside, so the gap follows how high it sits, but for a tilt.
    off = 4.0
    height = Source("surroundings[1].box.at[3]", 0.0, "mm", off, "typed", put=lowered)
    told = first_bars(found, sources=[height], shapes={}).named("surroundings", "crossmember")
    assert told is not None
    assert told.worst is not None
    assert told.band is not None
    for end, sign in ((told.worst.low, 1.0), (told.worst.high, -1.0)):
        moved = lowered(rig, sign * off)
        thing = thing_of(moved, moved.surroundings[0])
        rods = rods_of(moved, found.vehicle, found.parts)
        assert end == pytest.approx(deepest(found.vehicle, rods, thing)[0], abs=0.06)
    assert told.band.low == pytest.approx(told.worst.low - rig.wanted.clearance.mm)
    (gap,) = found.near
    if not gap.touches:
        assert 0.5 * (told.worst.low + told.worst.high) == pytest.approx(gap.gap_mm, abs=0.06)
    surely = {0.0: 0.0, 19.0: 1.0}.get(lower)
    if surely is not None:
        assert told.chance == pytest.approx(surely, abs=0.1)
