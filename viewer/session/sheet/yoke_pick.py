"""Choosing a yoke: which kinds fit a place, which cross they are for, what was measured on it."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from math import degrees
from pathlib import Path
from typing import Any

from geometry.dimensions import Unit
from geometry.errors import BindpointError
from geometry.yoke import YokeShape
from sim.parts.caliper import caliper_form
from sim.parts.catalogue import cross_shape, cross_sizes, dimension_names, yoke_kinds, yoke_shape
from sim.rig.choice import OWN_YOKE, CrossChoice, YokeChoice
from viewer.caliper.drawing import plan_of
from viewer.draw.plan import Plan
from viewer.session.text.document import Document
from viewer.words.keys import names_of
from viewer.words.problems import typed_problem
from viewer.words.remarks import said


@dataclass(frozen=True)
class YokeDimension:
    """One dimension of the yoke that is chosen.

    Attributes
    ----------
    name, label, about : as in the rig file, in words, and what to measure.
    typed : as typed; None where the generic one counts.
    generic : the catalogue's, in words.
    problem : what is wrong with it.
    """

    name: str
    label: str
    about: str
    typed: str | None
    generic: str
    problem: str | None = None


class YokePick:
    """The yoke at one key path of a document.

    key : such as ``shaft.output_end.shaft_yoke``.
    """

    def __init__(self, document: Document, key: str) -> None:
        self._document, self.key = document, key
        self.cross_key = f"{key.rpartition('.')[0]}.cross"

    @property
    def folder(self) -> Path:
        """Folder of the rig file."""
        return self._document.rig.folder

    @property
    def kinds(self) -> tuple[str, ...]:
        """Kinds of the catalogue that fit here."""
        return tuple(kind for kind in names_of(YokeChoice, self.key) if kind != OWN_YOKE)

    @property
    def kind(self) -> str:
        """The kind that counts now; typed, or that of the last right rig."""
        typed = self._document.typed(self.key)
        name = typed.get("kind") if isinstance(typed, Mapping) else typed
        return str(name) if name is not None else self._counts(self.key, YokeChoice)

    @property
    def cross(self) -> str:
        """Name of the size of cross that counts now."""
        typed = self._document.typed(self.cross_key)
        name = typed.get("size") if isinstance(typed, Mapping) else typed
        for each in (name, self._counts(self.cross_key, CrossChoice)):
            try:
                return cross_shape(str(each)).name
            except BindpointError:
                continue
        return cross_sizes()[0].name

    @property
    def is_own(self) -> bool:
        """Whether the yoke comes from a mesh file."""
        return self.kind == OWN_YOKE

    @property
    def dimensions(self) -> tuple[YokeDimension, ...]:
        """What can be measured on a yoke of this kind, or told of one from a mesh file."""
        kind = self.kind
        if kind == OWN_YOKE:
            return tuple(self._dimension(name, about, hint) for name, about, hint in _OF_A_MESH)
        if kind not in yoke_kinds():
            return ()
        generic: YokeShape = yoke_shape(kind, self.cross)
        return tuple(
            self._dimension(each.name, each.about, _words(getattr(generic, each.name), each.unit))
            for each in dimension_names(kind)
        )

    @property
    def problem(self) -> str | None:
        """What is wrong with the yoke as a whole."""
        said = self._problem(self.key)
        return None if said is None else said.replace("_", " ")

    def drawn(self, name: str) -> tuple[Plan | None, str]:
        """Where a dimension is taken on the generic yoke of this kind, and that in words.

        No drawing for what no caliper reaches.
        """
        about = {each.name: each.about for each in self.dimensions}.get(name, "")
        if self.kind not in yoke_kinds():
            return None, about
        for reading in caliper_form(self.kind, self.cross):
            if reading.dimension == name:
                plan = plan_of(yoke_shape(self.kind, self.cross), reading.name)
                return plan, f"{reading.asks} {reading.how}"
        return None, f"{about[:1].upper()}{about[1:]}."

    def choose(self, kind: str) -> None:
        """Take another kind; what was measured on the one before does not belong to it."""
        if kind != self.kind or self._document.typed(self.key) is None:
            self._document.set({self.key: kind}, f"{kind} chosen")

    def choose_cross(self, size: str) -> None:
        """Take another size of cross for this joint."""
        if size != self.cross or self._document.typed(self.cross_key) is None:
            self._document.set({self.cross_key: size}, f"cross {size} chosen")

    @property
    def own_file(self) -> tuple[Path, str]:
        """Mesh file of the yoke that counts, and the unit that was typed for it, or ""."""
        own = self._own()
        return self._document.rig.folder / str(own.get("file", "")), str(own.get("unit", ""))

    def take_file(self, file: Path, unit: str = "") -> None:
        """Take a yoke of one's own from a mesh file, named as seen from the rig's folder.

        unit : of its numbers, as it was looked at; "" to have it told by the size.
        A rig that was never saved has no folder, and names the file in full.
        """
        folder = self._document.folder.resolve()
        whole = file.resolve()
        is_near = self._document.path is not None and whole.is_relative_to(folder)
        near = whole.relative_to(folder) if is_near else whole
        told = {"kind": OWN_YOKE, "file": near.as_posix()} | ({"unit": unit} if unit else {})
        own = self._own()
        same = self.is_own and own.get("file") == told["file"]
        self._document.set({self.key: (own if same else {}) | told}, "own yoke")

    def measure(self, name: str, text: str) -> None:
        """Take a dimension of one's own; an empty text goes back to the generic one."""
        own = self._own()
        before, typed = own.get(name), text.strip()
        value: Any = int(typed) if typed.isdigit() else typed
        if not typed:
            own.pop(name, None)
        else:
            own[name] = value
        if own.get(name) != before:
            whole = {"kind": self.kind, **own} if own else self.kind
            self._document.set({self.key: whole}, name.replace("_", " "))

    def _dimension(self, name: str, about: str, generic: str) -> YokeDimension:
        own = self._own()
        typed = None if name not in own else str(own[name])
        problem = self._problem(f"{self.key}.{name}")
        if name == "file" and typed is not None and problem is None:
            problem = self._missing(typed)
        if problem is None and typed is not None:
            problem = self._clash(name)
        return YokeDimension(name, name.replace("_", " "), about, typed, generic, problem)

    def _clash(self, name: str) -> str | None:
        """Whether what is wrong with the yoke as a whole names this dimension."""
        whys = [said(each.why) for each in self._document.problems if each.key == self.key]
        if not any(re.search(rf"\b{name}\b", why) for why in whys):
            return None
        return "does not go with the others: see above"

    def _missing(self, file: str) -> str | None:
        """What is wrong where no such mesh file lies; seen from the rig's folder."""
        folder = self._document.rig.folder
        if (folder / file).is_file():
            return None
        return f"came {file}, which is not in {folder.resolve()}, expected a file that is there"

    def _own(self) -> dict[str, Any]:
        typed = self._document.typed(self.key)
        if not isinstance(typed, Mapping):
            return {}
        return {key: value for key, value in typed.items() if key != "kind"}

    def _counts(self, key: str, choice: type[YokeChoice] | type[CrossChoice]) -> str:
        here: Any = self._document.rig
        for step in key.split("."):
            here = getattr(here, step, None)
        return here.name if isinstance(here, choice) else ""

    def _problem(self, key: str) -> str | None:
        for problem in self._document.problems:
            if problem.key == key:
                return typed_problem(problem)
        return None


_OF_A_MESH = (
    ("file", "mesh file (STL, OBJ, PLY, 3MF or GLB), seen from the rig file's folder", ""),
    ("unit", "unit of the numbers in the file: mm, cm, m, in or ft", "guessed"),
    ("weld_land", "from the cross center to where the tube seats", "no tube behind it"),
    ("cap_length", "length of its bearing caps", "as in the catalogue"),
)
"""What is told of a yoke from a mesh file: name, what it is, what counts where it is left out."""


def _words(value: float, unit: Unit) -> str:
    if unit == "count":
        return f"{value:.0f}"
    if unit == "angle":
        return f"{degrees(value):.1f} deg"
    return f"{value / 25.4:.3f} in ({value:.1f} mm)"
