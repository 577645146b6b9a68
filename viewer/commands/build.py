"""`bindpoint build`: the build ticket of a rig."""

from pathlib import Path

from sim.ticket.ticket import build_ticket, with_bars
from viewer.commands.answer import answer
from viewer.console import note, progress
from viewer.endings import CLEAR, TOUCHES
from viewer.rigs import named_rig
from viewer.ticket.json import build_data
from viewer.ticket.picture import draw_build, drawn_to
from viewer.ticket.text import build_text
from viewer.written.outputs import PICTURE, Outputs


def run(name: str, as_json: bool, picture: Path | None, force: bool) -> int:
    """Print the ticket; return the exit code: 1 where it cannot be as described."""
    outputs = Outputs((("--picture", picture, PICTURE),), force)
    outputs.demand_room()
    rig = named_rig(name)
    if picture is not None:
        drawn_to(picture)
    with progress(as_json) as tell:
        ticket = with_bars(build_ticket(rig, tell), tell)
    answer(as_json, lambda: build_data(ticket, name), lambda: build_text(ticket))
    if picture is not None:
        outputs.demand_room()
        draw_build(ticket, picture)
        note(f"wrote {picture}")
    return TOUCHES if ticket.stops else CLEAR
