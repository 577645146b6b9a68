"""Where a slip is: its bore, how far in its spline sits, and what is left both ways, as lengths.

Everything lies along the x axis of the outer half, which runs from the bottom of the bore to its
mouth. In the shaft that half is the sleeve and its axis the shaft's; of a yoke that slides on the
output it is the yoke, whose axis points to the case, and the spline stands still.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf, isfinite

from geometry.slip import SlipShape
from sim.around.outline import (
    GOOD_DIAMETERS,
    INTO_CASE,
    cross_name,
    land,
    slip_in_shaft,
    tube_before_slip,
)
from sim.hardware.head import EndHardware
from sim.vehicle import Joint, Slip, Vehicle
from viewer.scene.mount import SHAFT

OUTPUT_YOKE = "output yoke"

SPLINE = 30.0
"""Diameter, mm, of the spline in a yoke that tells of none (from memory)."""

TEETH = 28
"""Teeth of the same (from memory)."""

WALLS = 12.0
"""Both walls of a barrel that tells no diameter, mm (from memory)."""


@dataclass(frozen=True, eq=False)
class SlipPlace:
    """A slip along the axis of its outer half, mm.

    Attributes
    ----------
    frame : that of the outer half.
    at_ride : x of the end of the spline at ride height.
    mouth : x where the bore ends.
    has : what it has at ride height; `inf` where nobody measured.
    spline, outside : diameters of the spline over its teeth, and of what it slides in.
    teeth : of the spline. long : how long its teeth are.
    shape, start : of a slip in the shaft what it is built from, if it has room, and where its
        sleeve begins.
    """

    frame: str
    at_ride: float
    mouth: float
    has: Slip
    spline: float
    outside: float
    teeth: int
    long: float
    shape: SlipShape | None = None
    start: float = 0.0

    @property
    def bottom(self) -> float:
        """Where the end of the spline bottoms; generic where nobody measured."""
        return self.at_ride - self.has.sized.closes

    @property
    def limit(self) -> float:
        """Where the end of the spline may be at most; generic where nobody measured."""
        return self.at_ride + self.has.sized.opens

    def at(self, opened: float) -> "SlipNow":
        """The slip where it has opened so many mm since ride height."""
        return SlipNow(self, self.at_ride + opened)


@dataclass(frozen=True, eq=False)
class SlipNow:
    """A slip in one pose: stretches along the axis of its outer half, (x, x) mm, the lower first.

    tip : where the end of the spline is.
    """

    place: SlipPlace
    tip: float

    @property
    def closes_left(self) -> float:
        """What is left until it bottoms, mm; inf where nobody measured."""
        measured = isfinite(self.place.has.closes)
        return self.tip - self.place.bottom if measured else inf

    @property
    def opens_left(self) -> float:
        """What is left until it runs short of spline, mm; inf where nobody measured."""
        return self.place.limit - self.tip if isfinite(self.place.has.opens) else inf

    @property
    def apart_by(self) -> float | None:
        """How far it has come apart, mm; None if it is not known to have."""
        by = self.tip - self.place.mouth
        return by if self.place.has.comes_apart is not None and by >= 0.0 else None

    @property
    def engaged(self) -> tuple[float, float]:
        """The spline that is in its bore, as far as the bore is free; of no length if none is."""
        start = max(self.tip, self.place.bottom)
        return start, max(start, min(self.place.mouth, self.tip + self.place.long))

    @property
    def missing(self) -> tuple[float, float]:
        """Where spline is wanted and is not, up to the mouth of the bore; of no length if none."""
        start, end = self.pulled
        return start, max(start, min(end, self.place.mouth))

    @property
    def pulled(self) -> tuple[float, float]:
        """How far it is open past where it runs short; of no length if it is not."""
        limit = self.place.limit
        return limit, max(limit, self.tip) if self.opens_left < 0.0 else limit

    @property
    def apart(self) -> tuple[float, float]:
        """Between its halves where they have come apart; of no length if not."""
        mouth = self.place.mouth
        return mouth, mouth + (self.apart_by or 0.0)

    @property
    def telling(self) -> tuple[float, float]:
        """What words on it speak of: what is short of it, else the end of the spline."""
        if self.opens_left < 0.0:
            return self.pulled
        return self.driven_in if self.closes_left < 0.0 else (self.tip, self.tip)

    @property
    def driven_in(self) -> tuple[float, float]:
        """How far the spline would be in the bottom of its bore; of no length if it is not."""
        bottom = self.place.bottom
        return min(self.tip, bottom) if self.closes_left < 0.0 else bottom, bottom


def slip_place(
    vehicle: Vehicle, hardware: Mapping[Joint, EndHardware], tube: tuple[float, float]
) -> SlipPlace:
    """Where the slip of a vehicle is.

    One that has no room between the yokes is shown from the first of them on, and has no shape.

    tube : outside diameter and wall, mm.
    """
    if vehicle.slip.at == "output":
        return _on_output(vehicle.slip, hardware["output"])
    first, pinion = hardware[vehicle.ends[0]], hardware["pinion"]
    lands = land(first.driven), land(pinion.driving)
    shape = slip_in_shaft(cross_name(pinion), tube, vehicle.slip)
    before = tube_before_slip(vehicle, lands, shape)
    start = lands[0] + (before or 0.0)
    mouth = start + shape.sleeve_length
    return SlipPlace(
        SHAFT,
        mouth - shape.spline_length,
        mouth,
        vehicle.slip,
        shape.spline_diameter,
        shape.sleeve_diameter,
        round(shape.spline_teeth),
        shape.spline_length,
        None if before is None else shape,
        start,
    )


def _on_output(slip: Slip, joint: EndHardware) -> SlipPlace:
    """A yoke that slides: its bore ends with its barrel."""
    yoke, sizes = joint.driving, joint.driving.dimensions
    spline = sizes.get("spline_diameter", SPLINE)
    apart = slip.comes_apart
    if apart is None:
        apart = slip.sized.opens + GOOD_DIAMETERS * spline
    mouth = land(yoke)
    return SlipPlace(
        OUTPUT_YOKE,
        mouth - apart,
        mouth,
        slip,
        spline,
        sizes.get("barrel_diameter", spline + WALLS),
        round(sizes.get("spline_teeth", TEETH)),
        apart + INTO_CASE,
    )


def barrel_start(sizes: Mapping[str, float]) -> float | None:
    """From the cross to where the barrel of a yoke that slides begins, mm; None if not told."""
    if "web" not in sizes or "barrel_end" not in sizes:
        return None
    return sizes["throat_depth"] + sizes["web"]
