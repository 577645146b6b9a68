"""The build ticket as text: what to cut first, then what the shaft bears, and what is not known."""

from collections.abc import Iterator
from math import degrees, isfinite, pi
from textwrap import wrap

from sim.sizing.joint_size import WANTED
from sim.ticket.cut_list import Cut
from sim.ticket.slip_plan import SIXTEENTH, SlipPlan, Split
from sim.ticket.speed_of import NO_OVERLAP, SpeedSaid
from sim.ticket.ticket import STOPS, Ticket
from sim.units import (
    format_angle,
    format_fraction,
    format_fraction_up,
    format_length,
    format_length_under,
)
from viewer.build_words import hours, mass, road, row, rpm, torque, turned
from viewer.words import CAUTION, pose_words

WIDTH = 96

TICKET_CAUTION = (
    "Generic parts and materials unless measured: measure the yokes and the slip in your hand, and "
    "the vehicle once more, before cutting. Strength is of nominal sections, without notches, "
    "fatigue or wear."
)


SPLIT_INSTEAD = ": another split or a longer slip may do instead"
"""What else helps where the slip is what stops the droop."""

OWN_LENGTHS = (
    "Weld lands and slip are those of generic parts unless the rig file has yours: each inch that "
    "yours differ, the tube differs."
)


def build_text(ticket: Ticket) -> str:
    """Everything on the ticket."""
    return "\n".join(_lines(ticket))


def _lines(ticket: Ticket) -> Iterator[str]:
    yield ticket.rig.name
    yield "BUILD TICKET  at ride height, for the rig as described"
    for flag in sorted(ticket.flags, key=lambda flag: flag.code not in STOPS):
        yield from _item(f"  {'!!' if flag.code in STOPS else ' ~'} {flag.says}.", "     ")
    yield from _cut(ticket)
    yield from _tape(ticket)
    yield from _slip(ticket)
    yield from _owner(ticket)
    yield from _joints(ticket)
    yield from _near(ticket)
    yield from _torque(ticket)
    yield from _strength(ticket)
    yield from _speed(ticket.speed)
    yield from _shaking(ticket.speed)
    yield from _balance(ticket.speed)
    titled: tuple[tuple[str, list[str]], ...] = (
        ("Not told, since the rig file does not say it", _missing(ticket)),
        ("Worked out from what was typed", [item.says for item in ticket.derivation.derived]),
        ("Assumed, generic: measure yours", list(ticket.assumed)),
        ("Odd, worth a second look", [note.says for note in ticket.derivation.notes]),
    )
    for title, lines in titled:
        if lines:
            yield ""
            yield f"{title}:"
            for line in lines:
                yield from _item(f"  - {line}", "    ")
    yield ""
    yield from wrap(TICKET_CAUTION, WIDTH)
    yield from wrap(CAUTION, WIDTH)


def _missing(ticket: Ticket) -> list[str]:
    lines = [f"{each.key}: {each.why}" for each in ticket.missing]
    if ticket.drive.borrowed:
        keys = ", ".join(ticket.drive.borrowed)
        lines.append(f"[drive] does not say {keys}: taken from [wrap.drive]")
    return lines


def _cut(ticket: Ticket) -> Iterator[str]:
    tube = ticket.rig.shaft.tube
    yield ""
    yield f"CUT  tube {tube.outside} x {tube.wall} wall"
    yield f"  {'':<52}{'':>14}{'in':>11}{'mm':>11}"
    for cut in ticket.cuts.cuts:
        name = cut.piece.name
        yield row(f"{name}, joint centre to joint centre", cut.piece.length)
        for part in cut.parts:
            yield row(f"{'SAW ' if part.is_tube else ''}{part.name}", part.length)
        if len(cut.tubes) > 1 and cut.cut is not None:
            yield row("tube in all, cut square", cut.cut)
        if not cut.parts:
            keys = ", ".join(each.key for each in ticket.cuts.missing)
            why = f"without {keys}" if cut.tube is None else "there is no room for a tube"
            yield from _item(f"  {name}: no cut length, {why}.", "    ")
        yield from _rounded(cut)
    yield from _item(f"  {OWN_LENGTHS}", "    ")


