"""What stands on and around a picture: headlines, captions, names beside marks."""

from collections.abc import Iterable, Sequence
from math import degrees, isinf
from textwrap import wrap

from geometry.contact.gap import Gap
from geometry.relief import Relief
from sim.around.surroundings import SurroundingGap
from sim.assessment import JointAssessment
from sim.check import Check
from sim.findings import Code, Verdict
from sim.hardware.joint import JointHardware
from sim.pose import PoseCheck
from sim.rig.typed_joints import generic_parts
from sim.vehicle import Pose
from viewer.words.assumed import assumed_words, joint_words
from viewer.words.bench import fitted_says
from viewer.words.poses import pose_words
from viewer.words.reach import out_of_reach_words
from viewer.words.units import format_angle, format_fine, format_fraction_up, small_length
from viewer.words.verbs import agreeing
from viewer.words.verdicts import AT_END, nothing_left

WIDTH = 90
"""Letters in a line across a sheet."""

CAUTION = (
    "A computed picture of the shapes as described, not a rating of strength. Measure your own "
    "parts, and turn the shaft by hand through a full turn at this pose before driving."
)

SCAN_CAUTION = (
    "Look whether the blue rings sit in the real bores, the red cross where the cross has its "
    "center, and the shaft runs where it should. Only what is shown can touch. It is geometry: it "
    "certifies nothing."
)

MEASURED_CAUTION = (
    "Look whether it is the yoke in your hand: what was left out is generic. It is geometry: it "
    "certifies nothing."
)

CLOSED_BY_PROGRAM = (
    "hole in the scan, closed by the program: a guess. If a touch is there, scan it again"
)

ALONG_CAPTION, ABOVE_CAPTION = "Along the bores", "From above"

BORES_AXIS, SHAFT_WAY, CROSS_CENTRE = (
    "axis of the bores",
    "this way to the shaft",
    "cross center",
)

CHIPS = "metal to grind away"

GIVES = "metal that would have to give"

HIDDEN = "behind the metal in front"

# Lengths


def short_length(mm: float) -> str:
    """A small length as a shop reads it: ``0.071 in (1.8 mm)``, never as nothing at all."""
    if 0.0 < mm < 0.05:
        return "under 0.004 in (0.1 mm)"
    return format_fine(mm) if mm < 10.0 else f"{mm / 25.4:.2f} in ({mm:.0f} mm)"


def caliper_length(mm: float) -> str:
    """A length as a caliper shows it: ``1.358 in (34.5 mm)``."""
    return f"{mm / 25.4:.3f} in ({mm:.1f} mm)"


# Beside marks


def bend_mark(bend: float) -> str:
    """The bend (rad) of a joint beside its arc."""
    return f"bend {degrees(bend):.1f}°"


def bend_caption(joint: str, bend: float, touches: bool, elsewhere: bool) -> list[str]:
    """A joint of a shaft in lines: its bend (rad), and whether metal meets, here or elsewhere."""
    more = "metal meets metal" if touches else "touches at another turn" if elsewhere else ""
    return [joint, bend_mark(bend), *([more] if more else [])]


def meeting_caption(room: float, pair: Sequence[str], seen: bool = True) -> list[str]:
    """What is at a place of a joint, in lines: a gap of so many mm, or touching at none.

    pair : what meets or comes nearest there. seen : whether nothing hides it.
    """
    first = f"GAP {short_length(room)}" if room else "METAL MEETS METAL"
    return [first, *pair, *([] if seen else [HIDDEN])]


def joint_caption(joint: str, bend: float, room: str, here: str) -> str:
    """A joint in the window in two lines: its bend (rad), its room in words, the gap now.

    here : as from `short_gap`; "" while it is not known.
    """
    text = f"{joint} joint {degrees(bend):.1f}°, {room.replace(' deg', '°')}"
    return f"{text}\n{here} at this turn" if here else text


def short_gap(gap: Gap, verdict: Verdict) -> str:
    """The room at a joint at one turn, short: "gap 0.071 in (1.8 mm)".

    verdict : of that turn. What touches has no room to tell.
    """
    if gap.overlaps:
        return "metal in metal"
    return "metal touches" if verdict == "touches" else f"gap {short_length(gap.distance)}"


