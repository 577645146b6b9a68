"""What a build ticket rests on and what it cannot tell: a sentence for each code."""

from collections.abc import Mapping
from typing import Final

from viewer.words.sentence import Sentence

DRIVE_ASSUMED: Final[Mapping[str, str]] = {
    "low_range": "1: no low range given",
    "converter": "1: a clutch",
    "gearbox_efficiency": "0.85: a manual gearbox (common practice, no source)",
    "case_efficiency": "0.95 (common practice, no source)",
    "share": "1: the transfer case can lock",
    "friction": "1.0: tires on dry rock (usual value, no source)",
    "use": "road: slipping tires save the shaft; say trail where a tire can wedge",
    "comes_on": "slowly: no shock counted; say abruptly for a dropped clutch",
    "balance": "G16: driveshafts with u-joints",
    "cruise": "0.4 of the engine's torque: a steady cruise in top gear (usual value, no source)",
}
"""What is taken of the drive where nothing is said, by its key: value and why."""


DRIVE_SHORT: Final[Mapping[str, str]] = {
    "low_range": "no low range",
    "converter": "a clutch",
    "gearbox_efficiency": "what the gearbox loses",
    "case_efficiency": "what the transfer case loses",
    "share": "a transfer case that can lock",
    "friction": "the grip of the tires",
    "use": "use on the road",
    "comes_on": "torque that comes on slowly",
    "balance": "usual balance",
    "cruise": "a steady cruise",
}
"""The same in a few words."""


def _drive(name: str) -> str:
    return f"drive.{name} taken as {DRIVE_ASSUMED[name]}"


TICKET: Final[Mapping[str, Sentence]] = {
    "drive-assumed": _drive,
    "axle-efficiency": (
        "axle efficiency {share:g}: the shaft has to make up what the gears lose before the tires "
        "slip (common practice, no source)"
    ),
    "pushed-home-assumed": (
        "shaft.slip.pushed_home taken as {home:length}: {slip}, generic; measure yours before "
        "cutting, since the tube changes by as much"
    ),
    "joint-materials": "materials of the joints: {yoke}, {cross}, {bolts} (generic)",
    "needles-assumed": (
        "needles of {diameter:fine} over {share:g} of a cap (usual value, no source)"
    ),
    "flange-bolts-assumed": (
        "flange bolts by their heads, tightened to {share:percent} of yield (usual value, no "
        "source)"
    ),
    "shaft-materials": (
        "materials of tube, slip and welds: {tube}, {stub}, {sleeve}, {weld} (generic)"
    ),
    "weld-assumed": (
        "a sound weld all around, throat as thick as the wall and {throat:fine} at least (usual "
        "value, no source)"
    ),
    "output-spline-left-out": (
        "the output shaft's own spline is left out: its teeth and root are not known"
    ),
    "bearing-stiff": "the carrier bearing is taken as stiff; rubber lowers the whirl speed",
    "slip-without-play": (
        "the slip is taken without play, as far in as at ride height; how much spline play lowers "
        "the whirl speed is not known"
    ),
    "life-cruising": (
        "joint life: cruising in top gear at {share:.0%} of top speed (usual value, no source), "
        "bends of ride height"
    ),
    "engine-runs-out": "the engine runs out of torque in low gear before the tires slip",
    "tyres-slip-first": "the tires slip before low gear gives its torque",
    "wedged-tyre": "the tires would slip first, but off the road a wedged tire cannot slip",
    "low-gear-alone": "what makes the tires slip is not known, so low gear counts alone",
    "wheel-slip-alone": (
        "torque in low gear is not known; it may be less than what makes the tires slip"
    ),
    "torque-not-told": "not told: the torque in low gear is not known",
    "stub-for-cut": "the front tube's cut length: what the stub takes up between tube and bearing",
    "land-for-cut": ("the tube's cut length: the {yoke} at the {joint} joint has no known weld"),
    "for-low-gear": "torque in low gear: the most the engine can put into the shaft",
    "for-wheel-slip": "torque at which the tires slip, which saves the shaft on the road",
    "for-shaft-speed": "shaft speed on the road, and with it whirl, shaking and balance",
    "for-top-speed": "shaft speed at top speed, which whirl, shaking and balance are checked at",
    "for-ears": "strength of this yoke's ears: a mesh file does not tell their sections",
    "bolt-for-straps": ("whether the straps hold the caps; that goes by their bolt diameter"),
    "nuts-for-straps": (
        "whether the straps hold the caps; that goes by the part maker's figure for the nuts"
    ),
    "stub-for-whirl": "the critical speed and the balance",
    "for-needles": "life of the needles, figured at a cruise",
    "for-spline": "how much spline is left engaged, and its strength",
}
