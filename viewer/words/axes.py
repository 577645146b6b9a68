"""Words for what the sliders move: values that can be typed back, and names for the ends."""

from math import degrees, tau

from sim.vehicle import TravelRegion
from viewer.words.poses import LEVEL, travel_words
from viewer.words.units import format_angle, format_fraction, format_spoken

TITLES = {
    "travel": "Axle height",
    "roll": "Crossed up",
    "wrap": "Axle wrap",
    "spin": "Turn of the shaft",
}

MIDDLES = {"travel": "ride", "roll": "level", "wrap": "no wrap", "spin": "half a turn"}
"""What the place in the middle is called."""

NEVER = {
    "travel": "This rig has no axle travel.",
    "roll": "This rig has no roll: the axle stays level.",
    "wrap": "This rig has no axle wrap.",
}
"""What is said of an axis that does not move."""

NEVER_SHORT = {"travel": "no travel", "roll": "no roll", "wrap": "no wrap"}
"""The same in fewer words."""

EXAMPLES = {
    "travel": "6 in droop",
    "roll": "8 deg left up",
    "wrap": "4 deg nose down",
    "spin": "30 deg",
}

FINE = {"travel": 25.4 / 16.0, "roll": tau / 3600.0, "wrap": tau / 3600.0, "spin": tau / 3600.0}
"""The smallest step: what a tape and a digital level show, 1/16 in and 0.1 deg."""


def axis_text(axis: str, value: float) -> str:
    """A value (mm, rad) in words that `Motion.type` reads: "6 5/16 in droop"."""
    if axis == "travel":
        return travel_words(value)
    if axis == "roll":
        return format_spoken(value, "left up", "right up")
    if axis == "wrap":
        return format_spoken(value, "nose up", "nose down")
    return format_angle(value)


SHORT_ENDS = {
    "travel": ("droop", "bump"),
    "roll": ("right up", "left up"),
    "wrap": ("down", "up"),
    "spin": ("0", "360"),
}
"""What the two ends are called where there is little room."""


def plain_text(axis: str, value: float) -> str:
    """A value (mm, rad) to be read from a few steps away: "8.0 deg, right wheel up"."""
    text = axis_text(axis, value)
    if axis == "spin":
        return f"{degrees(value) % 360.0:.0f} deg"
    for short, long in _IN_FULL.items():
        text = text.replace(short, long)
    return MIDDLES[axis] if axis != "travel" and abs(value) < LEVEL else text


_IN_FULL = {
    " left up": ", left wheel up",
    " right up": ", right wheel up",
    " nose": ", nose",
}


def ends_named(axis: str, low: float, high: float) -> tuple[str, str]:
    """What the two ends of an axis (mm, rad) are called for somebody who never moved one."""
    if axis == "travel":
        return f"droop {format_fraction(-low)}", f"bump {format_fraction(high)}"
    if axis == "spin":
        return "0", "full turn"
    return SHORT_ENDS[axis] if axis == "roll" else ("nose down", "nose up")


def end_words(axis: str, box: TravelRegion) -> tuple[str, str]:
    """What the two ends of an axis are called, with how far they are."""
    if axis == "travel":
        return f"full droop {format_fraction(box.droop)}", f"full bump {format_fraction(box.bump)}"
    if axis == "roll":
        return f"right up {format_angle(box.roll)}", f"left up {format_angle(box.roll)}"
    if axis == "wrap":
        return f"nose down {format_angle(box.nose_down)}", f"nose up {format_angle(box.nose_up)}"
    return "0 deg", "360 deg"
