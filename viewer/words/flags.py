"""What is odd or impossible about a shaft as it is built: a sentence for each flag of a ticket."""

from collections.abc import Callable, Mapping
from typing import Final

from sim.ticket.odd_drive import PLAUSIBLE, Measures
from viewer.words.sentence import Sentence
from viewer.words.units import (
    MILE,
    POUND_FORCE,
    format_length,
    format_under,
    rpm,
    torque,
)


def _use(slips: float, gear: float) -> str:
    return (
        "nobody said what it is used for (drive.use). Taken for the road, where tyres that slip "
        f"save it: {torque(slips)}. On a trail, where a tyre can wedge, low gear counts: "
        f"{torque(gear)}, {gear / slips:.1f} times as much. Every torque, strength and life below "
        "hangs on it"
    )


def _joint_gap(joint: str, gap: float, wanted: float, typed: str) -> str:
    left = f"{gap / 25.4:.3f} in ({format_under(gap, wanted, 2)} mm)"
    return (
        f"the {joint} joint keeps only {left} between its metal at the largest bend, {typed} "
        f"({wanted:.2f} mm) wanted"
    )


def _odd(name: str, value: float, limit: float, under: bool, measures: Measures) -> str:
    words = _MEASURED[measures]
    few = f"few are {'under' if under else 'over'} {words(limit)}"
    return f"{name} is {words(value)}, and {few}: is it mistyped, or in another unit?"


_MEASURED: Final[Mapping[Measures, Callable[[float], str]]] = {
    "ratio": "{:g}".format,
    "torque": torque,
    "weight": lambda n: f"{n / POUND_FORCE:,.0f} lb ({n / 1000.0:,.1f} kN)",
    "length": format_length,
    "road speed": lambda v: f"{v * 3600.0 / MILE:,.0f} mph ({v * 3.6e-3:,.0f} km/h)",
    "turning": rpm,
}

_ODD: Final[Mapping[str, Sentence]] = {f"odd-{key.replace('_', '-')}": _odd for key in PLAUSIBLE}

_WHIRL: Final = "{share:.0%} of the critical speed, at most {most:.0%} wanted"

FLAGS: Final[Mapping[str, Sentence]] = {
    "use-not-said": _use,
    "no-tube": (
        "yokes and slip are longer than it by {longer:missing}: a shorter slip, or yokes without a "
        "tube between"
    ),
    "little-tube": "only {tube:length} of tube between the welds",
    "slip-bottoms": "the slip bottoms: {short:missing} short",
    "slip-runs-out": "the slip runs short of spline: {short:missing} short",
    "slip-little-reserve": (
        "the slip keeps only {left:length_under {wanted}}, {wanted:length} wanted at either end"
    ),
    "slip-parts": "the splines part within the travel: the shaft falls out",
    "slip-little-engaged": (
        "only {engaged:length} of spline engaged at the longest, at least {least:length} (1.5 "
        "diameters) is common practice"
    ),
    "slip-no-choice": (
        "no slip of the catalogue has the {stroke:length} of stroke that the travel takes: less "
        "travel, or a slip of your own"
    ),
    "touches": (
        "the {joint} joint touches within the travel: clear to {clear:angle}, bent to {bent:angle}"
    ),
    "joint-close": (
        "the {joint} joint keeps only {left:degrees_under {wanted}} deg before it touches, "
        "{wanted:angle} wanted"
    ),
    "joint-gap": _joint_gap,
    "hits-surroundings": ("the {part} {part:agree touches|touch} the {name} within the travel"),
    "near-surroundings": (
        "the {part} {part:agree comes|come} within {gap:length_under {wanted}} of the {name}, "
        "{wanted:length} wanted"
    ),
    "out-of-reach": "some of the travel cannot be reached as described",
    **_ODD,
    "governs-in-doubt": "low gear and wheel slip lie within each other's doubt",
    "share-counts": (
        "only {share:.0%} of the case's torque is counted; a locked case can give it all"
    ),
    "little-safety": (
        "takes {safety:.2f} times the torque, less than the {wanted:g} that is wanted"
    ),
    "too-weak": "takes {safety:.2f} times the torque, it gives before the torque is there",
    "bolts-loose": "the bolts of the cap are not tightened: nothing holds it",
    "bolts-overtightened": (
        "tightened to {used:.0%} of the bolts' yield: they stretch, and the strap squeezes the cap "
        "out of round"
    ),
    "bore-breaks-out": "a bore of {bore:g} mm leaves no metal in an ear of radius {radius:g} mm",
    "thin-ring": "only {ring:.1f} mm of metal round the bore, {wanted:g} mm wanted",
    "flange-loose": "the bolts of the flange are not tightened",
    "spline-shorter-than-stroke": (
        "{engaged:length} of spline engaged at ride height, and pulled out {opens:length}: the "
        "shaft comes apart"
    ),
    "spline-little-engaged": (
        "{left:length} of spline left engaged when pulled out, at least its diameter of "
        "{wanted:length} is common practice (no source)"
    ),
    "buckles-before-yield": (
        "the wall buckles at {buckles_at:.0f} MPa, before it yields at {yields_at:.0f} MPa: it "
        "folds without warning"
    ),
    "weld-thicker-than-wall": (
        "a weld throat of {throat:g} mm on a wall of {wall:g} mm: only the wall counts, and it "
        "tears or burns through beside the weld"
    ),
    "needles-do-not-overlap": (
        "a bend of {bend:angle} swings the needles less than from one to the next "
        "({overlaps_at:angle} would): the life is outside its formula, they may print lines into "
        "the trunnion"
    ),
    "needles-dent": (
        "{pressure:.0f} MPa under a needle, over the {most:.0f} MPa that leave a lasting dent"
    ),
    "absurd-speed": (
        "the shaft would turn at {speed:rpm}: is a ratio, the tyre or the top speed mistyped?"
    ),
    "gears-swapped": (
        "top_gear {top_gear:g} is a larger number than low_gear {low_gear:g}, and the low gear has "
        "the larger one: are they swapped, or is one mistyped?"
    ),
    "top-speed-unreached": (
        "at top speed the engine would turn at {engine:rpm} in top gear, past its {most:rpm}: the "
        "shaft never gets there"
    ),
    "past-whirl": f"{_WHIRL}: the shaft bows out and can tear itself apart",
    "near-whirl": _WHIRL,
    "engine-past-whirl": (
        "in top gear the engine can turn the shaft at {speed:rpm}, past the {most:rpm} that leave "
        "a margin to whirl"
    ),
    "torsional-over": (
        "at top speed the joints leave the pinion shaking with {shakes:,.0f} rad/s2, at most "
        "{most:,.0f} runs well"
    ),
    "inertia-drive-over": (
        "at top speed and driving, the joints shake the shaft with {shakes:,.0f} rad/s2, at most "
        "{most:,.0f} runs well"
    ),
    "inertia-coast-over": (
        "at top speed and coasting, the joints shake the shaft with {shakes:,.0f} rad/s2, at most "
        "{most:,.0f} runs well"
    ),
    "too-straight": "{count} joint(s) under 0.5 deg: the needles do not roll",
}
