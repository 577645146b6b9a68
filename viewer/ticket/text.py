"""The build ticket as text: what to cut first, then what the shaft bears, and what is not known."""

from collections.abc import Iterator
from textwrap import wrap

from sim.ticket.drive_torque import USE_NOT_SAID
from sim.ticket.ticket import STOPS, Ticket
from viewer.ticket.cut_text import cut_lines, slip_lines, tape_lines
from viewer.ticket.drive_text import (
    balance_lines,
    shaking_lines,
    speed_lines,
    strength_lines,
    torque_lines,
)
from viewer.ticket.owner_text import joints_lines, near_lines, owner_lines
from viewer.ticket.shop_text import blank_lines, weld_lines
from viewer.ticket.words import missing_words, sentence
from viewer.words.lines import WIDTH, item
from viewer.words.remarks import said
from viewer.words.verdicts import CAUTION

TICKET_CAUTION = (
    "Generic parts and materials unless measured: measure the yokes and the slip in your hand, and "
    "the vehicle once more, before cutting. Strength is of nominal sections, without notches, "
    "fatigue or wear."
)


def build_text(ticket: Ticket) -> str:
    """Everything on the ticket."""
    return "\n".join(_lines(ticket))


def _lines(ticket: Ticket) -> Iterator[str]:
    yield ticket.rig.name
    yield "BUILD TICKET  at ride height, for the rig as described"
    yield from blank_lines()
    if ticket.flags:
        yield ""
    # What the use is changes every torque below, so its doubt comes before all else.
    first = dict.fromkeys(STOPS, 1) | {USE_NOT_SAID: 0}
    for flag in sorted(ticket.flags, key=lambda flag: first.get(flag.code, 2)):
        yield from item(f"  {'!!' if flag.code in STOPS else ' ~'} {sentence(said(flag))}", "     ")
    yield from cut_lines(ticket)
    yield from tape_lines(ticket)
    yield from slip_lines(ticket)
    yield from weld_lines(ticket)
    yield from owner_lines(ticket)
    yield from joints_lines(ticket)
    yield from near_lines(ticket)
    yield from torque_lines(ticket)
    yield from strength_lines(ticket)
    yield from speed_lines(ticket)
    yield from shaking_lines(ticket.speed)
    yield from balance_lines(ticket)
    titled: tuple[tuple[str, list[str]], ...] = (
        ("Not told, since the rig file does not say it", _missing(ticket)),
        ("Taken from [wrap.drive], where [drive] does not say it", _borrowed(ticket)),
        (
            "Worked out from what was typed",
            [said(each.remark) for each in ticket.derivation.derived],
        ),
        ("Assumed, generic: measure yours", [said(each) for each in ticket.assumed]),
        ("Odd, worth a second look", [said(note) for note in ticket.derivation.notes]),
    )
    for title, lines in titled:
        if lines:
            yield ""
            yield f"{title}:"
            for line in lines:
                yield from item(f"  - {line}")
    yield ""
    yield from wrap(TICKET_CAUTION, WIDTH)
    yield from wrap(CAUTION, WIDTH)


def _missing(ticket: Ticket) -> list[str]:
    return [f"{key}: {why}" for key, why in missing_words(ticket).items()]


def _borrowed(ticket: Ticket) -> list[str]:
    return [", ".join(ticket.drive.borrowed)] if ticket.drive.borrowed else []
