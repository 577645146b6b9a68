"""What reading a yoke from a mesh file has found, as plain data."""

from typing import Any

from geometry.imported.bores import Bores
from geometry.imported.importing import ImportedYoke
from geometry.imported.placing import Witness, witness_of
from geometry.imported.units import Note, UnitCandidate
from sim.remark import remark_of
from viewer.encoder import keyed, plain, publish
from viewer.words.remarks import said

_REPAIR = "not_finite doubled flipped shells specks hidden holes large_holes"
publish(
    {
        UnitCandidate: "unit size_mm=size plausible",
        Bores: (
            "diameter_mm=diameter noise_mm=spread out_of_line_mm=out_of_line arc "
            "inside_span_mm=inside_span outside_span_mm=outside_span confidence"
        ),
        Witness: "diameter_mm=diameter along_mm=along across_mm=across skew_deg=skew turn_deg=turn",
    }
)
_PLACED = "how rotation=R_YM shift_mm=p_YM_Y mirror_error_mm=mirror_error"


@plain.register(Note)
def _(value: Note, key: str = "") -> str:
    del key
    return said(remark_of(value))


def yoke_data(made: ImportedYoke, kind: str, cross: str | None, lines: str) -> dict[str, Any]:
    """Everything that was found, as plain data."""
    report, repair, placement = made.report, made.report.repair, made.report.placement
    return {
        "file": report.source,
        "format": kind.lstrip("."),
        **keyed(
            report,
            "triangles=repair.faces unit=unit.unit unit_why=unit.why sizes=unit.candidates",
        ),
        "repair": {
            **keyed(repair, _REPAIR),
            "longest_hole_mm": repair.longest_hole * report.unit.mm,
            **keyed(repair, "filled_share closed"),
        },
        "bores": plain(placement.bores),
        "placed": {
            **keyed(placement, _PLACED),
            "turned_by": placement.turned_by if placement.how == "bores" else None,
            "stub": plain(witness_of(placement)),
        },
        "throat_mm": made.yoke.dimensions.get("depth_on_axis"),
        "kept": len(report.decimation.mesh.faces),
        "deviation_mm": report.decimation.deviation,
        "crossings": len(report.decimation.crossings.faces),
        "cross": cross,
        "notes": plain(report.notes),
        "toml": lines,
    }
