"""The joint of a rig that an inspection is of."""

from geometry.errors import BindpointError
from sim.rig.rig import Rig
from sim.seen.inspection import Inspection


class NoSuchJointError(BindpointError, ValueError):
    """An inspection of a joint that the rig does not have."""


def demand_joint(seen: Inspection, rig: Rig, file: str = "inspection") -> None:
    """Refuse an inspection of a joint that a rig does not have. Raises `NoSuchJointError`."""
    joint = seen.joint
    if joint is None:
        return
    if joint == "middle":
        if rig.carrier is None:
            raise NoSuchJointError(
                f'{file}: joint: came "middle", which this rig has not, since its shaft is of one '
                "piece; expected output or pinion"
            )
        is_head = False
    else:
        end = rig.shaft.output_end if joint == "output" else rig.shaft.pinion_end
        is_head = end.joint == "double"
    if seen.head_cross in {"outer", "inner"} and not is_head:
        raise NoSuchJointError(
            f'{file}: head_cross: came "{seen.head_cross}", yet the {joint} joint of this rig has '
            "one cross; expected single, or the key left out"
        )
    if seen.head_cross == "single" and is_head:
        raise NoSuchJointError(
            f'{file}: head_cross: came "single", yet the {joint} joint of this rig is a '
            "double-Cardan head; expected outer or inner"
        )
