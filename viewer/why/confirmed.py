"""The shop's own settled joints, where it keeps any."""

from collections.abc import Iterator
from pathlib import Path
from typing import Final

from sim.causes import load_graph
from sim.causes.confirmed import Confirmed, load_confirmed
from viewer.state_folder import state_folder
from viewer.words.causes import CAUSES, percent

NAME: Final = "confirmed.toml"
"""The file in the folder of what the program remembers."""


def settled_joints(named: Path | None) -> Confirmed | None:
    """Those of the file that was named, or else of the shop's own; None where there is none.

    Raises RigError for a file that cannot be read.
    """
    if named is not None:
        return load_confirmed(named)
    own = state_folder() / NAME
    return load_confirmed(own) if own.is_file() else None


def confirmed_lines(confirmed: Confirmed | None) -> Iterator[str]:
    """What they do to the odds, openly; nothing where there are none."""
    if confirmed is None or not confirmed.joints:
        return
    count = len(confirmed.joints)
    yield (
        f"{count} joint{'s' * (count > 1)} that you settled count{'s' * (count == 1)} before "
        "anything is seen:"
    )
    for shift in confirmed.shifts(load_graph()):
        if shift.found:
            before, after = percent(shift.before.mean), percent(shift.after.mean)
            so = f"still {after}" if before == after else f"so {before} becomes {after}"
            yield f"{CAUSES[shift.cause].name}: {shift.found} of {shift.of}, {so}"
