"""Words for findings: sentences as a shop would say them.

Findings come as coded records (`sim.findings`); only this module turns them into English.
"""

from collections.abc import Callable, Iterator
from math import floor, inf, isfinite, radians

from geometry.yoke import YOKES
from sim.around.outline import agreeing
from sim.caster import CasterChange
from sim.check import Check
from sim.findings import Code, Finding, Verdict
from sim.rig.generic import generic_parts
from sim.travel.what_it_takes import Takes, WhatItTakes
from sim.vehicle import Pose
from viewer.words.assumed import generic_words, joint_words
from viewer.words.units import (
    format_angle,
    format_fraction,
    format_length,
    format_length_under,
    format_missing,
    format_spoken,
    format_under,
)

CAUTION = (
    "A geometry estimate from the numbers given; it certifies nothing. Turn the shaft by hand "
    "through the whole travel before driving. Chock the wheels, use rated stands, never a jack "
    "alone; follow local codes and licensed practice."
)

_STOPS: tuple[tuple[str, frozenset[Code]], ...] = (
    ("Metal meets within the travel.", frozenset({"joint-bend", "joint-gap", "turns-at-ride"})),
    ("The shaft hits what is near it.", frozenset({"surroundings"})),
    ("The slip runs out.", frozenset({"slip-closes", "slip-opens", "slip-comes-apart"})),
    ("No slip fits between the yokes.", frozenset({"no-room-for-slip"})),
    ("Some of the travel cannot be reached as described.", frozenset({"out-of-reach"})),
)
"""What stops a shaft, by the codes of the findings that say so."""

VERDICT_WORDS: dict[Verdict, str] = {
    "clear": "CLEAR",
    "close": "CLOSE",
    "touches": "TOUCHES",
}

RUNS_OUT = "RUNS OUT"
"""Instead of TOUCHES where no metal meets but the slip has no more to give."""


NOT_MEASURED = "not measured"
"""Of a slip that nobody measured, in place of what is left of it."""


def verdict_word(verdict: Verdict, metal: bool = True) -> str:
    """One word for a verdict. metal : whether metal meets, rather than the slip running out."""
    return VERDICT_WORDS[verdict] if metal or verdict != "touches" else RUNS_OUT


def check_word(result: Check) -> str:
    """One word for a whole check."""
    stops = [each.code for each in result.findings if each.verdict == "touches"]
    return verdict_word(result.verdict, not all(code.startswith("slip-") for code in stops))


def headline(result: Check) -> str:
    """The verdict in a few words, and what of the shaft nobody told."""
    measured = result.envelope.slip.has.measured
    if result.verdict == "clear":
        slip = " and the slip does not run out" if measured else ""
        said = [f"Nothing touches{slip} anywhere in the travel."]
    elif result.verdict == "close":
        said = ["Nothing touches, but there is less room than wanted."]
    else:
        stops = {finding.code for finding in result.findings if finding.verdict == "touches"}
        said = [words for words, codes in _STOPS if stops & codes]
    if any(generic_parts(result.rig, joint) for joint in result.joints):
        said.append("Generic joints stand in for what nobody named.")
    if not measured:
        said.append("Nobody measured the slip.")
    return " ".join(said)


def pose_words(at: Pose) -> str:
    """A pose as a shop says it: "6 5/16 in droop, 4 deg nose down"."""
    words = [travel_words(at.travel)]
    if abs(at.roll) > LEVEL:
        side = "left" if at.roll > 0.0 else "right"
        words.append(f"crossed up {format_angle(abs(at.roll))} ({side} wheel up)")
    if abs(at.wrap) > LEVEL:
        words.append(f"{format_angle(abs(at.wrap))} nose {'up' if at.wrap > 0.0 else 'down'}")
    return ", ".join(words)


def travel_words(travel: float) -> str:
    """Axle height as a shop says it: "6 5/16 in droop", "ride height"."""
    if abs(travel) < _AT_RIDE:
        return "ride height"
    return f"{format_fraction(abs(travel))} {'bump' if travel > 0.0 else 'droop'}"


_AT_RIDE = 0.4
"""mm. Less than 1/64 in from ride height is ride height."""

LEVEL = radians(0.05)
"""Angles below this print as 0.0 deg."""


def says(finding: Finding) -> str:
    """The sentence for one finding."""
    return _SENTENCES[finding.code](finding)


