"""The torque a shaft is sized for: low gear, wheel slip, which of them governs, and shock."""

from dataclasses import dataclass
from typing import Literal

from geometry.errors import BindpointError
from sim.quantities import require_positive, require_share
from sim.remark import Remark
from sim.wrap.estimate import Estimate, carried
from sim.wrap.torque import grip, low_gear, pinion_torque

Governs = Literal["low gear", "wheel slip"]
Use = Literal["road", "trail"]


class SizingError(BindpointError, ValueError):
    """Ratios, loads or efficiencies that no drive has."""


@dataclass(frozen=True)
class Shock:
    """How much more than the steady torque the shaft sees for a moment."""

    factor: float
    reason: str

    def __post_init__(self) -> None:
        if not self.factor >= 1.0:
            raise SizingError(f"shock: got a factor of {self.factor}, expected 1 or more")


SMOOTH = Shock(1.0, "torque comes on slowly: nothing added")
ABRUPT = Shock(
    2.0,
    "torque comes on at once, as of a dropped clutch: a shaft without damping swings to twice it "
    "[derivation]",
)


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
        require_positive(
            SizingError,
            engine_torque=self.engine.low,
            gear=self.gear,
            low_range=self.low_range,
            converter=self.converter,
        )
        require_share(
            SizingError,
            gearbox_efficiency=self.gearbox_efficiency,
            case_efficiency=self.case_efficiency,
            share_of_the_torque=self.share,
        )

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
        require_positive(
            SizingError,
            axle_load=self.load.low,
            grip=self.grip.low,
            tyre_radius=self.tyre_radius,
            axle_ratio=self.ratio,
        )
        require_share(SizingError, axle_efficiency=self.efficiency)

    @property
    def torque(self) -> Estimate:
        """In the shaft when both tyres slip, N mm."""
        return grip(self.load, self.grip, self.tyre_radius, self.ratio, self.efficiency)


@dataclass(frozen=True)
class ShaftTorque:
    """What the shaft is sized for, N mm, and why."""

    low_gear: Estimate
    wheel_slip: Estimate
    governs: Governs
    """Which of the two the shaft is sized by."""
    why: Remark
    """One line with the reason."""
    steady: Estimate
    """The one that governs."""
    shock: Shock
    peak: Estimate
    """Steady times shock: what strength is held against."""
    flags: tuple[Remark, ...]


def shaft_torque(drive: Drive, axle: Axle, use: Use = "road", shock: Shock = SMOOTH) -> ShaftTorque:
    """Size a shaft.

    On the road the lesser of low gear and wheel slip: tyres that slip save the shaft, and an
    engine can give no more than it has. On the trail low gear alone, for there a tyre gets
    wedged between rocks and cannot slip (common practice, no source).
    """
    if use not in ("road", "trail"):
        raise SizingError(f"use: got {use!r}, expected 'road' or 'trail'")
    gear, slips = drive.torque, axle.torque
    lesser = pinion_torque(gear, slips)
    if lesser.governs == "engine":
        governs: Governs = "low gear"
        why = Remark("engine-runs-out")
    elif use == "road":
        governs, why = "wheel slip", Remark("tyres-slip-first")
    else:
        governs = "low gear"
        why = Remark("wedged-tyre")
    steady = gear if governs == "low gear" else slips
    return ShaftTorque(
        low_gear=gear,
        wheel_slip=slips,
        governs=governs,
        why=why,
        steady=steady,
        shock=shock,
        peak=carried(lambda t: t * shock.factor, steady),
        flags=_flags(drive, gear, slips),
    )


def _flags(drive: Drive, gear: Estimate, slips: Estimate) -> tuple[Remark, ...]:
    found = []
    if slips.low < gear.value < slips.high or gear.low < slips.value < gear.high:
        found.append(Remark("governs-in-doubt"))
    if drive.share < 1.0:
        found.append(Remark("share-counts", share=drive.share))
    return tuple(found)
