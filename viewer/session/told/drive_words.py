"""What a drive shows, in words that stand beside it."""

from viewer.session.moving.bind import BindDrive
from viewer.session.moving.drives import Drive
from viewer.session.session import Session


def drive_words(session: Session, drive: Drive) -> str:
    """What it said where it stopped, else what it leaves out, else what happens in it."""
    said = session.motion.said or session.left_out(drive)
    if said or isinstance(drive, BindDrive):
        return said or f"{drive.says}."
    return f"{drive.name[:1].upper()}{drive.name[1:]}: {drive.says}."
