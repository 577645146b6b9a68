"""The build ticket in words: what the owner heeds, the joints, what is near the shaft."""

from collections.abc import Iterator
from math import degrees, isfinite, radians

from sim.rig.typed_joints import typed_joint
from sim.ticket.owner_limits import OwnerLimits
from sim.ticket.reserves import REACH, READINGS
from sim.ticket.ticket import Ticket
from sim.vehicle import TravelRegion
from viewer.words.bench import FITTED
from viewer.words.build import cross_name
from viewer.words.lines import Entry, item
from viewer.words.poses import pose_words
from viewer.words.units import format_angle, format_length, format_length_under
from viewer.words.verbs import agreeing


def owner_lines(ticket: Ticket) -> Iterator[str]:
    """How far the joints may bend and the axle may move."""
    limits = ticket.limits
    wanted = ticket.rig.wanted
    for joint, bend in limits.bends.items():
        clear = ticket.found.joints[joint].clear
        gap = "" if bend >= clear - wanted.bend.rad else f" and {wanted.gap} of gap"
        yield (
            f"The {joint} joint may bend {format_angle(bend)}. It is good for "
            f"{format_angle(clear)}, less the reserve of {wanted.bend}{gap}."
        )
    found = ticket.found
    for way, first in (("Hanging", found.down.first), ("Going up", found.up.first)):
        if first is not None:
            yield f"{way}, the {first.joint} joint binds first at {pose_words(first.at)}."
    yield from _split_first(ticket)
    yield from _down(limits, found.vehicle.travel)
    if limits.stopped_above and limits.free_bump <= 0.0:
        yield f"No bump stops help: {_at_ride(limits.stopped_above)}."
    elif limits.stopped_above:
        yield (
            f"BUMP STOPS: stop the axle at {format_length(limits.free_bump)} above ride height; it "
            f"would go {format_length(found.vehicle.travel.bump)}. "
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
            f"the whole droop of {format_length(limits.split_droop)} keeps every reserve, with no "
            "straps"
        )
    yield (
        f"FIRST, split the slip better, as under SLIP: with the tube {format_length(abs(moved))} "
        f"{way}, {gains}. With the slip as described:"
    )


def _down(limits: OwnerLimits, travel: TravelRegion) -> Iterator[str]:
    """How far the axle may hang, and where to set straps."""
    if not limits.stopped_by:
        yield (
            f"The whole droop of {format_length(travel.droop)} keeps every reserve. The shaft "
            "needs no straps."
        )
        return
    if limits.free_droop <= 0.0:
        yield f"No straps help: {_at_ride(limits.stopped_by)}."
        return
    setting = "that is less than straps give, so none can be set"
    straps = "a strap at each side" if travel.droop_strap == "sides" else "the strap in the middle"
    if limits.straps:
        setting = (
            f"set {straps} at {format_length(limits.straps)}, since straps give about 1/2 in (from "
            "memory)"
        )
    yield (
        f"STRAPS: let the axle hang no lower than {format_length(limits.free_droop)} below ride "
        f"height; it would go {format_length(travel.droop)}. {setting[:1].upper()}{setting[1:]}. "
        f"{_stops(limits.stopped_by)}."
    )


def _stops(what: str) -> str:
    """What runs short of its reserve past a limit."""
    if what == READINGS:
        return "The axle was measured no further: measure it there too"
    if what == REACH:
        return "The suspension and the shaft as described reach no further"
    if what == "slip":
        return "The slip runs short of its reserve first: a longer one may do instead"
    if what.endswith(" joint"):
        return f"The {what} runs short of its reserve first"
    return f"The shaft comes too close to the {what} first"


def _at_ride(what: str) -> str:
    """The same where it is short at ride height already."""
    if what.endswith(" joint") or what == "slip":
        return f"the {what} is short of its reserve already at ride height"
    return f"it is the {what}, at ride height already"


def joints_lines(ticket: Ticket) -> Iterator[Entry]:
    """Bends of the joints, with their crosses and yokes."""
    line, sure = "  {:<10}{:>10}{:>12}{:>12}  {}".format, ticket.sure
    yield [line("", "at ride", "at most", "good for", "cross and yokes")]
    for joint, found in ticket.found.joints.items():
        parts = typed_joint(ticket.rig, joint)
        yokes = ", ".join(yoke.name for yoke in parts.yokes.values())
        cells = (found.ride, found.most, found.clear)
        shown = [f"{degrees(b):.1f} deg" if isfinite(b) else "-" for b in cells]
        fitted = f", {FITTED}" if found.hardware.fitted else ""
        what = f"{cross_name(parts.cross.name)}: {yokes}{fitted}"
        yield item(line(joint, *shown, what), " " * 48)
        if sure is not None:
            off = sure.ride[joint]
            bands = (
                (found.ride - off, found.ride + off) if off > LEAST_OFF else None,
                sure.most(joint),
                sure.clear(joint, found.clear),
            )
            yield [line("", *map(_band, bands), "95 of 100 trucks")]


LEAST_OFF = radians(0.05)
"""Rad. What is off by less reads as what it is."""


def _band(band: tuple[float, float] | None) -> str:
    """Bends from the one to the other, in as little room as a column has; "" for none."""
    return "" if band is None else "-".join(f"{degrees(max(0.0, each)):.1f}" for each in band)


def near_title(ticket: Ticket) -> str:
    """What is wanted of room."""
    wanted = format_length(ticket.rig.wanted.clearance.mm)
    return f"NEAR THE SHAFT  {wanted} wanted, over the whole travel"


def near_lines(ticket: Ticket) -> Iterator[str]:
    """How near the turning shaft comes to what lives around it, over the whole travel."""
    wanted = ticket.rig.wanted.clearance.mm
    for gap in ticket.found.near:
        at, sure = pose_words(gap.at), gap.sure_mm
        if gap.touches:
            touch = agreeing(gap.called, "hits", "hit")
            yield f"{gap.name}: the {gap.called} {touch} it at {at}."
        elif gap.certified_mm < wanted:
            left = format_length_under(sure, wanted)
            yield f"{gap.name}: only {left} from the {gap.called}, at {at}."
        else:
            yield f"{gap.name}: smallest gap {format_length(sure)} from the {gap.called}, at {at}."
