"""What a user should know of an import, as codes and numbers; whoever shows it words them."""

from __future__ import annotations

from math import isfinite

from geometry.imported.bores import Bores
from geometry.imported.decimation import Decimation
from geometry.imported.fittings import Fittings
from geometry.imported.placing import Placement, witness_of
from geometry.imported.repair import FILLED, RepairReport
from geometry.imported.units import Note, UnitGuess, note, spoken

UNSURE = 0.6
"""Confidence of the bore finder below which the user is asked to look."""

ROUGH = 0.2
"""Scatter of the bores, mm, that is more than a scanner's noise."""

CROOKED = 0.5
"""How far the bores may be out of one line, mm: on a coarse scan of half-round saddles a scatter
of 0.1 mm alone looks like 0.4."""

LOPSIDED = 0.3
"""Mirror error, mm, from which the direction of the shaft may be off by some tenths of a deg."""

BESIDE = 0.3
"""How far, mm, the stub's axis may pass beside the middle of the ears with nothing said: more than
a machined yoke has and a scan of 0.2 mm of noise adds."""

OFF_CAP = 0.01
"""How far bores may be off the caps' diameter, as a share; 0.3 mm on 27."""


def placement_notes(placement: Placement, fittings: Fittings) -> list[Note]:
    """Return what to know of where the yoke was placed; lengths in mm."""
    notes = []
    if isfinite(placement.skew) and placement.skew > 0.05:
        notes.append(note("pick-askew", skew=placement.skew))
    error = placement.mirror_error
    if isfinite(error) and error > LOPSIDED:
        notes.append(note("lopsided", error=error, by_stub=placement.turned_by == "stub"))
    witness = witness_of(placement)
    if witness is not None and witness.beside > BESIDE + 3.0 * witness.unsure_place:
        notes.append(note("stub-beside", beside=witness.beside))
    if placement.bores is not None:
        notes += _bore_notes(placement.bores, fittings)
    return notes


def _bore_notes(bores: Bores, fittings: Fittings) -> list[Note]:
    notes = []
    if bores.confidence < UNSURE:
        notes.append(note("bores-unsure", confidence=bores.confidence))
    if bores.spread > ROUGH:
        notes.append(note("bores-not-round", spread=bores.spread))
    if bores.out_of_line > CROOKED:
        notes.append(note("bores-out-of-line", out=bores.out_of_line))
    cap = fittings.cap_diameter
    if cap is not None and abs(bores.diameter / cap - 1.0) > OFF_CAP:
        notes.append(note("bores-off-caps", wide=bores.diameter, cap=cap))
    return notes


def surface_notes(repair: RepairReport, fewer: Decimation, mm: float) -> list[Note]:
    """Return what to know of the surface; `mm` is the unit of the repair's lengths."""
    notes = []
    crossings = fewer.crossings
    if repair.large_holes:
        longest, share = repair.longest_hole * mm, 100.0 * repair.filled_share
        holes = repair.large_holes
        notes.append(note("large-holes", holes=holes, longest=longest, share=share, surface=FILLED))
    if not repair.closed:
        notes.append(note("not-closed", edges=repair.crowded_edges))
    if len(crossings.faces):
        notes.append(note("folds-over", pairs=len(crossings.faces)))
    if not crossings.complete:
        notes.append(note("too-tangled"))
    if fewer.outside > 0.01:
        notes.append(note("points-stand-out", out=fewer.outside))
    return notes


def done_notes(repair: RepairReport, fewer: Decimation, guess: UnitGuess) -> list[Note]:
    """Return what was done to the mesh, with nothing in it to worry about."""
    notes = []
    if fewer.deviation > 0.0:
        kept = len(fewer.mesh.faces)
        notes.append(note("thinned", faces=fewer.faces, kept=kept, deviation=fewer.deviation))
    mended = note(
        "mended",
        flipped=repair.flipped,
        doubled=repair.doubled,
        not_finite=repair.not_finite,
        specks=repair.specks,
        hidden=repair.hidden,
        small_holes=repair.holes - repair.large_holes,
    )
    if any(mended.values.values()):
        notes.append(mended)
    if guess.why is not None and guess.why.code != "unit-given":
        unit = spoken(guess.unit or "")
        notes.append(note("unit-taken", unit=unit, mm=guess.mm, why=guess.why))
    return notes


def scope_note(parts: frozenset[str]) -> Note:
    """Return what is taken for granted: that nothing else can touch."""
    return note("scope", added=", ".join(sorted(parts - {"body"})) or None)