def _tape(ticket: Ticket) -> Iterator[str]:
    """What to hold a tape to on the vehicle, to see that this is the right length."""
    yield ""
    yield "TAPE CHECK  on the vehicle at ride height, straight between"
    two_piece = ticket.rig.carrier is not None
    for each in ticket.tape:
        start = each.at_output
        if two_piece and start == "joint centre":
            start = "middle joint centre"
        yield row(f"{start} to {each.at_pinion} at the pinion", each.reads)
    if any(
        end.reach > 0.0 for cut in ticket.cuts.cuts for end in (cut.piece.first, cut.piece.last)
    ):
        yield from _item(
            "  The joint centre of a double-Cardan head is the middle of its ball; its outer cross "
            "is the one on the output or the pinion, its inner cross the one on the shaft.",
            "    ",
        )


def _rounded(cut: Cut) -> Iterator[str]:
    """How the tube was rounded, and what the joining tube is for."""
    if cut.tube is None or not cut.parts:
        return
    if abs(cut.rounded) > 1e-6:
        way = "up" if cut.rounded > 0.0 else "down"
        why = ""
        if cut.split is not None:
            kept = "opens" if cut.rounded > 0.0 else "closes"
            why = f", which keeps the smaller reserve of the slip, where it {kept}"
        yield from _item(
            f"  {cut.piece.name}: worked out as {cut.tube / 25.4:.3f} in of tube, rounded {way} to "
            f"1/16 in{why}.",
            "    ",
        )
    if len(cut.tubes) > 1:
        yield from _item(
            "  The joining tube goes between the first yoke and the slip. What counts is the "
            "tube in all: leave the joining tube out, or change it, and change the main tube by as "
            "much.",
            "    ",
        )


def _slip(ticket: Ticket) -> Iterator[str]:
    plan = ticket.slip
    cut = ticket.cuts.cuts[-1]
    split = cut.split or plan.built
    place = "in the shaft" if plan.at == "shaft" else "yoke sliding on the output"
    yield ""
    yield f"SLIP  {place}: {_slip_name(plan)}"
    if plan.at == "shaft" and cut.slip_set is not None:
        yield row("pushed home, weld land to weld land", cut.slip_set - split.closes)
    yield row("set: still closes at ride height", split.closes)
    yield row("set: still opens at ride height, spline engaged", split.opens)
    yield from _item(
        f"  The travel closes it {format_fraction(plan.closing)} (at "
        f"{pose_words(plan.at_shortest)}) and opens it {format_fraction(plan.opening)} (at "
        f"{pose_words(plan.at_longest)}).",
        "    ",
    )
    yield f"  Left at the ends, {format_fraction(plan.reserve)} wanted:"
    yield f"  {'':<28}{'closing':>20}{'opening':>20}"
    shown = [("as cut", split)]
    if cut.off is not None:
        shown += [("built 1/16 in too long", cut.off[0]), ("built 1/16 in too short", cut.off[1])]
    for name, each in shown:
        yield f"  {name:<28}{_left(each.closes_left):>20}{_left(each.opens_left):>20}"
    if split.engaged is not None:
        yield from _item(
            f"  Spline engaged at the longest: {format_length(max(split.engaged, 0.0))}; "
            f"{format_fraction(plan.least)} to {format_fraction(plan.wanted)} is wanted (1.5 to 2 "
            "diameters, common practice, no source).",
            "    ",
        )
    yield from _better(plan, split)


def _slip_name(plan: SlipPlan) -> str:
    if plan.by_rig:
        return "as the rig file describes it"
    return f"{plan.built.name} of the catalogue, chosen for the travel"


