"""The build ticket as text: torque, strength, speed, shaking, balance."""

from collections.abc import Iterator
from math import degrees, isfinite, pi

from sim.sizing.joint_size import WANTED
from sim.ticket.speed_of import NO_OVERLAP, SpeedSaid
from sim.ticket.ticket import Ticket
from sim.units import format_angle
from viewer.build_words import hours, item, mass, road, rpm, torque, turned


def torque_lines(ticket: Ticket) -> Iterator[str]:
    """What the shaft is sized for."""
    said = ticket.torque
    yield ""
    yield "TORQUE IN THE SHAFT"
    for name, found in (("low gear", said.low_gear), ("wheel slip", said.wheel_slip)):
        if found is not None:
            low, high = torque(found.low), torque(found.high)
            about = f"  {name}: about {torque(found.value)}, between {low} and {high}."
            yield from item(about)
    if said.peak is None:
        yield from item(f"  {_capital(said.why)}.")
        return
    yield from item(f"  Sized by {said.governs}: {said.why}.")
    if said.shock.factor > 1.0:
        yield from item(f"  Shock x {said.shock.factor:g}: {said.shock.reason}.")
    yield f"  Strength is held against {torque(said.peak.value)}."


def strength_lines(ticket: Ticket) -> Iterator[str]:
    """What gives first, and what another size would change."""
    said = ticket.strength
    yield ""
    yield "STRENGTH"
    if said.worst is None or said.ride is None:
        yield "  Not told: without a torque there is nothing to hold it against."
    else:
        weakest, ride = said.worst.weakest, said.ride.weakest
        yield from item(
            f"  Weakest: {weakest.name}, {weakest.safety:.2f} times the torque at the largest bends"
            f" of the travel; it takes {torque(said.worst.holds)}. At the bends of ride height "
            f"{ride.safety:.2f} times ({ride.name}).",
            "    ",
        )
        marked = said.worst.marked_first
        if marked is not None:
            yield from item(
                f"  Dents or slips before that, which it outlives for a while: {marked.name}, "
                f"{marked.safety:.2f} times.",
                "    ",
            )
        bearing = sorted((m for m in said.worst.members if not m.lives_on), key=lambda m: m.safety)
        for member in bearing[1:5]:
            yield f"  {member.safety:>8.2f}  {member.name}"
    for joint, size in said.fits.items():
        fits = f"the smallest that takes it there is {size}" if size else "none takes it there"
        yield from item(
            f"  Of the catalogue's joints, with {WANTED:g} times the torque wanted: at the {joint} "
            f"{fits}.",
            "    ",
        )
    for up in said.sizes_up:
        gain = degrees(up.larger_clear - up.clear)
        way = "later" if gain > 0.0 else "earlier"
        touches = "as before" if abs(gain) < 0.05 else f"{abs(gain):.1f} deg {way}"
        yield from item(
            f"  One size up at the {up.joint}, {up.larger} for {up.size}: its joint takes "
            f"{torque(up.larger_holds)} for {torque(up.holds)}, and touches {touches}.",
            "    ",
        )


def speed_lines(said: SpeedSaid) -> Iterator[str]:
    """How fast the shaft turns, and where it whirls."""
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
        yield from item(
            f"  Whirls at {rpm(said.critical)}, yokes and slip counted (a plain tube from joint to "
            f"joint: {rpm(said.plain)}){share}.",
            "    ",
        )
        if said.whirl is not None:
            yield from item(
                f"  It may shake at {rpm(said.whirl.half_critical)} too, half of that.", "    "
            )


def shaking_lines(said: SpeedSaid) -> Iterator[str]:
    """What the joints shake, and what that feels like."""
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
        yield from item(
            f"  {joint.joint}: bent {format_angle(joint.bend)}{at_top}; so bent good to {turns}"
            f"{life}.",
            "    ",
        )
    if said.phase is not None:
        yield from _phase(said)
    for each in said.orders:
        yield from item(
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
        yield from item(f"  Ears as described ({now}): turning them takes away little.")
        return
    left = phase.left_best / phase.left_now
    teeth = ""
    if phase.teeth is not None and phase.by_teeth is not None and phase.teeth != 0:
        teeth = f"; nearest on the slip's spline: {abs(phase.teeth)} teeth"
    yield from item(
        f"  Ears at a piece's last end against those at its first, seen from the output: "
        f"{_ears(phase.best)} leaves {left:.0%} of the shaking at the pinion{teeth}.",
        "    ",
    )


def _ears(turns: tuple[float, ...]) -> str:
    """Turn of the ears of every piece."""
    if len(turns) == 1:
        return turned(turns[0])
    return f"front section {turned(turns[0])}, rear section {turned(turns[1])}"


def balance_lines(said: SpeedSaid) -> Iterator[str]:
    """What may be left at each plane."""
    if said.mass is None:
        return
    yield ""
    yield f"BALANCE  shaft about {mass(said.mass)}, generic parts"
    for name, found in said.balances:
        first, last = found.per_plane_oz_in
        speed = found.speed * 30.0 / pi
        yield from item(
            f"  {name}: G{found.grade:g} at {speed:,.0f} rpm leaves {found.first:.0f} g mm "
            f"({first:.2f} oz in) at the output end and {found.last:.0f} g mm ({last:.2f} oz in) "
            "at the pinion end.",
            "    ",
        )
    if not said.balances:
        yield "  Not told: the shaft's speed is not known."


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
