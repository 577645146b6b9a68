"""From a rig to the shaft as strength sees it: generic materials, its own dimensions."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Final

from geometry.cross import CrossShape
from geometry.yoke import YokeShape
from sim.parts.catalogue import ordinary
from sim.parts.materials import material
from sim.parts.tube_section import TubeSection
from sim.remark import Remark
from sim.rig import Rig
from sim.rig.choice import YokeChoice
from sim.rig.fitted import fitted_cross, fitted_yoke, heads_of
from sim.rig.typed_joints import typed_joint, typed_joints
from sim.sizing.joint_size import NEEDLE, NEEDLES_CARRY, needles_of
from sim.strength import (
    BoltedCap,
    Ear,
    FlangeBolts,
    JointEnd,
    ShaftParts,
    Spline,
    Trunnion,
    WeldRing,
    YokeEnd,
)
from sim.strength.clamp import NUT_FACTOR
from sim.table.loads import TORQUE
from sim.ticket.slip_plan import SlipPlan
from sim.vehicle import Joint

TUBE, YOKE, CROSS, BOLTS = (
    "drawn steel tube",
    "forged yoke steel",
    "case-hardened cross steel",
    "bolt 10.9",
)
STUB, SLEEVE, WELD = "hardened spline steel", "forged yoke steel", "weld metal"

THROAT: Final = 2.0
"""mm. Least throat that common wire lays round a tube (from memory)."""

FLANGE_TIGHT: Final = 0.65
"""Share of its yield that a flange bolt is tightened to (from memory)."""

PITCH_SHARE: Final = 0.15
"""Pitch of a fine thread over its diameter (from memory)."""

TOOTH: Final = 0.07
"""Height over which a tooth's flank bears, over the spline's diameter (from memory)."""

JOINTS_ASSUMED: Final = (
    Remark("joint-materials", yoke=YOKE, cross=CROSS, bolts=BOLTS),
    Remark("needles-assumed", diameter=NEEDLE, share=NEEDLES_CARRY),
    Remark("flange-bolts-assumed", share=FLANGE_TIGHT),
)
"""What the strength of a joint rests on besides the rig."""

ASSUMED: Final = (
    *JOINTS_ASSUMED,
    Remark("shaft-materials", tube=TUBE, stub=STUB, sleeve=SLEEVE, weld=WELD),
    Remark("weld-assumed", throat=THROAT),
)
"""What a whole shaft's strength rests on besides the rig."""


@dataclass(frozen=True)
class ShaftSaid:
    """The parts of a shaft as strength sees them, and what of them is not known."""

    parts: ShaftParts
    missing: tuple[Remark, ...]
    crosses: tuple[Joint, ...]
    """Which joint of the rig each joint of `parts` belongs to: a head has two."""


def shaft_parts(rig: Rig, plan: SlipPlan, bends: Mapping[Joint, float]) -> ShaftSaid:
    """Everything of a rig that bears, each joint at a bend (rad)."""
    missing: list[Remark] = []
    ends: list[JointEnd] = []
    whose: list[Joint] = []
    for typed in typed_joints(rig):
        joint, shape = typed.joint, fitted_cross(typed.cross)
        made = [
            _yoke_end(rig, joint, shape, choice, key, missing)
            for key, choice in typed.yokes.items()
        ]
        kept = tuple(end for end in made if end is not None)
        for name, bend, pair in _crosses(rig, joint, bends[joint], kept):
            ends.append(
                JointEnd(name, bend, Trunnion.of(shape), material(CROSS), pair, needles_of(shape))
            )
            whose.append(joint)
    tube = rig.shaft.tube
    wall = tube.wall.mm
    section = TubeSection.of_wall(tube.outside.mm, wall)
    parts = ShaftParts(
        joints=tuple(ends),
        tube=section,
        tube_made_of=material(TUBE),
        weld=WeldRing(tube.outside.mm, max(wall, THROAT), wall),
        weld_made_of=material(WELD),
        spline=_spline(plan),
        stub=material(STUB),
        sleeve=material(SLEEVE),
    )
    return ShaftSaid(parts, tuple(missing), tuple(whose))


