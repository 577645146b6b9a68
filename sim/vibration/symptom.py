"""What somebody says of a shake: at which speed, when, how it feels, what it goes with."""

from dataclasses import dataclass
from typing import Literal

from geometry.errors import BindpointError
from sim.quantities import require_fields
from sim.speed import ABSURD, LOADS, RPM, Gearing, Load

When = Literal["power", "coast", "any", "takeoff"]
"""under power; coasting in gear; alike under power, coasting and in neutral; pulling away."""

Only = Literal["4wd", "hubs-locked", "loaded", "drooped"]
"""What it takes: four-wheel drive, locked hubs, weight in the back, the axle hanging low."""

Feel = Literal["buzz", "shudder", "boom"]
"""fast, in the feet; slow; heard more than felt."""

Follows = Literal["road", "engine"]
"""What it keeps in step with when the gear is changed."""


class SymptomError(BindpointError, ValueError):
    """A symptom that cannot be."""


@dataclass(frozen=True)
class Symptom:
    """A shake, as it is told; None for what nobody said.

    Attributes
    ----------
    road : mm/s. shaft, engine : rad/s. One of the three at most.
    gear : ratio of the gearbox, transfer case counted, where it is told.
    per_turn : times a turn of the shaft, once or twice.
    """

    road: float | None = None
    shaft: float | None = None
    engine: float | None = None
    gear: float | None = None
    when: When | None = None
    feel: Feel | None = None
    per_turn: int | None = None
    follows: Follows | None = None
    only: Only | None = None

    def __post_init__(self) -> None:
        require_fields(SymptomError, self, "road shaft engine gear")
        if sum(each is not None for each in (self.road, self.shaft, self.engine)) > 1:
            raise SymptomError("symptom: got several speeds, expected one: road, shaft or engine")
        if self.engine is not None and self.gear is None:
            raise SymptomError(
                "symptom: got the engine's speed without a gear, expected the gear's ratio as well"
            )
        if self.per_turn not in (None, 1, 2):
            raise SymptomError(f"times a turn: got {self.per_turn}, expected 1 or 2")

    @property
    def loads(self) -> tuple[Load, ...]:
        """How the drive leans on the axle while it shakes; all of steady driving where not told."""
        if self.only in ("loaded", "drooped"):
            return (self.only,)
        if self.when is None or self.when == "any":
            return LOADS
        return (self.when,)


@dataclass(frozen=True)
class Turns:
    """What turns how fast while it shakes, rad/s; None for what is not known.

    Attributes
    ----------
    road : mm/s.
    """

    road: float | None
    shaft: float | None
    wheel: float | None
    engine: float | None


def turns_of(symptom: Symptom, gearing: Gearing | None, top_gear: float | None = None) -> Turns:
    """Find what turns how fast.

    top_gear : ratio that the gearbox is taken to be in where no gear is told.

    Raises SymptomError for a speed at which no driveshaft turns.
    """
    gear = symptom.gear if symptom.gear is not None else top_gear
    shaft, road = symptom.shaft, symptom.road
    if symptom.engine is not None and gear is not None:
        shaft = symptom.engine / gear
    elif road is not None and gearing is not None:
        shaft = gearing.shaft_speed(road)
    if shaft is not None and shaft > ABSURD:
        raise SymptomError(
            f"speed: got one at which the shaft turns {shaft / RPM:,.0f} rpm, expected at most "
            f"{ABSURD / RPM:,.0f} rpm"
        )
    if road is None and shaft is not None and gearing is not None:
        road = gearing.road_speed(shaft)
    wheel = None if road is None or gearing is None else gearing.wheel_speed(road)
    engine = symptom.engine
    if engine is None and shaft is not None and gear is not None:
        engine = shaft * gear
    return Turns(road, shaft, wheel, engine)
