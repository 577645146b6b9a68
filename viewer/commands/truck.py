"""`bindpoint truck`: what was seen on the truck, and its visits, held against the rig."""

from datetime import UTC, datetime

from sim.bars.doubts import doubts_of
from sim.derive import vehicle_of
from sim.truck.held import held_against
from sim.visits.visits import visits_of
from viewer.commands.answer import answer
from viewer.console import progress
from viewer.endings import CLEAR
from viewer.rigs import named_rig
from viewer.truck.answer import TruckAnswer
from viewer.truck.json import truck_data
from viewer.truck.text import truck_text
from viewer.written.files import AskedError

NOTHING = (
    "nothing to hold against this rig: put what was seen into [[seen_on_truck]], such as "
    'at = "8 in droop" and turned = "free", or the readings of a day into [[visits]]; '
    "docs/rig-file.md shows both"
)


def run(name: str, as_json: bool) -> int:
    """Print how it holds; return the exit code. Raises AskedError where there is nothing to."""
    rig = named_rig(name)
    if not rig.seen_on_truck and not rig.visits:
        raise AskedError(NOTHING)
    with progress(as_json) as tell:
        joints = {each.joint for each in rig.seen_on_truck if each.turned is not None}
        asked = [j for j in vehicle_of(rig).joints if joints and (None in joints or j in joints)]
        doubts = doubts_of(rig, asked, progress=tell)
        tell("holding it against the truck", 0.6)
        held = held_against(rig, doubts.sources, doubts.shapes)
        # A day later somewhere on earth is no day to come.
        today = datetime.now(UTC).astimezone().date()
        found = TruckAnswer(rig, held, visits_of(rig, today, doubts.sources))
    answer(as_json, lambda: truck_data(found), lambda: truck_text(found))
    return CLEAR
