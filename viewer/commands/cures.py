"""`bindpoint cures`: what would cure a shaft, tried on the rig itself and ranked."""

from dataclasses import dataclass
from pathlib import Path

from sim.check import check
from sim.cures import Cures, find_cures, weights
from sim.cures.aim import aim_curve
from sim.cures.grinding import Grinding, grinding
from sim.rig import parse_rig
from viewer.console import note, progress, say, say_json
from viewer.cures.aim_plot import asked_for, kind_of, write_aim
from viewer.cures.json import aim_data, cures_data, grinding_data
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


@dataclass(frozen=True)
class Asked:
    """What was asked for besides the list.

    Attributes
    ----------
    save : number of the cure to write as a rig file, and where; None writes none.
    weights : file of one's own weights.
    aim : where to write the curve of the pinion's aim.
    grind : whether to plan what grinding would take.
    force : whether what is written may replace anything.
    without : names of remedies that are ruled out, as typed.
    """

    save: int | None = None
    to: Path | None = None
    weights: Path | None = None
    aim: Path | None = None
    grind: bool = False
    force: bool = False
    without: tuple[str, ...] = ()

    @property
    def place(self) -> Path:
        """Where a cured rig is written."""
        return self.to or Path(f"cured-{self.save}.toml")

    @property
    def outputs(self) -> Outputs:
        """The files with what each of them is."""
        rig = self.place if self.save is not None else None
        wanted = (("--aim", self.aim, kind_of(self.aim)), ("--to", rig, SOMEBODYS))
        return Outputs(wanted, self.force)


def run(name: str, asked: Asked, as_json: bool) -> int:
    """Print the cures; return the exit code: 1 where something touches and nothing cures it."""
    rig, by = named_rig(name), weights(asked.weights)
    without = remedies_named(asked.without)
    if asked.to is not None and asked.save is None:
        raise AskedError("--to: came without --save, expected --save N with the cure to write")
    if asked.aim is not None:
        asked_for(asked.aim)
    if asked.save is not None:
        _may_save(asked.save)
    asked.outputs.demand_room()
    with progress() as tell:
        found = find_cures(rig, by, tell, without)
        curve = None
        if asked.aim is not None:
            tell("turning the pinion", 0.95)
            curve = aim_curve(rig)
        ground: list[Grinding] = []
        if asked.grind:
            tell("grinding", 0.98)
            ground = list(grinding(found.before))
    if as_json:
        data = cures_data(found) | ({"aim": aim_data(curve)} if curve is not None else {})
        if asked.grind:
            data["grinding"] = [grinding_data(each) for each in ground]
        say_json(data)
    else:
        say(cures_text(found, ground if asked.grind else None))
    asked.outputs.demand_room()
    if curve is not None and asked.aim is not None:
        write_aim(curve, rig.name, asked.aim)
        note(f"wrote {asked.aim}")
    if asked.save is not None:
        _save(found, named_text(name), asked.save, asked.place)
    touches = found.before.verdict == "touches" or any(gap.touches for gap in found.near)
    return TOUCHES if touches and not any(cure.works for cure in found.cures) else CLEAR


def _may_save(number: int) -> None:
    """Refuse at once what can be told before anything is tried."""
    if number < 1:
        raise AskedError(f"--save: came {number}, expected the number of a cure, 1 or more")


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
