"""What is odd or impossible about a part or a speed: told as data, never as an error."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Flag:
    """One thing that a shop has to see before it uses the number beside it."""

    code: str
    """Short fixed name, for programs: "weld-thicker-than-wall"."""
    says: str
    """One line with the numbers, for people."""
