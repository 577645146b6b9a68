"""A cured rig said in the keys, and with the very words, that the rig was typed in.

Remedies work on coordinates. A shop that taped a length wants its tape back: what a remedy does
not change stays as typed, what was assumed stays assumed, and what it changes is said in the key
that said it before, with the error that was typed there where it still is a measurement.
"""

from collections.abc import Collection, Iterator, Mapping
from typing import Any

import numpy as np

from geometry.errors import BindpointError
from sim.cures.restate import distance
from sim.cures.still_measured import with_error_of
from sim.derive import ride_height_of
from sim.frames import FloatArray
from sim.ride import Ride
from sim.rig import Rig, RigError
from sim.rig.datum import datums_of, taped
from sim.rig.ends import RideHeight
from sim.rig.validation import OPPOSITE, rig_from_data
from sim.table.default import at
from sim.table.part import Either
from sim.table.typed import typed_length
from sim.tolerances import TOL
from sim.units import UnitsError, parse_angle, parse_length

Data = dict[str, Any]


def said_as_typed(original: Rig, cured: Rig, built: Collection[str] = ()) -> Rig:
    """`cured`, which was made of `original`, with nothing new in it but what is different.

    The rig that comes back is the same vehicle to `TOL.retyped`; where the original's keys cannot
    say it, the places of the joints stay in coordinates.

    built : key paths of what the shop builds, which was not measured; see `Remedy.builds`.
    """
    for data in _ways_to_say(original, cured):
        kept = _kept(original.typed(), data, built)
        made = _less_what_is_assumed(original, cured, kept)
        if made is not None and _same_places(made, cured):
            return made
    return cured


def _ways_to_say(original: Rig, cured: Rig) -> Iterator[Data]:
    """Typed data of the cured rig: in the original's keys as far as can be, else as it is."""
    plain = cured.typed()
    ride, was = ride_height_of(cured), ride_height_of(original)
    if original.axle.pinion_joint is None:
        snouted = _with_snout(original, plain, ride)
        if original.ride_height is not None and cured.ride_height is None:
            yield _with_ride_height(original, cured, snouted, ride)
        yield snouted
    elif original.ride_height is not None and cured.ride_height is None:
        yield _with_ride_height(original, cured, plain, ride)
    if distance(ride.p_C_output, was.p_C_output) < TOL.retyped:
        yield _with_output_of(original, plain)
    yield plain


def _with_output_of(original: Rig, data: Data) -> Data:
    """The data with the output said as it was, ride height and all."""
    typed = original.typed()
    said = {**data, "output": typed["output"]}
    return said | ({"ride_height": typed["ride_height"]} if "ride_height" in typed else {})


def _with_snout(original: Rig, data: Data, ride: Ride) -> Data:
    """The data with the pinion joint a snout's length along the pinion."""
    axle = {key: value for key, value in data["axle"].items() if key != "pinion_joint"}
    snout, length = original.axle.snout, float(np.linalg.norm(ride.p_C_pinion))
    if snout is not None and abs(snout.mm - length) < TOL.retyped:
        typed = at(original.typed(), "axle.snout")
        said = {} if typed is None else {"snout": typed}
    else:
        said = {"snout": typed_length(length)}
    return {**data, "axle": axle | said}


def _with_ride_height(original: Rig, cured: Rig, data: Data, ride: Ride) -> Data:
    """The data with the shaft at ride height said by the keys that said it."""
    table: Data = dict(original.typed().get("ride_height", {}))
    said, tape = original.ride_height, None if original.ride_height is None else table.get("tape")
    if "length" in table:
        table["length"] = typed_length(ride.length)
    if tape is not None and said is not None and said.tape is not None:
        try:
            datums = datums_of(said.tape, cured.shaft, cured.carrier)
            table["tape"] = {**tape, "reads": typed_length(taped(ride, *datums))}
        except BindpointError:  # other parts do not have what the tape was held to
            del table["tape"]
            table["length"] = typed_length(ride.length)
    _say(table, RideHeight.down, ride.down)
    _say(table, RideHeight.left, ride.left)
    _say(table, RideHeight.lower, ride.lower)
    _say(table, RideHeight.offset_left, ride.offset_left)
    sideways = RideHeight.left.given(table) or RideHeight.offset_left.given(table)
    if not sideways and abs(ride.offset_left) > TOL.retyped:
        table |= RideHeight.offset_left.typed(ride.offset_left)
    output = dict(data["output"])
    if original.output.joint is None:
        output.pop("joint", None)
    return {**data, "output": output, "ride_height": table}


