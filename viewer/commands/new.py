"""`bindpoint new`: the measurements one by one, and the rig file they make."""

from pathlib import Path

from sim.rig import Rig, json_schema
from sim.rig.typed_joints import typed_joints
from viewer.bench.whether import joint_on_the_bench
from viewer.commands.answer import schema_written
from viewer.commands.terminal import Terminal, tell_text
from viewer.console import note, put
from viewer.endings import BAD_INPUT, CLEAR, STOPPED
from viewer.interview import new_rig_file
from viewer.interview.draft import Draft
from viewer.words.verdicts import CAUTION
from viewer.written.files import FileError
from viewer.written.outputs import SCHEMA, SOMEBODYS, Outputs


def run(file: Path | None, schema: Path | None, force: bool = False) -> int:
    """Ask for a rig and write it, or write the JSON Schema; return the exit code."""
    if schema is not None:
        return schema_written(schema, SCHEMA, json_schema, force)
    if file is None:
        raise FileError(
            "new: no file named, expected a name for the rig file, such as my-truck.toml"
        )
    Outputs((("new", file, SOMEBODYS),), force).demand_room()
    if not file.absolute().parent.is_dir():
        raise FileError(f"{file}: the folder is not there, expected one that is")
    draft = Draft(file)
    try:
        terminal = Terminal()
        rig = new_rig_file(file, terminal.ask, terminal.tell, overwrite=force, draft=draft)
    except KeyboardInterrupt:
        put("\n")
        kept = f"; your answers are kept: bindpoint new {file} offers them" if draft.found() else ""
        note(f"bindpoint: stopped{kept}")
        return STOPPED
    finally:
        draft.close()
    if rig is None:
        return BAD_INPUT
    tell_text(CAUTION)
    tell_text(f"Wrote {file}. Next: bindpoint check {file}")
    return _bench(file, rig)


def _bench(file: Path, rig: Rig) -> int:
    """Ask for bench readings of a joint, only after a yes; the rig is safe by now."""
    joints = [end.joint for end in typed_joints(rig) if getattr(end.typed, "head", None) is None]
    terminal = Terminal()
    joint = joint_on_the_bench(terminal.ask, terminal.tell, joints)
    if joint is not None:
        from viewer.commands.bench import run as run_bench
        from viewer.commands.yoke import Wanted

        run_bench(str(file), joint, None, Wanted(None, None, force=False))
    return CLEAR
