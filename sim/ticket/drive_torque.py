"""The torque that a rig's shaft is sized for, as far as the rig tells it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from sim.remark import Remark
from sim.sizing import ABRUPT, SMOOTH, Axle, Drive, Shock, shaft_torque
from sim.ticket.drive_said import DriveSaid, Key, Number
from sim.wrap.estimate import Estimate, carried

LOW_GEAR: Final[tuple[Number, ...]] = ("engine_torque", "low_gear")
GEARED: Final[tuple[Number, ...]] = (
    "low_range",
    "converter",
    "gearbox_efficiency",
    "case_efficiency",
    "share",
)
"""What torque in low gear takes besides."""

WHEEL_SLIP: Final[tuple[Number, ...]] = ("axle_ratio", "axle_load", "tyre_radius")


@dataclass(frozen=True)
class TorqueSaid:
    """Torque in the shaft, N mm.

    Attributes
    ----------
    low_gear, wheel_slip : each where the rig tells it.
    governs : which of them the shaft is sized by; None where neither can be.
    why : the reason.
    steady : that torque.
    shock : how much more comes for a moment.
    peak : what strength is held against.
    missing, flags : what is not said, what is odd.
    assumed : each value that was assumed for it.
    """

    low_gear: Estimate | None
    wheel_slip: Estimate | None
    governs: str | None
    why: Remark
    steady: Estimate | None
    shock: Shock
    peak: Estimate | None
    missing: tuple[Remark, ...]
    flags: tuple[Remark, ...]
    assumed: tuple[Remark, ...]


def drive_torque(said: DriveSaid) -> TorqueSaid:
    """Size a shaft by low gear and wheel slip, or by the one of them that is known."""
    shock = ABRUPT if said.words["comes_on"] == "abruptly" else SMOOTH
    trail = said.words["use"] == "trail"
    no_gear, no_slip = said.lacks(*LOW_GEAR), said.lacks(*WHEEL_SLIP)
    missing = (
        *(Remark("for-low-gear", key) for key in no_gear),
        *(Remark("for-wheel-slip", key) for key in no_slip),
    )
    drive = None if no_gear else _drive(said)
    axle = None if no_slip else _axle(said)
    assumed = _assumed(said, drive, axle, trail)
    if drive is not None and axle is not None:
        both = shaft_torque(drive, axle, "trail" if trail else "road", shock)
        return TorqueSaid(
            both.low_gear, both.wheel_slip, both.governs, both.why, both.steady, shock, both.peak,
            missing, (*use_flags(said, both.low_gear, both.wheel_slip), *both.flags), assumed,
        )  # fmt: skip
    gear = None if drive is None else drive.torque
    slips = None if axle is None else axle.torque
    steady, governs = gear, "low gear"
    why = Remark("low-gear-alone")
    if gear is None:
        steady, governs = slips, "wheel slip"
        why = Remark("wheel-slip-alone")
    if gear is None and (trail or slips is None):
        steady, why = None, Remark("torque-not-told")
    peak = None if steady is None else carried(lambda t: t * shock.factor, steady)
    return TorqueSaid(
        low_gear=gear,
        wheel_slip=slips,
        governs=None if steady is None else governs,
        why=why,
        steady=steady,
        shock=shock,
        peak=peak,
        missing=missing,
        flags=(),
        assumed=assumed,
    )


USE_NOT_SAID: Final = "use-not-said"
"""Code of the flag that stands first on a ticket: every torque on it hangs on what was not said."""

_DOUBT: Final = 1.05
"""Share by which the two torques have to differ before it matters which of them counts."""


def use_flags(said: DriveSaid, gear: Estimate, slips: Estimate) -> Iterator[Remark]:
    """The use of a shaft that nobody told, where it changes the torque."""
    if "use" not in said.generic or gear.value < _DOUBT * slips.value:
        return
    yield Remark("use-not-said", slips=slips.value, gear=gear.value)


def _assumed(
    said: DriveSaid, drive: Drive | None, axle: Axle | None, trail: bool
) -> tuple[Remark, ...]:
    """What was assumed of that which counts."""
    keys: tuple[Key, ...] = ()
    if drive is not None:
        keys += GEARED
    if axle is not None:
        keys += ("friction", "use")
    if drive is not None or (axle is not None and not trail):
        keys += ("comes_on",)
    lines = said.assumed_of(keys)
    if axle is None:
        return lines
    return (*lines, Remark("axle-efficiency", share=axle.efficiency))


def _estimate(said: DriveSaid, key: Number) -> Estimate:
    share, _ = said.off[key]
    return Estimate.share(said.number(key), share)


def _drive(said: DriveSaid) -> Drive:
    return Drive(
        engine=_estimate(said, "engine_torque"),
        gear=said.number("low_gear"),
        low_range=said.number("low_range"),
        converter=said.number("converter"),
        gearbox_efficiency=said.number("gearbox_efficiency"),
        case_efficiency=said.number("case_efficiency"),
        share=said.number("share"),
    )


def _axle(said: DriveSaid) -> Axle:
    return Axle(
        load=_estimate(said, "axle_load"),
        grip=_estimate(said, "friction"),
        tyre_radius=said.number("tyre_radius"),
        ratio=said.number("axle_ratio"),
    )
