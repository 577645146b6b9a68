"""Whether a joint was bent on the bench, and which: the two questions before its readings."""

from collections.abc import Sequence

from sim.vehicle import Joint
from viewer.interview.answers import choice
from viewer.interview.question import Question
from viewer.interview.talk import Ask, EndedError, Talk, Tell

NO = "no"
_WHAT = (
    "yes: you have, or can take, the bend at which the joint touches in a vise; its yokes are then "
    "fitted to your readings. no: they are as you named them, or generic."
)
_WHICH = "One at a time; bindpoint yoke with --bench takes readings of another one later."


def joint_on_the_bench(ask: Ask, tell: Tell, joints: Sequence[Joint]) -> Joint | None:
    """Ask which of these joints was read on the bench; None where none was, or nobody says."""
    if not joints:
        return None
    try:
        joint = _Whether(ask, tell, joints).hold()
    except (EOFError, EndedError):
        return None
    return next((each for each in joints if each == joint), None)


class _Whether(Talk[str]):
    """Both questions; what comes of them is a joint, or `NO`."""

    def __init__(self, ask: Ask, tell: Tell, joints: Sequence[Joint]) -> None:
        super().__init__(ask, tell, remembers=True)
        self._joints = joints

    def next(self) -> Question | None:
        """Whether, and after a yes which, unless there is but one."""
        if "bent" not in self.answered:
            read = choice("bent", {"yes": True, NO: False})
            return Question("bent", "Did you bend a joint on the bench?", "", read, _WHAT, NO)
        if not self.said().get("bent") or len(self._joints) == 1 or "joint" in self.answered:
            return None
        asks = f"Which joint, {' or '.join(self._joints)}?"
        read = choice("joint", {joint: joint for joint in self._joints})
        return Question("joint", asks, "", read, _WHICH, self._joints[-1])

    def made(self) -> str:
        """The joint, the last one where Enter alone was typed."""
        said = self.said()
        return str(said.get("joint", self._joints[-1])) if said.get("bent") else NO
