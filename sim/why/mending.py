"""What to do about a cause: what to replace with what, what to set right, how to prove the cure.

Codes and numbers; `viewer.words.mending` has the sentences. Common practice, no source, where
nothing else is said. The type checker asks here for every cause there is.
"""

from dataclasses import dataclass
from math import degrees, radians
from typing import Final, Literal, TypedDict

from sim.causes.codes import CauseCode
from sim.rig import Rig
from sim.rig.fitted import fitted_cross, fitted_yoke
from sim.rig.typed_joints import typed_joint
from sim.seen import Inspection
from sim.seen.evidence import Measured, chosen, listed, on_caps
from sim.seen.signs import SIGNS
from sim.seen.words import Use, Water
from sim.vehicle import Joint

SwapCode = Literal[
    "joint",
    "yoke-with-the-joint",
    "mating-yoke-too",
    "straps-and-bolts",
    "larger-joint",
    "slip-pair",
    "longer-slip",
    "tube",
    "whole-head",
    "greasable-joint",
]
"""What is replaced, and with what."""

DoCode = Literal[
    "stop-the-bind",
    "keep-off-the-throttle",
    "stop-the-wrap",
    "grease-all-four",
    "grease-the-slip",
    "keep-water-out",
    "dress-the-seat",
    "press-dont-hammer",
    "right-clips",
    "tighten-as-the-maker-says",
    "free-the-slip",
    "set-the-slip",
    "less-bend",
    "a-little-bend",
    "balance-it",
    "guard-the-tube",
    "keep-the-head-in-its-angle",
    "check-the-rest",
    "nothing-else",
]
"""What is set right besides."""

ProofCode = Literal[
    "turn-by-hand",
    "bar-through-both-bores",
    "ear-gap-by-caliper",
    "cap-pushed-home-by-hand",
    "cross-swings-by-its-weight",
    "all-four-purge",
    "seats-clean-and-bright",
    "clips-seated",
    "torque-again-after-50-miles",
    "mark-the-slip",
    "slip-slides-by-hand",
    "clay-in-the-throat",
    "watch-the-pinion",
    "torque-against-strength",
    "runout-by-dial",
    "coast-in-neutral",
    "grease-clean-after-water",
    "new-marks-after-a-drive",
]
"""How the cure is proved before the job leaves the shop, or soon after."""

AskCode = Literal["cures", "build", "vibration", "relief", "joint", "check"]
"""A command of this program that answers the rest."""


@dataclass(frozen=True)
class Mending:
    """What to do about one cause.

    Attributes
    ----------
    swap : what to replace, in order; straps and bolts come with it where the joint has any.
    do : what to set right.
    prove : how the cure is proved.
    asks : what to ask this program next, the most telling first.
    greasing : whether a greasing plan belongs to it.
    """

    swap: tuple[SwapCode, ...]
    do: tuple[DoCode, ...]
    prove: tuple[ProofCode, ...]
    asks: tuple[AskCode, ...]
    greasing: bool = False

    def swaps(self, strapped: bool, yoke_gone: bool = False) -> tuple[SwapCode, ...]:
        """What to replace: straps and bolts are never used again once a joint came out of them.

        yoke_gone : whether the inspection itself shows a yoke that no joint goes into again.
        """
        swap = self.swap
        if yoke_gone and "yoke-with-the-joint" not in swap:
            swap = (*swap, "yoke-with-the-joint")
        if strapped and swap and "straps-and-bolts" not in swap:
            return (*swap, "straps-and-bolts")
        return swap if strapped else tuple(x for x in swap if x != "straps-and-bolts")

    def does(self, yoke_gone: bool = False) -> tuple[DoCode, ...]:
        """What to set right; the seats of a yoke that is replaced are not dressed."""
        return tuple(x for x in self.do if not (yoke_gone and x == "dress-the-seat"))


_All = TypedDict(
    "_All",
    {
        "bound": Mending,
        "overload": Mending,
        "undersized": Mending,
        "hop": Mending,
        "no-grease": Mending,
        "dry-cap": Mending,
        "water": Mending,
        "bad-yoke": Mending,
        "bad-seat": Mending,
        "bad-install": Mending,
        "loose-straps": Mending,
        "frozen-slip": Mending,
        "slip-bottomed": Mending,
        "slip-pulled-out": Mending,
        "too-much-bend": Mending,
        "too-little-bend": Mending,
        "old-age": Mending,
        "imbalance": Mending,
        "head-past-its-angle": Mending,
        "struck": Mending,
    },
)
"""Every cause, so that the type checker asks what to do about a new one."""

