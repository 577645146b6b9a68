"""`bindpoint cures`: what would cure a shaft, tried on the rig itself and ranked."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any

from sim.check import check
from sim.cures import Cures, find_cures, weights
from sim.cures.aim import AimCurve, aim_curve
from sim.cures.first_cure import keep_first
from sim.cures.grinding import Grinding, grinding
from sim.cures.sure import with_chances
from sim.rig import parse_rig
from viewer.commands.answer import answer
from viewer.console import note, progress
from viewer.cures.aim_plot import asked_for, kind_of, write_aim
from viewer.cures.json import aim_data, best_aim_data, cures_data, grinding_data
from viewer.cures.remedy_names import remedies_named
from viewer.cures.text import cures_text
from viewer.endings import CLEAR, TOUCHES
from viewer.rigs import named_rig, named_text
from viewer.session.cures.text import cured_text
from viewer.session.text.beside import elsewhere
from viewer.words.findings import says
from viewer.words.verdicts import VERDICT_WORDS, headline
from viewer.written.files import AskedError, replace
from viewer.written.outputs import SOMEBODYS, Outputs


def run(
    name: str,
    as_json: bool,
    save: int | None,
    to: Path | None,
    weights_file: Path | None,
    aim: Path | None,
    grind: bool,
    without: Sequence[str],
    force: bool,
) -> int:
    """Print the cures; return the exit code: 1 where something touches and nothing cures it.

    save : number of the cure to write as a rig file; None writes none.
    without : names of remedies that are ruled out, as typed.
    """
    rig, by, ruled_out = named_rig(name), weights(weights_file), remedies_named(without)
    if to is not None and save is None:
        raise AskedError("--to: came without --save, expected --save N with the cure to write")
    if aim is not None:
        asked_for(aim)
    if save is not None and save < 1:
        raise AskedError(f"--save: came {save}, expected the number of a cure, 1 or more")
    place = None if save is None else to or Path(f"cured-{save}.toml")
    outputs = Outputs((("--aim", aim, kind_of(aim)), ("--to", place, SOMEBODYS)), force)
    outputs.demand_room()
    with progress() as tell:
        found = with_chances(find_cures(rig, by, tell, ruled_out), tell)
        if weights_file is None:
            keep_first(found)
        curve = ground = None
        if aim is not None or (found.before.verdict != "clear" and "pinion-turn" not in ruled_out):
            tell("turning the pinion", 0.95)
            curve = aim_curve(rig)
        if grind:
            tell("grinding", 0.98)
            ground = list(grinding(found.before))
    answer(
        as_json,
        lambda: _data(found, curve, ground, all_aims=aim is not None),
        lambda: cures_text(found, ground, curve),
    )
    outputs.demand_room()
    if curve is not None and aim is not None:
        write_aim(curve, rig.name, aim)
        note(f"wrote {aim}")
    if save is not None and place is not None:
        _save(found, named_text(name), save, place)
    touches = found.before.verdict == "touches" or any(gap.touches for gap in found.near)
    return TOUCHES if touches and not any(cure.works for cure in found.cures) else CLEAR


def _data(
    found: Cures, curve: AimCurve | None, ground: Sequence[Grinding] | None, all_aims: bool
) -> dict[str, Any]:
    """What was found, with what else was asked for."""
    data = cures_data(found)
    if curve is not None:
        data["best_aim"] = best_aim_data(found.rig, curve)
    if curve is not None and all_aims:
        data["aim"] = aim_data(curve)
    if ground is not None:
        data["grinding"] = [grinding_data(each) for each in ground]
    return data


def _save(found: Cures, text: str, number: int, path: Path) -> None:
    """Write a cured rig and say what a plain check of it says."""
    count = len(found.cures)
    if number > count:
        legal = f"a number from 1 to {count}, as listed" if count else "no --save: there is no cure"
        raise AskedError(f"--save: came {number}, expected {legal}; nothing was written")
    cure = found.cures[number - 1]
    made = elsewhere(cured_text(found, cure, text), found.rig.folder, path)
    cured = parse_rig(made, str(path))
    cured._folder = path.parent
    replace(path, made, "the cured rig")
    with progress() as tell:
        result = check(cured, tell)
    note(f"wrote {path}")
    note(f"checked again as a whole: {VERDICT_WORDS[result.verdict]}  {headline(result)}")
    for finding in result.findings:
        if finding.verdict != "clear":
            note(f"  {says(finding)}")