def _joint_bend(finding: Finding) -> str:
    detail = finding.detail
    joint = joint_words(finding.subject, detail.get("generic"))
    worst = f"{finding.worst.value:.1f} deg at {_pose(finding)}"
    if finding.verdict == "touches":
        first: Pose | None = detail["first"]
        start = pose_words(first if first is not None else finding.at or Pose())
        return (
            f"{joint} touches at {start}: {_meeting(finding)}. It is clear to "
            f"{finding.limit.value:.1f} deg and bends to {worst}; "
            f"it needs {-finding.margin.value:.1f} deg more.{_takes(finding, 'touches', first)}"
        )
    if finding.verdict == "close":
        left = format_under(finding.margin.value, detail["reserve_deg"], 1)
        return (
            f"{joint} comes within {left} deg of touching "
            f"({detail['reserve_deg']:.1f} deg wanted), with {_gap(detail['gap_mm'])} of room: it "
            f"bends to {worst} and is clear to {finding.limit.value:.1f} deg. "
            f"Nearest: {_meeting(finding)}."
        )
    return (
        f"{joint} has {finding.margin.value:.1f} deg to spare: it bends to {worst} and is clear "
        f"to {finding.limit.value:.1f} deg."
    )


def _joint_gap(finding: Finding) -> str:
    return (
        f"{joint_words(finding.subject, finding.detail.get('generic'))} has only "
        f"{_gap(finding.worst.value, under=finding.limit.value)} of room at "
        f"{_pose(finding)}: {_meeting(finding)}. {_gap(finding.limit.value, exact=1)} is wanted."
    )


def _gap(mm: float, under: float = inf, exact: int = 0) -> str:
    """A small gap, too small for a tape: thousandths of an inch and mm, `exact` more decimals.

    It reads as less than `under`.
    """
    inches = format_under(mm / 25.4, under / 25.4, 3 + exact)
    return f"{inches} in ({format_under(mm, under, 1 + exact)} mm)"


def slip_left_words(mm: float) -> str:
    """What is left of a slip one way, or how much it is short; `inf` where nobody measured it."""
    if not isfinite(mm):
        return NOT_MEASURED
    return f"{format_length(mm)} left" if mm >= 0.0 else f"{format_missing(-mm)} short"


def _takes(finding: Finding, does: str, first: Pose | None = None) -> str:
    """What the axle has to do for it, as a sentence with a space before it; may be empty.

    first : the first pose at which it does it, where that was told already.
    """
    found: WhatItTakes | None = finding.detail.get("takes")
    if found is None or found.takes == "ride height":
        return ""
    never = _NEVER.get(found.takes)
    if never is not None or found.level is None:
        return f" {never} {does}."
    enough = f" Both wheels {'hanging' if found.takes == 'both hanging' else 'up'} is enough"
    if first is not None and abs(first.roll) <= LEVEL and abs(first.wrap) <= LEVEL:
        return f"{enough}."
    return f"{enough}: level and without wrap it {does} at {travel_words(found.level.travel)}."


_NEVER: dict[Takes, str] = {
    "crossed up": "It takes crossing up: level, it never",
    "wrap": "It takes axle wrap: without wrap it never",
    "crossed up or wrap": "It takes crossing up or axle wrap: level and without wrap it never",
    "crossed up and wrap": "It takes crossing up and axle wrap together: either alone it never",
}


def _meeting(finding: Finding) -> str:
    """What runs into what, the moving surface first."""
    return meeting_words(finding.detail["surfaces"], finding.detail["bodies"])


def meeting_words(surfaces: tuple[str, str], bodies: tuple[str, str]) -> str:
    """Two surfaces and the bodies they are of, the moving surface first."""
    (one, a), (other, b) = _moving_first(surfaces, bodies)
    return f"{one} of the {a} against the {other} of the {b}"


def surfaces_words(surfaces: tuple[str, str]) -> str:
    """The two surfaces alone, in the same order: "bolt / throat"."""
    return " / ".join(surface for surface, _ in _moving_first(surfaces, surfaces))


def _moving_first(
    surfaces: tuple[str, str], bodies: tuple[str, str]
) -> tuple[tuple[str, str], tuple[str, str]]:
    one, other = zip(surfaces, bodies, strict=True)
    turned = other[0] in _MOVING and one[0] not in _MOVING
    return (other, one) if turned else (one, other)


_MOVING = frozenset({"grease fitting"}).union(*(kind.proud for kind in YOKES.values()))
"""Surfaces that are said to run into others, rather than the other way round."""