_MENDINGS: Final[_All] = {
    "bound": Mending(
        ("joint", "yoke-with-the-joint"),
        ("stop-the-bind",),
        ("bar-through-both-bores", "turn-by-hand", "clay-in-the-throat"),
        ("cures", "joint", "relief"),
    ),
    "overload": Mending(
        ("joint",),
        ("keep-off-the-throttle",),
        ("bar-through-both-bores", "ear-gap-by-caliper", "torque-against-strength"),
        ("build",),
    ),
    "undersized": Mending(
        ("larger-joint", "yoke-with-the-joint", "mating-yoke-too"),
        ("check-the-rest",),
        ("torque-against-strength", "turn-by-hand"),
        ("build", "check"),
    ),
    "hop": Mending(
        ("joint",),
        ("stop-the-wrap", "tighten-as-the-maker-says"),
        ("watch-the-pinion", "bar-through-both-bores"),
        ("cures", "check"),
    ),
    "no-grease": Mending(
        ("joint",),
        ("grease-all-four",),
        ("all-four-purge", "cross-swings-by-its-weight"),
        (),
        greasing=True,
    ),
    "dry-cap": Mending(
        ("greasable-joint",),
        ("grease-all-four",),
        ("all-four-purge", "cap-pushed-home-by-hand", "ear-gap-by-caliper"),
        (),
        greasing=True,
    ),
    "water": Mending(
        ("greasable-joint",),
        ("keep-water-out", "grease-all-four"),
        ("all-four-purge", "grease-clean-after-water"),
        (),
        greasing=True,
    ),
    "bad-yoke": Mending(
        ("yoke-with-the-joint", "joint"),
        ("press-dont-hammer",),
        (
            "bar-through-both-bores",
            "ear-gap-by-caliper",
            "cap-pushed-home-by-hand",
            "cross-swings-by-its-weight",
        ),
        ("joint",),
        greasing=True,
    ),
    "bad-seat": Mending(
        ("joint",),
        ("dress-the-seat", "tighten-as-the-maker-says"),
        ("seats-clean-and-bright", "bar-through-both-bores", "cap-pushed-home-by-hand"),
        (),
    ),
    "bad-install": Mending(
        ("joint",),
        ("press-dont-hammer", "right-clips"),
        (
            "cap-pushed-home-by-hand",
            "clips-seated",
            "cross-swings-by-its-weight",
            "all-four-purge",
        ),
        (),
        greasing=True,
    ),
    "loose-straps": Mending(
        ("joint", "straps-and-bolts"),
        ("dress-the-seat", "tighten-as-the-maker-says"),
        ("seats-clean-and-bright", "torque-again-after-50-miles"),
        ("build",),
    ),
    "frozen-slip": Mending(
        ("joint",),
        ("free-the-slip", "grease-the-slip"),
        ("slip-slides-by-hand", "mark-the-slip"),
        ("check", "build"),
        greasing=True,
    ),
    "slip-bottomed": Mending(
        ("joint", "longer-slip"),
        ("set-the-slip",),
        ("mark-the-slip", "slip-slides-by-hand"),
        ("build", "cures"),
    ),
    "slip-pulled-out": Mending(
        ("slip-pair", "longer-slip"),
        ("set-the-slip", "grease-the-slip"),
        ("mark-the-slip",),
        ("build", "cures"),
        greasing=True,
    ),
    "too-much-bend": Mending(
        ("joint",),
        ("less-bend", "grease-all-four"),
        ("watch-the-pinion", "all-four-purge"),
        ("cures", "vibration", "joint"),
        greasing=True,
    ),
    "too-little-bend": Mending(
        ("joint",),
        ("a-little-bend", "grease-all-four"),
        ("watch-the-pinion", "new-marks-after-a-drive"),
        ("cures", "vibration"),
        greasing=True,
    ),
    "old-age": Mending(
        ("joint",),
        ("nothing-else",),
        ("bar-through-both-bores", "all-four-purge"),
        (),
        greasing=True,
    ),
    "imbalance": Mending(
        ("joint",),
        ("balance-it",),
        ("runout-by-dial", "coast-in-neutral"),
        ("vibration", "build"),
    ),
    "head-past-its-angle": Mending(
        ("whole-head",),
        ("keep-the-head-in-its-angle",),
        ("turn-by-hand",),
        ("cures", "joint"),
        greasing=True,
    ),
    "struck": Mending(
        ("tube",),
        ("guard-the-tube",),
        ("runout-by-dial", "turn-by-hand"),
        ("check", "build"),
    ),
}


