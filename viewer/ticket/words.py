"""Quantities of a build ticket as a shop says them."""

from sim.parts.catalogue import cross_sizes
from sim.ticket.ticket import Ticket
from viewer.words.lines import WIDTH
from viewer.words.remarks import said
from viewer.words.units import format_fraction


def row(name: str, mm: float) -> str:
    """A line of the cut list: fraction, decimals, mm."""
    return f"  {name:<62}{format_fraction(mm):>12}{mm / 25.4:>10.3f}{mm:>10.1f}"


def cross_name(name: str) -> str:
    """A cross as named, with its other name: "27 x 82 (1310)", "1310 (27 x 82)"."""
    for size in cross_sizes():
        others = (size.name,) if name in size.aliases else size.aliases
        if name in (size.name, *size.aliases) and others:
            return f"{name} ({', '.join(others)})"
    return name


def missing_words(ticket: Ticket) -> dict[str, str]:
    """What the rig does not say: by key, all that cannot be told without it."""
    return {key: "; ".join(map(said, whys)) for key, whys in ticket.missing.items()}


def sentence(text: str) -> str:
    """A line with its stop at the end."""
    return text if text.endswith(("?", ".")) else f"{text}."


def blanks(*names: str) -> str:
    """One line with a blank to write on after each name, alike in width."""
    each = (WIDTH - 2) // len(names)
    return "  " + " ".join(f"{name} {'_' * (each - len(name) - 2)}" for name in names)
