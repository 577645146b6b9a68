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
from viewer.words.felt import felt_above, felt_number
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
                f"{name}: about {torque(found.value)}, anywhere from {torque(found.low)} to "
                f"{torque(found.high)}, since {doubt}."
            )
    why = words_of(said.why)
    if said.peak is None:
        yield f"{why[:1].upper()}{why[1:]}."
        return
    yield f"Sized by {said.governs}: {why}."
    if said.shock > 1.0:
        yield (
            f"Shock x {said.shock:g}: torque comes on all at once, as with a dropped clutch. A "
            "shaft without damping swings to twice it [derivation]."
        )
    yield (
        f"Strength is checked at {torque(said.peak.value)}. It could be as much as "
        f"{torque(said.peak.high)}."
    )


def _doubt(drive: DriveSaid, key: Number) -> str:
    """Why a torque lies between two numbers."""
    share, source = drive.off[key]
    return f"{key} may be {share:.0%} off ({source})"


def strength_lines(ticket: Ticket) -> Iterator[Entry]:
    """What gives first, and what another size would change."""
    said = ticket.strength
    if said.worst is None or said.ride is None:
        yield "Not told: there is no torque to check it at."
    else:
        weakest, ride, marked = said.worst.weakest, said.ride.weakest, said.worst.marked_first
        yield (
            f"Weakest: {weakest.name}, {weakest.safety:.2f} times the torque at the steepest bends "
            f"of the travel. It takes {torque(said.worst.holds)}. At ride height {ride.safety:.2f} "
            f"times ({ride.name})."
        )
        if marked is not None:
            yield (
                f"Dents or slips before that, and lives with it for a while: {marked.name}, "
                f"{marked.safety:.2f} times."
            )
        bearing = sorted((m for m in said.worst.members if not m.lives_on), key=lambda m: m.safety)
        yield [f"  {member.safety:>8.2f}  {member.name}" for member in bearing[1:5]]
    for joint, size in said.fits.items():
        smallest = f"the smallest that takes it is {cross_name(size)}" if size else ""
        yield (
            f"Catalogue joints at the {joint}, for {WANTED:g} times the torque: "
            f"{smallest or 'none takes it'}."
        )
    for up in said.sizes_up:
        gain = degrees(up.larger_clear - up.clear)
        touches = f"{abs(gain):.1f} deg {'later' if gain > 0.0 else 'earlier'}"
        yield (
            f"One size up at the {up.joint}, {cross_name(up.larger)} for {cross_name(up.size)}: "
            f"at {format_angle(up.bend)}, the steepest of the travel, it takes "
            f"{torque(up.larger_holds)} in place of {torque(up.holds)}. It binds "
            f"{'as before' if abs(gain) < 0.05 else touches}."
        )


