"""Generic yokes of a shaft's tightest joint, and the throats that may as well be the true ones.

A yoke that is named by its kind alone, or not at all, has the dimensions of the catalogue. How far
its joint bends hangs on the depth of its throat more than on any other of them.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any, Final

from sim.assessment import Assessment
from sim.hardware.joint import JointHardware
from sim.rig import Rig
from sim.rig.defaults import THROAT_OFF
from sim.rig.typed_joints import typed_joint
from sim.vehicle import Joint

INCH: Final = 25.4

SAFE: Final = 2.0
"""Times the bend that a throat deeper by so much gives where what meets lies as far from the cross
center as the throat's floor; it may lie nearer, and it meets on a slant."""


@dataclass(frozen=True)
class Throat:
    """The throat of one generic yoke.

    Attributes
    ----------
    key : path at which its depth is typed.
    depth : of the catalogue, mm.
    tried : what is typed for each other depth, by key path: the yoke with its kind.
    """

    key: str
    depth: float
    tried: tuple[Mapping[str, Any], ...]


def generic_throats(rig: Rig, joint: Joint) -> tuple[str, ...]:
    """Key paths of the yokes of a joint whose throats nobody measured; none of a head.

    Nor of a joint that was read on the bench: its yokes are those of its readings.
    """
    end = typed_joint(rig, joint)
    if getattr(end.typed, "head", None) is not None or end.typed.bench:
        return ()
    return tuple(
        key
        for key, yoke in end.yokes.items()
        if yoke is not None and not yoke.is_own and "throat_depth" not in yoke.own
    )


def throats(found: Assessment) -> Iterator[Throat]:
    """Those of the joint that has the least left."""
    joint = tightest(found)
    hardware, end = found.joints[joint].hardware, typed_joint(found.rig, joint)
    if not isinstance(hardware, JointHardware):
        return
    generic = generic_throats(found.rig, joint)
    sources = (hardware.driving_from, hardware.driven_from)
    for (key, yoke), source in zip(end.yokes.items(), sources, strict=True):
        depth = getattr(source, "throat_depth", None)
        if key not in generic or depth is None:
            continue
        typed = yoke.model_dump(mode="json", by_alias=True, exclude_none=True)
        table = typed if isinstance(typed, dict) else {yoke.name_key: typed}
        others = (f"{(depth + by) / INCH:.2f} in" for by in (-THROAT_OFF, THROAT_OFF))
        tried = tuple({key: {**table, "throat_depth": other}} for other in others)
        yield Throat(f"{key}.throat_depth", depth, tried)


def may_turn(found: Assessment, throat: Throat) -> bool:
    """Whether so little more or less throat could turn the verdict on the tightest joint."""
    by = SAFE * (THROAT_OFF / throat.depth)
    return -by < found.joints[tightest(found)].margin < found.reserve + by


def tightest(found: Assessment) -> Joint:
    """The joint with the least left."""
    return min(found.joints, key=lambda joint: found.joints[joint].margin)
