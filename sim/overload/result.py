"""What a joint gets against what it takes, and the three signs that come of it."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType
from typing import Final

from sim.causes.codes import ComputedCode
from sim.overload.band import Band
from sim.overload.duty import Duty
from sim.overload.how import HowFailed, When
from sim.overload.knock import Knock
from sim.overload.lever import Lever
from sim.overload.pulls import Pulls
from sim.remark import Remark
from sim.sizing import ShaftTorque
from sim.sizing.joint_size import WANTED
from sim.strength import Member, Strength
from sim.vehicle import Joint
from sim.wrap.estimate import Estimate

FEW: Final = 1e3
"""Fewer hard pulls than this are few where nobody said how far it went (from memory)."""

MANY: Final = 1e4
"""More than this are not few (from memory)."""


@dataclass(frozen=True)
class AtBend:
    """Every member of a joint and its shaft at one bend.

    Attributes
    ----------
    bend : rad. strength : at the hardest pull; at 1 kN m where that is not known.
    pulls : what the roots of the trunnions are good for; None without a torque.
    """

    bend: float
    strength: Strength
    pulls: Pulls | None

    @property
    def weakest(self) -> Member:
        """The member that gives first."""
        return self.strength.weakest

    @property
    def holds(self) -> float:
        """Torque (N mm) in the shaft that it takes."""
        return self.strength.holds


@dataclass(frozen=True)
class Overload:
    """What a joint gets against what it takes.

    Attributes
    ----------
    joint, cross : which, and the size of its cross.
    fits : the smallest cross of the catalogue that takes the hardest pull at the worst bend of the
        travel with the safety that is wanted; None where none does, or nothing is known to pull.
    torque : what the shaft gets; its `peak` is None where the rig does not tell.
    at : strength by bend.
    how, duty : how it failed, as far as told; the pulls that its use brings.
    knock : what its play adds; None without a play, a low gear or a torque.
    lever : what forcing it past touch does; None for a head, for a joint that the axle does not
        bend, and for one that touches nothing up to the highest bend searched.
    missing, assumed : what is not known; what the numbers rest on.
    """

    joint: Joint
    cross: str
    fits: str | None
    torque: ShaftTorque
    at: Mapping[When, AtBend]
    how: HowFailed
    duty: Duty
    knock: Knock | None
    lever: Lever | None
    missing: tuple[Remark, ...]
    assumed: tuple[Remark, ...]

    @property
    def peak(self) -> Estimate | None:
        """The hardest pull, N mm."""
        return self.torque.peak

    @property
    def failed(self) -> AtBend:
        """At the bend it failed at; at the worst of the travel where nobody knows."""
        return self.at[self.how.at or "worst"]

    @property
    def wedged(self) -> bool:
        """Whether only a tire that cannot slip lets through more than it takes."""
        slips, peak = self.torque.wheel_slip, self.peak
        if slips is None or peak is None:
            return False
        return self.torque.shock * slips.value < self.failed.holds <= peak.value

    @cached_property
    def signs(self) -> Mapping[ComputedCode, tuple[bool, Remark]]:
        """The signs that come out yes or no, each with its numbers; none in doubt or not known."""
        found: dict[ComputedCode, tuple[bool, Remark] | None] = {
            "pull-past-strength": self._past(),
            "steady-pull-past": self._steady(),
            "pulls-few": self._few(),
        }
        return MappingProxyType({code: sign for code, sign in found.items() if sign is not None})

    @property
    def evidence(self) -> Mapping[ComputedCode, bool]:
        """The signs alone."""
        return MappingProxyType({code: is_so for code, (is_so, _) in self.signs.items()})

    def _past(self) -> tuple[bool, Remark] | None:
        """Past what it takes; not past with the safety that is wanted to spare; else in doubt.

        At every bend it may have had. A pull that takes a wedged tire counts where it was told of.
        """
        if self.peak is None:
            return None
        bends = [self.failed] if self.how.at else list(self.at.values())
        least, most = (pick(bends, key=lambda each: each.weakest.safety) for pick in (min, max))
        gets = self.peak.value
        if least.weakest.safety >= WANTED:
            return False, Remark("why-pull-holds", gets=gets, holds=least.holds, bend=least.bend)
        if most.weakest.safety >= 1.0 or (self.wedged and not self.how.hard_pull):
            return None
        member = least.weakest.name
        return True, Remark(
            "why-pull-past", gets=gets, holds=least.holds, bend=least.bend, member=member
        )

    def _steady(self) -> tuple[bool, Remark] | None:
        """Of a pull that passes what it takes: whether it does so without shock or a wedged tire.

        Then it is no accident, and the joint is too small. A tire that can slip is the fuse.
        """
        past, peak = self._past(), self.peak
        if past is None or not past[0] or peak is None:
            return None
        gets = peak.value / self.torque.shock
        bends = [self.failed] if self.how.at else list(self.at.values())
        holds = min(each.holds for each in bends)
        if gets > holds and not self.wedged:
            return True, Remark("why-steady-past", gets=gets, holds=holds)
        return False, Remark("why-steady-holds", gets=gets, holds=holds, wedged=self.wedged)

    def _few(self) -> tuple[bool, Remark] | None:
        """No more than it had, by the value; more than that all through the band is not few."""
        pulls, went = self.failed.pulls, self.how.miles
        if pulls is None:
            return None
        if went is not None and self.how.use is not None:
            miles = pulls.miles
            few = _fewer(miles, went, went)
            why = Remark("why-miles", value=miles.value, low=miles.low, high=miles.high, went=went)
        else:
            band = pulls.hardest
            few = _fewer(band, FEW, MANY)
            why = Remark("why-pulls", value=band.value, low=band.low, high=band.high)
        return None if few is None else (few, why)


def _fewer(band: Band, few: float, many: float) -> bool | None:
    if band.value <= few:
        return True
    return False if band.low > many else None