def speed_lines(ticket: Ticket) -> Iterator[Entry]:
    """How fast the shaft turns, and where it whirls."""
    said = ticket.speed
    if ticket.rig.axle.hubs == "unlock":
        yield (
            "With the hubs unlocked this shaft stands still on the road. Speed, whirl, shaking and "
            "balance count only with them locked."
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
        yield [f"  {name}, engine at redline: {rpm(gear.shaft)}{on_road}"]
    if said.whirl.critical is None:
        yield (
            "Whirl is not told: a piece has no cut length, or its slip is too short for its spline."
        )
        return
    share = f"stay under {rpm(SAFE_SHARE * said.whirl.critical)}, {SAFE_SHARE:.0%} of that"
    if said.margin is not None:
        share = (
            f"top speed is {said.margin.share:.0%} of that; stay under {SAFE_SHARE:.0%}, "
            f"{rpm(said.margin.fastest)}"
        )
    yield (
        f"Whirls at {rpm(said.whirl.critical)} at ride height, yokes and slip counted; {share}. A "
        f"plain tube joint to joint would whirl at {rpm(said.plain)}."
    )
    if said.whirl.critical_open is not None:
        yield (
            f"With the slip pulled out as far as the travel takes it: "
            f"{rpm(said.whirl.critical_open)}."
        )
    if said.margin is not None:
        yield f"It may shake at {rpm(said.margin.half_critical)} too, at half of that."


def shaking_lines(ticket: Ticket) -> Iterator[Entry]:
    """What the joints shake, and what that feels like."""
    said, shake = ticket.speed, ticket.speed.excitation
    yield f"{_sentence(felt_above(said.felt, said.top))} {felt_number(said.felt)}."
    if shake is not None:
        yield "At top speed:"
        for name, value, limit in (
            ("at the pinion", shake.torsional, shake.torsional_limit),
            ("the shaft, engine pulling", shake.drive, shake.inertia_limit),
            ("the shaft, coasting", shake.coast, shake.inertia_limit),
        ):
            yield [f"  {name:<26}{value:>8,.0f} rad/s2; {limit:,.0f} or less runs smooth"]
    yield from map(_at_speed, said.joints)
    if said.phase is not None:
        yield from _phase(said.phase)
    for each in said.orders:
        felt, causes = ORDERS[each.order.name]
        says = f"{each.order.name}: {felt}. Look for {causes}."
        yield item(f"  {each.frequency:>6.1f} Hz  {says}", " " * 13)


def _sentence(text: str) -> str:
    return text[:1].upper() + text[1:]


def _at_speed(joint: JointAtSpeed) -> str:
    """How fast a joint may turn so bent, and how long it lasts."""
    at_top = life = ""
    if joint.bend_limit is not None:
        at_top = f"; up to {format_angle(joint.bend_limit)} runs smooth at top speed"
    turns = rpm(joint.speed_limit) if isfinite(joint.speed_limit) else "any speed"
    if joint.life is not None:
        life = f" Cruising, the needles last {hours(joint.life.hours)}."
        if NO_OVERLAP in {flag.code for flag in joint.life.flags}:
            life += " (They swing too little for the formula.)"
    return (
        f"{joint.joint}: bent {format_angle(joint.bend)}{at_top}. Bent like that it is good to "
        f"{turns}.{life}"
    )


def _phase(phase: PhaseSaid) -> Iterator[str]:
    """What turning the ears takes away."""
    if not phase.worth_it:
        yield f"Ears as described ({_ears(phase.now)}): turning them gains little."
        return
    yield (
        f"Turn the ears at a piece's last end against those at its first, seen from the output: "
        f"{_ears(phase.best)} leaves {phase.left_share:.0%} of the shaking at the pinion that "
        f"{_ears(phase.now)} gives."
    )
    if phase.teeth and phase.by_teeth is not None and phase.left_share_by_teeth is not None:
        way = "clockwise" if phase.teeth > 0 else "counterclockwise"
        teeth = "1 tooth" if abs(phase.teeth) == 1 else f"{abs(phase.teeth)} teeth"
        yield (
            f"On the generic slip's spline: put it together {teeth} further {way} at the pinion "
            f"end. Ears {turned(phase.by_teeth)} then leave {phase.left_share_by_teeth:.0%}."
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
            f"{name}: G{found.grade:g} at {rpm(found.speed)} leaves {first:.2f} oz-in "
            f"({found.first:.0f} g mm; {at_first:.1f} g of weight on the tube) at the "
            f"{piece.first.joint} end. At the {piece.last.joint} end it leaves {last:.2f} oz-in "
            f"({found.last:.0f} g mm; {at_last:.1f} g)."
        )
    if said.balances:
        yield (
            f"Planes: the outer ends of each piece's tube ({outside}), weights beside the welds, "
            "split as its own weight rests on them."
        )
    else:
        yield "Not told: the shaft's speed is not known."
    yield blanks("Balanced to, or left unbalanced")


def balance_title(ticket: Ticket) -> str:
    """The shaft's mass."""
    return f"BALANCE  shaft about {mass(ticket.speed.whirl.mass or 0.0)}, generic parts"
