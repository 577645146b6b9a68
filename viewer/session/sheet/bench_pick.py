"""What was read on a joint itself, in a rig file that is being worked on."""

from collections.abc import Mapping
from typing import Any

from sim.rig.bench import BenchReading
from sim.rig.typed_joints import typed_joint
from sim.vehicle import Joint
from viewer.session.text.document import Document
from viewer.words.problems import typed_problem


class BenchPick:
    """The bench readings of one joint of a document; every change is a step for undo.

    Raises NoSuchJointError for the middle joint of a shaft without a carrier bearing.
    """

    def __init__(self, document: Document, joint: Joint) -> None:
        self._document, self.joint = document, joint
        self.key = f"{typed_joint(document.rig, joint).table}.bench"

    @property
    def yokes(self) -> tuple[str, ...]:
        """Names of the yokes that can be clamped."""
        typed = typed_joint(self._document.rig, self.joint).typed
        return tuple(key.replace("_", " ") for key in typed.yokes)

    @property
    def readings(self) -> tuple[BenchReading, ...]:
        """As the last right rig has them."""
        return typed_joint(self._document.rig, self.joint).typed.bench

    @property
    def tables(self) -> tuple[Mapping[str, Any], ...]:
        """As they are typed, right or not."""
        return tuple(self._document.typed(self.key) or ())

    def add(self, *tables: Mapping[str, str]) -> None:
        """Add readings behind those that are there."""
        there = len(self.tables)
        self._document.set(
            {f"{self.key}[{n}]": dict(table) for n, table in enumerate(tables, start=there + 1)},
            "bench reading",
        )

    def put(self, number: int, table: Mapping[str, str]) -> None:
        """Put a reading, from 1, in another way."""
        if dict(self.tables[number - 1]) != dict(table):
            self._document.set({f"{self.key}[{number}]": dict(table)}, "bench reading")

    def drop(self, number: int) -> None:
        """Take a reading, from 1, away."""
        alone = len(self.tables) == 1
        self._document.set({self.key if alone else f"{self.key}[{number}]": None}, "bench reading")

    def problem(self, number: int) -> str | None:
        """What is wrong with a reading, from 1."""
        place = f"{self.key}[{number}]"
        for problem in self._document.problems:
            if problem.key == place or problem.key.startswith(f"{place}."):
                return typed_problem(problem)
        return None
