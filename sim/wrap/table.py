"""What every way to know axle wrap can do."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator
from dataclasses import dataclass
from operator import neg
from typing import ClassVar

from sim.remark import Remark
from sim.suspension import SuspensionTable
from sim.table.form import field
from sim.table.part import Part
from sim.table.problems import Problem
from sim.travel.table import Travel
from sim.wrap.drive import Drive
from sim.wrap.estimate import Estimate, carried, distance
from sim.wrap.torque import AxleTorque, Governs


@dataclass(frozen=True)
class Around:
    """What else of the rig decides the wrap."""

    suspension: SuspensionTable
    travel: Travel
    front: bool


class WrapPart(Part, ABC):
    """A [wrap] table: one file a way to know it, told apart by its key `kind`."""

    known_by: ClassVar[Remark]
    """What the wrap is worked out from."""

    drive: Drive = field(
        "What sets the most torque at the axle: engine and gears, or the grip of the tires.",
        name="Torque that reaches the axle",
    )

    def missing(self, suspension: SuspensionTable) -> Iterator[Problem]:
        """What this way needs from elsewhere in the file and does not find there."""
        del suspension
        return iter(())

    def hints(self, around: Around) -> Iterator[Remark]:
        """What to know about the numbers."""
        del around
        return iter(())

    @abstractmethod
    def wrap(self, torque: Estimate, around: Around) -> Estimate:
        """Wrap (rad) under a torque at both wheels (N mm, driving positive); its size counts.

        Raises `BindpointError` for numbers that no wrap can be told from.
        """


@dataclass(frozen=True)
class AxleWrap:
    """How far an axle wraps each way, rad, as distances: none is negative."""

    nose_up: Estimate
    nose_down: Estimate
    up_governs: Governs
    """What sets the torque that lifts the nose."""
    down_governs: Governs
    torque: AxleTorque
    hints: tuple[Remark, ...] = ()
    """What to know about these numbers."""


def axle_wrap(part: WrapPart, suspension: SuspensionTable, travel: Travel, front: bool) -> AxleWrap:
    """Wrap of the axle both ways. Raises `BindpointError`.

    Driving lifts the nose of a rear axle and lowers that of a front axle: the housing turns the
    same way, and the pinion looks the other.
    """
    around, torque = Around(suspension, travel, front), part.drive.torque()
    driving = distance(part.wrap(torque.driving, around))
    braking = distance(part.wrap(carried(neg, torque.braking), around))
    up, down = (braking, driving) if front else (driving, braking)
    return AxleWrap(
        nose_up=up,
        nose_down=down,
        up_governs="grip" if front else torque.governs,
        down_governs=torque.governs if front else "grip",
        torque=torque,
        hints=tuple(part.hints(around)),
    )
