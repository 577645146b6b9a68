"""The state of a pose and of the answer, in words; what a window and a test both read."""

from collections.abc import Iterator

from sim.findings import Finding
from sim.vehicle import Joint
from viewer.session.charts.turn_strip import verdict_here
from viewer.session.session import Session
from viewer.words.findings import says
from viewer.words.meeting import meeting_words
from viewer.words.now import gap_words, now_limit, now_word
from viewer.words.problems import problem_words

UNKNOWN = "..."
"""Where something is still being found."""


OLD = "OLD ANSWER"
"""What stands before a verdict that is not that of the rig as it stands."""


def is_old(session: Session) -> bool:
    """Whether what is known is not the answer to the rig as it stands."""
    return session.check is not None and session.answers.state != "fresh"


def pose_headline(session: Session) -> str:
    """What holds in this pose: the verdict as a word, and the number that decides it."""
    now = session.now
    return "No answer yet." if now is None else _head(session, now_word(now), now_limit(now))


def travel_headline(session: Session) -> str:
    """The same of the whole travel; "" while there is no answer."""
    page = session.first.page
    return "" if page is None else _head(session, page.word, page.says)


def _head(session: Session, word: str, said: str) -> str:
    return f"{OLD}: {word.lower()}; {said}" if is_old(session) else f"{word}: {said}"


def turn_words(session: Session, name: Joint) -> str:
    """Gap at a joint at this very turn; dots until it is known."""
    gap = session.gaps.get(name)
    if gap is None:
        return f"at this turn: {UNKNOWN}"
    room = "metal in metal" if gap.overlaps else f"gap {gap_words(gap.distance)}"
    now = session.now
    joint = None if now is None else now.joints.get(name)
    touches = joint is not None and verdict_here(joint, gap) == "touches"
    return f"at this turn: {'metal touches, ' if touches and not gap.overlaps else ''}{room}"


def nearest_words(session: Session, name: Joint) -> str:
    """What is nearest to what at a joint; dots until it is known."""
    gap, check = session.gaps.get(name), session.check
    if gap is None or check is None:
        return f"nearest: {UNKNOWN}"
    lead = "in each other" if gap.overlaps else "nearest"
    return f"{lead}: {meeting_words(gap.surfaces, check.joints[name].hardware.names(gap))}"


def finding_words(number: int, finding: Finding) -> str:
    """A finding with its number, which is that of its mark on the travel map."""
    return f"{number}. {says(finding)}"


def answer_words(session: Session) -> str:
    """Whether the answer is that of the rig as it stands, and if not, why; "" when it is."""
    return " ".join(_answer(session))


def _answer(session: Session) -> Iterator[str]:
    answers = session.answers
    if answers.state in ("fresh", "none") and answers.answer is not None:
        return
    old = answers.answer is not None
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
        yield f"the rig is not right just now. {problem_words(problems[0])}."
        if len(problems) > 1:
            yield f"And {len(problems) - 1} more."
    else:
        yield "nothing was asked yet."