def slip_caption(closes_left: float, opens_left: float, apart: float | None) -> str:
    """The slip in one pose, in lines: what is missing of it, else what is left both ways, mm.

    apart : how far its halves have come apart, mm; None if they have not.
    """
    if apart is not None:
        return f"slip comes apart\n{format_fraction_up(apart)} too far open"
    for left, what, way in ((opens_left, "runs out", "open"), (closes_left, "bottoms", "close")):
        if left <= 0.0:
            at_end = left >= -AT_END
            short = nothing_left(way) if at_end else f"{format_fraction_up(-left)} short"
            return f"slip {what}\n{short}"
    if isinf(closes_left) and isinf(opens_left):
        return "slip not measured"
    sides = slip_side_caption(closes_left, "close"), slip_side_caption(opens_left, "open")
    return "slip " + "\n".join(sides)


def slip_side_caption(left: float, way: str) -> str:
    """What is left (mm) to one side of the slip: ``1 1/4 in left to close``."""
    if isinf(left):
        return f"not measured to {way}"
    if abs(left) <= AT_END:
        return nothing_left(way)
    if left > 0.0:
        return f"{small_length(left)} left to {way}"
    return f"{format_fraction_up(-left)} short"


def nearest_caption(gap: SurroundingGap) -> list[str]:
    """The smallest gap to a thing near the shaft, in lines."""
    if gap.touches:
        return [f"HITS THE {gap.name.upper()}", f"the {gap.part}"]
    return [f"GAP {short_length(gap.gap_mm)}", f"{gap.part} to {gap.name}"]


def near_words(gap: SurroundingGap) -> str:
    """What a thing near the shaft comes to, in two lines: it is hit, or how near the part comes."""
    if gap.touches:
        return f"{gap.called}\n{agreeing(gap.called, 'hits', 'hit')} the {gap.name}"
    return f"gap {short_length(gap.sure_mm)}\n{gap.called} to the {gap.name}"


def surface_pair(bodies: Iterable[str], surfaces: Iterable[str]) -> list[str]:
    """Bodies and the surface on each, a line each."""
    return [f"{body}: {on}" for body, on in zip(bodies, surfaces, strict=True)]


def cut_caption(times: float) -> str:
    """What a cut is, and how much larger than the picture beside it."""
    return f"Cut through this place, {times:.0f} times larger"


def scale_caption(mm: float) -> str:
    """The length of a scale bar."""
    return f"{mm:.0f} mm ({mm / 25.4:.2f} in)"


def depth_caption(depth: float, places: int) -> list[str]:
    """How deep is ground, mm, and at how many places alike, in lines."""
    alike = [f"alike at {places} places"] if places > 1 else []
    return [f"GRIND AWAY {short_length(depth)}", "here, at the deepest", *alike]


def wall_caption(wall: float, limit: float, least: float, seen: bool) -> list[str]:
    """The wall left by grinding, mm, beside what has to stay and the least of a thick one."""
    lines = [f"WALL LEFT {short_length(wall)}", f"{short_length(limit)} has to stay here"]
    if limit < least:
        lines.append(f"thin to begin with, so under {short_length(least)}")
    return lines if seen else [*lines, HIDDEN]


def ground_caption(surfaces: Sequence[str]) -> str:
    """What is ground on a yoke."""
    names = " and ".join(filter(None, [", ".join(surfaces[:-1]), surfaces[-1]]))
    return f"grind the {names}"


# Around pictures


_SIDES = (("the front", "behind"), ("the left", "the right"), ("above", "below"))


def seen_from(toward: Sequence[float]) -> str:
    """From where a picture is seen, by the direction (3,) toward the eye, of any length.

    "Seen from the left and above".
    """
    size = sum(share * share for share in toward) ** 0.5
    order = sorted(range(3), key=lambda i: -abs(toward[i]))
    parts = [_SIDES[i][toward[i] < 0.0] for i in order if abs(toward[i]) > 0.3 * size]
    text = " and ".join(parts) if len(parts) < 3 else f"{parts[0]}, {parts[1]} and {parts[2]}"
    return f"Seen from {text}"


def forward_caption(toward: float) -> str:
    """What stands under the arrow forward, which points so far toward the eye, -1 to 1."""
    if abs(toward) <= 0.85:
        return "FORWARD"
    return f"FORWARD ({'toward you' if toward > 0.0 else 'away from you'})"


