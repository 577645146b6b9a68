"""What reading a yoke from a mesh file has found, in words; and remarks in its lines for a rig."""

from collections.abc import Iterator
from math import degrees, isfinite

from geometry.imported.bores import Bores
from geometry.imported.importing import ImportedYoke, ImportReport
from geometry.imported.placing import witness_of
from geometry.imported.repair import RepairReport
from geometry.imported.units import UnitGuess, spoken
from sim.remark import remark_of
from viewer.words.remarks import said
from viewer.words.units import exact

FULL = 0.75
"""Share of the full round from which a bore is no half-round saddle."""

_SHOWN = ("mm", "in", "m")
"""Units that are always shown; others where they are possible."""


def yoke_rows(made: ImportedYoke, cross: str | None, given: bool) -> Iterator[tuple[str, str]]:
    """Everything that was found, each with its name.

    cross : that was given, or that seems to fit
    """
    report = made.report
    guess = report.unit
    yield "size", f"longest side {', '.join(sizes(guess))}"
    why = "as you say"
    if guess.why is not None and guess.why.code != "unit-given":
        why = said(remark_of(guess.why))
    yield "unit", f"{spoken(guess.unit or '')}: {why}"
    yield "repair", _repair_words(report.repair, guess.mm)
    yield from _bore_rows(report.placement.bores)
    yield "placed", _placed_words(report)
    yield from _stub_rows(report)
    throat = made.yoke.dimensions.get("depth_on_axis")
    if throat is not None:
        yield "throat", f"metal begins {exact(throat)} from the cross center on the axis"
    yield "triangles", _thinned_words(report)
    if cross is None:
        yield "cross", "none of the catalogue fits these bores; give --cross if you know"
    else:
        yield "cross", cross if given else f"{cross} seems to fit; check it in your hand"


def sizes(guess: UnitGuess) -> list[str]:
    """The longest side as it would be in each unit."""
    shown = [item for item in guess.candidates if item.unit in _SHOWN or item.plausible]
    return [f"as {item.unit} {_size(item.size)}" for item in shown]


def trial_sizes(guess: UnitGuess) -> Iterator[tuple[str, str]]:
    """Units a user may choose, each with how long the yoke is then: what is possible, or all."""
    possible = [item for item in guess.candidates if item.plausible or item.unit == guess.unit]
    for item in possible or guess.candidates:
        yield item.unit, f"{spoken(item.unit)}: {item.size / 25.4:.3g} in ({item.size:.3g} mm) long"


def trial_rows(made: ImportedYoke, cap: float) -> Iterator[tuple[str, str]]:
    """What decides whether a yoke is taken, each with its name.

    cap : mm, diameter of the caps of the cross that goes in.
    """
    report = made.report
    bores = report.placement.bores
    if bores is not None:
        form = "half round" if bores.arc < FULL else "full round"
        yield "Bores", f"{exact(bores.diameter)} across, {form}; the caps are {exact(cap)}"
        yield "Between ears", exact(bores.inside_span)
        yield "Over ears", exact(bores.outside_span)
    throat = made.yoke.dimensions.get("depth_on_axis")
    if throat is not None:
        yield "Throat", f"{exact(throat)} from the cross center"
    yield "Mesh", _repair_words(report.repair, report.unit.mm)


def _size(mm: float) -> str:
    if mm >= 1000.0:
        return f"{mm / 1000.0:.3g} m"
    return f"{mm:.3g} mm ({mm / 25.4:.3g} in)"


