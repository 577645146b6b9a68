"""Invented trucks whose truth is known: do chances come true as often as they say?

Each truck is a demo rig whose numbers were drawn anew; that is its truth. What is typed of it is
the truth with an error of the usual tools, and generic yokes, of which real ones differ as much as
is said. The bars know only what was typed. The truth is typed into a rig of its own and swept
whole, and touches where its own yokes, built, are seen to; nothing of it goes through what puts a
number off, nor through a forecast.

`python -m tests.outside.calibration 1000` draws docs/pictures/calibration.png.
"""

import sys
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass
from functools import cache
from math import degrees
from pathlib import Path

import numpy as np

from geometry.contact.surface_touch import cross_touch, lines_of, seen_touch
from geometry.errors import BindpointError
from geometry.tolerances import TOL
from sim.accuracy.source import Source
from sim.accuracy.sources import sources_of
from sim.assessment import Assessor
from sim.bars import Bars, first_bars
from sim.bars.doubts import doubts_of
from sim.bench.both_cores import done_by_all
from sim.bench.free import YokePair
from sim.bench.learnt_shape import LearntShape
from sim.derive import vehicle_of
from sim.frames import FloatArray
from sim.rig import Rig, changed, load_demo
from sim.search.envelope import envelope
from sim.vehicle import Joint

BASES = ("marsh-runner", "short-tailed-scout", "quarry-hauler")
NORMAL = 1.959963984540054
"""Deviations that 95 of 100 are within: from a table, not from the program."""

WIDE = 4.0
"""By how many times its error a number of the truth goes to and fro from truck to truck."""

DESIGN: Mapping[str, float] = {
    "travel.droop": 60.0,
    "travel.bump": 30.0,
    "output.points_down": np.radians(6.0),
    "axle.points_up": np.radians(4.0),
    "axle.points_down": np.radians(4.0),
    "shaft.slip.opens": 40.0,
    "shaft.slip.closes": 30.0,
}
"""mm or rad by which numbers go either way from truck to truck that decide whether it touches."""

DOUBTFUL = np.radians(6.0)
"""Trucks with more than this left, or too far, by what is typed, are left out: they come to 0 or 1.
Who is left out hangs on what is typed alone, so that chances stay what they are."""

OPPOSITE = {"down": "up", "up": "down", "left": "right", "right": "left"}
OPPOSITE |= {"lower": "higher", "higher": "lower"}


@dataclass(frozen=True)
class Base:
    """A rig that trucks are made from."""

    rig: Rig
    sources: tuple[Source, ...]
    shapes: Mapping[Joint, LearntShape]


@dataclass(frozen=True)
class Truck:
    """What was said of a truck, and what it does.

    lefts : by joint, what is left of its bend in truth, less what was said, over the deviation that
        was said.
    """

    chance: float
    touches: bool
    lefts: tuple[float, ...]


@cache
def base_of(name: str) -> Base:
    rig = changed(load_demo(name), {"surroundings": None})
    usable = tuple(each for each in sources_of(rig) if _usable(rig, each))
    found = Assessor().assess(rig)
    shapes = doubts_of(rig, found.joints, "full").shapes
    learnt = {j: each for j, each in shapes.items() if isinstance(each, LearntShape)}
    return Base(rig, usable, learnt)


def _usable(rig: Rig, each: Source) -> bool:
    try:
        changed(rig, typed(each, each.value + 1e-3))
    except BindpointError:
        return False
    return True


def typed(source: Source, value: float) -> dict[str, str]:
    """A number as a file has it: with the opposite word where it is below zero."""
    key = source.key
    stem, _, word = key.rpartition("_")
    if value < 0.0 and word in OPPOSITE:
        key, value = f"{stem}_{OPPOSITE[word]}", -value
    return {key: f"{degrees(value):.9f} deg" if source.unit == "rad" else f"{value:.9f} mm"}


def trucks(count: int, seed: int, cores: int | None = 1) -> Iterator[Truck]:
    """So many trucks, from all bases in turn; the same for the same seed, however many cores."""
    made: list[Truck | None] = [None] * count
    told = 0
    for number, truck in done_by_all(truck_of, [(seed, number) for number in range(count)], cores):
        made[number] = truck
        while told < count and (each := made[told]) is not None:
            yield each
            told += 1


def truck_of(asked: tuple[int, int]) -> Truck:
    """The truck of a seed and a number; numbers that make none are drawn again."""
    rng, base = np.random.default_rng(asked), base_of(BASES[asked[1] % len(BASES)])
    while True:
        with suppress(BindpointError):
            made = _truck(base, rng)
            if made is not None:
                return made