def tightest_headline(result: Check) -> str:
    """What the tightest joint of a check does at its worst."""
    found = result.joints[result.tightest]
    made = found.hardware
    joint = joint_words(made.joint, generic_parts(result.rig, made.joint), made.fitted)
    if found.margin <= 0.0:
        return f"{joint} binds"
    return f"{joint} at its worst: {degrees(found.margin):.1f} deg left"


def tightest_lines(result: Check) -> tuple[str, ...]:
    """The pose that is shown of the tightest joint, and what the finding rests on."""
    found = result.joints[result.tightest]
    return (
        f"At {pose_words(found.sweep.most.at)}. {_bends(found)}",
        *_rests(result, "joint-bend", result.tightest),
    )


def whole_headline(nearest: SurroundingGap | None) -> str:
    """What the whole shaft is shown for: what is nearest to it, or the pose of the joint."""
    if nearest is None:
        return "The whole shaft in the same pose"
    if nearest.touches:
        touch = agreeing(nearest.called, "hits", "hit")
        return f"The {nearest.called} {touch} the {nearest.name}"
    return f"Nearest to the {nearest.name}: {short_length(nearest.sure_mm)} left"


def whole_lines(result: Check, at: Pose, nearest: SurroundingGap | None) -> tuple[str, ...]:
    """The pose, and what the gap to what is nearest rests on."""
    rests = [] if nearest is None else _rests(result, "surroundings", nearest.name)
    return (f"At {pose_words(at)}.", *rests)


def posed_lines(result: PoseCheck) -> tuple[str, ...]:
    """Where the axle is, whether it gets there, and how far every joint is bent."""
    bends = ", ".join(
        f"{joint} joint bent {format_angle(found.bend)}" for joint, found in result.joints.items()
    )
    reach = [f"Out of reach: {out_of_reach_words(result.beyond)}."] if result.beyond else []
    said = [fitted_says(joint) for joint, found in result.joints.items() if found.hardware.fitted]
    return f"At {pose_words(result.at)}.", *reach, f"{bends[0].upper()}{bends[1:]}.", *said


def ground_headline(joint: str, found: Relief, reached: float) -> str:
    """What grinding gains at a joint, from the bend before to the one reached, rad."""
    return f"Grinding the {joint} joint: {degrees(found.before):.1f} to {degrees(reached):.1f} deg"


def ground_lines(rig_name: str, hardware: JointHardware, found: Relief) -> tuple[str]:
    """Whose joint is ground, for which bend, and whether its yokes are only fitted."""
    said = f" {fitted_says(hardware.joint)}" if hardware.fitted else ""
    return (f"{rig_name}. {degrees(found.wanted):.1f} deg is wanted.{said}",)


def throat_caption(mm: float) -> str:
    """How far the floor of the throat lies from the cross centre."""
    return f"floor of the throat {caliper_length(mm)}"


def span_caption(mm: float) -> tuple[str, str, str]:
    """How far the ears are apart inside, in lines."""
    inches, metric = caliper_length(mm).split(" (")
    return "between ears", inches, f"({metric}"


def bores_caption(*, half_round: bool) -> str:
    """What rings on a scan are drawn around."""
    return "half-round saddles as found" if half_round else "bores as found"


def placed_lines(unit: str, how: str) -> tuple[str]:
    """In which unit a scan is taken to be, and by what it was placed."""
    placed = "by its two bores" if how == "bores" else "by the three picks"
    return (f"Taken to be in {unit}. Placed {placed}.",)


def measured_lines(bore: float) -> tuple[str]:
    """What was measured of a yoke, mm, and what was not."""
    return (f"Bores {caliper_length(bore)}; what was not measured is generic.",)


def _rests(result: Check, code: Code, subject: str) -> list[str]:
    """What a finding rests on that nobody gave, in lines."""
    found = (each for each in result.findings if (each.code, each.subject) == (code, subject))
    return [row for each in found for row in wrap(assumed_words(each), WIDTH)]


def _bends(found: JointAssessment) -> str:
    bend, clear = degrees(found.sweep.most.value), degrees(found.curve.certified_clear)
    return f"Bent {bend:.1f} deg; good for {clear:.1f} deg."
