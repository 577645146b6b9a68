"""From a file to a yoke that can be touched."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import isfinite
from pathlib import Path

import numpy as np
import numpy.typing as npt

from geometry.contact.containment import holds
from geometry.errors import MeshError
from geometry.imported.decimation import Decimation, collapsed, decimated
from geometry.imported.fittings import Fittings, depth_on_axis, labelled
from geometry.imported.notes import done_notes, placement_notes, scope_note, surface_notes
from geometry.imported.placing import Placement, demand_agreement, placed_by_bores, three_picks
from geometry.imported.raw import LIMITS, told_of
from geometry.imported.reading import read_mesh
from geometry.imported.repair import RepairReport, repaired
from geometry.imported.units import Note, UnitGuess, guess_unit, note, unit_named
from geometry.mesh import Mesh
from geometry.yoke.base import Yoke

KIND = "imported yoke"

Picks = Sequence[npt.ArrayLike]
"""Three points in the numbers of the file: each bore's middle and a point on the shaft's axis."""


@dataclass(frozen=True)
class ImportReport:
    """What was done to a mesh on its way to a yoke, for the user to judge.

    source : name of the file
    unit : the unit and how it is known
    repair : what was mended; lengths in the unit of the file
    decimation : triangles left out and the deviation, mm
    placement : pose in the yoke frame, mm, and the bores found
    checks : what a user should look at, the gravest first
    done : what was done to the mesh and the unit it was taken to be in
    """

    source: str
    unit: UnitGuess
    repair: RepairReport
    decimation: Decimation
    placement: Placement
    checks: tuple[Note, ...]
    done: tuple[Note, ...]

    @property
    def notes(self) -> tuple[Note, ...]:
        """All there is to know, what to look at first."""
        return (*self.checks, *self.done)


@dataclass(frozen=True)
class ImportedYoke:
    """A yoke from a mesh, and how it came about."""

    yoke: Yoke
    report: ImportReport


def imported_yoke(
    path: str | Path,
    unit: str | None = None,
    picks: Picks | None = None,
    fittings: Fittings | None = None,
    name: str | None = None,
) -> ImportedYoke:
    """Return the yoke in a mesh file: STL, OBJ, PLY, 3MF or GLB.

    unit : of the file, which always wins; guessed if left out
    picks : to place it by, in the numbers of the file; by its bores if left out
    fittings : caps and tube that belong to the yoke and are not in the scan; mm
    name : of the yoke; the file's if left out

    Of a dense mesh `LIMITS.kept_faces` triangles are kept, grown so that the metal lies inside.
    Bounded: under a minute and 1 GB for a million triangles, about 6 s for 250,000.

    Raises MeshError, in one line, for what cannot be read, repaired or placed, and its subclass
    UnitQuestion when the unit has to be asked for.
    """
    file = Path(path)
    own = fittings or Fittings()
    explicit = None if unit is None else unit_named(unit)
    with told_of(file.name):
        skin, repair, stated = _mended(file)
        most = LIMITS.kept_faces
        bare = collapsed(skin, most) if len(skin.faces) > most else skin
        if picks is not None and len(picks) != 3:
            raise MeshError(f"{len(picks)} picks; expected three")
        placement = placed_by_bores(skin, bare) if picks is None else three_picks(*picks)
        bore = None if placement.bores is None else placement.bores.diameter
        size = float(np.ptp(skin.bounds, axis=0).max())
        guess = guess_unit(size, stated, bore, own.cap_diameter)
        if explicit is not None:
            guess = UnitGuess(explicit, note("unit-given"), guess.candidates)
        placement = placement.scaled(guess.mm)
        demand_agreement(placement)
        skin, bare = skin.scaled(guess.mm), bare.scaled(guess.mm)
        fewer = decimated(skin, most, bare=bare)
        placed = fewer.mesh.moved(placement.R_YM, placement.p_YM_Y)
        if holds(placed, np.zeros(3)):
            raise MeshError(
                "the cross center comes to lie inside the metal; pick the middles of the two bores "
                "and a point on the shaft's axis, in that order"
            )
        parts = {"body": labelled(placed, placement.bores), **own.parts(placement.bores)}
    yoke = Yoke(
        name or file.stem,
        KIND,
        Mesh.join(parts.values()),
        parts,
        own.weld_land,
        _dimensions(placement, placed),
    )
    checks = (
        *placement_notes(placement, own),
        *surface_notes(repair, fewer, guess.mm),
        scope_note(frozenset(parts)),
    )
    done = tuple(done_notes(repair, fewer, guess))
    report = ImportReport(file.name, guess, repair, fewer, placement, checks, done)
    return ImportedYoke(yoke, report)


def _mended(file: Path) -> tuple[Mesh, RepairReport, str | None]:
    """Return the skin in a file, its report, and the unit the file states.

    The raw triangles are let go here: of a large file they are a quarter of a gigabyte.
    """
    raw = read_mesh(file)
    return *repaired(raw), raw.unit


def _dimensions(placement: Placement, placed: Mesh) -> dict[str, float]:
    """Return what can be measured on the mesh and set beside a caliper's reading, mm."""
    found = {"depth_on_axis": depth_on_axis(placed)}
    bores = placement.bores
    if bores is not None:
        found["bore"] = bores.diameter
        found["inside_span"] = bores.inside_span
        found["ear_thickness"] = 0.5 * (bores.outside_span - bores.inside_span)
    return {key: value for key, value in found.items() if isfinite(value)}