def _say(table: Data, keys: Either[None], value: float) -> None:
    """Say a number by the one of two opposite keys that fits, where either said it before."""
    new = keys.typed(value)
    ((key, text),) = new.items()
    for old in keys.given(table):
        if old != key or not _same(table[old], text):
            del table[old]
            table |= new


def _kept(old: Any, new: Any, built: Collection[str], path: str = "") -> Any:
    """The new data, each value that is the same as the old one in the old one's words.

    One that is not has the old one's error behind it, where it stays a measurement.
    """
    if isinstance(old, Mapping) and isinstance(new, Mapping):
        kept: Data = {}
        for key, value in new.items():
            here = f"{path}.{key}".lstrip(".")
            opposite = OPPOSITE.get(key)
            turned = opposite is not None and key not in old and opposite in old
            if opposite is not None and turned and opposite not in new:
                zero = _is_zero(value) and _is_zero(old[opposite])
                moved = _with_error(old[opposite], value, here, built)
                kept |= {opposite: old[opposite]} if zero else {key: moved}
            else:
                kept[key] = _kept(old.get(key), value, built, here)
        return kept
    if isinstance(old, list) and isinstance(new, list) and len(old) == len(new):
        return [
            _kept(one, other, built, f"{path}[{place}]")
            for place, (one, other) in enumerate(zip(old, new, strict=True), start=1)
        ]
    return old if _same(old, new) else _with_error(old, new, path, built)


def _with_error(old: Any, new: Any, key: str, built: Collection[str]) -> Any:
    both_typed = isinstance(old, str) and isinstance(new, str)
    return with_error_of(old, new, key, built) if both_typed else new


def _same(old: Any, new: Any) -> bool:
    """Whether two typed values say the same, to the rounding of what the program writes."""
    if old == new:
        return True
    if not (isinstance(old, str) and isinstance(new, str)):
        return False
    for parse, near in ((parse_length, TOL.retyped), (parse_angle, TOL.retyped_angle)):
        try:
            return abs(parse(old) - parse(new)) < near
        except UnitsError:
            continue
    return False


def _is_zero(value: Any) -> bool:
    return isinstance(value, str) and (_same(value, "0 mm") or _same(value, "0 deg"))


def _less_what_is_assumed(original: Rig, cured: Rig, data: Data) -> Rig | None:
    """The rig of the data without what the original assumed and the cure did not change.

    A default may hang on what else is said, so a key whose default is now another one is said.
    """
    aside: list[tuple[str, Any]] = []
    for each in original.assumed:
        value = at(data, each.key)
        if value is not None and _alike(each.value, value):
            aside.append((each.key, value))
    for key, _ in aside:
        data = _without(data, key.split("."))
    try:
        made = _checked(data, cured)
        whole = cured.model_dump(mode="json", by_alias=True)
        filled = made.model_dump(mode="json", by_alias=True)
        back = [key for key, _ in aside if not _alike(at(whole, key), at(filled, key))]
        if back:
            for key, value in aside:
                data = _with(data, key.split("."), value) if key in back else data
            made = _checked(data, cured)
    except RigError:
        return None
    return made


def _checked(data: Data, cured: Rig) -> Rig:
    made = rig_from_data(data)
    made._folder = cured.folder
    return made


def _alike(one: Any, other: Any) -> bool:
    if isinstance(one, list) and isinstance(other, list) and len(one) == len(other):
        return all(_alike(*each) for each in zip(one, other, strict=True))
    return _same(one, other)


def _without(data: Data, path: list[str]) -> Data:
    """The data without a key, nor a table that it leaves empty."""
    first, *rest = path
    if not rest:
        return {key: value for key, value in data.items() if key != first}
    inner = _without(data[first], rest)
    return {**data, first: inner} if inner else _without(data, [first])


def _with(data: Data, path: list[str], value: Any) -> Data:
    first, *rest = path
    return {**data, first: _with(dict(data.get(first, {})), rest, value) if rest else value}


def _same_places(made: Rig, cured: Rig) -> bool:
    """Whether both joints lie and both ends point alike, to the rounding of what is written."""
    one, other = ride_height_of(made), ride_height_of(cured)
    places: tuple[tuple[FloatArray, FloatArray], ...] = (
        (one.p_C_output, other.p_C_output),
        (one.p_C_pinion, other.p_C_pinion),
    )
    points = (one.output_points, other.output_points), (one.pinion_points, other.pinion_points)
    return all(distance(*pair) < 2.0 * TOL.retyped for pair in places) and all(
        distance(*pair) < 2.0 * TOL.retyped_angle for pair in points
    )
