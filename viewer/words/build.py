"""Quantities of a build ticket as a shop says them."""

from sim.parts.catalogue import cross_sizes
from sim.ticket.cut_list import Cut
from sim.ticket.ticket import Ticket
from viewer.words.bench import fitted_says
from viewer.words.remarks import said
from viewer.words.units import format_fraction, turned

TICKET_CAUTION = (
    "Parts and materials are generic unless measured. Before cutting, measure the yokes and the "
    "slip in your hand, and the truck once more. Strength is of nominal sections, without notches, "
    "fatigue or wear."
)


GIVE_OR_TAKE = "give or take"
"""Of a number on a ticket: how far off it may be, either way."""


def row(name: str, mm: float) -> list[str]:
    """A line of the cut list: fraction, decimals, mm."""
    return [f"  {name:<62}{format_fraction(mm):>12}{mm / 25.4:>10.3f}{mm:>10.1f}"]


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


def picture_note(ticket: Ticket) -> str:
    """What stands under the drawing of the pieces."""
    tube = ticket.rig.shaft.tube
    fitted = [j for j, each in ticket.found.joints.items() if each.hardware.fitted]
    which = "".join(f" {fitted_says(joint)}" for joint in fitted)
    return (
        f"Tube {tube.outside} x {tube.wall} wall. Bold: sawn. Along the shaft to scale, across "
        "not. A circle with a dot is a joint center, the middle of the cross\n(of a double-Cardan "
        "head, its ball): lengths run from there, along the shaft, with the weight on the wheels; "
        "never from a flange face or an ear.\nGeneric parts unless measured: measure yours before "
        f"cutting.{which} It certifies nothing."
    )


def ears_words(cut: Cut) -> str:
    """A piece and how its ears stand, above its drawing."""
    ears = turned(cut.piece.phase)
    if ears != "in line":
        ears = f"at the {cut.piece.last.joint} joint turned {ears}, seen from the output"
    return f"{cut.piece.name.capitalize()}, ears {ears}"
