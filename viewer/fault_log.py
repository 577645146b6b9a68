"""Faults of the program itself, written down where a window writes its own, too."""

from datetime import datetime
from pathlib import Path
from traceback import format_exc

from viewer.state_folder import state_folder

LOG = "bindpoint.log"


def log_folder() -> Path:
    """Where the log lies."""
    return state_folder() / "log"


def logged() -> str:
    """Write down the fault that is being met; where, in words."""
    file = log_folder() / LOG
    try:
        file.parent.mkdir(parents=True, exist_ok=True)
        with file.open("a", encoding="utf-8", errors="replace") as stream:
            stream.write(f"{datetime.now().astimezone():%Y-%m-%d %H:%M:%S} {format_exc()}\n")
    except OSError:
        return "it could not be written down"
    return f"the details are in {file}"
