"""What grinding at the joints would take in place of another cure: slow, so only where asked."""

from collections.abc import Iterator
from dataclasses import dataclass

from geometry.contact.touch import TouchCurve
from geometry.errors import BindpointError
from geometry.relief import Relief, grindable, relief
from geometry.tolerances import TOL
from sim.assessment import Assessment
from sim.hardware.joint import JointHardware
from sim.remark import Remark
from sim.vehicle import Joint


@dataclass(frozen=True)
class Grinding:
    """Relief of one joint up to the worst bend it meets and the reserve wanted.

    Attributes
    ----------
    hardware : the joint.
    wanted : rad.
    found : every way to grind it; None where it cannot be planned.
    why : why it cannot, in the words of whoever refused it or as a remark.
    """

    joint: Joint
    wanted: float
    hardware: JointHardware | None
    found: Relief | None
    why: str | Remark = ""


def grinding(before: Assessment) -> Iterator[Grinding]:
    """Plan the relief of every joint that has less room than wanted; 10 to 20 s a joint."""
    for joint, found in before.joints.items():
        if found.margin >= before.reserve:
            continue
        hardware, curve = found.hardware, found.curve
        wanted = found.most + before.reserve
        if not isinstance(hardware, JointHardware):
            yield Grinding(joint, wanted, None, None, Remark("heads-not-ground"))
        elif wanted > TOL.bend_limit:
            yield Grinding(joint, wanted, hardware, None, Remark("bends-too-far", bend=wanted))
        else:
            yield _planned(joint, wanted, hardware, curve)


def _planned(joint: Joint, wanted: float, hardware: JointHardware, curve: TouchCurve) -> Grinding:
    try:
        found = relief(
            grindable(hardware.driving),
            grindable(hardware.driven),
            hardware.cross.contact,
            wanted,
            curve=curve,
        )
    except BindpointError as error:
        return Grinding(joint, wanted, hardware, None, str(error))
    return Grinding(joint, wanted, hardware, found)
