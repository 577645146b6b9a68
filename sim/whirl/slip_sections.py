"""The slip of a shaft as stretches of a beam: by its own sections, the spline's play left out."""

from dataclasses import replace

from geometry.slip import CONE, Slip
from sim.parts.materials import Material
from sim.parts.tube_section import TubeSection
from sim.whirl.beam import BeamError, Stretch

NECK = 0.84
"""Diameter of the stub's neck over that of its teeth, as `geometry.slip` builds it."""

LEAST_HEAD = 0.25
"""Of its shoulder and cone a shorter slip keeps at least this share (from memory)."""


def slip_stretches(
    slip: Slip,
    engaged: float,
    sleeve: Material,
    stub: Material,
    *,
    length: float | None = None,
) -> tuple[Stretch, ...]:
    """The slip from the sleeve's weld land to the stub's, with `engaged` mm of spline inside.

    length : from land to land, mm, of a slip longer or shorter than the generic one: longer by its
        sleeve, shorter by its shoulders and cones.

    Shoulders and cones bend like the thinner round beside them, and carry what each half weighs
    more than its rounds. Where the stub is inside the sleeve, the sleeve alone bends and both have
    their weight: how far a spline with play carries a bending moment is not known, and this is the
    softer way. Raises BeamError with no spline inside, or where so short a slip has no room for it.
    """
    shape = slip.shape
    if not 0.0 < engaged <= shape.sleeve_depth:
        raise BeamError(
            f"slip: got {engaged:g} mm of spline inside, expected more than 0 and at most the "
            f"{shape.sleeve_depth:g} mm the sleeve is deep"
        )
    neck = TubeSection(NECK * shape.spline_diameter)
    round_ = TubeSection(shape.sleeve_diameter)
    ring = TubeSection(shape.sleeve_diameter, shape.spline_diameter)
    splined = TubeSection(shape.spline_diameter).mass_per_length(stub.density)

    longer = 0.0 if length is None else length - shape.between_lands(engaged)
    hollow = shape.sleeve_depth - engaged + max(longer, 0.0)
    free = shape.neck_length + shape.spline_length - engaged
    head = shape.shoulder + CONE
    kept = 1.0 + 0.5 * min(longer, 0.0) / head
    if kept < LEAST_HEAD:
        least = shape.between_lands(engaged) - 2.0 * (1.0 - LEAST_HEAD) * head
        raise BeamError(
            f"slip: got {length:g} mm from land to land, expected at least {least:g} mm with "
            f"{engaged:g} mm of spline inside"
        )
    outer = [Stretch.of(ring, hollow, sleeve)] if hollow > 0.0 else []
    bare = Stretch.of(ring, engaged, sleeve)
    inside = replace(bare, mass=bare.mass + splined)
    inner = [Stretch.of(neck, free, stub)] if free > 0.0 else []
    # What is left of each half's weight is in its shoulder, its cone and its press fit.
    light = ring.mass_per_length(sleeve.density) * shape.sleeve_depth
    first = slip.sleeve.volume * sleeve.density - light
    light = splined * engaged + neck.mass_per_length(stub.density) * free
    last = slip.stub.volume * stub.density - light
    return (
        _heavy(Stretch.of(round_, kept * head, sleeve), kept * first),
        *outer,
        inside,
        *inner,
        *(
            _heavy(Stretch.of(section, kept * long, stub), kept * last * long / head)
            for section, long in ((neck, CONE), (round_, shape.shoulder))
        ),
    )


def _heavy(stretch: Stretch, mass: float) -> Stretch:
    """The same with another weight (kg), of which there is some."""
    per_mm = max(mass, 0.1 * stretch.mass * stretch.length) / stretch.length
    return replace(stretch, mass=per_mm)