def _slip_closes(finding: Finding) -> str:
    has, needs = _length(finding.limit.value), _length(finding.worst.value)
    if finding.verdict == "touches":
        return (
            f"The slip bottoms: it has {has} to close from ride height and needs {needs} at "
            f"{_pose(finding)}. It needs {format_missing(-finding.margin.value)} more."
            f"{_takes(finding, 'bottoms')}"
        )
    return _slip_room(finding, "before it bottoms", "closes")


def _slip_opens(finding: Finding) -> str:
    has, needs = _length(finding.limit.value), _length(finding.worst.value)
    if finding.verdict == "touches":
        return (
            f"The slip runs out: it may open {has} from ride height with enough spline engaged "
            f"and is pulled {needs} at {_pose(finding)}. It needs "
            f"{format_missing(-finding.margin.value)} more.{_takes(finding, 'runs out')}"
        )
    return _slip_room(finding, "before it runs short of spline", "opens")


def _slip_room(finding: Finding, until: str, moves: str) -> str:
    left = _length(max(0.0, finding.margin.value))
    close = finding.verdict == "close"
    if close:
        left = format_length_under(finding.margin.value, finding.detail["reserve_mm"])
    lead = "The slip has only" if close else "The slip keeps"
    wanted = f"; {_length(finding.detail['reserve_mm'])} is wanted" if close else ""
    return (
        f"{lead} {left} left {until}: it {moves} {_length(finding.worst.value)} at "
        f"{_pose(finding)}{wanted}."
    )


def _slip_apart(finding: Finding) -> str:
    return (
        f"The slip comes apart at {_pose(finding)}: it parts when opened "
        f"{_length(finding.limit.value)} and is pulled {_length(finding.worst.value)}."
    )


def _slip_not_measured(finding: Finding) -> str:
    detail = finding.detail
    moves = {"closes": "closing", "opens": "opening"}
    asks = [
        f"{_length(mm)} of {moves[way]} at {pose_words(at)}"
        for way, (mm, at) in detail["asked"].items()
    ]
    ways = [way.removesuffix("s") for way in detail["asked"]]
    wanted = _length(detail["wanted_mm"])
    generic, own = detail["generic"], "the truck's own has to be measured"
    if generic is None:
        has = f"No generic slip has that with {wanted} to spare at either end"
    else:
        closes, opens = (_length(mm) for mm in detail["set"])
        has = (
            f"A generic {generic} has that with {wanted} to spare at either end, set at "
            f"ride height with {closes} to close and {opens} to open"
        )
    return (
        f"Nobody measured how far the slip can {' or '.join(ways)}, so it is not judged. "
        f"From ride height the travel asks {' and '.join(asks)}. {has}; {own}."
    )


def _no_room(finding: Finding) -> str:
    room, need = _length(finding.limit.value), _length(finding.worst.value)
    there = f"the yokes leave {room} from weld to weld at ride height, and "
    if finding.verdict == "touches":
        what = "the slip" if finding.detail["measured"] else "the shortest slip that does"
        short = format_missing(-finding.margin.value)
        return f"No slip fits between the yokes: {there}{what} takes {need}. It is {short} short."
    return (
        f"The slip as described hardly fits: {there}a generic one with its stroke takes {need}. "
        "A shorter one would do; measure yours pushed home."
    )


def _turns(finding: Finding) -> str:
    joint = finding.detail["joint"]
    words = generic_words(finding.detail.get("generic"))
    led = f", with {words}," if words else ""
    if finding.verdict == "touches":
        return (
            f"The shaft cannot be turned all the way round at ride height{led.rstrip(',')}: the "
            f"{joint} joint touches at {finding.detail['spin_deg']:.0f} deg of its turn."
        )
    return (
        f"At ride height the shaft turns freely all the way round; the tightest spot, at the "
        f"{joint} joint{led or ','} has {finding.margin.value:.1f} deg left."
    )


def _out_of_reach(finding: Finding) -> str:
    return (
        f"The suspension and the shaft cannot reach {_pose(finding)} as described; what is said "
        "here holds for the poses that can be reached. Check travel, links and slip."
    )


def _beyond(finding: Finding) -> str:
    way = "bump" if finding.at is not None and finding.at.travel > 0.0 else "droop"
    return (
        f"The axle was read to {_length(finding.limit.value)} of {way} but travels "
        f"{_length(finding.worst.value)}; beyond the readings it is taken to go straight on. "
        "Read it there too."
    )


def _surroundings(finding: Finding) -> str:
    return " ".join((_gap_to_thing(finding), *_about_part(finding)))


