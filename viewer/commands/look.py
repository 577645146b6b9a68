"""`bindpoint look`: what is seen on a failed joint, asked one by one and written down."""

from pathlib import Path

from sim.front_section import JOINTS
from sim.rig import Rig
from sim.seen import (
    Inspection,
    demand_joint,
    inspection_schema,
    load_inspection,
    save_inspection,
)
from viewer.commands.answer import drawn, picture_of, schema_written
from viewer.commands.terminal import Terminal, tell_text
from viewer.console import note, put
from viewer.endings import BAD_INPUT, CLEAR, STOPPED
from viewer.inspections import beside_rig, other_rig
from viewer.interview.draft import Draft
from viewer.rigs import DEMO, named_rig
from viewer.seen.talk import look
from viewer.seen.vehicle import Vehicle
from viewer.words.verdicts import CAUTION
from viewer.written.files import AskedError, FileError
from viewer.written.outputs import INSPECTION, INSPECTION_SCHEMA, PICTURE, Outputs


def run(
    name: str | None,
    seen: Path | None,
    schema: Path | None,
    words: Path | None,
    force: bool = False,
) -> int:
    """Ask for an inspection and write it, or what goes with one; return the exit code."""
    if words is not None:
        Outputs((("--words", words, PICTURE),), force).demand_room()
        drawn(words, picture_of("seen.pictures_sheet.whole_sheet", True))
        return CLEAR
    if schema is not None:
        return schema_written(schema, INSPECTION_SCHEMA, inspection_schema, force)
    if name is None:
        raise AskedError("look: no rig named, expected a rig file or demo:NAME")
    if seen is not None and str(seen).startswith(DEMO):
        raise AskedError(f"--seen: came {seen}, which is shipped and stays, expected a file")
    rig = named_rig(name)
    file = seen or beside(name)
    Outputs((("look", file, INSPECTION),), force).demand_room()
    if not file.absolute().parent.is_dir():
        raise FileError(f"{file}: the folder is not there, expected one that is")
    before = _taken_up(file, rig)
    draft = Draft(file, rig=name)
    try:
        made = _asked(rig, name, file, before, draft)
        if made is None:
            return BAD_INPUT
        _demand_same(file, before)
        save_inspection(_of_rig(made, name), file)
        draft.forget()
    except KeyboardInterrupt:
        put("\n")
        kept = "; your answers are kept and offered the next time" if draft.found() else ""
        note(f"bindpoint: stopped{kept}")
        return STOPPED
    finally:
        draft.close()
    tell_text(CAUTION)
    tell_text(f"Wrote {file}. Next: bindpoint why {name} --seen {file}")
    return CLEAR


def beside(name: str) -> Path:
    """Where the inspection of a rig is: beside it, or for a demo where one stands.

    The window names one for each joint: where there is one such and no other, it is taken up.
    Raises AskedError where there are several.
    """
    rig = Path(f"{name.removeprefix(DEMO)}.toml" if name.startswith(DEMO) else name)
    file = beside_rig(rig)
    others = [beside_rig(rig, joint) for joint in JOINTS]
    there = [] if file.exists() else [other for other in others if other.exists()]
    if len(there) > 1:
        names = " and ".join(str(other) for other in there)
        raise AskedError(f"look: came {name}, which has {names}, expected --seen with one of them")
    return there[0] if there else file


def _taken_up(file: Path, rig: Rig) -> Inspection | None:
    """The inspection that is there already; None where there is none yet."""
    if not file.exists() or not file.stat().st_size:
        return None
    found = load_inspection(file)
    demand_joint(found, rig, str(file))
    return found


def _demand_same(file: Path, before: Inspection | None) -> None:
    """Refuse to write over what somebody else wrote meanwhile."""
    if not file.exists() or not file.stat().st_size:
        return
    if before is None or load_inspection(file) != before:
        raise FileError(f"{file}: was changed meanwhile; your answers are kept, ask again")


def _of_rig(made: Inspection, name: str) -> Inspection:
    """The same with the rig's name in it, where it has none yet."""
    return made if made.rig is not None else made.model_copy(update={"rig": Path(name).name})


def _goes_on(terminal: Terminal, other: str, name: str) -> bool:
    """Whether an inspection of another rig is meant."""
    terminal.tell(f"Check: it says that it is of {other}, and this is {name}.")
    while True:
        try:
            low = terminal.ask(f"Go on with it all the same, for {name}? yes or no: ").strip()
        except EOFError:
            return False
        if low.lower() in {"y", "yes"}:
            return True
        if low.lower() in {"n", "no", "quit", "q"}:
            terminal.tell("Nothing was written; --seen names another file.")
            return False


def _asked(
    rig: Rig, name: str, file: Path, before: Inspection | None, draft: Draft
) -> Inspection | None:
    terminal = Terminal()
    if before is not None:
        terminal.tell(f"{file} is there already: what it says is not asked again, and is kept.")
        if (other := other_rig(before, name)) and not _goes_on(terminal, other, name):
            return None
    return look(
        terminal.ask,
        terminal.tell,
        rig,
        before,
        draft=draft,
        vehicle=Vehicle(rig, name),
    )
