"""When one joint touches over a whole turn, in lines."""

from collections.abc import Iterator
from math import degrees, isfinite

from geometry.contact.touch import TouchCurve
from sim.bench.fitted import FittedJoint
from sim.hardware.head import EndHardware, HeadHardware
from viewer.words.bench import FITTED
from viewer.words.fitted import fitted_lines
from viewer.words.lines import item
from viewer.words.meeting import meeting_words, surfaces_words
from viewer.words.verdicts import CAUTION

SHOWN = 24
"""Rows of the printed table: every 15 deg of a turn. The JSON has every spin."""

BAR = 40


def curve_lines(
    rig_name: str, hardware: EndHardware, curve: TouchCurve, found: FittedJoint | None = None
) -> Iterator[str]:
    """When a joint touches, line by line.

    found : what its bench readings come to, where there are any.
    """
    own = "" if found is None else f", {FITTED}"
    yield f"{rig_name}: {hardware.joint} joint"
    yield f"{hardware.driving.name} and {hardware.driven.name}{own}, {_cross(hardware)}"
    if isfinite(curve.touch_min) and curve.first is not None:
        yield (
            f"First touch at {degrees(curve.touch_min):.2f} deg, turned "
            f"{round(degrees(curve.first.spin)) % 360} deg: "
            f"{meeting_words(curve.first.surfaces, hardware.names(curve.first))}"
        )
    elif isfinite(curve.touch_min):
        yield f"{_stops(hardware)} at {degrees(curve.touch_min):.2f} deg"
    else:
        yield f"Nothing touches up to {degrees(curve.limit):.0f} deg"
    yield f"Good at any turn up to {degrees(curve.certified_clear):.2f} deg"
    if found is not None:
        for line in fitted_lines(found):
            yield from item(line)
    yield ""
    wide = "" if found is None else f"{'95 of 100':>12}  "
    scale = f"0 {' ' * (BAR - 8)}{degrees(curve.limit):.0f} deg"
    yield f"{'turn':>7}  {'touches at':>10}  {wide} {scale}"
    step = max(1, len(curve.spin) // SHOWN)
    for i in range(0, len(curve.spin), step):
        bend, contact = curve.touch[i], curve.contacts[i]
        bar = round(BAR * min(bend, curve.limit) / curve.limit) if isfinite(bend) else BAR
        reads = f"{degrees(bend):.2f} deg" if isfinite(bend) else "clear"
        what = "" if contact is None else surfaces_words(contact.surfaces)
        if contact is None and isfinite(bend):
            what = "ball / socket"
        wide = "" if found is None else f"{_between(found.low[i], found.high[i]):>12}  "
        turn = f"{degrees(curve.spin[i]):>3.0f} deg"
        yield f"{turn}  {reads:>10}  {wide} {'#' * bar:<{BAR}}  {what}"
    yield ""
    yield f"Turn: 0 when the bores of the {hardware.driving.name} lie in the plane of the bend."
    yield f"Meshes are true to {curve.chord:.2f} mm; the metal lies inside them."
    yield CAUTION


def _between(low: float, high: float) -> str:
    return f"{degrees(low):.1f} to {degrees(high):.1f}" if isfinite(low + high) else ""


def _cross(hardware: EndHardware) -> str:
    if isinstance(hardware, HeadHardware):
        return hardware.shape.name
    return f"cross {hardware.cross.name}"


def _stops(hardware: EndHardware) -> str:
    """What stops a head at neither of its crosses."""
    if isinstance(hardware, HeadHardware) and hardware.head_touch().limited_by == "outer yokes":
        return "The two outer yokes meet each other"
    return "Ball and socket run out of travel"
