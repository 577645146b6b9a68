"""The torque that a rig's shaft is sized for, as far as the rig tells it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Final

from sim.remark import Remark
from sim.sizing import ABRUPT, SMOOTH, Axle, Drive, ShaftTorque, shaft_torque
from sim.sizing.torque import Use
from sim.ticket.drive_said import DriveSaid, Key, Number
from sim.wrap.estimate import Estimate

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

USE_NOT_SAID: Final = "use-not-said"
"""Code of the flag that stands first on a ticket: every torque on it hangs on what was not said."""

_DOUBT: Final = 1.05
"""Share by which the two torques have to differ before it matters which of them counts."""


def drive_torque(said: DriveSaid) -> ShaftTorque:
    """Size a shaft by low gear and wheel slip, or by the one of them that is known."""
    shock = ABRUPT if said.words["comes_on"] == "abruptly" else SMOOTH
    use: Use = "trail" if said.words["use"] == "trail" else "road"
    drive = None if said.lacks(*LOW_GEAR) else _drive(said)
    axle = None if said.lacks(*WHEEL_SLIP) else _axle(said)
    found = shaft_torque(drive, axle, use, shock)
    return replace(found, flags=(*_use_flags(said, found), *found.flags))


def torque_missing(said: DriveSaid) -> Iterator[Remark]:
    """What is not said, without which one of the torques is not known."""
    for key in said.lacks(*LOW_GEAR):
        yield Remark("for-low-gear", key)
    for key in said.lacks(*WHEEL_SLIP):
        yield Remark("for-wheel-slip", key)


def torque_assumed(said: DriveSaid) -> tuple[Remark, ...]:
    """What was assumed of that which counts."""
    geared, slips = not said.lacks(*LOW_GEAR), not said.lacks(*WHEEL_SLIP)
    keys: tuple[Key, ...] = GEARED if geared else ()
    if slips:
        keys += ("friction", "use")
    if geared or (slips and said.words["use"] != "trail"):
        keys += ("comes_on",)
    axle = (Remark("axle-efficiency", share=_axle(said).efficiency),) if slips else ()
    return (*said.assumed_of(keys), *axle)


def _use_flags(said: DriveSaid, found: ShaftTorque) -> Iterator[Remark]:
    """The use of a shaft that nobody told, where it changes the torque."""
    gear, slips = found.low_gear, found.wheel_slip
    if "use" not in said.generic or gear is None or slips is None:
        return
    if gear.value >= _DOUBT * slips.value:
        yield Remark("use-not-said", slips=slips.value, gear=gear.value)


def _estimate(said: DriveSaid, key: Number) -> Estimate:
    share, _ = said.off[key]
    return Estimate.share(said.number(key), share)


def _drive(said: DriveSaid) -> Drive:
    return Drive(
        _estimate(said, "engine_torque"), said.number("low_gear"), *map(said.number, GEARED)
    )


def _axle(said: DriveSaid) -> Axle:
    return Axle(
        load=_estimate(said, "axle_load"),
        grip=_estimate(said, "friction"),
        tyre_radius=said.number("tyre_radius"),
        ratio=said.number("axle_ratio"),
    )
