"""What a build ticket rests on and what it cannot tell: a sentence for each code."""

from collections.abc import Mapping
from typing import Final

from viewer.words.sentence import Sentence

DRIVE_ASSUMED: Final[Mapping[str, str]] = {
    "low_range": "1: no low range was given",
    "converter": "1: a clutch",
    "gearbox_efficiency": "0.85: a manual gearbox (common practice, no source)",
    "case_efficiency": "0.95 (common practice, no source)",
    "share": "1: the transfer case can lock",
    "friction": "1.0: tyres on dry rock (from memory)",
    "use": "road: tyres that slip save the shaft; say trail where one can wedge",
    "comes_on": "slowly: no shock is counted; say abruptly for a dropped clutch",
    "balance": "G16: drive shafts with universal joints",
    "cruise": "0.4 of the engine's torque: a steady cruise in top gear (from memory)",
}
"""What is taken of the drive where nothing is said, by its key: value and why."""


def _drive(name: str) -> str:
    return f"drive.{name} assumed as {DRIVE_ASSUMED[name]}"


TICKET: Final[Mapping[str, Sentence]] = {
    "drive-assumed": _drive,
    "axle-efficiency": (
        "axle efficiency {share:g}: what its gears lose, the shaft has to bring before the tyres "
        "slip (common practice, no source)"
    ),
    "pushed-home-assumed": (
        "shaft.slip.pushed_home assumed as {home:length}: {slip}, generic; measure yours before "
        "cutting, the tube changes by the same"
    ),
    "joint-materials": "materials of the joints: {yoke}, {cross}, {bolts} (generic)",
    "needles-assumed": "needles of {diameter:g} mm over {share:g} of a cap (from memory)",
    "flange-bolts-assumed": (
        "flange bolts by their heads, tightened to {share:percent} of their yield (from memory)"
    ),
    "shaft-materials": (
        "materials of tube, slip and welds: {tube}, {stub}, {sleeve}, {weld} (generic)"
    ),
    "weld-assumed": (
        "a sound weld all round, throat as thick as the wall and at least {throat:g} mm (from "
        "memory)"
    ),
    "output-spline-left-out": (
        "the output shaft's own spline is not among what is asked: its teeth and root are not known"
    ),
    "bearing-stiff": "the carrier bearing holds its shaft stiffly; rubber lowers the whirl speed",
    "slip-without-play": (
        "the slip bends by its own sections, without play, as far in as at ride height; how much "
        "the play of its spline lowers the whirl speed is not known"
    ),
    "life-cruising": (
        "joint life: cruising in top gear at {share:.0%} of top speed (from memory), bends of ride "
        "height"
    ),
    "engine-runs-out": "the engine runs out of torque in low gear before the tyres slip",
    "tyres-slip-first": "the tyres slip before low gear gives its torque",
    "wedged-tyre": "tyres would slip first, but off the road a wedged tyre cannot slip",
    "low-gear-alone": "what makes the tyres slip is not known, so low gear counts alone",
    "wheel-slip-alone": (
        "torque in low gear is not known; it may be less than what makes the tyres slip"
    ),
    "torque-not-told": "not told: the torque in low gear is not known",
    "stub-for-cut": "the front tube's cut length: what the stub takes up between tube and bearing",
    "land-for-cut": (
        "the tube's cut length: the {yoke} at the {joint} joint has no weld that is known"
    ),
    "for-low-gear": "torque in low gear: the most that the engine can put into the shaft",
    "for-wheel-slip": "torque at which the tyres slip, which saves the shaft on the road",
    "for-shaft-speed": "shaft speed on the road, and with it whirl, shaking and balance",
    "for-top-speed": "shaft speed at top speed: what whirl, shaking and balance are held against",
    "for-ears": "strength of this yoke's ears: a mesh file does not tell their sections",
    "bolt-for-straps": ("whether the straps hold the caps; it goes by the diameter of their bolts"),
    "nuts-for-straps": (
        "whether the straps hold the caps; it goes by the part maker's figure for their nuts"
    ),
    "stub-for-whirl": "the critical speed and the balance",
    "for-needles": "life of the joints' needles, which is that of a cruise",
    "for-spline": "how much spline is left engaged, and its strength",
}
