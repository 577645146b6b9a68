"""Invented cases of joints that broke or wore, with what an experienced technician says first."""

import tomllib
from dataclasses import dataclass
from pathlib import Path
from typing import Any

FOLDER = Path(__file__).parent


@dataclass(frozen=True)
class ToldCase:
    """A case: the inspection as it comes in, and what is said of it at the counter.

    Attributes
    ----------
    says, words : what the customer tells, and what the technician answers; for the reader.
    rig : name of the demo rig. inspection : the data of the file.
    first : the cause named first; empty where it stays open. also : causes that must not be ruled
        out. not_first : causes a beginner would jump to.
    """

    name: str
    says: str
    words: str
    rig: str
    inspection: dict[str, Any]
    story: str
    first: str = ""
    also: tuple[str, ...] = ()
    not_first: tuple[str, ...] = ()


def told_cases() -> tuple[ToldCase, ...]:
    """Every case, by its number."""
    return tuple(_told(path) for path in sorted(FOLDER.glob("*.toml")))


def _told(path: Path) -> ToldCase:
    data = tomllib.loads(path.read_text(encoding="utf-8"))
    case = dict(data["case"])
    if case.pop("joint") != data["inspection"]["joint"]:
        raise ValueError(f"{path.name}: case and inspection are of two joints")
    return ToldCase(
        name=path.stem,
        rig=case.pop("rig").removeprefix("demo:"),
        inspection=data["inspection"],
        also=tuple(case.pop("also", ())),
        not_first=tuple(case.pop("not_first", ())),
        **case,
    )
