"""Heights that the axle never comes to are told as such, not as a reading."""

from sim.progress import silent
from sim.rig import changed, load_demo
from viewer.bench.told import bench_told


def test_a_height_past_the_travel_is_told_and_no_angle_is_made_of_it() -> None:
    rig = changed(
        load_demo("long-legged-trail-wagon"),
        {"shaft.pinion_end.bench": [{"catches_at": "12 in droop"}]},
    )
    told = bench_told(rig, "pinion", silent)
    assert told.lines == (
        "Reading 1: by this rig the axle never comes to that height. It says nothing.",
    )
    assert told.now is None
