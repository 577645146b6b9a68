"""`bindpoint vibration`: from a shake to its likeliest cause and what would mend it."""

from sim.vibration import find_vibration
from viewer.commands.answer import answer
from viewer.console import progress
from viewer.endings import CLEAR
from viewer.rigs import named_rig
from viewer.vibration.asked import Asked, symptom_of
from viewer.vibration.json import vibration_data
from viewer.vibration.text import vibration_text


def run(name: str, asked: Asked, as_json: bool) -> int:
    """Print what it most likely is; return the exit code."""
    symptom = symptom_of(asked)
    rig = named_rig(name)
    with progress(as_json) as tell:
        found = find_vibration(rig, symptom, tell)
    answer(as_json, lambda: vibration_data(found, name), lambda: vibration_text(found))
    return CLEAR