def _better(plan: SlipPlan, split: Split) -> Iterator[str]:
    """A better set point, and which slip of the catalogue would do."""
    moved = plan.best.closes - split.closes
    if plan.best.least > split.least + SIXTEENTH:
        turns = ("open", "shorter") if moved > 0.0 else ("closed", "longer")
        keeps = f"{_left(plan.best.closes_left)} closing and {_left(plan.best.opens_left)} opening"
        so = f"then it keeps {keeps}" if plan.best.least >= 0.0 else f"even so it has {keeps} left"
        yield from _item(
            f"  The same slip is split best {format_fraction(abs(moved))} further {turns[0]}, with "
            f"{format_fraction(plan.best.closes)} to close: {so}. For that, cut the tube "
            f"{format_fraction(abs(moved))} {turns[1]} and say so in shaft.slip.",
            "    ",
        )
    if plan.at != "shaft":
        return
    said = f"  Stroke that the travel takes, both reserves and spline: {format_length(plan.stroke)}"
    if plan.chosen is not None:
        found = plan.chosen
        said += (
            f"; the shortest of the catalogue that has it is the {found.name}, set with "
            f"{format_fraction(found.closes)} to close"
        )
    yield from _item(f"{said}.", "    ")


def _owner(ticket: Ticket) -> Iterator[str]:
    limits = ticket.limits
    yield ""
    yield "FOR THE OWNER"
    for joint, bend in limits.bends.items():
        yield from _item(
            f"  The {joint} joint may bend {format_angle(bend)}: it is clear to "
            f"{format_angle(ticket.clear[joint])}, {ticket.rig.wanted.bend} kept in reserve.",
            "    ",
        )
    touch = limits.touch.first
    if touch is not None:
        yield from _item(
            f"  Hanging, the {touch.joint} joint touches first at {pose_words(touch.at)}.", "    "
        )
    up = limits.touch_up.first
    if up is not None:
        yield from _item(
            f"  Going up, the {up.joint} joint touches at {pose_words(up.at)}: longer stops.",
            "    ",
        )
    if limits.straps is None:
        yield from _item(
            f"  The whole droop of {format_fraction(limits.droop)} keeps every reserve: no straps "
            "are needed for the shaft.",
            "    ",
        )
    elif limits.straps > 0.0:
        yield from _item(
            f"  STRAPS: let the axle hang no further than {format_fraction(limits.free_droop)} "
            f"below ride height, of the {format_fraction(limits.droop)} it would; set straps at "
            f"{format_fraction(limits.straps)}, since they give about 1/2 in (from memory). It is "
            f"the {limits.stopped_by} that runs short of its reserve first"
            f"{SPLIT_INSTEAD if limits.stopped_by == 'slip' else ''}.",
            "    ",
        )
    else:
        yield from _item("  No straps help: a reserve is short at ride height already.", "    ")


def _joints(ticket: Ticket) -> Iterator[str]:
    yield ""
    yield "JOINTS"
    line = "  {:<10}{:>10}{:>12}{:>12}  {}".format
    yield line("", "at ride", "at most", "clear to", "cross and yokes")
    output, pinion, carrier = (
        ticket.rig.shaft.output_end,
        ticket.rig.shaft.pinion_end,
        ticket.rig.carrier,
    )
    parts = {
        "output": f"{output.cross.name}: {output.output_yoke.name}, {output.shaft_yoke.name}",
        "pinion": f"{pinion.cross.name}: {pinion.shaft_yoke.name}, {pinion.pinion_yoke.name}",
    }
    if carrier is not None:
        middle = carrier.middle
        parts["middle"] = f"{middle.cross.name}: {middle.front_yoke.name}, {middle.shaft_yoke.name}"
    for joint, worst in ticket.worst.items():
        cells = (ticket.ride[joint], worst, ticket.clear[joint])
        shown = [f"{degrees(b):.1f} deg" if isfinite(b) else "-" for b in cells]
        yield from _item(line(joint, *shown, parts[joint]), " " * 48)


