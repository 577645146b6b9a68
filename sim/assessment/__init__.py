"""What a rig comes to over its travel: each joint, the slip, the reach; one object all read."""

from sim.assessment.assessment import Assessment, JointAssessment
from sim.assessment.assessor import Assessor
from sim.assessment.joint_room import JointRoom, Short
from sim.assessment.limits import Limits

__all__ = ["Assessment", "Assessor", "JointAssessment", "JointRoom", "Limits", "Short"]
