"""Whether one joint of a rig was too small for what it got, and what bind and play add."""

from collections.abc import Iterator
from dataclasses import replace
from math import inf, isfinite, radians, sqrt
from types import MappingProxyType
from typing import Final

import numpy as np

from geometry.tolerances import TOL
from sim.assessment import Assessment, Assessor, JointAssessment
from sim.line import line
from sim.overload.duty import duty
from sim.overload.how import HowFailed, When
from sim.overload.knock import Knock, Train, knock
from sim.overload.lever import Lever, lever
from sim.overload.pulls import pulls_of
from sim.overload.result import AtBend, Overload
from sim.overload.root import FILLET, Root
from sim.overload.steel import steel_line
from sim.parts.materials import material
from sim.remark import Remark
from sim.rig import Rig
from sim.rig.fitted import fitted_cross
from sim.rig.typed_joints import typed_joint
from sim.seen.words import Use
from sim.sizing import ShaftTorque, smallest_joint
from sim.strength import ShaftParts, joint_load, shaft_strength
from sim.table.loads import KILOGRAM
from sim.ticket.drive_said import DriveSaid, drive_said
from sim.ticket.drive_torque import drive_torque, torque_assumed, torque_missing
from sim.ticket.shaft_parts import ASSUMED as PARTS_ASSUMED
from sim.ticket.shaft_parts import CROSS, shaft_parts
from sim.ticket.slip_plan import slip_plan
from sim.ticket.strength_of import SLIDES
from sim.vehicle import Joint

PAST: Final = radians(1.0)
"""How far past touch the axle is forced."""

HANGS: Final = 2200.0
"""N. Weight of an axle with its wheels, hanging free (from memory; of a light truck)."""

ENGINE: Final = 300.0
"""N mm s2, or 0.3 kg m2: engine, flywheel and clutch (from memory); half to twice of it."""

AXLE_SHAFTS: Final = 2.2e7
"""N mm/rad of both axle shafts together, at the wheels (from memory; of a light truck)."""

AXLE_RATIO: Final = 4.0
"""Where it is not said (from memory)."""

ASKED: Final = 1e6
"""N mm. Torque that strength is asked at where the rig tells none: what holds does not change."""

STEP: Final = 1.0
"""mm of travel either way, over which the bend's rate is taken."""


def overload(
    of: Rig | Assessment, joint: Joint, how: HowFailed | None = None, bend: float | None = None
) -> Overload:
    """Hold what one joint gets against what it takes.

    how : how it failed, as `how_failed` reads it off an inspection. bend : rad at which it did,
    where somebody knows.

    Raises
    ------
    NoSuchJointError
        For a joint that the shaft does not have.
    BindpointError
        When the rig's parts cannot be built.
    """
    found = of if isinstance(of, Assessment) else Assessor().assess(of)
    how = how or HowFailed()
    if bend is not None:
        how = replace(how, at="typed")
    rig = found.rig
    cross = fitted_cross(typed_joint(rig, joint).cross)
    said, swept = drive_said(rig), found.joints[joint]
    torque, use = drive_torque(said), how.use or _use(said)
    pulled = duty(use)
    bends: dict[When, float] = {"worst": swept.most, "ride": swept.ride}
    if bend is not None:
        bends["typed"] = bend
    shafts = {when: _parts(found, joint, min(b, TOL.bend_limit)) for when, b in bends.items()}
    roots = {
        when: Root.of(cross, max(end.bend for end in parts.joints))
        for when, (parts, _) in shafts.items()
    }
    peak = torque.peak
    at = {
        when: AtBend(
            bend=bends[when],
            strength=shaft_strength(parts, ASKED if peak is None else peak.value),
            pulls=pulls_of(roots[when], torque, pulled, steel_line(), material(CROSS)),
        )
        for when, (parts, _) in shafts.items()
    }
    failed, lacks = shafts[how.at or "worst"]
    shakes = _knock(found, said, torque, failed, how.play)
    pries = _lever(found, swept, failed)
    return Overload(
        joint=joint,
        cross=cross.name,
        fits=None if peak is None else _fits(peak.value, roots["worst"].bend),
        torque=torque,
        at=MappingProxyType(at),
        how=how,
        duty=pulled,
        knock=shakes,
        lever=pries,
        missing=(*torque_missing(said), *lacks),
        assumed=(
            *torque_assumed(said),
            *PARTS_ASSUMED,
            *(SLIDES if rig.shaft.slip.at == "output" else ()),
            *_assumed(how, use, None if peak is None else roots["worst"], shakes, pries),
        ),
    )


