"""Caps that sit crooked: how each came to, and what was assumed; a sentence by code."""

from collections.abc import Mapping
from typing import Final

from viewer.words.sentence import Sentence
from viewer.words.units import exact, format_angle, format_length

NOTHING: Final = 0.0127
"""mm, half of 0.001 in: less than a caliper shows."""


def _spread(wider: float, apart: float, tilt: float) -> str:
    if abs(wider) < NOTHING:
        return "the ears are as wide at the tips as at the root"
    way = "spread" if wider >= 0.0 else "squeezed"
    return (
        f"the ears are {way}: {exact(abs(wider))} {'wider' if wider >= 0.0 else 'narrower'} "
        f"at the tips over {format_length(apart)}, which tips each cap {format_angle(abs(tilt), 2)}"
    )


def _skewed(off: float, between: float, tilt: float, at_least: bool) -> str:
    if at_least:
        return (
            "a bar does not go through both bores, so they are out of line by "
            f"{format_angle(tilt, 2)} at least; by how much was not measured"
        )
    return (
        f"the far bore is {exact(off)} off the bar over {format_length(between)}, so the "
        f"bores are {format_angle(tilt, 2)} out of line; taken to be bent the way drive pushes"
    )


def _plays(along: float, across: float, tilt: float) -> str:
    if tilt <= 0.0:
        return "the bore holds its cap tight"
    wide = max(along, across)
    return (
        f"the bore is {exact(wide)} wider than its cap, which lets it rock by "
        f"{format_angle(tilt, 2)} but does not tip it"
    )


COCKED: Final[Mapping[str, Sentence]] = {
    "everyday-torque-assumed": (
        "the rig tells nothing of engine and top gear: the needles were asked at {torque:torque}, "
        "{share:percent} of what would first dent a straight joint of this size"
    ),
    "hardest-pull-assumed": (
        "the rig tells nothing of low gear or wheel slip: the hardest pull was taken as "
        "{torque:torque}, {share:percent} of what would first dent a straight joint of this size"
    ),
    "slices-assumed": (
        "needles as they are common in a cross of this size, with {clearance:caliper} of play, "
        "their ends relieved as the bearing standards have it"
    ),
    "cap-tilt-stated": (
        "told to sit {tilt:fine_angle} crooked; taken to lean the way the load pushes, where it "
        "does the most"
    ),
    "ears-spread-by": _spread,
    "bores-off-the-bar": _skewed,
    "bar-goes-through": (
        "a bar goes through both bores, so the caps are in line to {tilt:fine_angle}"
    ),
    "seat-gouged-by": (
        "the gouge of {depth:caliper} lets one end of the cap drop, which tips it "
        "{tilt:fine_angle}; taken to be the end toward the cross"
    ),
    "edge-mushroomed-by": (
        "the edge stands in by {height:caliper} and holds one end of the cap off, which tips it "
        "{tilt:fine_angle}; taken to be at the ear's tip, on the inside"
    ),
    "cap-plays-by": _plays,
    "reading-not-used": (
        "{of}: no cap goes over its trunnion like that, so it was left out; measure it again"
    ),
    "end-float-not-used": (
        "an end float of {out:caliper} is more than any cap has that is still in, so it was left "
        "out; measure it again"
    ),
    "strap-loose-by": (
        "under a loose strap the cap can lift, taken as {play:caliper}, and rock by "
        "{tilt:fine_angle}"
    ),
}
