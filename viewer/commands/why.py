"""`bindpoint why`: from what is seen on a failed joint to its likeliest cause."""

from dataclasses import replace
from pathlib import Path

from sim.seen.doubts import of_another
from sim.why.why import why
from viewer.commands.answer import answer, drawn, picture_of
from viewer.console import progress
from viewer.endings import CLEAR
from viewer.inspections import named_inspection, other_rig
from viewer.rigs import named_rig
from viewer.why.confirmed import settled_joints
from viewer.why.json import why_data
from viewer.why.text import why_text
from viewer.why.told import told_of
from viewer.written.files import AskedError
from viewer.written.outputs import PICTURE, Outputs


def run(
    name: str,
    seen: str | None,
    confirmed: Path | None,
    as_json: bool,
    full: bool,
    picture: Path | None,
    force: bool,
) -> int:
    """Print why it broke or wore, as far as it can be told; return the exit code."""
    if seen is None:
        raise AskedError(
            "why: came without --seen, expected the inspection of the joint; bindpoint look "
            f"{name} asks for what is seen and writes it"
        )
    outputs = Outputs((("--picture", picture, PICTURE),), force)
    outputs.demand_room()
    rig, inspection, settled = named_rig(name), named_inspection(seen), settled_joints(confirmed)
    with progress(as_json) as tell:
        found = why(rig, inspection, settled, tell)
    if other := other_rig(inspection, name):
        found = replace(found, doubts=(of_another(other, name), *found.doubts))
    answer(
        as_json,
        lambda: why_data(found, name),
        lambda: why_text(told_of(found, name), full),
    )
    outputs.demand_room()
    drawn(picture, picture_of("why.picture.why_picture", found, name))
    return CLEAR
