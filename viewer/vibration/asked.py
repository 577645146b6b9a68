"""What is typed of a shake, read as a symptom."""

from dataclasses import dataclass

from sim.table.kinds import Typed
from sim.table.loads import ROAD_SPEED, TURNING
from sim.vibration import Symptom
from sim.vibration.symptom import Feel, Follows, Only, When
from viewer.words.units import road as format_road
from viewer.words.units import rpm
from viewer.written.files import AskedError

AT_WORDS = 'a road speed or the speed of the shaft, such as "45 mph", "70 km/h" or "2100 rpm"'


@dataclass(frozen=True)
class Asked:
    """What is typed; None or "" for what is not said.

    Attributes
    ----------
    at : a road speed, or the shaft's own. engine : the engine's. gear : ratio of the gear it is in.
    """

    at: str | None = None
    engine: str | None = None
    gear: str | None = None
    when: When | None = None
    feel: Feel | None = None
    per_turn: int | None = None
    follows: Follows | None = None
    only: Only | None = None


def symptom_of(asked: Asked) -> Symptom:
    """The symptom meant. Raises AskedError for what cannot be read."""
    road = shaft = engine = gear = None
    if asked.at and asked.engine:
        raise AskedError(
            "speed: came that of the road or shaft and that of the engine, expected one"
        )
    if asked.at:
        road, shaft = ROAD_SPEED.of(asked.at), TURNING.of(asked.at)
        if road is None and shaft is None:
            raise AskedError(f"speed: came {asked.at}, expected {AT_WORDS}")
    if asked.engine:
        engine = _read("engine speed", asked.engine, TURNING)
        if not asked.gear:
            raise AskedError("engine speed: came without a gear, expected the gear's ratio as well")
    if asked.gear:
        gear = _number("gear", asked.gear)
    for value, kind, shown in ((road, ROAD_SPEED, format_road), (shaft, TURNING, rpm)):
        if value is not None and value <= 0.0:
            raise AskedError(f"speed: came {asked.at}, expected {AT_WORDS}, above zero")
        if value is not None and value > kind.range.most:
            raise AskedError(
                f"speed: {asked.at} is too fast, expected at most {shown(kind.range.most)}"
            )
    if engine is None and road is None and shaft is None and asked.when != "takeoff":
        raise AskedError(f"speed: nothing typed, expected {AT_WORDS}")
    return Symptom(
        road=road,
        shaft=shaft,
        engine=engine,
        gear=gear,
        when=asked.when,
        feel=asked.feel,
        per_turn=asked.per_turn,
        follows=asked.follows,
        only=asked.only,
    )


def _read(name: str, text: str, kind: Typed) -> float:
    found = kind.of(text)
    if found is None or not 0.0 < found <= kind.range.most:
        raise AskedError(f"{name}: came {text}, expected {kind.expected}")
    return found


def _number(name: str, text: str) -> float:
    try:
        found = float(text)
    except ValueError:
        found = 0.0
    if not 0.05 <= found <= 200.0:
        raise AskedError(f"{name}: came {text}, expected a ratio such as 0.75 or 3.5")
    return found