def mending(cause: CauseCode) -> Mending:
    """What to do about a cause."""
    return _MENDINGS[cause]


_YOKE_GONE: Final = (
    listed(on_caps("ear"), "spread", "bent", "cracked", "torn"),
    listed(on_caps("seat"), "gouged", "mushroomed edge", "egg-shaped"),
    Measured(on_caps("gouge"), 0.0),
    Measured(on_caps("edge"), 0.0),
    listed(on_caps("strap"), "tab broken"),
    chosen("fracture.part", "ear"),
    SIGNS["ears-spread"],
    SIGNS["bores-egged"],
    SIGNS["bores-skewed"],
)
"""What a shop refuses a yoke for, whatever the cause; a burr alone is dressed."""


_HAULED: Final = listed(on_caps("strap"), "bent")
"""What hop does: the snap that bends a strap hauls on the tabs of the yoke as well."""


def yoke_gone(seen: Inspection, rig: Rig, cause: CauseCode) -> bool:
    """Whether a yoke was found in a state in which no new joint goes into it.

    Raises NoSuchJointError for a joint that the rig does not have.
    """
    if cause == "hop" and _HAULED(seen, rig):
        return True
    return any(found(seen, rig) for found in _YOKE_GONE)


RESERVE: Final = radians(2.0)
"""Bend that grinding is asked for beyond the worst of the travel (from memory)."""

STEEP: Final = radians(30.0)
"""What it is asked for where the worst is not known: high-angle yokes reach it (from memory)."""

HIGHWAY: Final = "60 mph"
"""Speed asked about where nobody said at which it shakes."""


def strapped(rig: Rig, joint: Joint) -> bool:
    """Whether straps, U-bolts or bolted caps hold a cap of a joint; no for a scanned yoke."""
    typed = typed_joint(rig, joint)
    cross = fitted_cross(typed.cross)
    return any(
        fitted_yoke(choice, cross, rig.shaft.tube).strapped
        for choice in typed.yokes.values()
        if not choice.is_own
    )


@dataclass(frozen=True)
class Asking:
    """What a command is filled in with.

    Attributes
    ----------
    rig : file name, or demo:NAME. bend : rad, the worst of the travel.
    speed : at which it shakes, as typed.
    """

    rig: str
    joint: Joint
    bend: float | None = None
    speed: str | None = None


def command(ask: AskCode, of: Asking) -> tuple[str, ...]:
    """Words of a command line, the rig's name filled in."""
    if ask == "joint":
        return ("bindpoint", "joint", of.rig, of.joint)
    if ask == "relief":
        bend = STEEP if of.bend is None else of.bend + RESERVE
        return ("bindpoint", "joint", of.rig, of.joint, "--relief", f"{degrees(bend):.0f} deg")
    if ask == "vibration":
        return ("bindpoint", "vibration", of.rig, "--at", of.speed or HIGHWAY)
    return ("bindpoint", ask, of.rig)


@dataclass(frozen=True)
class Greasing:
    """When to grease.

    Attributes
    ----------
    miles, months : whichever comes first. after_water : the same day, each time.
    """

    miles: float
    months: float
    after_water: bool


_MILES: Final[dict[Use, tuple[float, float]]] = {
    "street": (5000.0, 6.0),
    "tow": (3000.0, 3.0),
    "trail": (1500.0, 3.0),
    "rocks": (500.0, 1.0),
    "sand": (1000.0, 1.0),
    "farm": (1000.0, 1.0),
}
"""Miles and months between greasings: street at every oil change; common practice, no source, and
the rest of it from memory."""


def greasing(use: Use | None, water: Water | None) -> Greasing:
    """The plan for a use and its water; that of the trail where nobody said, and as if wet."""
    miles, months = _MILES[use or "trail"]
    if water == "often":
        miles, months = 0.5 * miles, min(months, 1.0)
    return Greasing(miles, months, after_water=water != "never")
