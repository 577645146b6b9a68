"""What a joint got against what it holds, in lines: pulls, cracks, the knock of play, bind."""

from collections.abc import Iterator
from math import degrees
from typing import Final

from sim.overload import AtBend, Knock, Lever, Overload, Pulls
from sim.overload.how import When
from sim.remark import Remark
from sim.seen.words import Use
from sim.sizing.joint_size import WANTED
from viewer.words.build import cross_name
from viewer.words.keys import label_of
from viewer.words.overloaded import RESTS_SHORT, between, so_many
from viewer.words.remarks import said
from viewer.words.sentence import capital
from viewer.words.ticket import DRIVE_SHORT
from viewer.words.units import force, format_angle, torque

_WHERE: Final[dict[When, str]] = {
    "worst": "at the steepest bend of the travel",
    "ride": "at ride height",
    "typed": "at the bend it failed at",
}

_USES: Final[dict[Use, str]] = {
    "street": "On the street",
    "tow": "Towing",
    "trail": "On the trail",
    "rocks": "On rocks",
    "sand": "In sand",
    "farm": "On the farm",
}

NEXT: Final = 3
"""Members told behind the weakest."""


def overload_lines(found: Overload) -> Iterator[str]:
    """All that is told of one joint."""
    yield from _gets(found)
    for when, at in found.at.items():
        yield from _holds(found, at, _WHERE[when])
    if found.peak is not None:
        yield _fits(found.fits)
    pulls = found.failed.pulls
    if pulls is not None:
        yield _pulls(pulls)
        if not pulls.at_once and any(at.weakest.safety < 1.0 for at in found.at.values()):
            yield _BENDS_FIRST
        yield _miles(found, pulls)
    if found.knock is not None:
        yield from _knock(found.knock)
    if found.lever is not None and found.lever.reached:
        yield from _lever(found.lever)
    missing = [label_of(each.key) for each in found.missing if each.key.startswith("drive.")]
    if missing:
        yield f"Not told by the rig: {', '.join(dict.fromkeys(missing))}."
    rests = dict.fromkeys(_short(remark) for remark in found.assumed)
    yield f"Rests on what the rig does not tell and is taken as usual: {', '.join(rests)}."


def _short(remark: Remark) -> str:
    """What a number rests on, in a few words; the numbers themselves are in JSON."""
    if remark.code == "drive-assumed":
        return DRIVE_SHORT[str(remark["name"])]
    return RESTS_SHORT.get(remark.code) or said(remark)


def _gets(found: Overload) -> Iterator[str]:
    peak = found.peak
    if peak is None:
        yield "The rig does not say what pulls on it, so only what it holds is told."
        return
    yield (
        f"Hardest pull: {torque(peak.value)}, anywhere from {torque(peak.low)} to "
        f"{torque(peak.high)}, by {found.torque.governs}: {said(found.torque.why)}."
    )
    if found.wedged:
        yield "Tires that can slip let less through than it holds. It takes a wedged tire."


def _holds(found: Overload, at: AtBend, where: str) -> Iterator[str]:
    members = sorted((m for m in at.strength.members if not m.lives_on), key=lambda m: m.safety)
    weakest, *rest = members
    yield (
        f"{capital(where)}, {format_angle(at.bend)}, it holds {torque(at.holds)}. First to give: "
        f"{weakest.name}."
    )
    if found.peak is not None:
        shown = "; ".join(f"{m.name} {m.safety:.2f}" for m in [weakest, *rest[:NEXT]])
        yield f"It holds so many times the hardest pull: {shown}."


def _fits(size: str | None) -> str:
    wanted = f"{WANTED:g} times the hardest pull at the steepest bend"
    if size is None:
        return f"No joint of the catalogue takes {wanted}."
    return f"The smallest joint of the catalogue that takes {wanted}: {cross_name(size)}."


def _pulls(pulls: Pulls) -> str:
    if pulls.at_once:
        return "At that bend the root of a trunnion breaks at the first such pull (an estimate)."
    life = pulls.hardest
    return (
        f"The root of a trunnion cracks after {so_many(life.value, 'such pulls', 'such pull')}, "
        f"{between(life.low, life.high)} (an estimate)."
    )


_BENDS_FIRST: Final = (
    "Past what it holds a part begins to bend for good. That need not break it at once: the pulls "
    "are those until a crack has grown."
)
"""How a joint that is too weak for one pull lasts several."""


def _miles(found: Overload, pulls: Pulls) -> str:
    miles, went = pulls.miles, found.how.miles
    use = _USES[found.how.use] if found.how.use else "As it is used"
    so_far = "" if went is None else f" It went {went:,.0f}."
    return (
        f"{use} that is {so_many(miles.value, 'miles', 'mile')}, "
        f"{between(miles.low, miles.high)} (a guess at how often it pulls).{so_far}"
    )


def _knock(knock: Knock) -> Iterator[str]:
    adds, speed, force_ = knock.adds, knock.speed, knock.force
    yield (
        f"When torque comes on all at once, play of {format_angle(knock.gap)} closes at "
        f"{degrees(speed.value):.0f} deg a second. It makes the jolt {adds.value:.2f} times as "
        f"hard, anywhere from {adds.low:.2f} to {adds.high:.2f} (an estimate): "
        f"{torque(knock.peak.value)}, {force(force_.value)} on a cap."
    )


_LIMITS: Final = {
    "shaft": "how stiff the shaft is",
    "weight": "what the hanging axle weighs",
    "tube": "a tube that bends for good",
}


def _lever(lever: Lever) -> Iterator[str]:
    weakest = lever.strength.weakest
    yield (
        f"Forced {format_angle(lever.past)} past touch, the axle pries with "
        f"{torque(lever.moment)}; what limits it is {_LIMITS[lever.limit]}. "
        f"That is at least {force(lever.cap_force)} on "
        f"each cap and {torque(lever.trunnion_moment)} at the root of a trunnion, up to "
        f"{torque(lever.ear_moment)} at the root of an ear."
    )
    yield (
        f"Before any torque comes on, that is {100.0 / weakest.safety:.0f} % of what it takes "
        f"where it gives first ({weakest.name})."
    )
