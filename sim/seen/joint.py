"""The joint of a rig that an inspection is of."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from sim.parts.catalogue import yoke_class
from sim.rig.choice import YokeChoice
from sim.rig.rig import Rig
from sim.rig.typed_joints import NoSuchJointError, TypedJoint, typed_joint, typed_joints
from sim.seen.inspection import Inspection
from sim.seen.words import YokeName


def demand_joint(seen: Inspection, rig: Rig, file: str = "inspection") -> None:
    """Refuse an inspection of a joint that a rig does not have. Raises `NoSuchJointError`."""
    if seen.joint is None:
        return
    known = [each.joint for each in typed_joints(rig)]
    if seen.joint not in known:
        raise NoSuchJointError(
            f'{file}: joint: came "{seen.joint}", a joint that this rig does not have, since its '
            f"shaft has no carrier bearing; expected {' or '.join(known)}"
        )
    head = is_head(rig, seen)
    if seen.head_cross is not None and head is (seen.head_cross == "single"):
        has = "is a double-Cardan head" if head else "has one cross"
        right = "outer or inner" if head else "single, or the key left out"
        raise NoSuchJointError(
            f'{file}: head_cross: came "{seen.head_cross}", yet the {seen.joint} joint of this rig '
            f"{has}; expected {right}"
        )


def typed_of(seen: Inspection, rig: Rig) -> TypedJoint | None:
    """The parts of the joint as the rig has them; None where nobody said which joint it is.

    Raises `NoSuchJointError`.
    """
    return None if seen.joint is None else typed_joint(rig, seen.joint)


def is_head(rig: Rig, seen: Inspection) -> bool:
    """Whether the joint is a double-Cardan head. Raises `NoSuchJointError`."""
    end = typed_of(seen, rig)
    return end is not None and getattr(end.typed, "joint", "single") == "double"


def yokes_of(seen: Inspection, rig: Rig) -> Mapping[YokeName, YokeChoice]:
    """The two yokes as the rig has them, by the names of the inspection; empty where not known.

    A head's own yokes come with the head. Raises `NoSuchJointError`.
    """
    end = typed_of(seen, rig)
    if end is None or is_head(rig, seen):
        return {}
    return end.by_side


def has_straps(seen: Inspection, rig: Rig) -> bool:
    """Whether straps, U-bolts or bolted caps may hold a cap of the joint; so too where it is open.

    Raises `NoSuchJointError`.
    """
    typed = yokes_of(seen, rig)
    if not typed:
        return not is_head(rig, seen)
    return may_strap(typed.values())


def may_strap(yokes: Iterable[YokeChoice]) -> bool:
    """Whether one of some yokes has straps, U-bolts or bolted caps; a scanned one may."""
    return any(each.is_own or yoke_class(each.name).strapped for each in yokes)
