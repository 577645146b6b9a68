"""A remark: something to be said of a rig, as a code and its numbers, without words.

Notes, doubts, flags, what was worked out, what a remedy does and what is wrong with a rig file are
all remarks. `viewer.words.remarks` puts them into words; a test asks there for a sentence for every
code that is used here, with the numbers that it is given.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any


@dataclass(frozen=True, init=False)
class Remark:
    """One thing to be said.

    Attributes
    ----------
    code : short fixed name, one for each sentence; those of a ticket's flags are published.
    key : key path of the rig file that it hangs on; "" for none.
    values : the numbers (mm, rad, ...), names and remarks that its sentence is made of, by name.
    subject : what it is about where its sentence does not say that; "" for nothing.
    """

    code: str
    key: str
    values: tuple[tuple[str, Value], ...]
    subject: str

    def __init__(self, code: str, key: str = "", /, **values: Value) -> None:
        object.__setattr__(self, "code", code)
        object.__setattr__(self, "key", key)
        object.__setattr__(self, "values", tuple(values.items()))
        object.__setattr__(self, "subject", "")

    def about(self, subject: str) -> Remark:
        """The same of one of several."""
        told = Remark(self.code, self.key, **dict(self.values))
        object.__setattr__(told, "subject", subject)
        return told

    def __getitem__(self, name: str) -> Value:
        return dict(self.values)[name]

    def __str__(self) -> str:
        """Plain code and numbers, for logs and library use."""
        told = ", ".join(f"{name}={value}" for name, value in self.values)
        return f"{self.code}({told})" if told else self.code


Value = str | float | bool | None | Remark


def remark_of(note: Sequence[Any]) -> Remark:
    """The remark of a code and its values by name, which may hold such pairs themselves.

    So `geometry.imported` notes what it has done, in memory and as it is kept.
    """
    code, values = note
    told = {
        name: remark_of(value) if isinstance(value, list | tuple) else value
        for name, value in values.items()
    }
    return Remark(code, **told)
