"""`bindpoint build`: the build ticket of a rig."""

import json
import sys
from pathlib import Path

from sim.ticket.ticket import build_ticket
from viewer.build_json import build_data
from viewer.build_text import build_text
from viewer.command_line import CLEAR, TOUCHES
from viewer.console import progress
from viewer.rigs import named_rig


def run(name: str, as_json: bool, picture: Path | None) -> int:
    """Print the ticket; return the exit code: 1 where it cannot be as described."""
    rig = named_rig(name)
    if picture is not None:
        from viewer.build_picture import drawn_to

        drawn_to(picture)
    with progress(as_json) as tell:
        ticket = build_ticket(rig, tell)
    if as_json:
        sys.stdout.write(json.dumps(build_data(ticket, name), indent=2) + "\n")
    else:
        sys.stdout.write(build_text(ticket) + "\n")
    sys.stdout.flush()
    if picture is not None:
        from viewer.build_picture import draw_build

        draw_build(ticket, picture)
        sys.stderr.write(f"wrote {picture}\n")
    return TOUCHES if ticket.stops else CLEAR
