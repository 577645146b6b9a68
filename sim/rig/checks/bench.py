"""Bench readings of a yoke that is not of the joint, or that no joint gives."""

from collections.abc import Iterator

from sim.remark import Remark
from sim.rig.bench import BenchReading
from sim.rig.carrier import Carrier, MiddleJoint
from sim.rig.shaft import End, Shaft
from sim.table.problems import Problem, as_typed, one_of


def bench_can_be(shaft: Shaft) -> Iterator[Problem]:
    """The clamped yoke must be one of the joint, and what was read more than nothing."""
    yield from _end("shaft.output_end", shaft.output_end)
    yield from _end("shaft.pinion_end", shaft.pinion_end)


def middle_bench_can_be(carrier: Carrier | None) -> Iterator[Problem]:
    """The same for the middle joint of a two-piece shaft."""
    if carrier is not None:
        yield from _end("carrier.middle", carrier.middle)


def _end(key: str, end: End | MiddleJoint) -> Iterator[Problem]:
    yokes = [yoke.replace("_", " ") for yoke in end.yokes]
    for place, reading in enumerate(end.bench, start=1):
        path = f"{key}.bench[{place}]"
        if reading.held not in yokes:
            yield Problem(
                f"{path}.clamped",
                as_typed(reading.held),
                one_of(reading.held, yokes),
                Remark("not-of-this-joint"),
            )
        yield from _reads(path, reading)


def _reads(path: str, reading: BenchReading) -> Iterator[Problem]:
    for key in ("touches_at", "clear_to", "maker_says"):
        bend = getattr(reading, key)
        if bend is not None and bend.rad == 0.0:
            yield Problem(
                f"{path}.{key}",
                as_typed(bend.typed),
                Remark("above-zero"),
                Remark("touches-straight"),
            )
