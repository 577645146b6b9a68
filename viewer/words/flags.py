"""What is odd or impossible about a shaft as it is built: a sentence for each flag of a ticket."""

from collections.abc import Callable, Mapping
from math import sqrt
from typing import Final

from sim.table.loads import MILE
from sim.ticket.odd_drive import PLAUSIBLE, Measures
from viewer.words.sentence import Sentence
from viewer.words.units import (
    force,
    format_fine_under,
    format_length,
    rpm,
    torque,
)


def _use(slips: float, gear: float) -> str:
    return (
        "nobody said what it is used for (drive.use). Taken for the road, where slipping tires "
        f"save it: {torque(slips)}. On a trail a tire can wedge, and low gear counts: "
        f"{torque(gear)}, {gear / slips:.1f} times as much. Every torque, strength and life below "
        "hangs on that"
    )


def _joint_gap(joint: str, gap: float, wanted: float, typed: str) -> str:
    left = format_fine_under(gap, wanted)
    return f"the {joint} joint is down to {left} of gap at the largest bend; {typed} wanted"


def _odd(name: str, value: float, limit: float, under: bool, measures: Measures) -> str:
    words = _MEASURED[measures]
    few = f"few are {'under' if under else 'over'} {words(limit)}"
    return f"{name} is {words(value)}; {few}. Mistyped, or in another unit?"


def _shakes(what: str) -> Callable[[float, float], str]:
    def words(shakes: float, most: float) -> str:
        share = sqrt(most / shakes)  # shake grows with the speed squared
        return (
            f"{what} above {share:.0%} of top speed ({shakes:,.0f} rad/s2 there; {most:,.0f} runs "
            "smooth)"
        )

    return words


_MEASURED: Final[Mapping[Measures, Callable[[float], str]]] = {
    "ratio": "{:g}".format,
    "torque": torque,
    "weight": force,
    "length": format_length,
    "road speed": lambda v: f"{v * 3600.0 / MILE:,.0f} mph ({v * 3.6e-3:,.0f} km/h)",
    "turning": rpm,
}

_ODD: Final[Mapping[str, Sentence]] = {f"odd-{key.replace('_', '-')}": _odd for key in PLAUSIBLE}

_WHIRL: Final = "{share:.0%} of the critical speed; {most:.0%} at most is wanted"

FLAGS: Final[Mapping[str, Sentence]] = {
    "use-not-said": _use,
    "no-tube": (
        "yokes and slip are {longer:missing} too long for it: a shorter slip, or yokes with no "
        "tube between"
    ),
    "little-tube": "only {tube:length} of tube between the welds",
    "slip-bottoms": "the slip bottoms out, {short:missing} short",
    "slip-runs-out": "the slip runs short of spline by {short:missing}",
    "slip-little-reserve": (
        "the slip has only {left:length_under {wanted}} left; {wanted:length} wanted at each end"
    ),
    "slip-parts": "the slip comes apart within the travel: the shaft falls out",
    "slip-little-engaged": (
        "only {engaged:length} of spline in at the longest; {least:length} (1.5 diameters) is the "
        "least, by common practice"
    ),
    "slip-no-choice": (
        "no slip in the catalogue has the {stroke:length} of stroke the travel takes: cut the "
        "travel, or bring your own slip"
    ),
    "touches": (
        "the {joint} joint binds within the travel: good for {clear:angle}, bent to {bent:angle}"
    ),
    "joint-close": (
        "the {joint} joint has only {left:degrees_under {wanted}} deg left before it binds; "
        "{wanted:angle} wanted"
    ),
    "joint-gap": _joint_gap,
    "hits-surroundings": ("the {part} {part:agree hits|hit} the {name} within the travel"),
    "near-surroundings": (
        "the {part} {part:agree comes|come} within {gap:length_under {wanted}} of the {name}; "
        "{wanted:length} wanted"
    ),
    "out-of-reach": "some of the travel cannot be reached as described",
    **_ODD,
    "governs-in-doubt": "low gear and wheel slip are too close to call",
    "share-counts": (
        "only {share:.0%} of the case's torque is counted; a locked case can send it all"
    ),
    "little-safety": ("takes {safety:.2f} times the torque; {wanted:g} times is wanted"),
    "too-weak": "takes only {safety:.2f} times the torque: it gives first",
    "bolts-loose": "the cap bolts are not tightened: nothing holds the cap",
    "bolts-overtightened": (
        "tightened to {used:.0%} of what the bolts yield at: they stretch, and the strap squeezes "
        "the cap out of round"
    ),
    "bore-breaks-out": "a bore of {bore:fine} leaves no metal in an ear of {radius:fine} radius",
    "thin-ring": "only {ring:fine} of metal around the bore; {wanted:fine} wanted",
    "flange-loose": "the flange bolts are not tightened",
    "spline-shorter-than-stroke": (
        "{engaged:length} of spline in at ride height, and pulled out {opens:length}: the shaft "
        "comes apart"
    ),
    "spline-little-engaged": (
        "only {left:length} of spline in when pulled out; its diameter, {wanted:length}, is the "
        "least (common practice, no source)"
    ),
    "buckles-before-yield": (
        "the tube wall buckles at {buckles_at:pressure}, before it yields at "
        "{yields_at:pressure}: it folds without warning"
    ),
    "weld-thicker-than-wall": (
        "a weld throat of {throat:fine} on a wall of {wall:fine}: only the wall counts, and it "
        "tears or burns through beside the weld"
    ),
    "needles-do-not-overlap": (
        "a bend of {bend:angle} swings each needle less than the way to the next "
        "({overlaps_at:angle} would): the life is outside its formula, and they may print lines "
        "into the trunnion"
    ),
    "needles-dent": (
        "{pressure:pressure} under a needle; past {most:pressure} it leaves a lasting dent"
    ),
    "absurd-speed": (
        "the shaft would turn {speed:rpm}: is a ratio, the tire or the top speed mistyped?"
    ),
    "gears-swapped": (
        "top_gear {top_gear:g} is a larger number than low_gear {low_gear:g}: are they swapped, or "
        "is one mistyped?"
    ),
    "top-speed-unreached": (
        "at top speed the engine would turn {engine:rpm} in top gear, past its {most:rpm}: the "
        "truck never gets there"
    ),
    "past-whirl": f"{_WHIRL}: the shaft bows out and can tear itself apart",
    "near-whirl": _WHIRL,
    "engine-past-whirl": (
        "in top gear the engine can turn the shaft {speed:rpm}; {most:rpm} is the most that stays "
        "clear of whirl"
    ),
    "torsional-over": _shakes("the joints shake the pinion"),
    "inertia-drive-over": _shakes("under power the joints shake the shaft"),
    "inertia-coast-over": _shakes("coasting, the joints shake the shaft"),
    "too-straight": "{count} joint(s) under 0.5 deg: the needles do not roll",
}
