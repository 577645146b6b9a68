"""Own yokes: a mesh from a scanner or from CAD made into a yoke."""

from geometry.imported.bores import likely_bores
from geometry.imported.decimation import decimated
from geometry.imported.fittings import Fittings
from geometry.imported.importing import ImportedYoke, imported_yoke
from geometry.imported.placing import Placement, placed_by_bores, three_picks
from geometry.imported.raw import LIMITS, RawMesh
from geometry.imported.reading import FORMATS, format_of, read_mesh
from geometry.imported.repair import repaired
from geometry.imported.units import UnitQuestion, guess_unit

__all__ = [
    "FORMATS",
    "LIMITS",
    "Fittings",
    "ImportedYoke",
    "Placement",
    "RawMesh",
    "UnitQuestion",
    "decimated",
    "format_of",
    "guess_unit",
    "imported_yoke",
    "likely_bores",
    "placed_by_bores",
    "read_mesh",
    "repaired",
    "three_picks",
]
