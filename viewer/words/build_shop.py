"""The build ticket in words: what a hand fills in, and what the shop heeds as it builds.

Every limit here is common practice without a source; a maker's own goes before it.
"""

from collections.abc import Iterator

from sim.rig import Rig
from sim.rig.typed_joints import typed_joint
from sim.table.loads import TORQUE
from sim.ticket.ticket import Ticket
from sim.vehicle import Joint
from viewer.words.lines import Entry, blanks
from viewer.words.units import torque as torque_words

RUNOUT = "0.020 in (0.5 mm)"
STUB_RUNOUT = "0.003 in (0.08 mm)"
FACE_RUNOUT = "0.005 in (0.13 mm)"


def blank_lines(_: Ticket) -> Iterator[Entry]:
    """Lines to fill in by hand, at the head of the ticket."""
    yield blanks("Order", "Customer", "Date")
    yield blanks("Built by", "Checked by", "Serial")


def weld_lines(ticket: Ticket) -> Iterator[Entry]:
    """How it is put together, trued and greased, with blanks for what was done."""
    rig = ticket.rig
    yield (
        "Press each yoke home on its shoulder, ears as under EARS. Tack, indicate, true. Weld in "
        "opposite quadrants, let it cool slowly, true again. Take the joints out, or keep their "
        "seals cool. Ground clamp beside the weld, never through a joint."
    )
    yield (
        "Square: a bar through both bores of a yoke stands square to the tube. Skewed ears keep "
        "the needles from rolling."
    )
    runs = [f"tube near both ends and at the middle {RUNOUT} at most"]
    stubs = ["of the slip"] if ticket.slip.at == "shaft" else []
    stubs += ["at the carrier bearing"] if rig.carrier is not None else []
    if stubs:
        runs.append(f"stub {' and '.join(stubs)} {STUB_RUNOUT}")
    if any("flange" in name for name in _outer_yokes(rig).values()):
        runs.append(f"flange face and pilot {FACE_RUNOUT}")
    yield f"Runout, welded: {'; '.join(runs)}."
    slip = " and of the slip" if ticket.slip.at == "shaft" else ""
    yield (
        f"Grease: line up the fittings of all crosses{slip}, so one stop of the shaft reaches them "
        "all. Keep them away from the metal that comes nearest. Grease until all four seals of a "
        "cross purge. A slip full of grease needs its vent open, or it stops solid."
    )
    yield from _strap_lines(rig)
    yield blanks("Process, filler", "Grease")
    yield blanks("Runout before: ends, middle", "After")
    yield blanks("Ground for relief? where", "Paint")


def _strap_lines(rig: Rig) -> Iterator[Entry]:
    """How tight the nuts of straps are: as the rig has it of the part maker, or a blank for it."""
    strapped = [joint for joint, name in _outer_yokes(rig).items() if "strap" in name]
    if strapped:
        yield (
            "Straps: new straps and bolts, caps fully in their seats. How tight goes by the bolt, "
            "so use the part maker's figure."
        )
    for joint in strapped:
        told = typed_joint(rig, joint).typed.strap_nuts
        name = f"Strap nuts at the {joint} joint"
        if told is None:
            yield blanks(f"{name}, part maker's figure")
        else:
            yield f"{name}: {torque_words(TORQUE.sure(told))}, the part maker's figure."


def _outer_yokes(rig: Rig) -> dict[Joint, str]:
    """Kinds of the yokes that are not welded to a tube."""
    ends = rig.shaft.output_end.output_yoke.name, rig.shaft.pinion_end.pinion_yoke.name
    outer: dict[Joint, str] = {"output": ends[0], "pinion": ends[1]}
    return outer if rig.carrier is None else outer | {"middle": rig.carrier.middle.front_yoke.name}
