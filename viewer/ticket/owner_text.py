"""The build ticket as text: what the owner heeds, the joints, what is near the shaft."""

from collections.abc import Iterator
from math import degrees, isfinite

from sim.ticket.owner_limits import OwnerLimits
from sim.ticket.reserves import REACH, READINGS
from sim.ticket.ticket import Ticket
from viewer.ticket.words import cross_name
from viewer.words.lines import item
from viewer.words.poses import pose_words
from viewer.words.units import format_angle, format_length, format_length_under
from viewer.words.verbs import agreeing


def owner_lines(ticket: Ticket) -> Iterator[str]:
    """How far the joints may bend and the axle may move."""
    limits = ticket.limits
    yield ""
    yield "FOR THE OWNER"
    wanted = ticket.rig.wanted
    for joint, bend in limits.bends.items():
        clear = ticket.found.joints[joint].clear
        gap = "" if bend >= clear - wanted.bend.rad else f" and {wanted.gap} between its metal"
        yield from item(
            f"  The {joint} joint may bend {format_angle(bend)}: it is clear to "
            f"{format_angle(clear)}, {wanted.bend}{gap} kept in reserve."
        )
    touch = limits.touch.first
    if touch is not None:
        yield from item(
            f"  Hanging, the {touch.joint} joint touches first at {pose_words(touch.at)}."
        )
    up = limits.touch_up.first
    if up is not None:
        yield from item(f"  Going up, the {up.joint} joint touches first at {pose_words(up.at)}.")
    yield from _split_first(ticket)
    yield from _down(limits)
    if limits.stopped_above and limits.free_bump <= 0.0:
        yield from item(f"  No bump stops help: {_at_ride(limits.stopped_above)}.")
    elif limits.stopped_above:
        yield from item(
            f"  BUMP STOPS: let the axle rise no further than {format_length(limits.free_bump)} "
            f"above ride height, of the {format_length(limits.bump)} it would. "
            f"{_stops(limits.stopped_above)}."
        )


def _split_first(ticket: Ticket) -> Iterator[str]:
    """What another split of the same slip saves, which is told before any travel is given up."""
    limits, cut = ticket.limits, ticket.cuts.cuts[-1]
    if limits.split_droop is None:
        return
    moved = ticket.slip.best.closes - (cut.split or ticket.slip.built).closes
    way = "shorter" if moved > 0.0 else "longer"
    gains = f"the axle may hang {format_length(limits.split_droop)}"
    if not limits.split_by:
        gains = (
            f"the whole droop of {format_length(limits.split_droop)} keeps every reserve, and no "
            "straps are needed"
        )
    yield from item(
        f"  FIRST, split the slip better, as under SLIP: with the tube {format_length(abs(moved))} "
        f"{way}, {gains}. With the slip as described:"
    )


def _down(limits: OwnerLimits) -> Iterator[str]:
    """How far the axle may hang, and where to set straps."""
    if not limits.stopped_by:
        yield from item(
            f"  The whole droop of {format_length(limits.droop)} keeps every reserve: no straps "
            "are needed for the shaft."
        )
        return
    if limits.free_droop <= 0.0:
        yield from item(f"  No straps help: {_at_ride(limits.stopped_by)}.")
        return
    setting = "that is less than straps give, so none can be set"
    straps = "a strap at each side" if limits.strap_at == "sides" else "the strap in the middle"
    if limits.straps:
        setting = (
            f"set {straps} at {format_length(limits.straps)}, since they give about 1/2 in (from "
            "memory)"
        )
    yield from item(
        f"  STRAPS: let the axle hang no further than {format_length(limits.free_droop)} below "
        f"ride height, of the {format_length(limits.droop)} it would; {setting}. "
        f"{_stops(limits.stopped_by)}."
    )


def _stops(what: str) -> str:
    """What runs short of its reserve past a limit."""
    if what == READINGS:
        return "The axle was read no further: read it there, too"
    if what == REACH:
        return "The suspension and the shaft reach no further as described"
    if what == "slip":
        return "It is the slip that runs short of its reserve first: a longer one may do instead"
    if what.endswith(" joint"):
        return f"It is the {what} that runs short of its reserve first"
    return f"It is the {what} that the shaft comes too close to first"


def _at_ride(what: str) -> str:
    """The same where it is short at ride height already."""
    if what.endswith(" joint") or what == "slip":
        return f"the {what} is short of its reserve at ride height already"
    return f"it is the {what}, at ride height already"


def joints_lines(ticket: Ticket) -> Iterator[str]:
    """Bends of the joints, with their crosses and yokes."""
    yield ""
    yield "JOINTS"
    line = "  {:<10}{:>10}{:>12}{:>12}  {}".format
    yield line("", "at ride", "at most", "clear to", "cross and yokes")
    output, pinion, carrier = (
        ticket.rig.shaft.output_end,
        ticket.rig.shaft.pinion_end,
        ticket.rig.carrier,
    )
    trios = {
        "output": (output.cross, output.output_yoke, output.shaft_yoke),
        "pinion": (pinion.cross, pinion.shaft_yoke, pinion.pinion_yoke),
    }
    if carrier is not None:
        middle = carrier.middle
        trios["middle"] = middle.cross, middle.front_yoke, middle.shaft_yoke
    parts = {
        joint: f"{cross_name(cross.name)}: {one.name}, {other.name}"
        for joint, (cross, one, other) in trios.items()
    }
    for joint, found in ticket.found.joints.items():
        cells = (found.ride, found.most, found.clear)
        shown = [f"{degrees(b):.1f} deg" if isfinite(b) else "-" for b in cells]
        yield from item(line(joint, *shown, parts[joint]), " " * 48)


def near_lines(ticket: Ticket) -> Iterator[str]:
    """How near the turning shaft comes to what lives around it, over the whole travel."""
    if not ticket.found.near:
        return
    wanted = ticket.rig.wanted.clearance.mm
    yield ""
    yield f"NEAR THE SHAFT  {format_length(wanted)} wanted, over the whole travel"
    for gap in ticket.found.near:
        at = pose_words(gap.at)
        if gap.touches:
            touch = agreeing(gap.called, "touches", "touch")
            yield from item(f"  {gap.name}: the {gap.called} {touch} it at {at}.")
            continue
        short = gap.certified_mm < wanted
        sure = gap.sure_mm
        left = format_length_under(sure, wanted) if short else format_length(sure)
        only = "only " if short else "least gap "
        yield from item(f"  {gap.name}: {only}{left} from the {gap.called}, at {at}.", "    ")
