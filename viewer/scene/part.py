"""A part of the live view: what it is called, what it is made of and what it hangs on."""

from dataclasses import dataclass

from geometry.mesh import Mesh
from viewer.scene.mount import Mount

GROUPS = ("joints", "shaft", "vehicle", "suspension", "surroundings")
"""What parts are listed under."""


@dataclass(frozen=True)
class Facts:
    """What is worth knowing of a part.

    title : what a shop calls it. kind : what sort it is, or "". rows : a word and a value each.
    """

    title: str
    kind: str = ""
    rows: tuple[tuple[str, str], ...] = ()

    @property
    def says(self) -> str:
        """All of it in lines."""
        head = f"{self.title}: {self.kind}" if self.kind else self.title
        return "\n".join([head, *(f"{name}  {value}" for name, value in self.rows)])


@dataclass(frozen=True)
class Shown:
    """A part as a menu lists it."""

    name: str
    title: str
    group: str
    shown: bool
    opacity: float


@dataclass(frozen=True, eq=False)
class LivePart:
    """A part.

    Attributes
    ----------
    name : what the stage calls it.
    group : one of `GROUPS`.
    mount : what it hangs on.
    pieces : materials and meshes, in the frame of the part.
    facts : what is told when it is picked.
    opacity : how dense it is when nobody has said otherwise.
    caption : whether its title is written beside it.
    of : name of the part that it is a length of, and with which it is seen; "" for none.
    """

    name: str
    group: str
    mount: Mount
    pieces: tuple[tuple[str, Mesh], ...]
    facts: Facts
    opacity: float = 1.0
    caption: bool = False
    of: str = ""

    @property
    def whole(self) -> str:
        """Name of the part as the user knows it."""
        return self.of or self.name

    @property
    def title(self) -> str:
        """What a shop calls it."""
        return self.facts.title


def same_pieces(one: LivePart, other: LivePart) -> bool:
    """Whether two parts are made of the same."""
    if len(one.pieces) != len(other.pieces):
        return False
    pairs = zip(one.pieces, other.pieces, strict=True)
    return all(a[0] == b[0] and a[1].key() == b[1].key() for a, b in pairs)
