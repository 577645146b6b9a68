"""Wrap of an axle on links, from the give of its bushes under torque."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf, isfinite
from typing import ClassVar, Final, Literal

from sim.remark import Remark
from sim.suspension import SuspensionTable, links_of
from sim.suspension.links.motion import Links
from sim.suspension.links.torque import under_torque
from sim.table.form import field, maybe
from sim.table.loads import OffShare, share_or
from sim.table.problems import Problem, as_typed
from sim.wrap.estimate import Estimate, WrapError
from sim.wrap.table import Around, WrapPart

STIFFNESS_OFF: Final = 0.3
"""Share by which bushes may be softer or stiffer than said (from memory)."""


@dataclass(frozen=True)
class BushWrap:
    """Wrap of an axle on links under torque at its wheels, at one pose."""

    wrap: Estimate
    """rad, nose up positive."""
    most_give: float
    """What the bush that gives most gives, mm."""
    softest: str
    """Its name."""
    bottoms: bool
    """Whether that may be more than a bush gives: rubber at its end holds the axle better."""


def bush_wrap(
    links: Links,
    torque: Estimate,
    tyre_radius: float = inf,
    stiffness_off: float = STIFFNESS_OFF,
    travel: float = 0.0,
    roll: float = 0.0,
) -> BushWrap:
    """Wrap under the torque (N mm) that the wheels put on the ground, driving forward positive.

    Every bush may be softer or stiffer by the share `stiffness_off` (30 % from memory: rubber is
    made to that), all of them at once. Bushes s times as stiff under a torque T give what these
    give under T/s, since the energy s sum(k e^2)/2 - T w has its least there; how far a bush can
    give, and so which poses are in reach, has nothing to do with it [derivation]. That a bush
    bottoms is not counted, which is on the safe side, and told.

    Raises `WrapError` where the pose is out of reach or the links do not balance the torque.
    """
    if not 0.0 <= stiffness_off < 1.0:
        raise WrapError(f"stiffness_off: got {stiffness_off}, expected a share from 0 to under 1")
    if not isfinite(float(links.solved(travel, roll)[0])):
        raise WrapError(
            f"wrap of the links at {travel} mm, {roll} rad: got a pose out of reach, expected one "
            "that the links reach"
        )
    scales = (1.0, 1.0 - stiffness_off, 1.0 + stiffness_off)
    loads = [
        torque.value,
        *(load / scale for scale in scales[1:] for load in (torque.low, torque.high)),
    ]
    told = [under_torque(links, load, tyre_radius, travel, roll) for load in loads]
    wraps = [float(each.wrap) for each in told]
    lost = [load for load, wrap in zip(loads, wraps, strict=True) if not isfinite(wrap)]
    if lost:
        raise WrapError(
            f"wrap of the links: got a torque of {max(lost, key=abs):.4g} N mm, expected one that "
            "the links and their bushings can balance"
        )
    gives = told[0].give.mm
    softest = int(gives.argmax())
    return BushWrap(
        wrap=Estimate(wraps[0], min(wraps), max(wraps)),
        most_give=float(gives[softest]),
        softest=told[0].give.bushes[softest],
        bottoms=max(float(each.give.mm.max()) for each in told) > links.most_give,
    )


class BushesTable(WrapPart):
    """The give of the links' bushes under torque."""

    known_by: ClassVar[Remark] = Remark("by-bushes")

    kind: Literal["bushes"] = field("Links whose bushings give under torque.")

    stiffness_off: OffShare | None = maybe(
        "How far off the stiffness of the bushings may be, all of them at once.", "15 %"
    )

    def missing(self, suspension: SuspensionTable) -> Iterator[Problem]:
        """Links to have bushes."""
        if not suspension.has_links:
            yield Problem(
                "wrap.kind",
                as_typed("bushes"),
                Remark("links-with-bushes"),
                Remark("suspension-is", kind=suspension.kind),
            )

    def wrap(self, torque: Estimate, around: Around) -> Estimate:
        """Balance the bushes, level, at ride height and at both ends of the travel."""
        ride, *ends = self._told(torque, around)
        wraps = [ride.wrap, *(each.wrap for each in ends)]
        return Estimate(
            ride.wrap.value, min(each.low for each in wraps), max(each.high for each in wraps)
        )

    def hints(self, around: Around) -> Iterator[Remark]:
        """Which bush gives most."""
        ride = self._told(self.drive.torque().driving, around)[0]
        yield Remark(
            "bush-gives-most", bush=ride.softest, gives=ride.most_give, bottoms=ride.bottoms
        )

    def _told(self, torque: Estimate, around: Around) -> list[BushWrap]:
        links = links_of(around.suspension, around.front)
        if links is None:
            raise WrapError(f"wrap: got a {around.suspension.kind} suspension, expected links")
        ends = [around.travel.bump.mm, -around.travel.droop.mm]
        reached = [height for height in ends if isfinite(float(links.solved(height, 0.0)[0]))]
        radius = self.drive.tyre_radius.mm
        off = share_or(self.stiffness_off, STIFFNESS_OFF)
        return [bush_wrap(links, torque, radius, off, height) for height in (0.0, *reached)]
