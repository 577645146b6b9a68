"""Which cross of the catalogue is meant, and which fits a yoke that was measured."""

from sim.parts.catalogue import cross_shape, cross_sizes

NEAR_CAP = 0.015
"""How far bores may be off the caps' diameter, as a share: 0.4 mm on 27. The sizes of caps lie
more than a tenth apart."""

BEYOND = 1.0
"""How far, mm, caps may stand out of the ears before they are too long for them."""


def size_named(name: str) -> str:
    """Return the size of a cross by that or by its trade size. Raises CatalogueError."""
    cross_shape(name)
    return next(size.name for size in cross_sizes() if name in (size.name, *size.aliases))


def cross_that_fits(bore: float, outside_span: float) -> str | None:
    """Return the name of the cross whose caps fill the bores and end nearest within the ears.

    bore : diameter, mm; outside_span : over the outside faces of the ears, mm
    None when there is none; a suggestion to check against the cross in hand.
    """
    shapes = {size.name: cross_shape(size.name) for size in cross_sizes()}
    fitting = {
        name: shape.span
        for name, shape in shapes.items()
        if abs(bore / shape.cap_diameter - 1.0) <= NEAR_CAP and shape.span <= outside_span + BEYOND
    }
    return max(fitting, key=lambda name: fitting[name], default=None)
