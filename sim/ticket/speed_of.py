"""How fast a rig's shaft turns, and what that does: whirl, shaking, balance, life of its joints."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Final

from sim.balance import FINE, Balance, balance
from sim.bearing import JointLife, joint_life
from sim.line import shafts
from sim.parts.materials import material
from sim.remark import Remark
from sim.rig import Rig
from sim.speed import (
    Excitation,
    Felt,
    Gearing,
    Vibration,
    bend_limit,
    excitation,
    felt,
    speed_limit,
    vibrations,
)
from sim.ticket.cut_list import Cut, CutList
from sim.ticket.drive_said import DriveSaid
from sim.ticket.gears import GearSaid, gear_flags, gearing_of, gears_of
from sim.ticket.phase_of import PhaseSaid, phase_of
from sim.ticket.shaft_parts import TUBE, ShaftSaid
from sim.ticket.slip_plan import SlipPlan
from sim.ticket.whirl_of import WhirlSaid, tube_of, whirl_of
from sim.vehicle import Vehicle
from sim.whirl import Piece, WhirlMargin, plain_tube

CRUISE_SPEED: Final = 0.8
"""Share of the top speed at which the joints' life is told (from memory)."""

NO_OVERLAP: Final = "needles-do-not-overlap"
"""Flag of a life outside its formula: true of most shafts at ride height, so it is told with the
life and not as something wrong."""


@dataclass(frozen=True)
class JointAtSpeed:
    """One joint at ride height and top speed.

    Attributes
    ----------
    joint : its name, with the cross of a head.
    bend : rad at ride height.
    bend_limit : rad that it may bend at top speed by how hard it shakes; None without a speed.
    speed_limit : rad/s up to which it may turn at this bend.
    life : while cruising in top gear; None where that is not known.
    """

    joint: str
    bend: float
    bend_limit: float | None
    speed_limit: float
    life: JointLife | None


@dataclass(frozen=True)
class SpeedSaid:
    """Everything that has to do with turning; rad/s.

    Attributes
    ----------
    gearing : what lies between shaft and road; None where it is not known.
    road : mm/s, the fastest on the road; None where that or the gearing is not known.
    gears : what each gear that is known allows in each range.
    whirl : critical speed of the shaft as it is cut.
    plain : critical speed of the same tube alone, from joint to joint, for comparison.
    excitation : how hard the joints shake at top speed. felt : from which speed that is felt.
    phase : the best phase; None where a head evens the joint out, or three joints are askew.
    joints : each joint at speed.
    orders : what shakes how often at top speed.
    balances : residual of each piece, by its name.
    missing, assumed, flags : what is not said, assumed, odd.
    """

    gearing: Gearing | None
    road: float | None
    gears: tuple[GearSaid, ...]
    whirl: WhirlSaid
    plain: float
    excitation: Excitation | None
    felt: Felt
    phase: PhaseSaid | None
    joints: tuple[JointAtSpeed, ...]
    orders: tuple[Vibration, ...]
    balances: tuple[tuple[str, Balance], ...]
    missing: tuple[Remark, ...]
    assumed: tuple[Remark, ...]
    flags: tuple[Remark, ...]

    @property
    def top(self) -> float | None:
        """Speed of the shaft at top speed; None where it is not known."""
        return _top(self.gearing, self.road)

    @property
    def margin(self) -> WhirlMargin | None:
        """The share of the critical speed in use; None where one of them is not known."""
        return _margin(self.top, self.whirl)


def _top(gearing: Gearing | None, road: float | None) -> float | None:
    return None if gearing is None or road is None else gearing.shaft_speed(road)


def _margin(top: float | None, whirl: WhirlSaid) -> WhirlMargin | None:
    return None if whirl.critical is None or top is None else WhirlMargin(top, whirl.critical)


def speed_of(
    rig: Rig,
    vehicle: Vehicle,
    said: DriveSaid,
    cuts: CutList,
    plan: SlipPlan,
    level: ShaftSaid,
) -> SpeedSaid:
    """Everything that turning does to a rig's shaft.

    level : the shaft's parts at the bends of ride height.
    """
    gearing = gearing_of(said)
    road = None if gearing is None else said.numbers.get("top_speed")
    top, whirl = _top(gearing, road), whirl_of(rig, cuts.cuts, plan)
    shake = _excitation(vehicle, top)
    gears = gears_of(said, gearing)
    joints = _joints(level, top, _cruising(said))
    balances = balances_of(said, cuts.cuts, whirl.pieces, top)
    flags = (
        *gear_flags(said, gearing, top, road),
        *_whirl_flags(said, _margin(top, whirl), whirl.critical),
        *_shake_flags(shake),
        *(flag for joint in joints for flag in _life_flags(joint)),
    )
    longest = max(cut.piece.length for cut in cuts.cuts)
    return SpeedSaid(
        gearing=gearing,
        road=road,
        gears=gears,
        whirl=whirl,
        plain=plain_tube(tube_of(rig), longest, material(TUBE)),
        excitation=shake,
        felt=felt(vehicle, gearing),
        phase=phase_of(vehicle, plan),
        joints=joints,
        orders=_orders(said, gearing, road),
        balances=balances,
        missing=(
            *(Remark("for-shaft-speed", key) for key in said.lacks("axle_ratio", "tyre_radius")),
            *(Remark("for-top-speed", key) for key in said.lacks("top_speed")),
            *whirl.missing,
            *(Remark("for-needles", key) for key in said.lacks(*OF_A_CRUISE)),
        ),
        assumed=(*whirl.assumed, *_assumed(said, gears, joints, balances)),
        flags=tuple(dict.fromkeys(flags)),
    )


