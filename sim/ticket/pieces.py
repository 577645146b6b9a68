"""The pieces of a shaft: each from joint centre to joint centre, with what its yokes take of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace

from geometry.cross import Cross
from geometry.yoke import Yoke
from sim.derive import ride_height_of, vehicle_of
from sim.hardware.head import EndHardware
from sim.head.bend import reach_of
from sim.line import line
from sim.parts.materials import Material
from sim.rig import Rig
from sim.rig.choice import YokeChoice
from sim.vehicle import RIDE, Joint

NOT_CARRIED = ("mating flange", "seal housing")
"""Parts shown with a yoke that are not its own metal."""


@dataclass(frozen=True)
class PieceEnd:
    """One end of a piece.

    Attributes
    ----------
    joint : the joint it hangs on.
    yoke : its kind, as the rig names it: "deep-throat weld yoke".
    land : mm, from the yoke's own cross centre to where the tube seats; None where it has no weld.
        Where a carrier bearing holds the end, from the middle of the bearing; None if not known.
    reach : mm, from the joint centre to that cross: 0 but for a double-Cardan head.
    volume : mm3, of the yoke with its caps and half of the cross.
    beyond : mm, from the joint centre to the carrier bearing; 0 where none holds the end.
    """

    joint: Joint
    yoke: str
    land: float | None
    reach: float
    volume: float
    beyond: float = 0.0

    @property
    def where(self) -> str:
        """Which end that is, in front of a part's name: "output-end", "middle-joint"."""
        return "middle-joint" if self.joint == "middle" else f"{self.joint}-end"

    @property
    def to_tube(self) -> float | None:
        """From the joint centre to the end of the tube, mm."""
        return None if self.land is None else self.reach + self.beyond + self.land

    def mass(self, made_of: Material) -> float:
        """Kg."""
        return self.volume * made_of.density


@dataclass(frozen=True)
class Piece:
    """One piece of the shaft: a one-piece shaft, or either section of a two-piece one."""

    name: str
    length: float
    """Joint centre to joint centre at ride height, mm."""
    first: PieceEnd
    last: PieceEnd
    phase: float = 0.0
    """Turn of the ears at its last end against those at its first, rad, right-handed about the way
    from the output to the pinion."""

    @property
    def lands(self) -> float | None:
        """What both yokes take of it, mm; None where one of them has no weld."""
        first, last = self.first.to_tube, self.last.to_tube
        return None if first is None or last is None else first + last


def pieces_of(rig: Rig, parts: Mapping[Joint, EndHardware]) -> tuple[Piece, ...]:
    """The pieces from the output to the pinion, at ride height."""
    vehicle, ride, carrier = vehicle_of(rig), ride_height_of(rig), rig.carrier
    state = line(vehicle, RIDE.travel, RIDE.roll, RIDE.wrap)

    def end(joint: Joint, body: str, named: YokeChoice) -> PieceEnd:
        reach = float(reach_of(vehicle.heads.get(joint), state.bends[joint]))
        return _end(parts[joint], body, named.name, reach)

    output = end("output", "driven", rig.shaft.output_end.shaft_yoke)
    pinion = end("pinion", "driving", rig.shaft.pinion_end.shaft_yoke)
    if ride.section is None or carrier is None:
        return (Piece("shaft", ride.length, output, pinion, vehicle.phase),)
    held = replace(
        end("middle", "driving", carrier.middle.front_yoke),
        land=None if carrier.bearing_stub is None else carrier.bearing_stub.mm,
        beyond=carrier.middle_joint_beyond.mm,
    )
    behind = end("middle", "driven", carrier.middle.shaft_yoke)
    return (
        Piece("front section", ride.section.length, output, held, ride.section.phase),
        Piece("rear section", ride.length, behind, pinion, vehicle.phase),
    )


def _end(parts: EndHardware, body: str, named: str, reach: float) -> PieceEnd:
    yoke = parts.driving if body == "driving" else parts.driven
    return PieceEnd(parts.joint, named, yoke.tube_from, reach, _volume(yoke, parts.cross))


def _volume(yoke: Yoke, cross: Cross) -> float:
    metal = sum(mesh.volume for name, mesh in yoke.parts.items() if name not in NOT_CARRIED)
    return metal + 0.5 * cross.parts["cross"].volume
