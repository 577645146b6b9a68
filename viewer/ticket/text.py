"""The build ticket as text: what to cut first, then what the shaft bears, and what is not known."""

from collections.abc import Callable, Iterable, Iterator
from textwrap import wrap
from typing import Final

from sim.ticket.drive_torque import USE_NOT_SAID
from sim.ticket.ticket import STOPS, Ticket
from viewer.words.bars import sure_words
from viewer.words.basis import basis_lines
from viewer.words.build import TICKET_CAUTION, missing_words
from viewer.words.build_cut import cut_lines, cut_title, slip_lines, slip_title, tape_lines
from viewer.words.build_drive import (
    balance_lines,
    balance_title,
    shaking_lines,
    speed_lines,
    strength_lines,
    torque_lines,
)
from viewer.words.build_owner import joints_lines, near_lines, near_title, owner_lines
from viewer.words.build_shop import blank_lines, weld_lines
from viewer.words.lines import WIDTH, Entry, item, listed, section, stopped
from viewer.words.remarks import said
from viewer.words.verdicts import CAUTION

_SECTIONS: Final[
    tuple[tuple[str | Callable[[Ticket], str], Callable[[Ticket], Iterable[Entry]]], ...]
] = (
    (cut_title, cut_lines),
    ("TAPE CHECK  on the truck at ride height, straight between", tape_lines),
    (slip_title, slip_lines),
    (
        "WELD AND FINISH  common practice, no source; the maker's word goes before it",
        weld_lines,
    ),
    ("FOR THE OWNER", owner_lines),
    ("JOINTS", joints_lines),
    (near_title, near_lines),
    ("TORQUE IN THE SHAFT", torque_lines),
    ("STRENGTH", strength_lines),
    ("SPEED", speed_lines),
    ("SHAKING, at ride height", shaking_lines),
    (balance_title, balance_lines),
)
"""The title of each section, or what makes it, and what stands under it."""


def build_text(ticket: Ticket) -> str:
    """Everything on the ticket."""
    return "\n".join(_lines(ticket))


def _lines(ticket: Ticket) -> Iterator[str]:
    yield ticket.rig.name
    yield "BUILD TICKET  at ride height, for the rig as described"
    yield from section("", blank_lines(ticket))
    yield from section("", _flags(ticket))
    if ticket.sure is not None:
        yield from section("", [sure_words(ticket.sure.bars, ticket.sure.doubts)])
    for title, lines in _SECTIONS:
        yield from section(title if isinstance(title, str) else title(ticket), lines(ticket))
    missing = [f"{key}: {why}" for key, why in missing_words(ticket).items()]
    yield from listed("Not told, since the rig file does not say it", missing)
    borrowed = filter(None, [", ".join(ticket.drive.borrowed)])
    yield from listed("Taken from [wrap.drive], where [drive] does not say it", borrowed)
    yield from basis_lines(ticket.derivation, ticket.assumed)
    yield ""
    yield from wrap(TICKET_CAUTION, WIDTH)
    yield from wrap(CAUTION, WIDTH)


def _flags(ticket: Ticket) -> Iterator[Entry]:
    """What is odd or impossible; what the use is comes first, since every torque hangs on it."""
    first = dict.fromkeys(STOPS, 1) | {USE_NOT_SAID: 0}
    for flag in sorted(ticket.flags, key=lambda flag: first.get(flag.code, 2)):
        mark = "!!" if flag.code in STOPS else " ~"
        yield item(f"  {mark} {stopped(said(flag))}", " " * 5)
