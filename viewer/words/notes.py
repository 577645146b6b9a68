"""What is odd about a rig, or about readings of a yoke, but possible: a sentence for each code."""

from collections.abc import Mapping
from typing import Final

from viewer.words.sentence import Sentence
from viewer.words.units import format_angle, format_length


def _much_give(bush: str, gives: float, travel: float, roll: float) -> str:
    rolled = f" and {format_angle(abs(roll))} of roll" if roll else ""
    return (
        f"the links bind: {bush} has to give {format_length(gives)} at "
        f"{format_length(abs(travel))} of {'bump' if travel > 0.0 else 'droop'}{rolled}; look "
        "for ends that bottom in their bushings"
    )


NOTES: Final[Mapping[str, Sentence]] = {
    "bench_of_head": (
        "bench readings of a double-Cardan head are kept and say nothing: its dimensions are not "
        "fitted; put yours into the file"
    ),
    "bench_of_scans": (
        "bench readings of two yokes from mesh files are kept and say nothing: nothing of them is "
        "free to be fitted"
    ),
    "many_things": (
        "{count} things near the shaft: checking them takes about {seconds:.0f} s; leave out what "
        "cannot come near"
    ),
    "steep_at_ride": (
        "the {joint} joint is already bent {bend:angle} at ride height; check the slopes, and "
        "which are up and which down"
    ),
    "long_shaft": (
        "joint center to joint center is {length:length}; one-piece shafts end at about 65 to 70 "
        "in (1650 to 1780 mm)"
    ),
    "short_shaft": (
        "joint center to joint center is only {length:length}; was it taped from the right places?"
    ),
    "points_up": (
        "the shaft points up toward the axle, {up:angle}: the output would sit {lower:length} "
        "below the pinion; are up and down, or the two ends, swapped?"
    ),
    "straight_at_ride": (
        "the {joint} joint is bent only {bend:angle} at ride "
        "height{headed:?, about half of it at each cross of its head|}: under {least:angle} its "
        "needles do not roll and dent the cross (brinelling); 1/2 to 1 deg at each joint is common "
        "practice, no source"
    ),
    "direction_word": (
        "the joints are bent {output:angle} and {pinion:angle}; with {word} instead they would be "
        "bent {output_swapped:angle} and {pinion_swapped:angle}: is it up or down as measured?"
    ),
    "touches_at_ride": (
        "the {joint} joint binds as the truck stands: it is bent {bend:angle} and is good for "
        "{clear:angle}. Such a shaft does not turn: was the truck measured hanging, is an up a "
        "down, or is it another joint?"
    ),
    "no_travel": "no travel: only ride height is checked",
    "no_droop": "no droop: was the truck measured hanging, not loaded?",
    "hanging": (
        "{bump} of bump but only {droop} of droop: was the truck measured hanging, not on its "
        "wheels, or are the two swapped?"
    ),
    "much_travel": "{travel:length} of travel; is the unit right?",
    "much_roll": "{roll} of roll each way is rare",
    "roll_past_stops": (
        "{roll} of roll each way is more than stops {apart} apart allow, {most:angle}; roll and "
        "stops_apart do not go together"
    ),
    "much_wrap": "{wrap} of axle wrap is rare",
    "much_wrap_worked_out": (
        "up to {most:angle} of axle wrap is rare; better numbers for torque and stiffness narrow "
        "it down"
    ),
    "seat_away": (
        "the spring seat is more than {most:length} from the axle center, fore-aft or in height"
    ),
    "beyond_readings": (
        "{way} goes to {goes:length} but was measured to {read:length}; past that the axle is "
        "taken to go straight on"
    ),
    "wrong_way": (
        "at {at} the shaft gets {longer:?longer|shorter}, while the height alone would make it the "
        "other way around; the axle would move {moves:length} fore-aft"
    ),
    "end_away": "the axle end of {name} is more than {most:length} from the axle center line",
    "loosely_held": (
        "the links hold the axle only weakly against {motion}: moving it 0.04 in (1 mm) stretches "
        "them only {hold:.2f} mm; usual is {help}"
    ),
    "much_give": _much_give,
    "beyond_barrel": (
        "from bottomed until it comes apart the yoke slides {slides:length}, but its "
        "barrel{generic:?, generic,|} is only {barrel:length} long: measure the barrel "
        "(barrel_end) and the slip"
    ),
}

_UNUSUAL: Final = "{name} is {value:caliper}; about {usual:caliper} is usual here"

READINGS: Final[Mapping[str, Sentence]] = {
    "reading-in-inches": f"{_UNUSUAL}. Was it {{value:g}} in?",
    "reading-in-mm": f"{_UNUSUAL}. Was it {{typed:.4g}} mm, entered as inches?",
    "reading-odd": f"{_UNUSUAL}. Measure it again",
}
"""Of readings of a yoke."""
