"""What a vehicle says while the questions about one of its joints are put."""

from collections.abc import Mapping

from geometry.errors import BindpointError
from sim.assessment import Assessor
from sim.causes import CauseCode, SignCode
from sim.rig import Rig
from sim.seen import Inspection
from sim.vehicle import Joint
from sim.why.case import Case
from sim.why.evidence import from_the_rig
from sim.why.why import priors_of, weigh
from viewer.why.confirmed import settled_joints
from viewer.why.told import told_of


class Vehicle:
    """What the rig itself says of a joint, worked out once for each joint.

    name : of its file, or demo:NAME, for the commands that are told.
    """

    def __init__(self, rig: Rig, name: str) -> None:
        self._rig, self._name = rig, name
        self._settled = settled_joints(None)
        self._assessor = Assessor()
        self._cases: dict[Joint, Case | None] = {}
        self._said: dict[Joint, Mapping[SignCode, bool]] = {}

    def says(self, seen: Inspection) -> Mapping[SignCode, bool]:
        """Signs that the rig says; none where it cannot be worked out."""
        case = self._case(seen)
        if case is None:
            return {}
        if case.joint not in self._said:
            self._said[case.joint] = {each.code: each.says for each in from_the_rig(case)}
        return self._said[case.joint]

    def priors(self, seen: Inspection) -> Mapping[CauseCode, float]:
        """How likely some causes are before anything is seen, where that is not the trade's."""
        case = self._case(seen)
        return {} if case is None else priors_of(case, self._settled)

    def word(self, seen: Inspection) -> str:
        """What is said at the counter so far; "" where nothing can be."""
        case = self._case(seen)
        if case is None:
            return ""
        try:
            told = told_of(weigh(case, seen, self._settled), self._name).counter
        except BindpointError:  # readings that no cap can have, signs that contradict one another
            return ""
        return "\n".join(f"  {line}" for line in told if not line.startswith("Not looked at"))

    def _case(self, seen: Inspection) -> Case | None:
        if seen.joint is None:
            return None
        if seen.joint not in self._cases:
            try:
                self._cases[seen.joint] = Case(self._assessor.assess(self._rig), seen.joint)
            except BindpointError:
                self._cases[seen.joint] = None  # the questions do without
        return self._cases[seen.joint]
