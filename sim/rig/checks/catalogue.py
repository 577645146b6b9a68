"""Parts that the catalogue does not know, or that make no sound part or no sound shaft."""

from collections.abc import Callable, Iterator
from typing import Final

from geometry.dimensions import Dimension
from geometry.errors import BindpointError
from geometry.yoke import YOKES
from sim.head.catalogue import head_dimension_names, head_kinds
from sim.parts.catalogue import (
    CatalogueError,
    cross_shape,
    cross_sizes,
    dimension_names,
    slides,
    yoke_kinds,
    yoke_shape,
)
from sim.remark import Remark
from sim.rig.carrier import Carrier, MiddleJoint
from sim.rig.choice import OWN_YOKE, Choice, CrossChoice, YokeChoice
from sim.rig.fitted import OWN_DIMENSIONS, fitted_head
from sim.rig.shaft import End, Shaft, Tube
from sim.table.problems import NOTHING, Problem, as_typed, one_of
from sim.units import Angle, Length

_TYPES: Final = {"length": Length, "angle": Angle, "count": int}
_EXAMPLES: Final = {"length": 'a length such as "1 3/8 in"', "angle": 'an angle such as "10 deg"',
                    "count": "a whole number such as 6"}  # fmt: skip


def parts_are_in_the_catalogue(shaft: Shaft) -> Iterator[Problem]:
    """Every cross and yoke must be known, and make a sound part with its own dimensions."""
    yield from _end("shaft.output_end", shaft.output_end)
    yield from _end("shaft.pinion_end", shaft.pinion_end)


def middle_is_in_the_catalogue(carrier: Carrier | None) -> Iterator[Problem]:
    """The same for the middle joint of a two-piece shaft."""
    if carrier is not None:
        yield from _end("carrier.middle", carrier.middle)


def _end(key: str, end: End | MiddleJoint) -> Iterator[Problem]:
    crossed = list(_cross(f"{key}.cross", end.cross))
    yield from crossed
    for part in end.yokes:
        yield from _yoke(f"{key}.{part}", getattr(end, part), None if crossed else end.cross)


def heads_can_be(shaft: Shaft) -> Iterator[Problem]:
    """A head goes with a double joint, is in the catalogue, and takes its outer yokes."""
    for key, end in (("output_end", shaft.output_end), ("pinion_end", shaft.pinion_end)):
        path = f"shaft.{key}.head"
        if end.joint == "single":
            if end.head is not None:
                yield Problem(
                    path, as_typed(end.head.name), Remark("no-head"), Remark("single-joint")
                )
            continue
        if end.head is None:
            yield Problem(path, NOTHING, one_of("", head_kinds()))
        elif end.head.name not in head_kinds():
            expected = one_of(end.head.name, head_kinds())
            yield Problem(
                path, as_typed(end.head.name), expected, Remark("unknown", what="kind of head")
            )
        else:
            yield from _own(path, end.head, head_dimension_names())
            yield from _headed(path, end, shaft.tube)


def _headed(path: str, end: End, tube: Tube) -> Iterator[Problem]:
    """Whether head and outer yokes make one sound part."""
    try:
        fitted_head(end, tube)
    except BindpointError as fault:
        yield Problem(path, "a head with these yokes", Remark("sound-head"), str(fault))


def slip_fits_its_yoke(shaft: Shaft) -> Iterator[Problem]:
    """A slip on the output needs a yoke that slides, and only that one."""
    yoke = shaft.output_end.output_yoke
    if slides(yoke.name) != (shaft.slip.at == "output"):
        yield Problem(
            "shaft.output_end.output_yoke",
            as_typed(yoke.name),
            Remark("yoke-for-slip", kinds=" or ".join(filter(slides, YOKES))),
            Remark("slip-is-at", at=shaft.slip.at),
        )


def _cross(key: str, choice: CrossChoice) -> Iterator[Problem]:
    try:
        cross_shape(choice.name)
    except CatalogueError:
        names = [name for size in cross_sizes() for name in (size.name, *size.aliases)]
        yield Problem(
            key, as_typed(choice.name), one_of(choice.name, names), Remark("unknown", what="cross")
        )
        return
    yield from _sound(
        key,
        choice,
        dimension_names("cross"),
        lambda: cross_shape(choice.name, choice.overrides),
    )


def _yoke(key: str, choice: YokeChoice, cross: CrossChoice | None) -> Iterator[Problem]:
    if choice.is_own:
        yield from _own_yoke(key, choice)
        return
    for part in ("file", "unit", "picks"):
        if getattr(choice, part) is not None:
            yield Problem(
                f"{key}.{part}",
                as_typed(getattr(choice, part)),
                Remark("only-with-kind", kind=OWN_YOKE),
            )
    if choice.name not in yoke_kinds():
        expected = one_of(choice.name, (*yoke_kinds(), OWN_YOKE))
        yield Problem(key, as_typed(choice.name), expected, Remark("unknown", what="kind of yoke"))
    elif cross is not None:
        yield from _sound(
            key,
            choice,
            dimension_names(choice.name),
            lambda: yoke_shape(
                choice.name, cross_shape(cross.name, cross.overrides), choice.overrides
            ),
        )


def _own_yoke(key: str, choice: YokeChoice) -> Iterator[Problem]:
    """A yoke from a mesh file needs the file, and knows few dimensions of its own."""
    if choice.file is None:
        yield Problem(f"{key}.file", NOTHING, Remark("mesh-of-own-yoke"))
    for name, own in choice.own.items():
        typed = as_typed(own if isinstance(own, int) else own.typed)
        if name not in OWN_DIMENSIONS:
            yield Problem(
                f"{key}.{name}",
                typed,
                one_of(name, OWN_DIMENSIONS),
                Remark("unknown", what="dimension"),
            )
        elif not isinstance(own, Length):
            yield Problem(f"{key}.{name}", typed, _EXAMPLES["length"], Remark("not-of-its-kind"))


def _sound(
    key: str,
    choice: Choice,
    dimensions: tuple[Dimension, ...],
    make: Callable[[], object],
) -> Iterator[Problem]:
    """Own dimensions must be known, of their kind, and go together."""
    wrong = list(_own(key, choice, dimensions))
    yield from wrong
    if wrong or not choice.own:
        return
    try:
        make()
    except BindpointError as fault:
        came = ", ".join(f"{name} = {own}" for name, own in choice.own.items())
        yield Problem(key, came, Remark("sound-part"), str(fault))


def _own(key: str, choice: Choice, dimensions: tuple[Dimension, ...]) -> Iterator[Problem]:
    known = {dimension.name: dimension for dimension in dimensions}
    for name, own in choice.own.items():
        typed = as_typed(own if isinstance(own, int) else own.typed)
        if name not in known:
            yield Problem(
                f"{key}.{name}", typed, one_of(name, known), Remark("unknown", what="dimension")
            )
        elif not isinstance(own, _TYPES[known[name].unit]):
            expected = f"{_EXAMPLES[known[name].unit]}: {known[name].about}"
            yield Problem(f"{key}.{name}", typed, expected, Remark("not-of-its-kind"))