def _fits(torque: float, bend: float) -> str | None:
    """The smallest cross that takes a torque (N mm) at a bend (rad); None where none does."""
    size = smallest_joint(torque, bend)
    return None if size is None else size.name


def _use(said: DriveSaid) -> Use:
    """What the vehicle does, by what the rig is sized for."""
    return "trail" if said.words["use"] == "trail" else "street"


def _parts(found: Assessment, joint: Joint, bend: float) -> tuple[ShaftParts, tuple[Remark, ...]]:
    """The shaft with this one of its joints, at a bend (rad), and what of it is not known."""
    rig = found.rig
    bends = dict.fromkeys(found.joints, bend)
    said = shaft_parts(rig, slip_plan(rig, found.swept), bends)
    whole = said.parts
    ends = zip(said.crosses, whole.joints, strict=True)
    own = tuple(end for whose, end in ends if whose == joint)
    table = typed_joint(rig, joint).table
    return replace(whole, joints=own), tuple(r for r in said.missing if r.key.startswith(table))


def _knock(
    found: Assessment, said: DriveSaid, torque: ShaftTorque, parts: ShaftParts, play: float | None
) -> Knock | None:
    """What play (rad) adds, the torque that comes on being the steady one of the sizing.

    In the middle the wheels' side weighs what rests on this axle, and the spring lies between
    (geometric mean) the tube alone and the tube with the axle shafts behind the ratio. Least:
    those, and twice the engine. Most: the tube alone, wheels that stand, half of the engine.
    """
    steady = torque.steady
    if play is None or steady is None or said.lacks("low_gear"):
        return None
    ratio = said.number("axle_ratio", AXLE_RATIO)
    engine = ENGINE * (said.number("low_gear") * said.number("low_range")) ** 2
    rolls = said.number("axle_load") / KILOGRAM * (said.number("tyre_radius") / ratio) ** 2 / 1e3
    wheels = rolls if isfinite(rolls) else inf
    stiff = parts.tube.torsion_stiffness(found.swept.length_ride, parts.tube_made_of.shear_modulus)
    soft = 1.0 / (1.0 / stiff + ratio**2 / AXLE_SHAFTS)
    trains = (
        Train(engine, wheels, sqrt(stiff * soft)),
        Train(2.0 * engine, wheels, soft),
        Train(0.5 * engine, inf, stiff),
    )
    end = max(parts.joints, key=lambda end: end.bend)
    force = joint_load(1.0, end.bend, end.trunnion.arm).cap_force
    return knock(trains, steady.value, play, force)


def _lever(found: Assessment, swept: JointAssessment, parts: ShaftParts) -> Lever | None:
    """The joint forced past touch where it first touches, or else where it bends most."""
    vehicle, joint = found.vehicle, swept.joint
    first = swept.curve.first
    if joint in vehicle.still or joint in vehicle.heads or first is None:
        return None
    at = swept.first or swept.where
    travel = at.travel + np.array([-STEP, STEP])
    low, high = line(vehicle, travel, at.roll, at.wrap).bends[joint]
    rate = abs(float(high - low)) / (2.0 * STEP)
    (end,) = parts.joints
    return lever(
        end,
        (parts.tube, parts.tube_made_of),
        length=found.swept.length_ride,
        arm=float(np.linalg.norm(first.points.mean(axis=0))),
        past=PAST,
        # Going up it is the ground that pushes.
        weight=HANGS if at.travel <= 0.0 else inf,
        bends_by=rate if isfinite(rate) else 0.0,
        reached=not swept.margin > 0.0,
    )


def _assumed(
    how: HowFailed,
    use: Use,
    root: Root | None,
    shakes: Knock | None,
    pries: Lever | None,
) -> Iterator[Remark]:
    """What the numbers rest on that the rig does not tell; root : None where nothing pulls."""
    if root is not None:
        yield Remark("fatigue-assumed", fillet=FILLET, notch=root.notch())
        yield Remark("use-assumed", use=use) if how.use is None else Remark("duty-guessed", use=use)
    if shakes is not None:
        yield Remark("knock-assumed", engine=ENGINE / 1e3)
    if pries is not None and isfinite(pries.by_weight):
        yield Remark("hanging-axle-assumed", weight=HANGS)
