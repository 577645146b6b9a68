"""What holds in one pose, in words: its verdict, what decides it, what is left of everything."""

from math import degrees, inf, isfinite, isnan

from sim.findings import judged
from sim.pose import PoseCheck, PosedJoint
from sim.rig.typed_joints import generic_parts
from sim.vehicle import Joint
from viewer.words.poses import pose_words
from viewer.words.reach import out_of_reach_words
from viewer.words.units import (
    format_fine,
    format_length,
    format_length_under,
    format_missing,
    left_degrees,
)
from viewer.words.verbs import agreeing
from viewer.words.verdicts import (
    AT_END,
    VERDICT_WORDS,
    nothing_left,
    slip_left_words,
    verdict_word,
)

OUT_OF_REACH = "OUT OF REACH"
"""Instead of a verdict where suspension and shaft cannot get to."""


def now_word(now: PoseCheck) -> str:
    """The verdict as a word."""
    outside = not now.reached or now.beyond
    return OUT_OF_REACH if outside else verdict_word(now.verdict, not _of_slip(now))


def now_limit(now: PoseCheck) -> str:
    """What decides the verdict, with its number: "11.0 deg left at the pinion joint"."""
    name = now.deciding
    if name is None:
        return "suspension and shaft cannot get here"
    if now.beyond:
        return out_of_reach_words(now.beyond)
    if not _of_joint(now):
        return _slip_limit(now) if _of_slip(now) else _near_limit(now)
    joint = now.joints[name]
    if joint.verdict == "touches":
        return f"{called(now, name)} joint {room_words(joint)}"
    if not isfinite(joint.left):
        return room_words(joint)
    left = left_words(joint.left, joint.room.wanted_bend)
    return f"{left} at the {called(now, name)} joint{_gap_short(joint)}"


def now_told(now: PoseCheck) -> str:
    """The pose and what decides in it, to stand after the word: "At 3 in droop: ..."."""
    if not now.reached or now.beyond:
        return now_says(now)
    where, name = pose_words(now.at), now.deciding
    if name is not None and _of_joint(now) and now.joints[name].verdict == "touches":
        joint = now.joints[name]
        bends = f"It bends {degrees(joint.bend):.1f} deg, {left_words(joint.left)}."
        return f"At {where}: the {called(now, name)} joint hits. {bends}"
    slip = "" if now.verdict == "touches" or not _of_joint(now) else _slip(now)
    return f"At {where}: {now_limit(now)}{slip}."


def now_says(now: PoseCheck) -> str:
    """The whole state in a sentence."""
    where = pose_words(now.at)
    if not now.reached:
        return f"Out of reach: suspension and shaft cannot get to {where}."
    if now.beyond:
        return f"Out of reach at {where}: {out_of_reach_words(now.beyond)}."
    touching = [name for name, joint in now.joints.items() if joint.verdict == "touches"]
    if touching:
        names = " and ".join(called(now, name) for name in touching)
        joints = "joints bind" if len(touching) > 1 else "joint binds"
        return f"The {names} {joints} at {where}."
    if now.slip_left <= 0.0:
        way = "bottoms" if now.closes_left <= 0.0 else "runs out of spline"
        return f"The slip {way} at {where}."
    if now.verdict == "touches":
        return f"The {_near_limit(now)} at {where}."
    slip = _slip(now) if _of_joint(now) else ""
    return f"{now_word(now).capitalize()} at {where}: {now_limit(now)}{slip}."


def now_lines(now: PoseCheck) -> str:
    """Lines about a pose: verdict, each joint, slip."""
    if not now.reached:
        return now_says(now)
    lines = [f"{pose_words(now.at)}: {VERDICT_WORDS[now.verdict]}"]
    lines += [f"{name} joint {bend_words(joint)}" for name, joint in now.joints.items()]
    for room, way in ((now.closes_left, "close"), (now.opens_left, "open")):
        words = slip_left_words(room) if room > 0.0 else f"{format_missing(-room)} too far"
        lines.append(f"slip to {way}: {words}")
    return "\n".join(lines)


