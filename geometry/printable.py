"""Characters that act on whatever shows them, instead of being seen: told by their number.

Control characters move the cursor, colour or wipe what stands on a terminal; a line break lets a
name begin a line of its own; marks of direction turn the order of what is read.
"""

import unicodedata
from typing import Final

_DIRECTIONS: Final = frozenset(
    "\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
)
_ACTING: Final = frozenset({"Cc", "Zl", "Zp", "Cs"})
"""Categories of Unicode: controls, breaks of line and of paragraph, halves of a character."""


def acts(character: str) -> bool:
    """Whether a character acts instead of being seen."""
    return character in _DIRECTIONS or unicodedata.category(character) in _ACTING


def shown(text: str, keep: str = "") -> str:
    r"""The text with what acts told as in ``\u001b``, but for the characters to keep."""
    if text.isascii() and text.isprintable():
        return text
    return "".join(
        f"\\u{ord(each):04x}" if acts(each) and each not in keep else each for each in text
    )
