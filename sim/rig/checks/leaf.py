"""Leaf springs that cannot be."""

from collections.abc import Iterator

import numpy as np

from sim.rig.problems import Problem, as_typed
from sim.rig.suspension import LeafTable, SuspensionTable
from sim.rig.travel import Travel


def leaf_can_be(suspension: SuspensionTable, travel: Travel) -> Iterator[Problem]:
    """The left spring must lie fore-aft over its seat and reach the whole travel."""
    if not isinstance(suspension, LeafTable):
        return
    before = list(_points(suspension))
    yield from before
    if not before:
        yield from _reach(suspension, travel)


def _points(leaf: LeafTable) -> Iterator[Problem]:
    side = leaf.seat[1]
    if side.mm <= 0.0:
        yield Problem(
            "suspension.seat[2]",
            as_typed(side.typed),
            "a positive number: the left spring is given, the right one is its mirror",
            "not on the left",
        )
    ahead = leaf.fixed_eye[0].mm - leaf.seat[0].mm
    if ahead == 0.0:
        yield Problem(
            "suspension.fixed_eye[1]",
            as_typed(leaf.fixed_eye[0].typed),
            "the eye ahead of the seat or behind it",
            f"the seat lies at {leaf.seat[0]} too",
        )
    shackled = leaf.shackled_eye
    if shackled is not None and (shackled[0].mm - leaf.seat[0].mm) * ahead >= 0.0:
        yield Problem(
            "suspension.shackled_eye[1]",
            as_typed(shackled[0].typed),
            "the shackled eye at the other end of the spring than the fixed eye",
            f"seat at {leaf.seat[0]}, fixed eye at {leaf.fixed_eye[0]}",
        )


def _reach(leaf: LeafTable, travel: Travel) -> Iterator[Problem]:
    spring = leaf.springs()
    for key, sense in (("bump", 1.0), ("droop", -1.0)):
        end = sense * getattr(travel, key).mm
        corners = travel.region(0.0, 0.0).corners()
        here = np.vstack([[end, 0.0, 0.0], corners[sense * corners[:, 0] > 0.0]])
        places = spring.poses(here[:, 0], here[:, 1], 0.0).p_C_A
        reached = [bool(np.isfinite(place).all()) for place in places]
        if not all(reached):
            with_roll = " with the roll" if reached[0] else ""
            yield Problem(
                f"travel.{key}",
                as_typed(getattr(travel, key).typed),
                "less travel, or a fixed eye farther from the seat",
                f"out of the leaf spring's reach{with_roll}",
            )