OF_A_CRUISE: Final = ("engine_torque", "top_gear", "top_speed")
"""Without what the engine gives and how fast the shaft turns the needles' life is not told."""


def _assumed(
    said: DriveSaid,
    gears: tuple[GearSaid, ...],
    joints: tuple[JointAtSpeed, ...],
    balances: tuple[tuple[str, Balance], ...],
) -> Iterator[Remark]:
    """What of the drive was assumed for what is told."""
    if said.numbers.get("low_range") == 1.0 and gears:
        yield from said.assumed_of(("low_range",))
    if any(joint.life for joint in joints):
        yield from said.assumed_of(("cruise",))
        yield Remark("life-cruising", share=CRUISE_SPEED)
    if balances:
        yield from said.assumed_of(("balance",))


def _life_flags(joint: JointAtSpeed) -> Iterator[Remark]:
    for flag in () if joint.life is None else joint.life.flags:
        if flag.code != NO_OVERLAP:
            yield flag.about(joint.joint)


def _whirl_flags(
    said: DriveSaid, margin: WhirlMargin | None, critical: float | None
) -> list[Remark]:
    """What is wrong with the speed, and with what the engine could make of it."""
    found = [] if margin is None else list(margin.flags)
    if critical is not None and {"engine_top", "top_gear"} <= set(said.numbers):
        engine = WhirlMargin(said.numbers["engine_top"] / said.numbers["top_gear"], critical)
        road = 0.0 if margin is None else margin.speed
        if engine.speed > engine.fastest >= road:
            found.append(Remark("engine-past-whirl", speed=engine.speed, most=engine.fastest))
    return found


def _shake_flags(shake: Excitation | None) -> list[Remark]:
    """What shakes; joints too straight are told with what is odd of the rig."""
    return [] if shake is None else [flag for flag in shake.flags if flag.code != "too-straight"]


def _excitation(vehicle: Vehicle, top: float | None) -> Excitation | None:
    if top is None:
        return None
    axes, phases = shafts(vehicle)
    return excitation(axes, top, phases)


def _cruising(said: DriveSaid) -> float | None:
    """Torque (N mm) on the shaft while cruising in top gear; None where that is not known."""
    known = said.numbers
    if not {"engine_torque", "top_gear"} <= set(known):
        return None
    return known["cruise"] * known["engine_torque"] * known["top_gear"]


def _joints(level: ShaftSaid, top: float | None, torque: float | None) -> tuple[JointAtSpeed, ...]:
    found = []
    for end in level.parts.joints:
        life = None
        if top is not None and torque is not None and end.needles is not None:
            speed = CRUISE_SPEED * top
            life = joint_life(end.needles, end.trunnion.arm, torque, speed, end.bend)
        limit = None if top is None else bend_limit(top)
        found.append(JointAtSpeed(end.name, end.bend, limit, speed_limit(end.bend), life))
    return tuple(found)


def _orders(said: DriveSaid, gearing: Gearing | None, road: float | None) -> tuple[Vibration, ...]:
    """What shakes how often; the engine's only where its gear is known."""
    if gearing is None or road is None:
        return ()
    engine = "top_gear" in said.numbers
    return tuple(v for v in vibrations(gearing, road) if engine or v.order.turns_with != "engine")


def balances_of(
    said: DriveSaid, cuts: tuple[Cut, ...], pieces: tuple[Piece | None, ...], top: float | None
) -> tuple[tuple[str, Balance], ...]:
    """Residual of each piece that is known, at a speed of the shaft, by its name."""
    if top is None or not top > 0.0:
        return ()
    found = []
    for cut, piece in zip(cuts, pieces, strict=True):
        if piece is not None:
            planes, grade = piece.tube_length, said.number("balance", FINE)
            middle = min(max(piece.middle_of_mass - piece.first_land, 0.0), planes)
            left = balance(piece.mass, top, grade, planes=planes, middle=middle)
            found.append((cut.piece.name, left))
    return tuple(found)
