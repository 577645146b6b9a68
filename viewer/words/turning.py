"""What nobody gave and what could turn the verdict over, in a line each."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any, Final

from sim.turning_over import Turn, TurningOver
from viewer.words.verdicts import verdict_word

NOTHING_TURNS: Final = "No measurement you left out changes that"
"""Without its stop."""

GENERIC: Final = "The yokes are generic: measure their throats."


def turn_line(turn: Turn) -> str:
    """What to measure, what was taken for it, and what it comes to with another value."""
    if turn.key.endswith(_DEPTH):
        return _throat_line(turn)
    said, tried = _SAID[turn.key], _tried(turn)
    taken = said.taken or said.shown(turn.assumed)
    return f"{said.what} (taken as {taken}): with {tried} {_it_is(turn)}"


def _it_is(turn: Turn) -> str:
    word = verdict_word(turn.verdict, turn.metal)
    return f"{'it' if turn.verdict == 'touches' else 'it is'} {word}"


def _throat_line(turn: Turn) -> str:
    """Of a generic yoke: ``throat of the pinion yoke (generic, 1.30 in): with 1.18 in ...``."""
    (table,) = turn.tried.values()
    tried = table["throat_depth"]
    return f"{_throat(turn.key)} (generic, {turn.assumed}): with {tried} {_it_is(turn)}"


def _throat(key: str) -> str:
    return f"throat of the {_YOKE[key.removesuffix(_DEPTH)]}"


def most_words(told: TurningOver) -> str:
    """Where nothing turns it over, what comes nearest to it; "" for nothing to speak of."""
    if told.most is None:
        return ""
    key = told.most.key
    return f"{_throat(key) if key.endswith(_DEPTH) else _SAID[key].what} moves it most"


def _tried(turn: Turn) -> str:
    """What was tried, as one says it after "with"."""
    said = _SAID[turn.key]
    if said.instead:
        return said.instead
    key, value = next(iter(turn.tried.items()))
    way = key.rpartition("_")[2]
    return f"{value} {way}" if way in ("left", "right") else said.shown(value)


def _plain(value: Any) -> str:
    return str(value)


def _share(value: str) -> str:
    return {"100 %": "all of it", "50 %": "half of it", "0 %": "none"}.get(value, value)


def _point(value: list[str]) -> str:
    """A point on the line up through the centre of the axle."""
    up = value[2]
    if up == "0 in":
        return "the tube's center"
    return f"one {up.removeprefix('-')} {'lower' if up.startswith('-') else 'higher'}"


def _straps(value: str) -> str:
    return "one in the middle" if value == "middle" else "one at each side"


def _ratio(value: float) -> str:
    return "none" if value == 1.0 else f"{value:g} to 1"


@dataclass(frozen=True)
class Said:
    """Words for one key.

    what : what is to be measured. taken, instead : what stands for the value that was taken, and
    for what was tried, where that is more than the value. shown : how a value reads.
    """

    what: str
    taken: str = ""
    instead: str = ""
    shown: Callable[[Any], str] = _plain


def _yokes(where: str) -> Said:
    return Said(f"yokes {where}", "ordinary ones", "deep-throat ones")


_DEPTH: Final = ".throat_depth"

_YOKE: Final[Mapping[str, str]] = {
    "shaft.output_end.output_yoke": "output yoke",
    "shaft.output_end.shaft_yoke": "shaft yoke at the output",
    "shaft.pinion_end.shaft_yoke": "shaft yoke at the pinion",
    "shaft.pinion_end.pinion_yoke": "pinion yoke",
    "carrier.middle.front_yoke": "front section's yoke in the middle",
    "carrier.middle.shaft_yoke": "shaft yoke in the middle",
}
"""By key path, every yoke of a joint."""

_NONE: Final = "none"
_SIZE: Final = "joint size"

_SAID: Final[Mapping[str, Said]] = {
    "output.points_left": Said("side angle of the output", _NONE),
    "ride_height.shaft_points_left": Said("side offset of the pinion", _NONE),
    "axle.position": Said("which axle it is", shown="the {} one".format),
    "axle.snout": Said("axle center to pinion joint"),
    "axle.points_left": Said("side angle of the pinion", _NONE),
    "axle.wrap_centre": Said("pivot of the axle wrap", shown=_point),
    "travel.roll": Said("how far it crosses up"),
    "travel.stops_apart": Said("stops, left to right"),
    "travel.droop_strap": Said("droop straps", shown=_straps),
    "travel.nose_up": Said("wrap nose up"),
    "travel.nose_down": Said("wrap nose down"),
    "travel.wrap_at_droop": Said("wrap at full droop", shown=_share),
    "wrap.drive.low_range": Said("low range", shown=_ratio),
    "wrap.drive.converter": Said("torque converter", shown=_ratio),
    "wrap.drive.efficiency": Said("gearbox efficiency"),
    "wrap.drive.friction": Said("grip of the tires"),
    "suspension.kind": Said("how the axle moves", "straight up and down", "leaf springs"),
    "suspension.bush_stiffness": Said("stiffness of the bushings"),
    "suspension.most_give": Said("give of a bushing"),
    "shaft.tube.outside": Said("tube"),
    "shaft.slip.closes": Said("how far the slip closes", "enough"),
    "shaft.slip.opens": Said("how far the slip opens", "enough"),
    "shaft.output_end.cross": Said(_SIZE),
    "shaft.output_end.output_yoke": _yokes("at the output"),
    "shaft.output_end.shaft_yoke": _yokes("at the output"),
    "shaft.output_end.head": Said("double-Cardan head"),
    "shaft.pinion_end.cross": Said(_SIZE),
    "shaft.pinion_end.shaft_yoke": _yokes("at the pinion"),
    "shaft.pinion_end.pinion_yoke": _yokes("at the pinion"),
    "shaft.pinion_end.head": Said("double-Cardan head"),
    "carrier.middle_joint_beyond": Said("bearing to middle joint"),
    "carrier.phase": Said("phase of the front section", _NONE),
    "carrier.middle.cross": Said("middle joint size"),
    "carrier.middle.front_yoke": _yokes("in the middle"),
    "carrier.middle.shaft_yoke": _yokes("in the middle"),
    "shaft.phase": Said("phase of the shaft", _NONE),
}
"""By key path, for every value that has others that may be true."""
