"""The parts of a checked rig, built once for every view that shows it.

A view takes them one at a time between events; what one of them has built the others find there.
"""

from collections.abc import Iterator
from itertools import chain

from sim.check import Check
from viewer.scene.part import Part
from viewer.scene.shaft_parts import checked_shaft
from viewer.scene.surroundings import things_near
from viewer.scene.suspension import suspension_parts

KEPT = 3
"""Answers whose parts are kept: that of the rig, of the version put aside, and the one before."""


class Built:
    """Parts that are built when somebody first asks for them, and then are there for the others."""

    def __init__(self, building: Iterator[Part]) -> None:
        self._building = building
        self._there: list[Part] = []

    def __iter__(self) -> Iterator[Part]:
        place = 0
        while place < len(self._there) or self._build():
            yield self._there[place]
            place += 1

    def _build(self) -> bool:
        """Build one more; whether there was one."""
        part = next(self._building, None)
        if part is not None:
            self._there.append(part)
        return part is not None


_kept: dict[int, tuple[Check, Built, Built]] = {}
"""By the identity of an answer, which lives as long as it is kept: itself, its shaft, the rest.

An answer is equal to another only at the price of comparing every number in it.
"""


def shaft_of(check: Check) -> Iterator[Part]:
    """Every part of the shaft of an answer from the case to the axle, one at a time."""
    return iter(_of(check)[1])


def parts_of(check: Check) -> Iterator[Part]:
    """The same with what holds the axle and what lives around the shaft."""
    _, shaft, around = _of(check)
    return chain(shaft, around)


def _of(check: Check) -> tuple[Check, Built, Built]:
    found = _kept.pop(id(check), None)
    if found is None:
        vehicle = check.derivation.vehicle
        around = chain(suspension_parts(vehicle), things_near(check.rig, check.found.near))
        found = check, Built(checked_shaft(check)), Built(around)
    _kept[id(check)] = found  # the last asked for goes last
    while len(_kept) > KEPT:
        del _kept[next(iter(_kept))]
    return found
