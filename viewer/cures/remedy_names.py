"""Remedies by the names that people give them."""

from collections.abc import Iterable

from sim.cures import REMEDIES
from viewer.written.files import AskedError


def remedies_named(names: Iterable[str]) -> tuple[str, ...]:
    """Codes of the remedies meant; a part of a name will do where only one remedy has it.

    Raises AskedError, with every remedy there is, for a name that none or several have.
    """
    return tuple(dict.fromkeys(_meant(name) for name in names))


def _meant(name: str) -> str:
    codes = [remedy.code for remedy in REMEDIES]
    words = name.strip().lower().replace("_", "-").replace(" ", "-")
    if words in codes:
        return words
    meant = [code for code in codes if words and f"-{words}-" in f"-{code}-"]
    if len(meant) == 1:
        return meant[0]
    which = "which several are" if meant else "which is no remedy"
    raise AskedError(f"--without: came {name}, {which}, expected one of {', '.join(codes)}")
