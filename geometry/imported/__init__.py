"""Own yokes: a mesh from a scanner or from CAD made into a yoke."""

from geometry.imported.bores import Bores, likely_bores
from geometry.imported.decimation import Decimation, decimated
from geometry.imported.fittings import Fittings
from geometry.imported.importing import ImportedYoke, ImportReport, imported_yoke
from geometry.imported.placing import Placement, placed_by_bores, three_picks
from geometry.imported.raw import LIMITS, Limits, RawMesh
from geometry.imported.reading import FORMATS, format_of, read_mesh
from geometry.imported.repair import RepairReport, repaired
from geometry.imported.units import UnitCandidate, UnitGuess, UnitQuestion, guess_unit

__all__ = [
    "FORMATS",
    "LIMITS",
    "Bores",
    "Decimation",
    "Fittings",
    "ImportReport",
    "ImportedYoke",
    "Limits",
    "Placement",
    "RawMesh",
    "RepairReport",
    "UnitCandidate",
    "UnitGuess",
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