def _crosses(
    rig: Rig, joint: Joint, bend: float, yokes: tuple[YokeEnd, ...]
) -> list[tuple[str, float, tuple[YokeEnd, ...]]]:
    """One cross of a single joint, two of a head with the bend split between them."""
    output, pinion = heads_of(rig.shaft)
    head = {"output": output, "pinion": pinion}.get(joint)
    if head is None:
        return [(f"{joint} joint", bend, yokes)]
    split = head.split(bend)
    outer, inner = float(split.fixed), float(split.sliding)
    on_vehicle = [y for y in yokes if y.name.startswith(joint)]
    on_shaft = [y for y in yokes if not y.name.startswith(joint)]
    return [
        (f"{joint} joint, outer cross", outer, tuple(on_vehicle)),
        (f"{joint} joint, inner cross", inner, tuple(on_shaft)),
    ]


def _yoke_end(
    rig: Rig,
    joint: Joint,
    cross: CrossShape,
    choice: YokeChoice,
    key: str,
    missing: list[Remark],
) -> YokeEnd | None:
    if choice.is_own:
        missing.append(Remark("for-ears", key))
        return None
    shape = fitted_yoke(choice, cross, rig.shaft.tube)
    on_vehicle = "shaft" not in key.rsplit(".", maxsplit=1)[-1]
    kind = ordinary(choice.name)
    name = f"{joint} {kind}" if on_vehicle else f"shaft's {kind} at the {joint}"
    if key.endswith("front_yoke"):
        name = f"front section's {kind}"
    return YokeEnd(
        name=name,
        ear=Ear.of(shape),
        made_of=material(YOKE),
        cap=_strapped(rig, joint, missing) if shape.strapped else None,
        bolts=material(BOLTS),
        flange=_flange(shape),
    )


def _strapped(rig: Rig, joint: Joint, missing: list[Remark]) -> BoltedCap | None:
    """Bolts of the straps at a joint; None where the part maker's figures are not told.

    They go by the size of the bolt, so those of one joint say nothing of another.
    """
    found = typed_joint(rig, joint)
    table, end = found.table, found.typed
    if end.strap_bolt is None:
        missing.append(Remark("bolt-for-straps", f"{table}.strap_bolt"))
    if end.strap_nuts is None:
        missing.append(Remark("nuts-for-straps", f"{table}.strap_nuts"))
    if end.strap_bolt is None or end.strap_nuts is None:
        return None
    diameter = end.strap_bolt.mm
    return BoltedCap(diameter, PITCH_SHARE * diameter, TORQUE.sure(end.strap_nuts))


def _flange(shape: YokeShape) -> FlangeBolts | None:
    ring = shape.bolt_ring
    if ring is None or ring.count < 3:
        return None
    diameter, pitch = ring.diameter, PITCH_SHARE * ring.diameter
    loose = BoltedCap(diameter, pitch, 0.0, ring.count)
    tight = NUT_FACTOR * diameter * FLANGE_TIGHT * material(BOLTS).yields * loose.stress_area
    return FlangeBolts(BoltedCap(diameter, pitch, tight, ring.count), ring.circle)


def _spline(plan: SlipPlan) -> Spline | None:
    """The spline of the slip, with what stays engaged over the travel."""
    if plan.built_part is None or plan.built.engaged is None:
        return None
    shape = plan.built_part.shape
    diameter = shape.spline_diameter
    engaged = min(max(plan.built.engaged + plan.opening, 0.0), shape.spline_length)
    return Spline(
        pitch_diameter=(1.0 - TOOTH) * diameter,
        root_diameter=(1.0 - 2.0 * TOOTH) * diameter,
        teeth=round(shape.spline_teeth),
        tooth_height=TOOTH * diameter,
        engaged=engaged,
        opens=plan.opening,
    )
