"""What is wrong with a rig file: why, and what is expected instead."""

from collections.abc import Mapping
from typing import Final

from viewer.words.sentence import Sentence
from viewer.words.units import format_length


def _less_travel(most: float) -> str:
    return f"{f'at most {format_length(most)}' if most else 'no travel'}, or other links"


_WAYS: Final = (
    "output.joint, or in [ride_height] the length and the slope of the shaft, such as "
    "shaft_points_down"
)

PROBLEMS: Final[Mapping[str, Sentence]] = {
    "longer-than-apart": (
        "more than {apart:length}, the distance of the joints in height and sideways"
    ),
    "length-as-given": (
        "{length:length} as the {by} give, within {within:fraction}{is_level:?; the length came "
        "out as the level distance, measure along the shaft|}"
    ),
    "slope-as-given": ("{slope:angle {positive}|{negative}} as the {by} give, within 1 deg"),
    "offset-as-given": "{offset:length} {word} as the {by} give, within {within:fraction}",
    "from-pinion-joint": "{apart:length} from the pinion joint",
    "pinion-joint-lies": "the pinion joint lies {along:length} {where} it",
    "middle-joint-lies": "the middle joint lies {apart:length} {where} the pinion joint",
    "bends-joint": "bends the {joint} joint {bend:angle} at ride height",
    "more-than-yokes-take": (
        "more than the {taken:length} that yokes take up there, from joint center to weld land; "
        "was it taped from the right places?"
    ),
    "leaves-room": (
        "leaves {room:length} {front_tube:?for the front tube and its yoke|between the joint "
        "centers}"
    ),
    "leaves-less-than-yokes": "leaves {length:length}, shorter than two yokes",
    "tape-as-joints-lie": (
        "{reads:length} between these two places as the joints lie, within {within:fraction}"
    ),
    "length-as-file": "{length:length} as the rest of the file gives, within {within:fraction}",
    "slope-as-axle": ("{up:angle up|down} as [axle] says, within 1 deg"),
    "length-about": (
        "about {length:length}, give or take {within:length}; are bump and droop mixed up?"
    ),
    "axle-would-move": (
        "{longer:?longer|shorter} than at ride height, so the axle would have to move "
        "{moves:length} fore-aft at {at}"
    ),
    "axle-end-farther": (
        "{axle:length} from the axle, while its chassis end is only {chassis:length} from it"
    ),
    "less-travel-or-links": _less_travel,
    "needs-output-joint": "the coordinates of the output joint, which the front section runs from",
    "needed-with-carrier": ("needed with a [carrier]"),
    "between-axle-and-output": ("a place between the axle and the output joint at {at}"),
    "not-on-the-way": ("not on the way from the output to the axle"),
    "slip-in-rear-section": ('"shaft": a slip in the rear section, behind the carrier bearing'),
    "bearing-behind-slip": ("the carrier bearing is behind the slip"),
    "single-or-one-piece": (
        '"single", or a shaft of one piece; on two pieces a head can sit at the pinion alone'
    ),
    "ahead-of-bearing": ("ahead of a carrier bearing"),
    "yoke-for-slip": 'a {kinds} for a slip at the output, another yoke for shaft.slip.at = "shaft"',
    "slip-is-at": ('the slip is at "{at}"'),
    "unknown": ("unknown {what}"),
    "mesh-of-own-yoke": ("the mesh file of the own yoke"),
    "sound-head": ("a sound head"),
    "only-with-kind": ('only with kind = "{kind}"'),
    "sound-part": ("dimensions of one sound part"),
    "no-head": ('no head, or joint = "double"'),
    "single-joint": ("a single joint"),
    "not-of-its-kind": ("not of its kind"),
    "pinion-looks": (
        "{front:?rearward, a negative|forward, a positive} number, since the pinion of a "
        "{position} axle looks that way"
    ),
    "wrong-side-of-axle": ("on the wrong side of the axle"),
    "middle-joint-short": (
        "a bearing with a middle joint at least {least:g} mm short of the pinion joint; is "
        "middle_joint_beyond right?"
    ),
    "two-ways": _WAYS,
    "two-ways-no-length": f"{_WAYS}; the length is missing",
    "two-ways-no-slope": f"{_WAYS}; the slope, or pinion_lower, is missing",
    "said-twice": "said twice, and the two contradict each other",
    "least-length": ("at least {least:g} mm, joint center to joint center; is the unit right?"),
    "shorter-than-yokes": ("shorter than two yokes"),
    "contradicts": ("contradicts {what}"),
    "too-short": ("too short{at:after  at }"),
    "gentler-slopes": ("slopes that leave it under 90 deg; is up or down mixed up?"),
    "least-from-pinion": ("at least {least:g} mm from the pinion joint; is the unit right?"),
    "pinion-joint-belongs": ("the pinion joint {where} the output joint on a {position} axle"),
    "longer-tape": (
        "a tape longer than what lies behind the joints, and than they are apart; is the unit "
        "right?"
    ),
    "leaves-no-shaft": ("leaves no shaft"),
    "less-wrap": ("numbers that make less than {most:nominal} of wrap; are the units right?"),
    "wrap-made": ("they make up to {most:.0f} deg"),
    "sound-wrap": ("numbers that a wrap can be told from"),
    "degrees-or-wrap": ("only one of the two: degrees in [travel], or a [wrap] table"),
    "given-too": ("{what} is given too"),
    "how-far-out": ('how far the output shaft stands out of its seal, such as "1 3/8 in"'),
    "taped-to-end": ("the tape was held to the end of the shaft"),
    "left-spring": ("a positive number: the left spring is given, the right one is its mirror"),
    "not-on-the-left": ("not on the left"),
    "eye-off-seat": ("the eye ahead of the seat or behind it"),
    "seat-there-too": ("the seat lies at {at} too"),
    "eye-at-other-end": ("the shackled eye at the other end of the spring than the fixed eye"),
    "seat-and-eye": ("seat at {seat}, fixed eye at {eye}"),
    "less-travel-or-eye": ("less travel, or a fixed eye farther from the seat"),
    "out-of-spring": ("out of the leaf spring's reach{rolled:? with the roll|}"),
    "out-of-links": ("out of the links' reach{rolled:? with the roll|}"),
    "set-that-holds": ("one that holds the axle"),
    "no-mirror": ("nothing for a member on the middle of the vehicle"),
    "mirror-is-itself": ("its mirror image is itself"),
    "own-name": ("a name of its own"),
    "given-before": ("given before"),
    "ends-swapped": (
        "the end of {name} that is on the axle; chassis and axle look swapped, put each in place "
        "of the other"
    ),
    "sound-member": ("a member that can be built"),
    "other-place": ("another place than {name}"),
    "given-twice": ("given twice"),
    "other-height": ("another height; each height is read once"),
    "read-before": ("{at} is read before"),
    "only-one-of": ("only one of {keys}"),
    "given": ("{what} is given"),
    "no-turn": ("no turn of a yoke"),
    "whole-turn": ("{what} is of a whole turn, whichever way the yokes stand"),
    "not-of-this-joint": ("that yoke is not of this joint"),
    "above-zero": ("an angle above zero"),
    "touches-straight": ("a joint that touches before it bends cannot be put together"),
    "no-pose": ("no height, roll or wrap"),
    "whole-drive": ("{what} is of a whole drive"),
    "no-joint": ("no joint"),
    "of-the-slip": ("{what} is of the slip, not of a joint"),
    "output-or-pinion": ("output or pinion"),
    "one-piece": ("the shaft is in one piece"),
    "nothing-read": ("nothing was read"),
    "links-with-bushes": ('a [suspension] of the kind "links", whose bushings give'),
    "suspension-is": ('the suspension is "{kind}"'),
    "seat-or-leaf": ('seat_higher or seat_lower, a length such as "3 in", or a leaf suspension'),
    "half-or-leaf": ('a length such as "24 in", or a leaf suspension with its shackled_eye'),
}