def _repair_words(repair: RepairReport, mm: float) -> str:
    """What was found and mended; `mm` is the unit of the lengths."""
    small, large = repair.holes - repair.large_holes, repair.large_holes
    found = [
        (repair.not_finite, "triangle", "without numbers left out"),
        (repair.doubled, "doubled or collapsed triangle", "left out"),
        (repair.flipped, "triangle", "turned to face outward"),
        (repair.specks, "speck", "left out"),
        (repair.hidden, "piece", "inside others left out"),
        (small, "small hole", "filled"),
        (
            large,
            "large hole",
            f"closed flat, up to {repair.longest_hole * mm:.0f} mm round, "
            f"{100.0 * repair.filled_share:.1f} % of the surface",
        ),
    ]
    told = [f"{_many(count, thing)} {what}" for count, thing, what in found if count]
    pieces = repair.shells - repair.specks - repair.hidden
    shells = "one piece" if pieces == 1 else f"{pieces} pieces"
    closed = "closed" if repair.closed else f"not closed at {_many(repair.crowded_edges, 'edge')}"
    return f"{shells}, {closed}; {', '.join(told) or 'nothing to mend'}"


def _many(count: int, thing: str) -> str:
    return f"{count:,} {thing}{'' if count == 1 else 's'}"


def _bore_rows(bores: Bores | None) -> Iterator[tuple[str, str]]:
    if bores is None:
        yield "bores", "not looked for, since three points were picked"
        return
    line = (
        f"{bores.out_of_line:.2f} mm out of one line"
        if isfinite(bores.out_of_line)
        else "too few corners to tell whether they are in one line"
    )
    form = "half-round saddles" if bores.arc < FULL else "full round"
    yield (
        "bores",
        f"{exact(bores.diameter)} across, {form}; noise {bores.spread:.3f} mm; {line}; "
        f"confidence {bores.confidence:.2f}",
    )
    yield (
        "ears",
        f"{exact(bores.inside_span)} between their inside faces, {exact(bores.outside_span)} over "
        "their outside faces",
    )


def _placed_words(report: ImportReport) -> str:
    """By what the yoke was placed, and how well."""
    placement = report.placement
    if placement.how == "picks":
        return (
            f"by the three picks; the third is {degrees(placement.skew):.1f} deg from square to "
            "the bores"
        )
    way = "; the shaft goes the way of the round stub" if placement.turned_by == "stub" else ""
    return (
        "by its bores, the cross center halfway between the ears; the halves beside the shaft are "
        f"mirror images to {placement.mirror_error:.2f} mm{way}"
    )


def _stub_rows(report: ImportReport) -> Iterator[tuple[str, str]]:
    """What the second witness of the placing says."""
    witness = witness_of(report.placement)
    if witness is not None:
        yield (
            "stub",
            f"{exact(witness.diameter)} across; its axis passes {witness.beside:.2f} mm beside "
            f"the cross center, {degrees(witness.skew):.2f} deg from square to the bores",
        )
    elif report.placement.how == "bores":
        yield "stub", "no round found behind the ears, so nothing but the ears says where it sits"


def _thinned_words(report: ImportReport) -> str:
    """How many triangles are left, and what that changes."""
    fewer = report.decimation
    kept = len(fewer.mesh.faces)
    if fewer.deviation == 0.0:
        return f"{kept:,}, all kept"
    return (
        f"{fewer.faces:,} brought down to {kept:,}; the surfaces differ by {fewer.deviation:.3f} "
        "mm at most, to the safe side"
    )


def scan_remarks(source: str) -> Iterator[str]:
    """What the lines of a rig file say of a yoke from a mesh file."""
    yield f"A yoke from {source}. Keep the mesh file beside the rig file."
    yield from _places("shaft_yoke", "shaft.output_end")
    yield (
        "A yoke with a tube behind it also wants its weld_land, from the cross center to the tube."
    )


def caliper_remarks(kind: str, measured: int, asked: int, key: str, table: str) -> Iterator[str]:
    """What they say of a yoke of the catalogue with dimensions that were measured.

    key, table : of where such a yoke mostly sits
    """
    yield f"A {kind} by caliper, {measured} of {asked} readings taken; the rest is generic."
    yield from _places(key, table)


def _places(key: str, table: str) -> Iterator[str]:
    yield f"Put the lines below into [{table}] or the table of the other end, in place of its"
    yield f"lines of the same names. {key} is the usual place of such a yoke; it may be the"
    yield "output_yoke, a shaft_yoke or the pinion_yoke."
