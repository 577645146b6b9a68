"""The one error family of the program.

Every error that a user can cause descends from `BindpointError`, so a front end catches one
type. Subclasses also inherit the built-in that a library user would expect to catch.
"""

from geometry.printable import shown


class BindpointError(Exception):
    """Base of all errors raised on purpose; its text is one clear line for the user.

    It is one whatever it quotes: a line break or a control character is told by its number.
    """

    def __str__(self) -> str:
        return shown(Exception.__str__(self))


class ShapeError(BindpointError, ValueError):
    """Dimensions that make no sound part, or parts that clash as they stand."""


class MeshError(BindpointError, ValueError):
    """Triangles that are not a closed, outward-facing, non-empty surface."""
