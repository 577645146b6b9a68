"""What a joint's bench readings come to, as plain data: published keys, no words of its own."""

from typing import Any

from sim.bench.fitted import FittedDimension, FittedJoint, NextReading, ReadingFit, Turned
from viewer.encoder import keyed
from viewer.words.fitted import fights, next_lines


def fitted_data(found: FittedJoint) -> dict[str, Any]:
    """Band of the curve, dimensions, readings against the fit, what fights, what to read next."""
    return {
        **keyed(found, "touch_low_deg=low touch_high_deg=high lowest_deg=lowest before_deg=before"),
        "fitted": {
            f"{each.free.yoke}.{each.free.name}": _dimension(each) for each in found.dimensions
        },
        "readings": [_reading(each) for each in found.readings],
        "contradictions": [
            keyed(each, "kind readings=numbers nearest_deg=nearest odds") | {"says": says}
            for each, says in zip(found.contradictions, fights(found), strict=True)
        ],
        "next_readings": [_next(each) for each in found.next],
        "read_next": list(next_lines(found)),
        **keyed(found, "forecast_off_deg=forecast_off forecast_replaced=replaced"),
    }


def _dimension(each: FittedDimension) -> dict[str, Any]:
    return keyed(each, "value_mm=value low_mm=low high_mm=high") | {"measured": each.free.measured}


def _turned(turned: Turned) -> dict[str, Any]:
    held = {"clamped": turned.clamped.replace("_", " "), "ears": turned.word or None}
    return held | keyed(turned, "ears_deg=ears")


def _reading(each: ReadingFit) -> dict[str, Any]:
    told = "key way read_deg=read off_deg=off fits_deg=fits without_deg=without counts"
    return keyed(each, told) | _turned(each.turned)


def _next(each: NextReading) -> dict[str, Any]:
    ends = "off_mm=off low_mm=low high_mm=high"
    if each.way != "caliper":
        ends = "off_deg=off low_deg=low high_deg=high"
    told = keyed(each, f"way key {ends} band_deg=band narrows")
    return told | ({} if each.way == "caliper" else _turned(each.turned))
