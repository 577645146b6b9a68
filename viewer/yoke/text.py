"""What reading a yoke from a mesh file has found, as text and as plain data."""

from collections.abc import Iterator
from math import degrees, isfinite
from textwrap import wrap
from typing import Any

from geometry.imported.bores import Bores
from geometry.imported.importing import ImportedYoke, ImportReport
from geometry.imported.placing import Witness, witness_of
from geometry.imported.repair import RepairReport
from geometry.imported.units import MM_IN, UnitGuess, spoken
from viewer.encoder import number
from viewer.words.verdicts import CAUTION

WIDTH = 96

FULL = 0.75
"""Share of the full round from which a bore is no half-round saddle."""

_SHOWN = ("mm", "in", "m")
"""Units that are always shown; others where they are possible."""


def yoke_lines(made: ImportedYoke, kind: str, cross: str | None, given: bool) -> Iterator[str]:
    """Everything that was found, line by line.

    kind : format of the file; cross : that was given, or that seems to fit
    """
    report = made.report
    yield f"{report.source}: {kind.lstrip('.').upper()}, {report.repair.faces:,} triangles"
    rows = [
        ("size", f"longest side {', '.join(sizes(report.unit))}"),
        ("unit", unit_words(report.unit)),
        ("repair", repair_words(report.repair, report.unit.mm)),
        *_bore_rows(report.placement.bores),
        ("placed", placed_words(report)),
        *_stub_rows(report),
    ]
    throat = made.yoke.dimensions.get("depth_on_axis")
    if throat is not None:
        rows.append(("throat", f"metal begins {exact(throat)} from the cross centre on the axis"))
    rows.append(("triangles", thinned_words(report)))
    if cross is not None:
        rows.append(("cross", cross if given else f"{cross} seems to fit; check it in your hand"))
    else:
        rows.append(("cross", "none of the catalogue fits these bores; give --cross if you know"))
    for name, text in rows:
        yield from wrap(f"{name:<10}{text}", WIDTH, subsequent_indent=" " * 10)
    yield ""
    yield "Look at:"
    for note in report.checks:
        yield from wrap(f"  - {note}", WIDTH, subsequent_indent="    ")
    yield ""
    yield from wrap(CAUTION, WIDTH)


def sizes(guess: UnitGuess) -> list[str]:
    """The longest side as it would be in each unit."""
    shown = [item for item in guess.candidates if item.unit in _SHOWN or item.plausible]
    return [f"as {item.unit} {_size(item.size)}" for item in shown]


def _size(mm: float) -> str:
    if mm >= 1000.0:
        return f"{mm / 1000.0:.3g} m"
    return f"{mm:.3g} mm ({mm / 25.4:.3g} in)"


def unit_words(guess: UnitGuess) -> str:
    """The unit and how it is known."""
    why = "as you say" if guess.why == "given" else guess.why
    return f"{spoken(guess.unit or '')}: {why}"


def repair_words(repair: RepairReport, mm: float) -> str:
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
        f"{exact(2.0 * bores.radius)} across, {form}; noise {bores.spread:.3f} mm; {line}; "
        f"confidence {bores.confidence:.2f}",
    )
    yield (
        "ears",
        f"{exact(bores.inside_span)} between their inside faces, {exact(bores.outside_span)} over "
        "their outside faces",
    )


def placed_words(report: ImportReport) -> str:
    """By what the yoke was placed, and how well."""
    placement = report.placement
    if placement.how == "picks":
        return (
            f"by the three picks; the third is {degrees(placement.skew):.1f} deg from square to "
            "the bores"
        )
    way = "; the shaft goes the way of the round stub" if placement.turned_by == "stub" else ""
    return (
        "by its bores, the cross centre halfway between the ears; the halves beside the shaft are "
        f"mirror images to {placement.mirror_error:.2f} mm{way}"
    )


def _stub_rows(report: ImportReport) -> Iterator[tuple[str, str]]:
    """What the second witness of the placing says."""
    witness = witness_of(report.placement)
    if witness is not None:
        yield (
            "stub",
            f"{exact(witness.diameter)} across; its axis passes {witness.beside:.2f} mm beside "
            f"the cross centre, {degrees(witness.skew):.2f} deg from square to the bores",
        )
    elif report.placement.how == "bores":
        yield "stub", "no round found behind the ears, so nothing but the ears says where it sits"


def thinned_words(report: ImportReport) -> str:
    """How many triangles are left, and what that changes."""
    fewer = report.decimation
    kept = len(fewer.mesh.faces)
    if fewer.deviation == 0.0:
        return f"{kept:,}, all kept"
    return (
        f"{fewer.faces:,} brought down to {kept:,}; the surfaces differ by {fewer.deviation:.3f} "
        "mm at most, to the safe side"
    )


def _stub_data(witness: Witness | None) -> dict[str, float] | None:
    if witness is None:
        return None
    return {
        "diameter_mm": witness.diameter,
        "along_mm": witness.along,
        "across_mm": witness.across,
        "skew_deg": degrees(witness.skew),
        "turn_deg": degrees(witness.turn),
    }


def exact(mm: float) -> str:
    """A length as a caliper shows it: ``34.49 mm (1.358 in)``."""
    return f"{mm:.2f} mm ({mm / 25.4:.3f} in)"


def yoke_data(made: ImportedYoke, kind: str, cross: str | None, lines: str) -> dict[str, Any]:
    """Everything that was found, as plain data."""
    report, repair, fewer = made.report, made.report.repair, made.report.decimation
    placement, bores = report.placement, report.placement.bores
    return {
        "file": report.source,
        "format": kind.lstrip("."),
        "triangles": repair.faces,
        "unit": report.unit.unit,
        "unit_why": report.unit.why,
        "sizes": [
            {"unit": item.unit, "size_mm": item.size, "plausible": item.plausible}
            for item in report.unit.candidates
        ],
        "repair": {
            "not_finite": repair.not_finite,
            "doubled": repair.doubled,
            "flipped": repair.flipped,
            "shells": repair.shells,
            "specks": repair.specks,
            "hidden": repair.hidden,
            "holes": repair.holes,
            "large_holes": repair.large_holes,
            "longest_hole_mm": repair.longest_hole * MM_IN[report.unit.unit or "mm"],
            "filled_share": repair.filled_share,
            "closed": repair.closed,
        },
        "bores": None
        if bores is None
        else {
            "diameter_mm": 2.0 * bores.radius,
            "noise_mm": bores.spread,
            "out_of_line_mm": number(bores.out_of_line),
            "arc": bores.arc,
            "inside_span_mm": bores.inside_span,
            "outside_span_mm": bores.outside_span,
            "confidence": bores.confidence,
        },
        "placed": {
            "how": placement.how,
            "rotation": placement.R_YM.tolist(),
            "shift_mm": placement.p_YM_Y.tolist(),
            "mirror_error_mm": number(placement.mirror_error),
            "turned_by": placement.turned_by if placement.how == "bores" else None,
            "stub": _stub_data(witness_of(placement)),
        },
        "throat_mm": made.yoke.dimensions.get("depth_on_axis"),
        "kept": len(fewer.mesh.faces),
        "deviation_mm": fewer.deviation,
        "crossings": len(fewer.crossings.faces),
        "cross": cross,
        "notes": list(report.notes),
        "toml": lines,
    }