def _near(ticket: Ticket) -> Iterator[str]:
    """How near the turning shaft comes to what lives around it, over the whole travel."""
    if not ticket.near:
        return
    wanted = ticket.rig.wanted.clearance.mm
    yield ""
    yield f"NEAR THE SHAFT  {format_length(wanted)} wanted, over the whole travel"
    for gap in ticket.near:
        at = pose_words(gap.at)
        if gap.touches:
            yield from _item(f"  {gap.name}: the shaft's {gap.part} touches it at {at}.", "    ")
            continue
        short = gap.certified_mm < wanted
        left = format_length_under(gap.gap_mm, wanted) if short else format_length(gap.gap_mm)
        only = "only " if short else "least gap "
        yield from _item(
            f"  {gap.name}: {only}{left} from the shaft's {gap.part}, at {at}.", "    "
        )


def _torque(ticket: Ticket) -> Iterator[str]:
    said = ticket.torque
    yield ""
    yield "TORQUE IN THE SHAFT"
    for name, found in (("low gear", said.low_gear), ("wheel slip", said.wheel_slip)):
        if found is not None:
            low, high = torque(found.low), torque(found.high)
            about = f"  {name}: about {torque(found.value)}, between {low} and {high}."
            yield from _item(about, "    ")
    if said.peak is None:
        yield from _item(f"  {_capital(said.why)}.", "    ")
        return
    yield from _item(f"  Sized by {said.governs}: {said.why}.", "    ")
    if said.shock.factor > 1.0:
        yield from _item(f"  Shock x {said.shock.factor:g}: {said.shock.reason}.", "    ")
    yield f"  Strength is held against {torque(said.peak.value)}."


def _strength(ticket: Ticket) -> Iterator[str]:
    said = ticket.strength
    yield ""
    yield "STRENGTH"
    if said.worst is None or said.ride is None:
        yield "  Not told: without a torque there is nothing to hold it against."
    else:
        weakest, ride = said.worst.weakest, said.ride.weakest
        yield from _item(
            f"  Weakest: {weakest.name}, {weakest.safety:.2f} times the torque at the largest bends"
            f" of the travel; it takes {torque(said.worst.holds)}. At the bends of ride height "
            f"{ride.safety:.2f} times ({ride.name}).",
            "    ",
        )
        marked = said.worst.marked_first
        if marked is not None:
            yield from _item(
                f"  Dents or slips before that, which it outlives for a while: {marked.name}, "
                f"{marked.safety:.2f} times.",
                "    ",
            )
        bearing = sorted((m for m in said.worst.members if not m.lives_on), key=lambda m: m.safety)
        for member in bearing[1:5]:
            yield f"  {member.safety:>8.2f}  {member.name}"
    for joint, size in said.fits.items():
        fits = f"the smallest that takes it there is {size}" if size else "none takes it there"
        yield from _item(
            f"  Of the catalogue's joints, with {WANTED:g} times the torque wanted: at the {joint} "
            f"{fits}.",
            "    ",
        )
    for up in said.sizes_up:
        gain = degrees(up.larger_clear - up.clear)
        way = "later" if gain > 0.0 else "earlier"
        touches = "as before" if abs(gain) < 0.05 else f"{abs(gain):.1f} deg {way}"
        yield from _item(
            f"  One size up at the {up.joint}, {up.larger} for {up.size}: its joint takes "
            f"{torque(up.larger_holds)} for {torque(up.holds)}, and touches {touches}.",
            "    ",
        )


def _speed(said: SpeedSaid) -> Iterator[str]:
    yield ""
    yield "SPEED"
    if said.top is not None:
        at = "" if said.road is None else f" at {road(said.road)}"
        yield f"  Shaft at top speed: {rpm(said.top)}{at}."
    for gear in said.gears:
        what = "high" if gear.range == 0 else "low"
        which = "lowest gear" if gear.gear == 1 and len(said.gears) > 1 else "top gear"
        yield (f"  {which}, {what} range, engine at its top: {rpm(gear.shaft)}, {road(gear.road)}")
    if said.critical is None:
        yield "  Whirl is not told: the cut list has no tube."
    else:
        share = ""
        if said.whirl is not None:
            share = (
                f"; top speed uses {said.whirl.share:.0%} of it, at most "
                f"{said.whirl.safe_share:.0%} is wanted: up to {rpm(said.whirl.fastest)}"
            )
        yield from _item(
            f"  Whirls at {rpm(said.critical)}, yokes and slip counted (a plain tube from joint to "
            f"joint: {rpm(said.plain)}){share}.",
            "    ",
        )
        if said.whirl is not None:
            yield from _item(
                f"  It may shake at {rpm(said.whirl.half_critical)} too, half of that.", "    "
            )