def _gap_to_thing(finding: Finding) -> str:
    called, thing = finding.detail["called"], finding.subject
    part = f"The {called}"
    if finding.verdict == "touches":
        takes = _takes(finding, "touches", finding.at)
        touch = agreeing(called, "touches", "touch")
        return f"{part} {touch} the {thing} at {_pose(finding)}.{takes}"
    if finding.verdict == "close":
        return (
            f"{part} {agreeing(called, 'comes', 'come')} close to the {thing}: "
            f"{format_length_under(finding.worst.value, finding.limit.value)} left at "
            f"{_pose(finding)}; {_length(finding.limit.value)} is wanted."
        )
    return (
        f"{part} {agreeing(called, 'stays', 'stay')} clear of the {thing}: "
        f"{_length(finding.worst.value)} left at {_pose(finding)}."
    )


def _about_part(finding: Finding) -> Iterator[str]:
    if finding.detail["yields"]:
        yield "That part is rubber: it gives way before steel meets."
    yield f"Not looked at: {', '.join(finding.detail['unseen'])}."


def _surroundings_unfinished(finding: Finding) -> str:
    least, most = finding.detail["certified_mm"], finding.worst.value
    called = finding.detail["called"]
    words = (
        f"The search for the least gap to the {finding.subject} was cut short: it is "
        f"{_length_down(least)} or more, and {_length(most)} at {_pose(finding)}, where the "
        f"{called} {agreeing(called, 'is', 'are')} nearest so far. A simpler mesh is searched to "
        "the end."
    )
    return " ".join((words, *_about_part(finding)))


def _length_down(mm: float) -> str:
    """A length that is there at least: rounded down."""
    return f"{floor(mm / 0.254) / 100.0:.2f} in ({floor(10.0 * mm) / 10.0:.1f} mm)"


def _caster(finding: Finding) -> str:
    change = caster_words(finding.detail["change"])
    return (
        f"The pinion aimed along the shaft at ride height: {change}. The other way round, each "
        "degree of caster gained by turning the housing lowers the pinion by a degree."
    )


def caster_words(told: CasterChange) -> str:
    """What turning a front axle's housing does to its caster."""
    if told.raised == 0.0:
        return "the pinion stays where it is, and so does the caster"
    moved = "raising" if told.raised > 0.0 else "lowering"
    does = "takes" if told.change < 0.0 else "adds"
    line = (
        f"{moved} the pinion of a front axle by {format_angle(abs(told.raised))} {does} "
        f"{format_angle(abs(told.change))} of caster"
    )
    if told.after is not None:
        line += f": {format_spoken(told.after, 'positive', 'negative')} is left"
    return f"{line}, unless the knuckles are turned on the tube as well"


def _hubs(finding: Finding) -> str:
    joint = f"one joint at {finding.worst.value:.1f} deg"
    good = f"{finding.limit.value:.0f} deg or less runs well (common practice, no source)"
    if finding.detail["hubs"] == "unlock":
        return (
            "With the hubs unlocked this shaft stands still on the road; how unevenly it turns, "
            f"like {joint} at ride height, matters only while they are locked."
        )
    return (
        "With full-time hubs this shaft turns at road speed, so its angles can be felt: at ride "
        f"height it is as uneven as {joint}; {good}."
    )


_SENTENCES: dict[Code, Callable[[Finding], str]] = {
    "joint-bend": _joint_bend,
    "joint-gap": _joint_gap,
    "slip-closes": _slip_closes,
    "slip-opens": _slip_opens,
    "slip-comes-apart": _slip_apart,
    "slip-not-measured": _slip_not_measured,
    "no-room-for-slip": _no_room,
    "turns-at-ride": _turns,
    "surroundings": _surroundings,
    "surroundings-unfinished": _surroundings_unfinished,
    "out-of-reach": _out_of_reach,
    "beyond-readings": _beyond,
    "caster": _caster,
    "hubs": _hubs,
}


def first_contact_words(result: Check) -> str | None:
    """How far down (or up) the axle goes until a joint first touches; None where it never does."""
    for way, move in ((result.down, "going down"), (result.up, "going up")):
        if way.first is not None:
            level = [row.contact for row in way.by_wrap if row.roll == 0.0 and row.wrap == 0.0]
            line = (
                f"First contact {move} from ride height: {way.first.joint} joint at "
                f"{pose_words(way.first.at)}"
            )
            if level and level[0] is not None and level[0].at != way.first.at:
                line += f"; level and without wrap at {pose_words(level[0].at)}"
            return f"{line}."
    return None


def _pose(finding: Finding) -> str:
    return pose_words(finding.at or Pose())


def _length(mm: float) -> str:
    return format_length(mm)
