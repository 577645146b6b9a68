"""A program that works on a rig, keeps the unsaved text and then waits to be killed."""

import sys
from pathlib import Path

from tests.viewer.session.conftest import Scripted
from viewer.session.kept.recovery import Autosave
from viewer.session.session import Session
from viewer.session.text.document import Document


def main(rig: Path, folder: Path, *edits: str) -> None:
    """Open a rig, type `key=value` edits, keep the text, say so, wait."""
    session = Session(Document.open(rig), Scripted())
    autosave = Autosave(session, folder)
    for edit in edits:
        key, value = edit.split("=")
        session.document.set({key: value})
    autosave.write()
    autosave.wait()
    sys.stdout.write("kept\n")
    sys.stdout.flush()
    sys.stdin.read()


if __name__ == "__main__":
    main(Path(sys.argv[1]), Path(sys.argv[2]), *sys.argv[3:])
