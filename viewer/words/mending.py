"""What to do about a cause, as one says it at the bench. Common practice, no source."""

from collections.abc import Iterator, Mapping
from typing import Final

from sim.causes.codes import CauseCode
from sim.why.mending import (
    AskCode,
    Asking,
    DoCode,
    Greasing,
    ProofCode,
    SwapCode,
    command,
    mending,
)

SWAPS: Final[Mapping[SwapCode, str]] = {
    "joint": "Put in a new joint, all four caps of it.",
    "yoke-with-the-joint": "Replace the yoke together with the joint. A new joint in a bad yoke "
    "goes the same way.",
    "mating-yoke-too": "Replace the yoke across from it too. Its seats have to fit the larger "
    "caps.",
    "straps-and-bolts": "Use new straps and new bolts. They stretch once and do not hold twice.",
    "larger-joint": "Go up one size of joint.",
    "slip-pair": "Replace the slip yoke and the stub as a pair.",
    "longer-slip": "Put in a slip with more stroke where setting it does not give enough.",
    "tube": "Replace the tube. A dented tube is not straightened.",
    "whole-head": "Rebuild the double-Cardan head: both crosses, ball, socket and spring.",
    "greasable-joint": "Put in a new joint with a fitting you can get a gun on.",
}

SWAPS_SHORT: Final[Mapping[SwapCode, str]] = {
    "joint": "a new joint",
    "larger-joint": "a joint one size up",
    "greasable-joint": "a new joint with a fitting",
    "yoke-with-the-joint": "a new yoke with it",
    "mating-yoke-too": "the mating yoke too",
    "whole-head": "the whole head",
    "tube": "a new tube",
    "slip-pair": "slip yoke and stub as a pair",
    "longer-slip": "a longer slip if setting it is not enough",
    "straps-and-bolts": "new straps and bolts",
}
"""What to put in, in a row."""

DOES: Final[Mapping[DoCode, str]] = {
    "stop-the-bind": "Stop the yokes from touching first. Any joint breaks when they do.",
    "keep-off-the-throttle": "Ease into it when a tire is wedged.",
    "stop-the-wrap": "Stop the axle from winding up: bushings, U-bolts, springs, an anti-wrap bar.",
    "grease-all-four": "Grease it until clean grease comes out at all four seals.",
    "grease-the-slip": "Grease the spline of the slip too.",
    "keep-water-out": "Purge the joint the same day it went through water.",
    "dress-the-seat": "Dress burrs off the seat with a fine file. If a gouge or a worn tab stays, "
    "replace the yoke.",
    "press-dont-hammer": "Press the caps in and hold the ears while you do. No hammer on an ear.",
    "right-clips": "Use the clips that came with the joint. Seat every one in its groove.",
    "tighten-as-the-maker-says": "Tighten strap bolts to the maker's torque with a torque wrench. "
    "Ordinary ones get about 17 to 21 lb-ft (common practice, no source).",
    "free-the-slip": "Clean the spline to bare metal. If it is pitted or galled, replace slip yoke "
    "and stub as a pair.",
    "set-the-slip": "Set the slip so that it does not bottom or run out anywhere in the travel.",
    "less-bend": "Take bend out of this joint at ride height.",
    "a-little-bend": "Give it 1/2 to 1 deg at ride height, so that the needles roll.",
    "balance-it": "Check for runout and lost weights, then have the shaft balanced.",
    "guard-the-tube": "Move or guard what the tube hit. Use a heavier wall where rocks reach it.",
    "keep-the-head-in-its-angle": "Keep the head inside its angle: aim the pinion at it, or limit "
    "the droop.",
    "check-the-rest": "See that tube, slip and the yoke on the vehicle hold the pull too.",
    "nothing-else": "Nothing else needs to change on the vehicle.",
}

