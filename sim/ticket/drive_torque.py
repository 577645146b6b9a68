"""The torque that a rig's shaft is sized for, as far as the rig tells it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from sim.flags import Flag
from sim.rig.wrap.drive import ENGINE_OFF, FRICTION_OFF, LOAD_OFF
from sim.sizing import ABRUPT, SMOOTH, Axle, Drive, Shock, shaft_torque
from sim.ticket.drive_said import DriveSaid
from sim.ticket.missing import Missing, missing_of
from sim.wrap.estimate import Estimate, carried

LOW_GEAR: Final = ("engine_torque", "low_gear")
WHEEL_SLIP: Final = ("axle_ratio", "axle_load", "tyre_radius")


@dataclass(frozen=True)
class TorqueSaid:
    """Torque in the shaft, N mm.

    Attributes
    ----------
    low_gear, wheel_slip : each where the rig tells it.
    governs : which of them the shaft is sized by; None where neither can be.
    why : one line with the reason.
    steady : that torque.
    shock : how much more comes for a moment.
    peak : what strength is held against.
    missing, flags : what is not said, what is odd.
    """

    low_gear: Estimate | None
    wheel_slip: Estimate | None
    governs: str | None
    why: str
    steady: Estimate | None
    shock: Shock
    peak: Estimate | None
    missing: tuple[Missing, ...]
    flags: tuple[Flag, ...]


def drive_torque(said: DriveSaid) -> TorqueSaid:
    """Size a shaft by low gear and wheel slip, or by the one of them that is known."""
    shock = ABRUPT if said.words["comes_on"] == "abruptly" else SMOOTH
    trail = said.words["use"] == "trail"
    no_gear, no_slip = said.lacks(*LOW_GEAR), said.lacks(*WHEEL_SLIP)
    missing = (
        *missing_of(no_gear, "torque in low gear: the most that the engine can put into the shaft"),
        *missing_of(no_slip, "torque at which the tyres slip, which saves the shaft on the road"),
    )
    drive = None if no_gear else _drive(said)
    axle = None if no_slip else _axle(said)
    if drive is not None and axle is not None:
        both = shaft_torque(drive, axle, "trail" if trail else "road", shock)
        return TorqueSaid(
            both.low_gear, both.wheel_slip, both.governs, both.why, both.steady, shock, both.peak,
            missing, both.flags,
        )  # fmt: skip
    gear = None if drive is None else drive.torque
    slips = None if axle is None else axle.torque
    steady, governs = gear, "low gear"
    why = "what makes the tyres slip is not known, so low gear counts alone"
    if gear is None:
        steady, governs = slips, "wheel slip"
        why = "torque in low gear is not known; it may be less than what makes the tyres slip"
    if gear is None and (trail or slips is None):
        steady, why = None, "not told: the torque in low gear is not known"
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
    )


def _drive(said: DriveSaid) -> Drive:
    return Drive(
        engine=Estimate.share(said.number("engine_torque"), ENGINE_OFF),
        gear=said.number("low_gear"),
        low_range=said.number("low_range"),
        converter=said.number("converter"),
        gearbox_efficiency=said.number("gearbox_efficiency"),
        case_efficiency=said.number("case_efficiency"),
        share=said.number("share"),
    )


def _axle(said: DriveSaid) -> Axle:
    return Axle(
        load=Estimate.share(said.number("axle_load"), LOAD_OFF),
        grip=Estimate.share(said.number("friction"), FRICTION_OFF),
        tyre_radius=said.number("tyre_radius"),
        ratio=said.number("axle_ratio"),
    )
