"""What a joint gets against what it takes: its remarks in words."""

from collections.abc import Mapping
from math import floor, log10
from typing import Final

from viewer.words.sentence import Sentence
from viewer.words.units import force, format_angle, torque

ENDLESS: Final = 1e6
"""Pulls or miles that no vehicle lives to see."""


def rough(number: float) -> str:
    """A number to one digit, which is all that means something: "about 3,000"."""
    if number < 1.0:
        return "less than one"
    if number >= ENDLESS:
        return "more than it lives to see"
    step = 10.0 ** floor(log10(number))
    return f"about {round(number / step) * step:,.0f}"


def so_many(number: float, things: str, one: str) -> str:
    """A rough number of things: "about 200 such pulls", "more such pulls than it lives to see"."""
    if number < 1.0:
        return f"less than one {one}"
    if number >= ENDLESS:
        return f"more {things} than it lives to see"
    return f"{rough(number)} {things}"


def between(low: float, high: float) -> str:
    """The same of a band: "anywhere from 100 to 10,000"."""
    least = "none" if low < 1.0 else rough(low).removeprefix("about ")
    if low >= ENDLESS:
        return "at the least too"
    if high >= ENDLESS:
        return f"{least} or more"
    return f"anywhere from {least} to {rough(high).removeprefix('about ')}"


def _past(gets: float, holds: float, bend: float, member: str) -> str:
    part = member.replace(" joint: ", " joint's ")
    return (
        f"the hardest pull is {torque(gets)}, and at {format_angle(bend)} it holds only "
        f"{torque(holds)}; what gives first is the {part}"
    )


def _pulls(value: float, low: float, high: float) -> str:
    return (
        f"the root of a trunnion is good for {so_many(value, 'such pulls', 'such pull')} "
        f"({between(low, high)}; an estimate)"
    )


def _miles(value: float, low: float, high: float, went: float) -> str:
    return (
        f"it is good for {so_many(value, 'miles of this use', 'mile of this use')} "
        f"({between(low, high)}; an estimate), and it went {went:,.0f}"
    )


def _steady_holds(gets: float, holds: float, wedged: bool) -> str:
    if wedged:
        return "it takes a wedged tire: one that can slip lets less through than it holds"
    return f"it takes a shock: without one it gets {torque(gets)}, and it holds {torque(holds)}"


def _hanging(weight: float) -> str:
    return (
        f"an axle that hangs is taken to weigh {force(weight)} with its wheels (usual value, no "
        "source)"
    )


OVERLOADED: Final[Mapping[str, Sentence]] = {
    "why-pull-past": _past,
    "why-pull-holds": "it holds {holds:torque} at {bend:angle}, and the hardest pull is "
    "{gets:torque}",
    "why-steady-past": "no shock is needed for that: a pull that comes on slowly gives "
    "{gets:torque}, and it holds {holds:torque}, so this size is too small",
    "why-steady-holds": _steady_holds,
    "why-pulls": _pulls,
    "why-miles": _miles,
    "fatigue-assumed": "how many pulls a cross takes is an estimate to the power of ten, for "
    "generic case-hardened steel; the fillet at a trunnion's root is taken as {fillet:.2f} of its "
    "diameter, with {notch:.1f} times the nominal stress; no cross was tested",
    "use-assumed": "how often it pulls is guessed for use as {use}, since nobody said what the "
    "vehicle does (common practice, no source)",
    "duty-guessed": "how often it pulls is guessed from its use, {use} (common practice, no "
    "source)",
    "knock-assumed": "the knock of its play is an estimate: an engine of {engine:g} kg m2 with its "
    "flywheel, the tube and a light truck's axle shafts as springs, no damping (usual values, "
    "no source)",
    "hanging-axle-assumed": _hanging,
}
"""Every sentence by its code."""

RESTS_SHORT: Final[Mapping[str, str]] = {
    "axle-efficiency": "what the axle's gears lose",
    "joint-materials": "the steel of joints and bolts",
    "shaft-materials": "the steel of tube and slip",
    "needles-assumed": "the needles",
    "flange-bolts-assumed": "how tight the flange bolts are",
    "weld-assumed": "sound welds",
    "output-spline-left-out": "a sound output spline",
    "fatigue-assumed": "when steel cracks (to the power of ten)",
    "use-assumed": "how often it pulls",
    "duty-guessed": "how often it pulls",
    "knock-assumed": "how heavy the engine is and how springy the axle",
    "hanging-axle-assumed": "what the axle weighs",
}
"""What numbers rest on, in a few words, by code; all without a source."""
