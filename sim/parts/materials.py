"""Generic materials by name: data in models/materials, from memory, each value overridable."""

from dataclasses import asdict, dataclass
from functools import cache
from importlib.resources import files
from math import sqrt
from tomllib import loads
from typing import Any

from geometry.errors import BindpointError
from sim.quantities import require_positive


class MaterialError(BindpointError, ValueError):
    """A material that is not known, or numbers that make none."""


@dataclass(frozen=True)
class Material:
    """What a part is made of; stresses in MPa (N/mm2)."""

    name: str
    modulus: float
    """Young's modulus, MPa."""
    poisson: float
    density: float
    """kg/mm3."""
    yields: float
    """Where it stays bent in tension, MPa."""
    breaks: float
    """Strength in tension, MPa."""
    bears: float
    """Projected pressure that a seat takes at the greatest torque, MPa."""
    note: str
    source: str

    def __post_init__(self) -> None:
        numbers = {key: value for key, value in asdict(self).items() if isinstance(value, float)}
        require_positive(MaterialError, **{f"{self.name} {key}": numbers[key] for key in numbers})
        if not self.poisson < 0.5:
            raise MaterialError(f"{self.name} poisson: got {self.poisson}, expected under 0.5")

    @property
    def shear_modulus(self) -> float:
        """E / (2 (1 + nu)), MPa."""
        return 0.5 * self.modulus / (1.0 + self.poisson)

    @property
    def shears(self) -> float:
        """Yield in shear, MPa: 1/sqrt(3) of that in tension (von Mises, from memory)."""
        return self.yields / sqrt(3.0)


def material(name: str, **overrides: float) -> Material:
    """Return a generic material, with numbers of your own in place of its own.

    Raises MaterialError for a name or a number's name that is not known.
    """
    data = _data()
    if name not in material_names():
        raise MaterialError(f"no material {name!r}; there are: {', '.join(material_names())}")
    values = dict(data[name])
    legal = [key for key in values if key != "note"]
    for key in overrides:
        if key not in legal:
            raise MaterialError(
                f"material {name!r} has no number {key!r}; there are: {', '.join(legal)}"
            )
    source = data["source"]
    if overrides:
        source = f"{', '.join(sorted(overrides))}: as given; all else: {source}"
    return Material(name=name, source=source, **(values | overrides))


def material_names() -> tuple[str, ...]:
    """Return every material there is."""
    return tuple(name for name, value in _data().items() if isinstance(value, dict))


@cache
def _data() -> dict[str, Any]:
    text = files("models").joinpath("materials", "materials.toml").read_text(encoding="utf-8")
    return loads(text)