def called(now: PoseCheck, name: Joint) -> str:
    """Name of a joint, and whether its parts are generic, or fitted to bench readings."""
    if now.joints[name].hardware.fitted:
        return f"fitted {name}"
    return f"generic {name}" if generic_parts(now.rig, name) else name


def bend_words(joint: PosedJoint) -> str:
    """Bend of a joint and what is left of it at any turn."""
    return f"bends {degrees(joint.bend):.1f} deg, {room_words(joint)}"


def room_words(joint: PosedJoint) -> str:
    """What is left of a joint over a whole turn: "3.1 deg left at any turn"."""
    left = left_words(joint.left, joint.room.wanted_bend)
    if not isfinite(joint.left):
        return left
    turn = "at any turn" if joint.left > 0.0 else "at some turn"
    return f"{left} {turn}{_gap_short(joint)}"


def left_words(left: float, wanted: float = 0.0) -> str:
    """Room left at a joint (rad) in words; less than is `wanted` (rad) reads as less."""
    if not isfinite(left):
        return "no contact at any bend"
    if -_AT_CONTACT < left <= 0.0:
        return "just touching"
    return f"{left_degrees(left, wanted)} deg {'left' if left > 0.0 else 'too far'}"


_AT_CONTACT = 2e-6
"""rad. Past first contact by less is at it: a drive stops there within so much."""


def gap_words(mm: float) -> str:
    """A gap, too small for a tape: thousandths of an inch and mm."""
    if isnan(mm):
        return "gap not found yet"
    return format_fine(mm) if mm > 0.0 else "metal in metal"


def slip_words(now: PoseCheck) -> str:
    """What is left of the slip both ways."""
    parts = []
    for left, way, past in (
        (now.closes_left, "close", "bottomed by"),
        (now.opens_left, "open", "short of spline by"),
    ):
        if left == inf:
            parts.append(f"not measured how far it can {way}")
        elif abs(left) <= AT_END:
            parts.append(nothing_left(way))
        elif left > 0.0:
            parts.append(f"{format_length(left)} to {way}")
        else:
            parts.append(f"{past} {format_missing(-left)}")
    return "\n".join(parts)


def _gap_short(joint: PosedJoint) -> str:
    """That it is the gap that is short, to follow after other words; "" where it is not."""
    short = joint.room.short_of(joint.bend) == "gap"
    return f", gap under {joint.room.wanted.gap}" if short else ""


def _of_joint(now: PoseCheck) -> bool:
    """Whether the tightest joint is as bad as the whole."""
    return any(joint.verdict == now.verdict for joint in now.joints.values())


def _of_slip(now: PoseCheck) -> bool:
    """Whether it is the slip that is as bad as the whole, and no joint is."""
    return not _of_joint(now) and judged(now.slip_left, now.rig.wanted.slip.mm) == now.verdict


def _near_limit(now: PoseCheck) -> str:
    """The thing near the shaft that decides: "shaft's tube touches the crossmember"."""
    near = min(now.surroundings, key=lambda gap: gap.certified_mm)
    if near.touches:
        return f"{near.called} {agreeing(near.called, 'touches', 'touch')} the {near.name}"
    room = format_length_under(near.sure_mm, now.rig.wanted.clearance.mm)
    return f"{room} from the {near.called} to the {near.name}"


def _slip(now: PoseCheck) -> str:
    return f", {format_length(now.slip_left)} of slip" if isfinite(now.slip_left) else ""


def _slip_limit(now: PoseCheck) -> str:
    left, closes = now.slip_left, now.closes_left <= now.opens_left
    way = "close" if closes else "open"
    if abs(left) <= AT_END:
        return f"slip has {nothing_left(way)}"
    if left > 0.0:
        room = format_length_under(left, now.rig.wanted.slip.mm)
        return f"{room} of slip left to {way}"
    return f"slip {'bottomed' if closes else 'short of spline'} by {format_missing(-left)}"
