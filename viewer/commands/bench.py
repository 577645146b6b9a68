"""`bindpoint yoke RIG --bench JOINT`: readings of a joint itself, into its rig file."""

from collections.abc import Sequence
from json import dumps
from pathlib import Path

from geometry.errors import BindpointError
from sim.hardware.head import HeadHardware, end_hardware
from sim.hardware.joint import JointHardware
from sim.rig.typed_joints import typed_joint
from sim.vehicle import Joint
from viewer.bench.plans import Bench
from viewer.bench.sheets import BenchSheet
from viewer.bench.talk import Table, ask_readings
from viewer.bench.told import bench_told
from viewer.commands.terminal import Terminal, tell_text
from viewer.commands.yoke import Wanted
from viewer.console import note, progress, say
from viewer.endings import BAD_INPUT, CLEAR
from viewer.rigs import DEMO, named_rig, named_text
from viewer.session.sheet.bench_pick import BenchPick
from viewer.session.text.beside import elsewhere
from viewer.session.text.document import Document
from viewer.words.bench import RESULT, reading_words
from viewer.words.problems import error_words, problem_words
from viewer.written.files import AskedError, FileError, replace


def run(name: str, joint: Joint, drawings: Path | None, wanted: Wanted) -> int:
    """Ask for bench readings of a joint and put them into its rig file; return the exit code.

    wanted : `write` names the file to write; the rig's own is asked about at the end without it.
    """
    rig, text = named_rig(name), named_text(name)
    own = None if name.startswith(DEMO) else Path(name)
    if wanted.write is not None and not _same(wanted.write, own):
        wanted.demand_room()
    hardware = end_hardware(rig, joint)
    if isinstance(hardware, HeadHardware):
        raise AskedError(
            f"--bench: came the {joint} joint, a double-Cardan head, expected a joint of two yokes"
        )
    if drawings is not None:
        _draw(hardware, drawings, wanted.force)
    typed = typed_joint(rig, joint)
    for number, reading in enumerate(typed.typed.bench, start=1):
        tell_text(f"In the file already, {number}: {reading_words(reading)}.")
    terminal = Terminal()
    told = ask_readings(
        terminal.ask,
        terminal.tell,
        typed,
        lambda tables: _answer(name, text, joint, tables),
        lambda way, held: Bench.of(hardware, held).asks(way),
        lambda way, held: drawings and BenchSheet.of(hardware, held).drawn(way, held, drawings),
        "" if wanted.write is not None or own is None else str(own),
    )
    if told is None:
        return BAD_INPUT
    place = wanted.write or (own if told.may_write else None)
    _finish(_with(name, text, joint, told.readings), joint, told.readings, place, own)
    tell_text(RESULT)
    return CLEAR


def _draw(hardware: JointHardware, folder: Path, force: bool) -> None:
    with progress() as tell:
        tell("drawing how it is done", 0.3)
        files = BenchSheet.of(hardware).save(folder, force)
    note(f"wrote {len(files)} drawings and sheet.html to {folder}")


def _with(name: str, text: str, joint: Joint, tables: Sequence[Table]) -> Document:
    """The rig file with readings more."""
    own = not name.startswith(DEMO)
    document = Document(text, path=Path(name) if own else None)
    if tables:
        BenchPick(document, joint).add(*tables)
    return document


def _answer(name: str, text: str, joint: Joint, tables: Sequence[Table]) -> str:
    """What the readings say of the joint, or what is wrong with them."""
    document = _with(name, text, joint, tables)
    if document.problems:
        wrong = "; ".join(problem_words(problem) for problem in document.problems)
        return f"{wrong}. Type back and say it again."
    try:
        with progress() as tell:
            return "\n".join(bench_told(document.rig, joint, tell).lines)
    except BindpointError as error:
        return f"{error_words(error)}. Type back and say it again."


def _finish(
    document: Document,
    joint: Joint,
    tables: Sequence[Table],
    place: Path | None,
    own: Path | None,
) -> None:
    """Write the rig file, or show the lines for it."""
    if not tables:
        tell_text("No reading, so there is nothing to write.")
        return
    if document.problems:
        raise AskedError("; ".join(problem_words(problem) for problem in document.problems))
    if place is None:
        key = BenchPick(document, joint).key
        say("For the rig file:\n" + "\n\n".join(_lines(key, table) for table in tables))
        return
    if own is not None and _same(place, own):
        if document.changed_outside:
            raise FileError(f"{own}: another program has written it meanwhile, nothing was written")
        replace(place, document.text, "the rig file")
    else:
        replace(place, elsewhere(document.text, document.folder, place), "the rig file")
    note(f"wrote {len(tables)} bench reading{'' if len(tables) == 1 else 's'} into {place}")
    tell_text(f"Next: bindpoint check {place}")


def _lines(key: str, table: Table) -> str:
    return "\n".join([f"[[{key}]]", *(f"{name} = {dumps(said)}" for name, said in table.items())])


def _same(one: Path, other: Path | None) -> bool:
    return other is not None and one.absolute() == other.absolute()
