"""How it stands with the cures, in words."""

from collections.abc import Collection

from viewer.session.cures.lines import CureList
from viewer.session.text.document import Document
from viewer.session.work.asking import Asking

HOW = (
    "Tries limit straps, shims, an output drop, other yokes, a double-Cardan head and the rest on "
    "this rig, alone and in pairs, and names the least of each that works, cheapest first. "
    "It takes some seconds."
)

AS_IT_WAS = "These are cures of the rig as it was before its last change: find them again."


RULED_ANEW = "What is ruled out has changed: find the cures again."


def cures_words(cures: Asking[CureList], document: Document, without: Collection[str] = ()) -> str:
    """What is being done, what the list is a list of, or why there is none.

    without : codes of the remedies that are ruled out now.
    """
    found = cures.answer
    if cures.is_computing:
        return f"{cures.what[:1].upper()}{cures.what[1:]} ..."
    if cures.state == "failed":
        bug = " This is a fault of the program, not of the rig." if cures.fault_is_bug else ""
        return f"No cures: {cures.fault}.{bug}"
    if found is None:
        return "Stopped. " * (cures.state == "stopped") + HOW
    if not found.is_of(document.text):
        return AS_IT_WAS
    return found.lead if set(found.without) == set(without) else f"{RULED_ANEW} {found.lead}"
