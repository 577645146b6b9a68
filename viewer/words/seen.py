"""What is odd about an inspection: a sentence for each code, and names of caps and yokes."""

from collections.abc import Mapping
from typing import Final

from sim.seen.words import CapName, YokeName
from viewer.words.sentence import Sentence

YOKE_CALLED: Final[Mapping[YokeName, str]] = {
    "shaft": "the shaft's yoke",
    "end": "the other yoke",
}
"""A yoke within a sentence."""

CAP_CALLED: Final[Mapping[CapName, str]] = {
    "shaft_a": "a on the shaft's yoke",
    "shaft_b": "b on the shaft's yoke",
    "end_a": "a on the other yoke",
    "end_b": "b on the other yoke",
}
"""A cap after the word cap."""

SEEN: Final[Mapping[str, Sentence]] = {
    "seen-other-rig": "it says that it is of {other}, and this is {rig}; is it the right one?",
    "seen-nothing": (
        "nothing was seen, measured or told of this joint; what can be said rests on the vehicle "
        "alone"
    ),
    "seen-everything": (
        "{count} of {all} signs are said to be there; no joint shows so many, so look which ones "
        "are sure"
    ),
    "seen-no-joint": ("which joint it is was not said; it is taken as the pinion joint"),
    "seen-which-cross": (
        "the {joint} joint is a double-Cardan head, and which of its two crosses it is was not said"
    ),
    "seen-whole-yet-broken": ("it is said not to have broken, yet the {broken} is; did it break?"),
    "seen-broken-yet-clean": (
        "the {part} is said to have broken, yet nothing was found on it; look again"
    ),
    "seen-bore-under-cap": (
        "the bore of {bore:caliper} is smaller than its cap of {cap:caliper}; were the two swapped?"
    ),
    "seen-trunnion-over-cap": (
        "the trunnion of {trunnion:caliper} does not go into a cap of {cap:caliper}; were the two "
        "swapped?"
    ),
    "seen-readings-far-apart": (
        "two readings of one diameter, {low:caliper} and {high:caliper}, are farther apart than "
        "any part wears; is one mistyped?"
    ),
    "seen-other-size": (
        "{reading:caliper} is the size of another joint: this rig has a {cross} cross with caps of "
        "{cap:caliper}"
    ),
    "seen-strap-on-closed": (
        "something is said of straps, yet this rig has a {kind} there, with closed ears and clips"
    ),
    "seen-ball-on-single": (
        "something is said of a centering ball, yet the {joint} joint of this rig has one cross "
        "and no ball"
    ),
    "seen-through-yet-off": (
        "a bar goes through both bores, yet the far one is {off:caliper} off; was it a thin bar?"
    ),
    "seen-through-yet-egged": (
        "a bar goes through both bores, yet one is said to be egg-shaped; a bar passes a bore that "
        "has grown, so measure it both ways"
    ),
    "seen-ears-closed": (
        "the ears stand {closer:caliper} closer at the tips than at the root; were the two gaps "
        "swapped, or the ears squeezed in?"
    ),
    "seen-spread-yet-square": (
        "an ear is said to be spread, yet the gap at the tips is within {wider:caliper} of the one "
        "at the root"
    ),
    "seen-deep-yet-clean": (
        "a depth of {depth:caliper} was measured where nothing is said to be seen"
    ),
    "seen-mark-yet-clean": lambda yoke: (
        f"there is a mark on {YOKE_CALLED[yoke]} where nothing is said to be seen"
    ),
    "seen-moons-yet-no-marks": (
        "half-moons or dents were seen, yet no marks are said to be there; where are they?"
    ),
    "seen-never-yet-purged": (
        "it was never greased, yet something is said of what came out at the seals"
    ),
    "seen-purged-yet-not": lambda cap: (
        f"grease is said to have come out at all four seals, yet cap {CAP_CALLED[cap]} will not "
        "purge"
    ),
    "seen-dry-and-muddy": lambda cap: (
        f"cap {CAP_CALLED[cap]} is said to be dry and muddy; which was it when it was opened?"
    ),
    "seen-nothing-changed-yet": "nothing is said to have been changed, yet something was",
    "seen-yoke-and-joint-only": (
        "a joint alone and a yoke are both said to have been changed; which was the last time?"
    ),
    "seen-first-yet-joint": (
        "it is said never to have failed before, yet a new joint went into the old yokes"
    ),
    "seen-parked-at-a-speed": "it is said to have happened parked, yet at a speed",
    "seen-parked-yet-driven": "it is said to have happened parked, yet as the truck drove",
    "seen-stuck-and-loose": (
        "the spline is said to be stuck and worn loose; it can be loose where it runs and stick "
        "elsewhere, so slide it through"
    ),
    "seen-mud-yet-no-water": "there is mud in a cap, yet it is said never to see water or mud",
    "seen-worn-at-once": "it is said to have worn out without having run",
    "seen-not-across": (
        "ears {one} and {other} of one yoke are not straight across from each other"
    ),
    "seen-not-square": "the ears of the two yokes do not stand square to each other",
}
"""Sentences of doubts, by code."""
