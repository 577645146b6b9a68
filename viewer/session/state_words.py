"""The state of a pose and of the answer, in words; what a window and a test both read."""

from collections.abc import Iterator
from math import degrees, isnan

from sim.findings import Finding
from sim.units import format_length, format_missing
from sim.vehicle import Joint
from viewer.session.pose_now import JointNow, PoseNow, left_words
from viewer.session.session import Session
from viewer.session.strip_words import gap_words
from viewer.words import meeting_words, says

UNKNOWN = "..."
"""Where something is still being found."""


def bend_words(joint: JointNow) -> str:
    """Bend of a joint and what is left of it at any turn."""
    return f"bends {degrees(joint.bend):.1f} deg, {left_words(joint.left_any)}"


def room_words(session: Session, name: Joint) -> str:
    """Gap at a joint at this very turn; dots until it is known."""
    gap = session.gaps.get(name)
    if gap is None:
        return f"gap {UNKNOWN}"
    return "no gap: metal in metal" if gap.overlaps else f"gap {gap_words(gap.distance)}"


def nearest_words(session: Session, name: Joint) -> str:
    """What is nearest to what at a joint; dots until it is known."""
    gap, check = session.gaps.get(name), session.check
    if gap is None or check is None:
        return f"nearest: {UNKNOWN}"
    lead = "in each other" if gap.overlaps else "nearest"
    return f"{lead}: {meeting_words(gap.surfaces, check.joints[name].hardware.names(gap))}"


def slip_words(now: PoseNow) -> str:
    """What is left of the slip both ways."""
    parts = []
    for left, way, past in (
        (now.closes_left, "to close", "bottomed by"),
        (now.opens_left, "to open", "short of spline by"),
    ):
        parts.append(
            f"{format_length(left)} {way}" if left > 0.0 else f"{past} {format_missing(-left)}"
        )
    return "\n".join(parts)


def length_words(now: PoseNow) -> str:
    """Length between the joints."""
    return "" if isnan(now.length) else f"{format_length(now.length)} joint to joint"


def finding_words(number: int, finding: Finding) -> str:
    """A finding with its number, which is that of its mark on the travel map."""
    return f"{number}. {says(finding)}"


def answer_words(session: Session) -> str:
    """Whether the answer is that of the rig as it stands, and if not, why; "" when it is."""
    return " ".join(_answer(session))


def _answer(session: Session) -> Iterator[str]:
    answers = session.answers
    if answers.state in ("fresh", "none") and answers.check is not None:
        return
    old = answers.check is not None
    if answers.state == "computing":
        yield f"{'Old answer' if old else 'No answer yet'}; computing: {answers.what}."
        return
    yield "Old answer:" if old else "No answer:"
    if answers.state == "failed":
        yield f"{answers.fault}."
        if answers.fault_is_bug:
            yield "This is a fault of the program, not of the rig."
    elif answers.state == "stopped":
        yield "computing was stopped."
    elif session.document.problems:
        problems = session.document.problems
        yield f"the rig is not right just now. {problems[0].says}."
        if len(problems) > 1:
            yield f"And {len(problems) - 1} more."
    else:
        yield "nothing was asked yet."
