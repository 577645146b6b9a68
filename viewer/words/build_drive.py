"""The build ticket in words: torque, strength, speed, shaking, balance."""

from collections.abc import Iterator
from math import degrees, isfinite

from sim.sizing.joint_size import WANTED
from sim.ticket.drive_said import DriveSaid, Number
from sim.ticket.phase_of import PhaseSaid
from sim.ticket.speed_of import NO_OVERLAP, JointAtSpeed
from sim.ticket.ticket import Ticket
from sim.whirl.margin import SAFE_SHARE
from sim.wrap.estimate import Estimate
from viewer.words.build import cross_name
from viewer.words.build_orders import ORDERS
from viewer.words.lines import Entry, blanks, item
from viewer.words.remarks import said as words_of
from viewer.words.units import format_angle, hours, mass, road, rpm, torque, turned

SPEED_KEYS = ("drive.top_speed", "drive.axle_ratio", "drive.tyre_radius")
"""What the shaft's speed on the road comes from."""


def torque_lines(ticket: Ticket) -> Iterator[str]:
    """What the shaft is sized for."""
    said = ticket.torque
    torques: tuple[tuple[str, Estimate | None, tuple[Number, ...]], ...] = (
        ("low gear", said.low_gear, ("engine_torque",)),
        ("wheel slip", said.wheel_slip, ("axle_load", "friction")),
    )
    for name, found, keys in torques:
        if found is not None:
            doubt = " and ".join(_doubt(ticket.drive, key) for key in keys)
            yield (
                f"{name}: about {torque(found.value)}, between {torque(found.low)} and "
                f"{torque(found.high)}, since {doubt}."
            )
    why = words_of(said.why)
    if said.peak is None:
        yield f"{why[:1].upper()}{why[1:]}."
        return
    yield f"Sized by {said.governs}: {why}."
    if said.shock > 1.0:
        yield (
            f"Shock x {said.shock:g}: torque comes on at once, as of a dropped clutch: a shaft "
            "without damping swings to twice it [derivation]."
        )
    yield (
        f"Strength is held against {torque(said.peak.value)}; at the far end of the doubt it would "
        f"be {torque(said.peak.high)}."
    )


def _doubt(drive: DriveSaid, key: Number) -> str:
    """Why a torque lies between two numbers."""
    share, source = drive.off[key]
    return f"{key} may be {share:.0%} off ({source})"


def strength_lines(ticket: Ticket) -> Iterator[Entry]:
    """What gives first, and what another size would change."""
    said = ticket.strength
    if said.worst is None or said.ride is None:
        yield "Not told: without a torque there is nothing to hold it against."
    else:
        weakest, ride, marked = said.worst.weakest, said.ride.weakest, said.worst.marked_first
        yield (
            f"Weakest: {weakest.name}, {weakest.safety:.2f} times the torque at the largest bends "
            f"of the travel; it takes {torque(said.worst.holds)}. At the bends of ride height "
            f"{ride.safety:.2f} times ({ride.name})."
        )
        if marked is not None:
            yield (
                f"Dents or slips before that, which it outlives for a while: {marked.name}, "
                f"{marked.safety:.2f} times."
            )
        bearing = sorted((m for m in said.worst.members if not m.lives_on), key=lambda m: m.safety)
        yield [f"  {member.safety:>8.2f}  {member.name}" for member in bearing[1:5]]
    for joint, size in said.fits.items():
        smallest = f"the smallest that takes it there is {cross_name(size)}" if size else ""
        yield (
            f"Of the catalogue's joints, with {WANTED:g} times the torque wanted: at the {joint} "
            f"{smallest or 'none takes it there'}."
        )
    for up in said.sizes_up:
        gain = degrees(up.larger_clear - up.clear)
        touches = f"{abs(gain):.1f} deg {'later' if gain > 0.0 else 'earlier'}"
        yield (
            f"One size up at the {up.joint}, {cross_name(up.larger)} for {cross_name(up.size)}: "
            f"bent {format_angle(up.bend)}, the most of the travel, its joint takes "
            f"{torque(up.larger_holds)} for {torque(up.holds)}, and touches "
            f"{'as before' if abs(gain) < 0.05 else touches}."
        )


def speed_lines(ticket: Ticket) -> Iterator[Entry]:
    """How fast the shaft turns, and where it whirls."""
    said = ticket.speed
    if ticket.rig.axle.hubs == "unlock":
        yield (
            "With the hubs unlocked this shaft stands still on the road: speed, whirl, shaking and "
            "balance count only while they are locked."
        )
    if said.top is not None and said.road is not None:
        yield f"Shaft at top speed: {rpm(said.top)} at {road(said.road)}."
    else:
        keys = [key for key in ticket.missing if key in SPEED_KEYS]
        yield f"Shaft at top speed: not told without {', '.join(keys)}."
    ranges = any(gear.low_range != 1.0 for gear in said.gears)
    for gear in said.gears:
        case = "high range" if gear.low_range == 1.0 else f"low range {gear.low_range:g}"
        on_road = "" if gear.road is None else f", {road(gear.road)}"
        name = f"{gear.key.replace('_', ' ')} {gear.ratio:g}{f', {case}' if ranges else ''}"
        yield [f"  {name}, engine at its top: {rpm(gear.shaft)}{on_road}"]
    if said.whirl.critical is None:
        yield (
            "Whirl is not told: a piece has no cut length, or its slip is too short for its spline."
        )
        return
    share = f"run it up to {rpm(SAFE_SHARE * said.whirl.critical)}, {SAFE_SHARE:.0%} of that"
    if said.margin is not None:
        share = (
            f"top speed uses {said.margin.share:.0%} of it, at most {SAFE_SHARE:.0%} is "
            f"wanted: up to {rpm(said.margin.fastest)}"
        )
    yield (
        f"Whirls at {rpm(said.whirl.critical)} at ride height, yokes and slip counted (a plain "
        f"tube from joint to joint: {rpm(said.plain)}); {share}."
    )
    if said.whirl.critical_open is not None:
        yield f"With the slip as far open as the travel pulls it: {rpm(said.whirl.critical_open)}."
    if said.margin is not None:
        yield f"It may shake at {rpm(said.margin.half_critical)} too, half of that."


