"""`bindpoint new`: the measurements one by one, and the rig file they make."""

import json
import sys
from pathlib import Path
from textwrap import wrap

from sim.rig import json_schema
from viewer.command_line import BAD_INPUT, CLEAR
from viewer.files import FileError, writable
from viewer.interview import new_rig_file
from viewer.words import CAUTION

WIDTH = 88


def run(file: Path | None, schema: Path | None) -> int:
    """Ask for a rig and write it, or write the JSON Schema; return the exit code."""
    if schema is not None:
        with writable(schema, "the JSON Schema"):
            schema.write_text(json.dumps(json_schema(), indent=2) + "\n", encoding="utf-8")
        sys.stderr.write(f"wrote {schema}\n")
        return CLEAR
    if file is None:
        raise FileError(
            "new: came no file to write, expected a name for the rig file, such as my-truck.toml"
        )
    if not file.absolute().parent.is_dir():
        raise FileError(f"{file}: the folder is not there, expected one that is")
    rig = new_rig_file(file, ask_line, tell_text)
    if rig is None:
        return BAD_INPUT
    tell_text(CAUTION)
    tell_text(f"Wrote {file}. Next: bindpoint check {file}")
    return CLEAR


def ask_line(prompt: str) -> str:
    """Show a prompt and return the line typed. Raises EOFError when nobody answers any more."""
    sys.stdout.write(prompt)
    sys.stdout.flush()
    line = sys.stdin.readline()
    if not line:
        raise EOFError
    sys.stdout.write("\n")
    return line.rstrip("\r\n")


def tell_text(text: str) -> None:
    """Show a text, folded to the width of a terminal, indents kept."""
    for line in text.splitlines():
        indent = line[: len(line) - len(line.lstrip())]
        folded = wrap(line.strip(), WIDTH, initial_indent=indent, subsequent_indent=indent)
        sys.stdout.write("\n".join(folded) + "\n")
