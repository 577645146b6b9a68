"""What reading a yoke from a mesh file has found, as plain data."""

from typing import Any

from geometry.imported.importing import ImportedYoke
from geometry.imported.placing import witness_of
from viewer.encoder import each_keyed, keyed

_REPAIR = "not_finite doubled flipped shells specks hidden holes large_holes"
_BORES = (
    "diameter_mm=diameter noise_mm=spread out_of_line_mm=out_of_line arc "
    "inside_span_mm=inside_span outside_span_mm=outside_span confidence"
)
_PLACED = "how rotation=R_YM shift_mm=p_YM_Y mirror_error_mm=mirror_error"
_STUB = "diameter_mm=diameter along_mm=along across_mm=across skew_deg=skew turn_deg=turn"


def yoke_data(made: ImportedYoke, kind: str, cross: str | None, lines: str) -> dict[str, Any]:
    """Everything that was found, as plain data."""
    report, repair, placement = made.report, made.report.repair, made.report.placement
    stub = witness_of(placement)
    return {
        "file": report.source,
        "format": kind.lstrip("."),
        **keyed(report, "triangles=repair.faces unit=unit.unit unit_why=unit.why"),
        "sizes": each_keyed(report.unit.candidates, "unit size_mm=size plausible"),
        "repair": {
            **keyed(repair, _REPAIR),
            "longest_hole_mm": repair.longest_hole * report.unit.mm,
            **keyed(repair, "filled_share closed"),
        },
        "bores": placement.bores and keyed(placement.bores, _BORES),
        "placed": {
            **keyed(placement, _PLACED),
            "turned_by": placement.turned_by if placement.how == "bores" else None,
            "stub": stub and keyed(stub, _STUB),
        },
        "throat_mm": made.yoke.dimensions.get("depth_on_axis"),
        "kept": len(report.decimation.mesh.faces),
        "deviation_mm": report.decimation.deviation,
        "crossings": len(report.decimation.crossings.faces),
        "cross": cross,
        "notes": list(report.notes),
        "toml": lines,
    }
