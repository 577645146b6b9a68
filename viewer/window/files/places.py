"""Asking where to write a file, and never over something else than an older one of its kind."""

from pathlib import Path

from viewer.window.kit.asker import BACK, Answer, Asker
from viewer.written.outputs import Kind, objection


def place_to_save(
    asker: Asker, title: str, suggestion: Path, kinds: str, ending: str, kind: Kind
) -> Path | None:
    """A place that may be written, with its ending; None when the user goes back.

    The dialog asks before it gives a name that is taken; where the ending was left out, that has
    to be asked here.
    """
    typed = asker.file_to_save(title, suggestion, kinds)
    if typed is None:
        return None
    path = typed if typed.suffix.lower() == ending else typed.with_name(f"{typed.name}{ending}")
    found = objection(path, kind)
    if found:
        asker.tell(
            "Not saved",
            f"{path} is {found}, not {kind.called}, and stays as it is. Choose another name.",
        )
        return None
    if path == typed or not path.exists():
        return path
    answer = asker.choose(
        title,
        f"{path} is there already.",
        (Answer("replace", "&Replace it", "What is in it now is lost."), BACK),
        "back",
    )
    return path if answer == "replace" else None