def _shaking(said: SpeedSaid) -> Iterator[str]:
    yield ""
    yield "SHAKING, at ride height"
    shake = said.excitation
    if shake is not None:
        for name, value, limit in (
            ("left at the pinion", shake.torsional, shake.torsional_limit),
            ("shaft itself, driving", shake.drive, shake.inertia_limit),
            ("shaft itself, coasting", shake.coast, shake.inertia_limit),
        ):
            yield f"  {name:<26}{value:>8,.0f} rad/s2, at most {limit:,.0f} wanted"
    for joint in said.joints:
        at_top = ""
        if joint.bend_limit is not None:
            at_top = f", up to {format_angle(joint.bend_limit)} runs well at top speed"
        turns = "any speed" if not isfinite(joint.speed_limit) else rpm(joint.speed_limit)
        life = "" if joint.life is None else f"; needles {hours(joint.life.hours)}"
        if joint.life is not None and NO_OVERLAP in {flag.code for flag in joint.life.flags}:
            life += " (outside its formula: they swing less than from one to the next)"
        yield from _item(
            f"  {joint.joint}: bent {format_angle(joint.bend)}{at_top}; so bent good to {turns}"
            f"{life}.",
            "    ",
        )
    if said.phase is not None:
        yield from _phase(said)
    for each in said.orders:
        yield from _item(
            f"  {each.frequency:>6.1f} Hz  {each.order.name}: {each.order.felt}; a sign of "
            f"{', '.join(each.order.causes)}.",
            "             ",
        )


def _phase(said: SpeedSaid) -> Iterator[str]:
    phase = said.phase
    if phase is None:
        return
    if not phase.worth_it:
        now = _ears(phase.now)
        yield from _item(f"  Ears as described ({now}): turning them takes away little.", "    ")
        return
    left = phase.left_best / phase.left_now
    teeth = ""
    if phase.teeth is not None and phase.by_teeth is not None and phase.teeth != 0:
        teeth = f"; nearest on the slip's spline: {abs(phase.teeth)} teeth"
    yield from _item(
        f"  Ears at a piece's last end against those at its first, seen from the output: "
        f"{_ears(phase.best)} leaves {left:.0%} of the shaking at the pinion{teeth}.",
        "    ",
    )


def _ears(turns: tuple[float, ...]) -> str:
    """Turn of the ears of every piece."""
    if len(turns) == 1:
        return turned(turns[0])
    return f"front section {turned(turns[0])}, rear section {turned(turns[1])}"


def _balance(said: SpeedSaid) -> Iterator[str]:
    if said.mass is None:
        return
    yield ""
    yield f"BALANCE  shaft about {mass(said.mass)}, generic parts"
    for name, found in said.balances:
        first, last = found.per_plane_oz_in
        speed = found.speed * 30.0 / pi
        yield from _item(
            f"  {name}: G{found.grade:g} at {speed:,.0f} rpm leaves {found.first:.0f} g mm "
            f"({first:.2f} oz in) at the output end and {found.last:.0f} g mm ({last:.2f} oz in) "
            "at the pinion end.",
            "    ",
        )
    if not said.balances:
        yield "  Not told: the shaft's speed is not known."


def _left(mm: float) -> str:
    """What is left of a slip; a minus where it is not enough."""
    return f"-{format_fraction_up(-mm)}" if mm < 0.0 else format_fraction(mm)


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]


def _item(text: str, hang: str) -> list[str]:
    indent = text[: len(text) - len(text.lstrip())]
    return wrap(
        text.strip(),
        WIDTH,
        initial_indent=indent,
        subsequent_indent=hang,
        break_long_words=False,
    )
