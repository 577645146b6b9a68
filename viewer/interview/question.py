"""One question of the interview."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from sim.rig.defaults import DEFAULTS
from viewer.interview.answers import Reader, assemble

Said = Mapping[str, Any]
"""Everything answered so far: typed values by key path, and the interview's own choices."""


@dataclass(frozen=True)
class Question:
    """What to ask, what is meant by it, and how to read the answer."""

    name: str
    """A name of its own; where one key is asked for, its path."""
    asks: str
    """The question, in one line."""
    means: str
    """Which datum is meant; told before the question."""
    read: Reader
    beware: str = ""
    """What goes wrong with this measurement; told when asked for help."""
    default: str = ""
    """What an empty answer stands for; empty where an answer is needed."""

    @property
    def prompt(self) -> str:
        """The question with its default."""
        return f"{self.asks} [{self.default}] " if self.default else f"{self.asks} "


def assumed(key: str, said: Said) -> str:
    """What a rig file assumes for a key that is left out."""
    default = next(default for default in DEFAULTS if default.key == key)
    return str(default.typed(assemble(said)))
