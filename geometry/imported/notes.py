"""What a user should know of an import, in words."""

from __future__ import annotations

from math import degrees, isfinite

from geometry.imported.bores import Bores
from geometry.imported.decimation import Decimation
from geometry.imported.fittings import Fittings
from geometry.imported.placing import Placement, witness_of
from geometry.imported.repair import FILLED, RepairReport
from geometry.imported.units import UnitGuess, spoken

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


def placement_notes(placement: Placement, fittings: Fittings) -> list[str]:
    """Return what to know of where the yoke was placed; lengths in mm."""
    notes = []
    if isfinite(placement.skew) and placement.skew > 0.05:
        notes.append(
            f"the pick on the shaft is {degrees(placement.skew):.1f} deg from square to the bores; "
            "check the three picks"
        )
    if isfinite(placement.mirror_error) and placement.mirror_error > LOPSIDED:
        notes.append(
            f"the yoke is {placement.mirror_error:.2f} mm from its own mirror image, so "
            + (
                "its shaft was taken to go the way of the round stub"
                if placement.turned_by == "stub"
                else "the direction of its shaft is uncertain; three picks are surer"
            )
        )
    witness = witness_of(placement)
    if witness is not None and witness.beside > BESIDE + 3.0 * witness.unsure_place:
        notes.append(
            f"the round stub's axis passes {witness.beside:.2f} mm beside the middle between the "
            "ears; look whether the ears are alike"
        )
    if placement.bores is not None:
        notes += _bore_notes(placement.bores, fittings)
    return notes


def _bore_notes(bores: Bores, fittings: Fittings) -> list[str]:
    notes = []
    wide = bores.diameter
    if bores.confidence < UNSURE:
        notes.append(
            f"the bores were found with a confidence of {bores.confidence:.2f} only; look whether "
            "they are the right ones, or pick three points"
        )
    if bores.spread > ROUGH:
        notes.append(f"the bores are {bores.spread:.2f} mm from round; worn, or a rough scan")
    if bores.out_of_line > CROOKED:
        notes.append(
            f"the two bores are {bores.out_of_line:.2f} mm out of one line; a bent yoke, or a "
            "rough scan"
        )
    cap = fittings.cap_diameter
    if cap is not None and abs(wide / cap - 1.0) > OFF_CAP:
        notes.append(
            f"the bores measure {wide:.2f} mm and the caps {cap:.2f} mm; check the cross, the unit "
            "and the scanner's scale"
        )
    return notes


def surface_notes(repair: RepairReport, fewer: Decimation, mm: float) -> list[str]:
    """Return what to know of the surface; `mm` is the unit of the repair's lengths."""
    notes = []
    crossings = fewer.crossings
    if repair.large_holes:
        notes.append(
            f"{repair.large_holes} large hole(s), up to {repair.longest_hole * mm:.0f} mm round, "
            f"closed flat: {100.0 * repair.filled_share:.1f} % of the surface is a guess. A touch "
            f"on {FILLED!r} means: scan that place again"
        )
    if not repair.closed:
        notes.append(
            f"{repair.crowded_edges} edge(s) are shared by more than two triangles, so the surface "
            "is not properly closed; its touch is good, but a part wholly inside it may go unseen"
        )
    if len(crossings.faces):
        notes.append(
            f"{len(crossings.faces)} pair(s) of triangles cut each other; the surface folds over "
            "itself there, which a touch does not mind"
        )
    if not crossings.complete:
        notes.append("the surface is too tangled to ask all of it whether it crosses itself")
    if fewer.outside > 0.01:
        notes.append(f"some points of the scan stand out by up to {fewer.outside:.3f} mm even so")
    return notes


def done_notes(repair: RepairReport, fewer: Decimation, guess: UnitGuess) -> list[str]:
    """Return what was done to the mesh, with nothing in it to worry about."""
    notes = []
    if fewer.deviation > 0.0:
        notes.append(
            f"{fewer.faces:,} triangles brought down to {len(fewer.mesh.faces):,}: the surfaces "
            f"differ by up to {fewer.deviation:.3f} mm; what is kept holds the scan, so it touches "
            "early by so much at most"
        )
    mended = _mended(repair)
    if mended:
        notes.append(mended)
    if guess.why != "given":
        notes.append(
            f"taken to be in {spoken(guess.unit or '')} (1 = {guess.mm:g} mm): {guess.why}"
        )
    return notes


def _mended(repair: RepairReport) -> str:
    found = (
        (repair.flipped, "triangle(s) turned to face outward"),
        (repair.doubled, "doubled or collapsed triangle(s) left out"),
        (repair.not_finite, "triangle(s) without finite numbers left out"),
        (repair.specks, "speck(s) left out"),
        (repair.hidden, "piece(s) inside others left out"),
        (repair.holes - repair.large_holes, "small hole(s) filled"),
    )
    told = [f"{count:,} {what}" for count, what in found if count]
    return f"mended: {', '.join(told)}" if told else ""


def scope_note(parts: frozenset[str]) -> str:
    """Return what is taken for granted: that nothing else can touch."""
    added = f"; added: {', '.join(sorted(parts - {'body'}))}" if parts - {"body"} else ""
    return (
        f"only what is in the scan can touch{added}. Straps, bolts, nuts, seals and a tube that "
        "were off while scanning are not there"
    )