def _truck(base: Base, rng: np.random.Generator) -> Truck | None:
    """One truck; None where it is far from any doubt by what is typed, or past its reach."""
    true: dict[str, str] = {}
    said: dict[str, str] = {}
    for each in base.sources:
        error = rng.normal() * each.off / NORMAL
        if each.why == "assumed":  # nobody types it
            true |= typed(each, each.value + error)
            continue
        value = each.value + rng.normal() * WIDE * each.off / NORMAL
        if each.key in DESIGN:
            value = each.value + rng.uniform(-1.0, 1.0) * DESIGN[each.key]
        true |= typed(each, value)
        said |= typed(each, value + error)
    yokes = {joint: _yokes(shape, rng) for joint, shape in base.shapes.items()}
    rig = changed(base.rig, said)
    found = Assessor().assess(rig)
    if abs(min(each.margin for each in found.joints.values())) > DOUBTFUL:
        return None
    vehicle = vehicle_of(changed(rig, true))
    truth = envelope(vehicle)
    if truth.unreachable is not None:
        return None
    keys = {next(iter(typed(each, way))) for each in base.sources for way in (1.0, -1.0)}
    sources = [each for each in sources_of(rig) if each.key in keys]
    bars = first_bars(found, sources=sources, shapes=base.shapes)
    lefts = [
        each.clear + _better(base, joint, yokes) - truth.joints[joint].most.value
        for joint, each in found.joints.items()
    ]
    slip = vehicle.slip
    ends = [slip.closes + truth.slip.shortest.value, slip.opens - truth.slip.longest.value]
    offs = (_off(bars, joint, left) for joint, left in zip(found.joints, lefts, strict=True))
    return Truck(bars.chance, min(*lefts, *ends) <= 0.0, tuple(offs))


def _yokes(shape: LearntShape, rng: np.random.Generator) -> FloatArray:
    """Yokes of one truck as a draw (1, d) of their shape; how far they go is told in mm."""
    offs = np.array([each.off for each in shape.free]) / NORMAL
    none = np.zeros((1, len(offs)))
    steps = np.diag(shape.dimensions(np.eye(len(offs))) - shape.dimensions(none))
    drawn: FloatArray = rng.normal(size=none.shape) * offs / steps
    return drawn


def _better(base: Base, joint: Joint, yokes: Mapping[Joint, FloatArray]) -> float:
    """By how much (rad) the yokes of a truck touch later than generic ones: both are built."""
    if joint not in base.shapes:
        return 0.0
    doubt = base.shapes[joint].doubt
    return _lowest(doubt.pair_at(yokes[joint][0])[0]) - _of_the_middle(base.rig.name, joint)


@cache
def _of_the_middle(name: str, joint: Joint) -> float:
    base = next(each for each in map(base_of, BASES) if each.rig.name == name)
    return _lowest(base.shapes[joint].doubt.pair)


def _lowest(pair: YokePair) -> float:
    """The lowest bend (rad) at which a joint is seen to touch, at turns 2.5 deg apart."""
    joint = pair.closing()
    lines = lines_of(joint.turn).tolist()
    seen = [seen_touch(joint.yokes, lines)]
    seen += [cross_touch(each, joint.turn, lines) for each in joint.swings]
    return float(np.nanmin(np.append(np.concatenate(seen), TOL.bend_limit)))


def _off(bars: Bars, joint: Joint, left: float) -> float:
    """How far off what is left is, over the deviation that was told."""
    told = bars.named("joint-bend", joint)
    assert told is not None
    assert told.band is not None
    middle, half = 0.5 * (told.band.low + told.band.high), 0.5 * (told.band.high - told.band.low)
    return (degrees(left) - middle) / (half / NORMAL)


def brier(told: list[Truck]) -> float:
    """Mean square of chance less what came of it: 0 for a prophet, 0.25 for a coin."""
    return float(np.mean([(each.chance - each.touches) ** 2 for each in told]))


def in_tenths(told: list[Truck]) -> list[tuple[float, int, int]]:
    """Of trucks by tenths of their chance: its mean, how many touch, how many there are."""
    chances = np.array([each.chance for each in told])
    touch = np.array([each.touches for each in told])
    which = np.minimum((chances * 10.0).astype(int), 9)
    return [
        (float(chances[mine].mean()), int(touch[mine].sum()), int(mine.sum()))
        for mine in (which == tenth for tenth in range(10))
        if mine.any()
    ]


def draw(told: list[Truck], path: Path) -> None:
    """Draw how often chances came true, with where 95 of 100 such counts lie if they are right."""
    from matplotlib.figure import Figure
    from scipy.stats import binom

    figure = Figure(figsize=(6.4, 5.2), dpi=120, layout="constrained")
    axes = figure.subplots()
    axes.plot([0, 1], [0, 1], color="0.6", linewidth=1)
    for chance, touch, count in in_tenths(told):
        low, high = binom.interval(0.95, count, chance) if 0.0 < chance < 1.0 else (touch, touch)
        axes.plot([chance, chance], [low / count, high / count], color="0.75", linewidth=7)
        axes.plot(chance, touch / count, "o", color="black", markersize=5)
        axes.annotate(f"{count}", (chance, touch / count), (7, -9), textcoords="offset points")
    axes.set_xlabel("chance that was told")
    axes.set_ylabel("share of trucks that touch or run out")
    axes.set_title(f"{len(told)} invented trucks; gray: 95 of 100 counts, if the chance is right")
    figure.savefig(path)


def main() -> None:
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    told: list[Truck] = []
    for each in trucks(count, 13, cores=2):
        told.append(each)
        if len(told) % 50 == 0:
            print(len(told), f"Brier {brier(told):.4f}", flush=True)
    for chance, touch, count in in_tenths(told):
        print(f"{chance:.3f} {touch:4d} of {count}")
    offs: FloatArray = np.array([off for each in told for off in each.lefts])
    print(f"left: mean {offs.mean():.3f}, deviation {offs.std():.3f}, "
          f"within the band {np.mean(np.abs(offs) <= NORMAL):.3f}")  # fmt: skip
    draw(told, Path(__file__).parents[2] / "docs" / "pictures" / "calibration.png")


if __name__ == "__main__":
    from tests.outside.calibration import main as named  # other processes know it by its name

    named()
