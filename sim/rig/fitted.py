"""The shapes a rig asks for: catalogue parts with its own numbers, fitted to its tube."""

from pathlib import Path

from geometry.cross import CrossShape
from geometry.head import HeadShape
from geometry.yoke import Yoke, YokeShape
from sim.head.bend import Head
from sim.head.catalogue import head_of, head_shape
from sim.kept.own_yoke import OwnYoke, placed_yoke
from sim.parts.catalogue import CatalogueError, cross_shape, dimension_names, yoke_shape
from sim.remark import Remark
from sim.rig.choice import CrossChoice, YokeChoice
from sim.rig.shaft import End, Shaft, Tube, on_vehicle


def fitted_cross(choice: CrossChoice) -> CrossShape:
    """A cross of the catalogue with the rig's own dimensions."""
    return cross_shape(choice.name, choice.overrides)


OWN_DIMENSIONS = ("cap_length", "weld_land")
"""Dimensions that can be given with a yoke from a mesh file: what a scan does not show."""


def fitted_yoke(choice: YokeChoice, cross: CrossShape, tube: Tube) -> YokeShape:
    """A yoke for this cross, made to fit the rig's tube where it is welded to one.

    Raises BindpointError for unknown names, dimensions that clash, and a yoke from a mesh file,
    which has no shape to speak of (`built_yoke`).
    """
    if choice.is_own:
        raise CatalogueError(
            "an own yoke cannot be an outer yoke of a head; expected a catalogue one"
        )
    fit = {"tube_diameter": tube.outside.mm, "pilot_diameter": tube.outside.mm - 2.0 * tube.wall.mm}
    known = {dimension.name for dimension in dimension_names(choice.name)}
    # A flange has a pilot too, which is not the tube's.
    fitted = fit if "tube_diameter" in known else {}
    return yoke_shape(choice.name, cross, fitted | dict(choice.overrides))


def yoke_source(
    choice: YokeChoice, cross: CrossShape, tube: Tube, folder: Path
) -> tuple[YokeShape | Yoke, tuple[Remark, ...]]:
    """A yoke of the catalogue to be built, or one from its mesh file with what is worth knowing.

    folder : where the files of the rig are.
    Raises BindpointError for unknown names, dimensions that clash, and meshes that make no yoke.
    """
    if not choice.is_own or choice.file is None:
        return fitted_yoke(choice, cross, tube), ()
    own = choice.overrides
    land = own.get("weld_land")
    file = folder / choice.file
    asked = OwnYoke(
        file,
        choice.unit,
        choice.picks,
        cap_diameter=cross.cap_diameter,
        cap_span=cross.span,
        cap_length=own.get("cap_length", cross.cap_length),
        tube_diameter=None if land is None else tube.outside.mm,
        weld_land=land,
    )
    yoke, notes = placed_yoke(asked)
    return yoke, tuple(note.about(file.name) for note in notes)


def fitted_head(end: End, tube: Tube) -> HeadShape | None:
    """The double-Cardan head of one end; None where it has a single joint.

    The yoke on the output's or pinion's side carries the ball, that on the shaft the socket.
    Raises BindpointError for unknown names and dimensions that clash.
    """
    if end.joint == "single" or end.head is None:
        return None
    cross = fitted_cross(end.cross)
    return head_shape(
        end.head.name,
        cross,
        fitted_yoke(on_vehicle(end), cross, tube),
        fitted_yoke(end.shaft_yoke, cross, tube),
        end.head.overrides,
    )


def heads_of(shaft: Shaft) -> tuple[Head | None, Head | None]:
    """The heads at output and pinion end as the mathematics of the line sees them."""
    shapes = (fitted_head(end, shaft.tube) for end in (shaft.output_end, shaft.pinion_end))
    output, pinion = (None if shape is None else head_of(shape) for shape in shapes)
    return output, pinion
