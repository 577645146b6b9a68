"""Names and places of what is written: plain letters that every file system takes."""

from pathlib import Path

from viewer.session.text.document import Document

LONGEST = 80
"""Letters of a name."""


def plain_name(words: str) -> str:
    """Words as the name of a file: "Wagon, rear (new)" becomes "wagon-rear-new"."""
    plain = "".join(c if c.isalnum() else "-" for c in words.lower())
    return "-".join(filter(None, plain.split("-")))[:LONGEST]


def beside(document: Document, words: str, ending: str) -> Path:
    """Where something about a rig would be written: beside its file, else in the home folder."""
    folder = document.path.parent if document.path is not None else Path.home()
    return folder / f"{plain_name(f'{document.rig.name} {words}')}{ending}"
