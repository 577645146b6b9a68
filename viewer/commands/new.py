"""`bindpoint new`: the measurements one by one, and the rig file they make."""

import shutil
import sys
from pathlib import Path
from textwrap import wrap

from sim.rig import json_schema
from viewer.commands.answer import schema_written
from viewer.console import note, put, say
from viewer.endings import BAD_INPUT, CLEAR, STOPPED
from viewer.interview import new_rig_file
from viewer.interview.draft import Draft
from viewer.words.verdicts import CAUTION
from viewer.written.files import FileError
from viewer.written.outputs import SCHEMA, SOMEBODYS, Outputs

WIDEST, NARROWEST = 100, 30
"""Letters of a line. A longer one is hard to read, a shorter one is no terminal of today's."""

ROOM = 12
"""Letters that are left behind a question for the answer."""


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
    return CLEAR


class Terminal:
    """Asks and tells; what stands right above a question is not told again when it is repeated."""

    def __init__(self) -> None:
        self._told, self._above = "", ""

    def ask(self, prompt: str) -> str:
        """Put a question. Raises EOFError when nobody answers any more."""
        self._above, self._told = self._told or self._above, ""
        return ask_line(prompt)

    def tell(self, text: str) -> None:
        """Show a text, unless it was said before this very question."""
        if text == self._above:
            self._told = text
            return
        if not self._above and self._told:
            put("\n")  # between the welcome and the first question
        self._told = text
        tell_text(text)


def ask_line(prompt: str) -> str:
    """Show a prompt and return the line typed. Raises EOFError when nobody answers any more."""
    lines = wrap(prompt, _width(), break_on_hyphens=False)
    if lines and len(lines[-1]) > _width() - ROOM:
        lines = wrap(prompt, _width() - ROOM, break_on_hyphens=False)
    put("\n".join(lines) + " ")
    line = sys.stdin.readline()
    if not line:
        put("\n")
        raise EOFError
    put("\n")
    return line.rstrip("\r\n")


def tell_text(text: str) -> None:
    """Show a text, folded to the width of the terminal, indents kept."""
    for line in text.splitlines():
        indent = line[: len(line) - len(line.lstrip())]
        folded = wrap(
            line.strip(),
            _width(),
            initial_indent=indent,
            subsequent_indent=indent,
            break_on_hyphens=False,
        )
        say("\n".join(folded))


def _width() -> int:
    """Letters of a line on this terminal, asked anew since a window is made wider or narrower."""
    return max(NARROWEST, min(shutil.get_terminal_size((88, 24)).columns, WIDEST))
