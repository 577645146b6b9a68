"""The torque a shaft is sized for: low gear, wheel slip, which of them governs, and shock."""

from dataclasses import dataclass
from typing import Final, Literal

from geometry.errors import BindpointError
from sim.quantities import require_fields, require_positive
from sim.remark import Remark
from sim.wrap.estimate import Estimate, carried
from sim.wrap.torque import grip, low_gear, pinion_torque

Governs = Literal["low gear", "wheel slip"]
Use = Literal["road", "trail"]


class SizingError(BindpointError, ValueError):
    """Ratios, loads or efficiencies that no drive has."""


SMOOTH: Final = 1.0
"""Torque comes on slowly: nothing is added for a moment."""

ABRUPT: Final = 2.0
"""It comes on at once, as of a dropped clutch: a shaft without damping swings to twice it
[derivation]."""


@dataclass(frozen=True)
class Drive:
    """From the engine to the shaft."""

    engine: Estimate
    """Net torque of the engine, N mm."""
    gear: float
    """Lowest gear."""
    low_range: float = 1.0
    """Transfer case in low."""
    converter: float = 1.0
    """Torque ratio of a converter at stall; 1 with a clutch."""
    gearbox_efficiency: float = 0.85
    """0.85 by hand, 0.8 automatic (common practice, no source)."""
    case_efficiency: float = 0.95
    """Of the transfer case (common practice, no source)."""
    share: float = 1.0
    """Of the case's torque that this shaft can get: 1 where the case locks, since the other
    axle may stand on ice; what a centre differential gives it where there is one."""

    def __post_init__(self) -> None:
        require_positive(SizingError, engine_torque=self.engine.low)
        shares = "gearbox_efficiency case_efficiency share"
        require_fields(SizingError, self, "gear low_range converter", shares=shares)

    @property
    def torque(self) -> Estimate:
        """In the shaft in low gear at full torque, N mm."""
        behind = low_gear(
            self.engine,
            self.gear,
            self.low_range,
            self.converter,
            self.gearbox_efficiency * self.case_efficiency,
        )
        return carried(lambda t: t * self.share, behind)


@dataclass(frozen=True)
class Axle:
    """From the shaft to the ground."""

    load: Estimate
    """On this axle at its heaviest, N: loaded, and with what climbing shifts onto it."""
    grip: Estimate
    """Friction of the tyres."""
    tyre_radius: float
    """mm."""
    ratio: float
    efficiency: float = 0.95
    """Of the axle's gears; what they lose the shaft has to bring on top (common practice, no
    source)."""

    def __post_init__(self) -> None:
        require_positive(SizingError, axle_load=self.load.low, grip=self.grip.low)
        require_fields(SizingError, self, "tyre_radius ratio", shares="efficiency")

    @property
    def torque(self) -> Estimate:
        """In the shaft when both tyres slip, N mm."""
        return grip(self.load, self.grip, self.tyre_radius, self.ratio, self.efficiency)


@dataclass(frozen=True)
class ShaftTorque:
    """What the shaft is sized for, N mm, and why.

    Attributes
    ----------
    low_gear, wheel_slip : each where it is known.
    governs : which of them the shaft is sized by; None where neither can be.
    why : the reason.
    shock : times the steady torque that comes for a moment.
    flags : what is odd.
    """

    low_gear: Estimate | None
    wheel_slip: Estimate | None
    governs: Governs | None
    why: Remark
    shock: float
    flags: tuple[Remark, ...]

    @property
    def steady(self) -> Estimate | None:
        """The one that governs."""
        if self.governs is None:
            return None
        return self.low_gear if self.governs == "low gear" else self.wheel_slip

    @property
    def peak(self) -> Estimate | None:
        """Steady times shock: what strength is held against."""
        steady = self.steady
        return None if steady is None else carried(lambda t: t * self.shock, steady)


def shaft_torque(
    drive: Drive | None, axle: Axle | None, use: Use = "road", shock: float = SMOOTH
) -> ShaftTorque:
    """Size a shaft by low gear and wheel slip, or by the one of them that is known."""
    if use not in ("road", "trail"):
        raise SizingError(f"use: got {use!r}, expected 'road' or 'trail'")
    if not shock >= SMOOTH:
        raise SizingError(f"shock: got a factor of {shock}, expected 1 or more")
    gear = None if drive is None else drive.torque
    slips = None if axle is None else axle.torque
    governs, why = _governs(gear, slips, use)
    flags = () if drive is None or gear is None or slips is None else _flags(drive, gear, slips)
    return ShaftTorque(gear, slips, governs, why, shock, flags)


def _governs(
    gear: Estimate | None, slips: Estimate | None, use: Use
) -> tuple[Governs | None, Remark]:
    """Which torque a shaft is sized by, and why.

    On the road the lesser of low gear and wheel slip: tyres that slip save the shaft, and an
    engine can give no more than it has. On the trail low gear alone, for there a tyre gets
    wedged between rocks and cannot slip (common practice, no source).
    """
    if gear is None:
        if slips is None or use == "trail":
            return None, Remark("torque-not-told")
        return "wheel slip", Remark("wheel-slip-alone")
    if slips is None:
        return "low gear", Remark("low-gear-alone")
    if pinion_torque(gear, slips).governs == "engine":
        return "low gear", Remark("engine-runs-out")
    if use == "road":
        return "wheel slip", Remark("tyres-slip-first")
    return "low gear", Remark("wedged-tyre")


def _flags(drive: Drive, gear: Estimate, slips: Estimate) -> tuple[Remark, ...]:
    found = []
    if slips.low < gear.value < slips.high or gear.low < slips.value < gear.high:
        found.append(Remark("governs-in-doubt"))
    if drive.share < 1.0:
        found.append(Remark("share-counts", share=drive.share))
    return tuple(found)
