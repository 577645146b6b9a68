"""What a drive shows, in words that stand beside it."""

from viewer.session.moving.bind import BindDrive
from viewer.session.moving.drives import Drive
from viewer.session.moving.motion import Motion
from viewer.session.session import Session


def drive_words(session: Session, drive: Drive) -> str:
    """What it said where it stopped, else what it leaves out, else what happens in it."""
    said = session.motion.said or session.left_out(drive)
    if said or isinstance(drive, BindDrive):
        return said or f"{drive.says}."
    return f"{drive.name[:1].upper()}{drive.name[1:]}: {drive.says}."


def press_words(motion: Motion) -> tuple[str, str] | None:
    """What a press does to the drive that is on, and a tip on it; None while there is none."""
    if motion.playing:
        return "Pause", "Hold the axle here."
    if motion.stands:
        return "Push on", "Go on past first contact, to the worst."
    return None if motion.drive is None else ("Go on", "Go on with the drive.")


def offer_words(session: Session) -> tuple[str, str]:
    """The same, or else an offer to play the drive to the worst there is."""
    words = press_words(session.motion)
    if words is not None:
        return words
    worst = next(iter(session.binds), None)
    tip = "Drives the axle there and stops at it (Ctrl+D)."
    if worst is None or worst.finding.verdict != "touches":
        return "Show me the tightest spot", tip
    if worst.joint is not None:
        return "Show me where it binds", tip
    if worst.finding.subject == "slip":
        return "Show me where it runs out", tip
    return "Show me where it stops", tip
