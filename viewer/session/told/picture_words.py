"""What stands under a picture of a session: the rig, the date, and what holds in the pose."""

from collections.abc import Iterator
from datetime import date

from sim.check import Check
from viewer.session.session import Session
from viewer.session.told.state_words import OLD, is_old
from viewer.words.assumed import assumed_words
from viewer.words.bench import fitted_says
from viewer.words.measured import measured_words, parts_words
from viewer.words.now import now_told, now_word
from viewer.words.poses import pose_words
from viewer.words.verdicts import CAUTION, check_word
from viewer.written.caption import Caption, Side


def picture_title(session: Session) -> str:
    """The rig and today's date."""
    return f"{session.document.rig.name} \N{BULLET} {date.today():%d %b %Y}"


def picture_side(session: Session, name: str = "") -> Side:
    """What holds in the pose, under the picture called so.

    Raises RuntimeError while nothing is known.
    """
    now, check = session.now, session.check
    if now is None or check is None:
        raise RuntimeError("no picture: nothing is known of this pose yet")
    whole = check.verdict, check_word(check)
    return Side(now.verdict, now_word(now), *whole, now_told(now), name)


def picture_caption(session: Session) -> Caption:
    """What stands under a picture of the window. Raises RuntimeError while nothing is known."""
    side, motion, check = picture_side(session), session.motion, session.check
    pose = pose_words(motion.at)
    notes = [f"{OLD}: another is on its way." if is_old(session) else "", f"Pose: {pose}."]
    if check is not None:
        notes += basis_notes(session, check)
    return Caption(picture_title(session), (side,), tuple(filter(None, notes)), CAUTION)


def cure_note(session: Session) -> str:
    """The cure that is in the rig, if it is one of those that were found; "" for none."""
    found = session.cures.answer
    tried = None if found is None else found.tried(session.document.text)
    if found is None or tried is None:
        return ""
    return f"The cure, by calculation, not yet built: {found.cures[tried].says}"


def basis_notes(session: Session, check: Check) -> Iterator[str]:
    """What was measured, named and assumed for an answer, the joint that is looked at first."""
    yield measured_words(check.rig)
    parts = parts_words(check.rig, session.strip_joint)
    yield from [parts] if parts else []
    if check.joints[session.strip_joint].hardware.fitted:
        yield fitted_says(session.strip_joint)
    yield assumed_words(check.findings[0]) or NOTHING_ASSUMED


NOTHING_ASSUMED = "Assumed: nothing that this rests on."