def shaking_lines(ticket: Ticket) -> Iterator[Entry]:
    """What the joints shake, and what that feels like."""
    said, shake = ticket.speed, ticket.speed.excitation
    if shake is not None:
        for name, value, limit in (
            ("left at the pinion", shake.torsional, shake.torsional_limit),
            ("shaft itself, driving", shake.drive, shake.inertia_limit),
            ("shaft itself, coasting", shake.coast, shake.inertia_limit),
        ):
            yield [f"  {name:<26}{value:>8,.0f} rad/s2, at most {limit:,.0f} wanted"]
    yield from map(_at_speed, said.joints)
    if said.phase is not None:
        yield from _phase(said.phase)
    for each in said.orders:
        felt, causes = ORDERS[each.order.name]
        says = f"{each.order.name}: {felt}; a sign of {causes}."
        yield item(f"  {each.frequency:>6.1f} Hz  {says}", " " * 13)


def _at_speed(joint: JointAtSpeed) -> str:
    """How fast a joint may turn so bent, and how long it lasts."""
    at_top = life = ""
    if joint.bend_limit is not None:
        at_top = f", up to {format_angle(joint.bend_limit)} runs well at top speed"
    turns = rpm(joint.speed_limit) if isfinite(joint.speed_limit) else "any speed"
    if joint.life is not None:
        life = f"; cruising, needles last {hours(joint.life.hours)}"
        if NO_OVERLAP in {flag.code for flag in joint.life.flags}:
            life += " (outside its formula: they swing less than from one to the next)"
    return f"{joint.joint}: bent {format_angle(joint.bend)}{at_top}; so bent good to {turns}{life}."


def _phase(phase: PhaseSaid) -> Iterator[str]:
    """What turning the ears takes away."""
    if not phase.worth_it:
        yield f"Ears as described ({_ears(phase.now)}): turning them takes away little."
        return
    yield (
        "Ears at a piece's last end against those at its first, seen from the output: "
        f"{_ears(phase.best)} leaves {phase.left_share:.0%} of the shaking at the "
        f"pinion that {_ears(phase.now)} gives."
    )
    if phase.teeth and phase.by_teeth is not None and phase.left_share_by_teeth is not None:
        way = "clockwise" if phase.teeth > 0 else "counter-clockwise"
        teeth = "1 tooth" if abs(phase.teeth) == 1 else f"{abs(phase.teeth)} teeth"
        yield (
            f"On the generic slip's spline: put together {teeth} further {way} at the pinion end, "
            f"ears then {turned(phase.by_teeth)}, which leaves "
            f"{phase.left_share_by_teeth:.0%}."
        )


def _ears(turns: tuple[float, ...]) -> str:
    """Turn of the ears of every piece."""
    if len(turns) == 1:
        return turned(turns[0])
    return f"front section {turned(turns[0])}, rear section {turned(turns[1])}"


def balance_lines(ticket: Ticket) -> Iterator[Entry]:
    """What may be left at each plane; nothing where the shaft's mass is not known."""
    said = ticket.speed
    if said.whirl.mass is None:
        return
    pieces = {cut.piece.name: cut.piece for cut in ticket.cuts.cuts}
    outside = ticket.rig.shaft.tube.outside
    for name, found in said.balances:
        first, last = found.per_plane_oz_in
        at_first, at_last = found.weights(0.5 * outside.mm)
        piece = pieces[name]
        yield (
            f"{name}: G{found.grade:g} at {rpm(found.speed)} leaves {found.first:.0f} g mm "
            f"({first:.2f} oz in, {at_first:.1f} g of weight on the tube) at the "
            f"{piece.first.joint} end and {found.last:.0f} g mm ({last:.2f} oz in, {at_last:.1f} "
            f"g) at the {piece.last.joint} end."
        )
    if said.balances:
        yield (
            f"Planes: the outer ends of each piece's tube ({outside}), weights beside the welds; "
            "shared as its own weight rests on them."
        )
    else:
        yield "Not told: the shaft's speed is not known."
    yield blanks("Balanced to, or left unbalanced")


def balance_title(ticket: Ticket) -> str:
    """The shaft's mass."""
    return f"BALANCE  shaft about {mass(ticket.speed.whirl.mass or 0.0)}, generic parts"
