"""Every member of a shaft at one torque, both joints at their bends; the weakest is named."""

from collections.abc import Iterator
from dataclasses import dataclass, replace

from sim.bearing.needles import Needles
from sim.parts.materials import Material
from sim.parts.tube_section import TubeSection
from sim.strength.clamp import BoltedCap, clamp_members
from sim.strength.couples import JointLoad, joint_load, slip_thrust
from sim.strength.cross import Trunnion, needle_member, trunnion_members
from sim.strength.ear import Ear, ear_members
from sim.strength.flange import FlangeBolts, flange_members
from sim.strength.member import Member, Strength, StrengthError
from sim.strength.spline import Spline, spline_members
from sim.strength.tube import tube_members
from sim.strength.weld import WeldRing, weld_members


@dataclass(frozen=True)
class YokeEnd:
    """One yoke of a joint."""

    name: str
    """As the shop says it: "output flange yoke"."""
    ear: Ear
    made_of: Material
    cap: BoltedCap | None = None
    """What holds its caps where its ears are open."""
    bolts: Material | None = None
    """What these are made of; the yoke's own material where left out."""
    flange: FlangeBolts | None = None
    """The bolts of a flange yoke's flange, of the same material."""

    def __post_init__(self) -> None:
        if self.cap is not None and self.ear.ring_radius is not None:
            raise StrengthError(f"{self.name}: got bolted caps on ears that close round them")


@dataclass(frozen=True)
class JointEnd:
    """One joint at the bend it is asked at."""

    name: str
    """"output" or "pinion", or "middle"."""
    bend: float
    """rad."""
    trunnion: Trunnion
    cross: Material
    yokes: tuple[YokeEnd, ...]
    needles: Needles | None = None


@dataclass(frozen=True)
class ShaftParts:
    """A shaft with its joints."""

    joints: tuple[JointEnd, ...]
    tube: TubeSection
    tube_made_of: Material
    weld: WeldRing
    weld_made_of: Material
    spline: Spline | None = None
    stub: Material | None = None
    sleeve: Material | None = None
    slip_friction: float = 0.15
    """Of the spline under torque, as for `slip_thrust`."""

    def __post_init__(self) -> None:
        if not self.joints:
            raise StrengthError("shaft: got no joints, expected at least one")
        if self.spline is not None and (self.stub is None or self.sleeve is None):
            raise StrengthError("spline: got no material of its stub and sleeve")


def shaft_strength(parts: ShaftParts, torque: float) -> Strength:
    """Ask every member at a torque (N mm), each joint at its bend.

    The torque is taken in the shaft; a joint swings it to T / cos b. Tube and weld are asked
    beside the joint that bends most. A slip that sticks pushes on both joints.
    """
    thrust = 0.0
    if parts.spline is not None:
        thrust = slip_thrust(torque, parts.spline.pitch_diameter, parts.slip_friction)
    loads = [joint_load(torque, j.bend, j.trunnion.arm, thrust) for j in parts.joints]
    steepest = max(loads, key=lambda load: load.bend)
    members = [
        *(
            m
            for joint, load in zip(parts.joints, loads, strict=True)
            for m in joint_members(joint, load)
        ),
        *tube_members(steepest, parts.tube, parts.tube_made_of),
        *weld_members(steepest, parts.weld, parts.weld_made_of),
    ]
    if parts.spline is not None and parts.stub is not None and parts.sleeve is not None:
        members += spline_members(torque, parts.spline, parts.stub, parts.sleeve)
    return Strength(abs(torque), tuple(members))


def joint_members(joint: JointEnd, load: JointLoad) -> Iterator[Member]:
    """Every member of one joint: cross, needles, both yokes, what clamps the caps."""
    softest = min(
        (yoke.made_of for yoke in joint.yokes), key=lambda m: m.bears, default=joint.cross
    )
    for found in trunnion_members(load, joint.trunnion, joint.cross, softest):
        yield _named(joint.name, found)
    if joint.needles is not None:
        yield _named(joint.name, needle_member(load, joint.needles, joint.cross))
    for yoke in joint.yokes:
        for found in ear_members(load, yoke.ear, yoke.made_of):
            yield _named(yoke.name, found)
        if yoke.cap is not None:
            for found in clamp_members(load, yoke.cap, yoke.bolts or yoke.made_of):
                yield _named(yoke.name, found)
        if yoke.flange is not None:
            for found in flange_members(load, yoke.flange, yoke.bolts or yoke.made_of):
                yield _named(yoke.name, found)


def _named(of: str, found: Member) -> Member:
    return replace(found, name=f"{of}: {found.name}")