PROOFS: Final[Mapping[ProofCode, str]] = {
    "turn-by-hand": "Turn the shaft by hand at full droop, full bump and crossed up. There must be "
    "no tight spot.",
    "bar-through-both-bores": "Push a straight bar that fits through both bores of the yoke. It "
    "must go through without force.",
    "ear-gap-by-caliper": "Caliper the gap between the ears, at the tips and at the root. Both "
    "must read the same.",
    "cap-pushed-home-by-hand": "Push each cap home by hand. One that needs force sits crooked.",
    "cross-swings-by-its-weight": "Swing the joint. It must move freely and the same both ways.",
    "all-four-purge": "Watch all four seals while you grease. One that stays dry is a joint to "
    "take apart again.",
    "seats-clean-and-bright": "Wipe the seats and blue the caps. They must print all round.",
    "clips-seated": "Turn every clip in its groove with a pick. Then tap the ears once to seat it.",
    "torque-again-after-50-miles": "Check the strap bolts with the wrench again after 50 miles.",
    "mark-the-slip": "Paint a line across the slip and drive it. The paint shows how far it moved.",
    "slip-slides-by-hand": "Slide the spline through its whole stroke by hand.",
    "clay-in-the-throat": "Put clay in the throat, turn it at full droop and measure what is left.",
    "watch-the-pinion": "Film the pinion against a plumb line on a pull. Nobody under the truck.",
    "torque-against-strength": "Check the hardest pull against what the new joint holds.",
    "runout-by-dial": "Put a dial on the tube at both ends and the middle.",
    "coast-in-neutral": "Drive it up to speed and coast in neutral. The shake must be gone.",
    "grease-clean-after-water": "After the next water, pump in grease. What comes out must be "
    "clean, not gray.",
    "new-marks-after-a-drive": "Look at it again after 500 miles. There must be no fresh marks.",
}

ASKS: Final[Mapping[AskCode, str]] = {
    "cures": "What would stop it, easiest first",
    "build": "What this shaft gets, what it holds, and how to build it",
    "vibration": "What shakes, and what would smooth it",
    "relief": "What grinding the yokes gains, and what it costs",
    "joint": "At which bend this joint touches, over a whole turn",
    "check": "The whole travel once more, with the cure in it",
}


def swap_lines(cause: CauseCode, strapped: bool, yoke_gone: bool = False) -> list[str]:
    """What to replace, a sentence or two each.

    strapped : whether straps hold caps of it. yoke_gone : whether its yoke is no good any more.
    """
    return [SWAPS[code] for code in mending(cause).swaps(strapped, yoke_gone)]


def swaps_short(cause: CauseCode, strapped: bool, yoke_gone: bool = False) -> str:
    """What to put in, in a few words: the joint before what goes with it."""
    codes = sorted(mending(cause).swaps(strapped, yoke_gone), key=list(SWAPS_SHORT).index)
    return ", ".join(SWAPS_SHORT[code] for code in codes)


def do_lines(cause: CauseCode, yoke_gone: bool = False) -> list[str]:
    """What to set right."""
    return [DOES[code] for code in mending(cause).does(yoke_gone)]


def proof_lines(cause: CauseCode) -> list[str]:
    """How to prove the cure."""
    return [PROOFS[code] for code in mending(cause).prove]


def ask_lines(cause: CauseCode, of: Asking) -> Iterator[tuple[str, str]]:
    """What else to ask, and the command for it as one types it."""
    for ask in mending(cause).asks:
        yield ASKS[ask], typed(command(ask, of))


def typed(words: tuple[str, ...]) -> str:
    """A command line, with quotes where a word has a space in it."""
    return " ".join(f'"{word}"' if " " in word else word for word in words)


def greasing_lines(plan: Greasing) -> list[str]:
    """A greasing plan."""
    months = "month" if plan.months == 1.0 else f"{plan.months:g} months"
    lines = [
        f"Grease it every {plan.miles:,.0f} miles or every {months}, whichever comes first.",
        "Each time, pump until clean grease comes out at all four seals. Do the slip with it.",
    ]
    if plan.after_water:
        lines.append("After water or deep mud, grease it the same day.")
    return lines
