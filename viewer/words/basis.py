"""What an answer rests on, in lists."""

from collections.abc import Iterable, Iterator

from sim.derive import Derivation
from sim.remark import Remark
from viewer.words.lines import listed
from viewer.words.remarks import said


def basis_lines(basis: Derivation, assumed: Iterable[Remark]) -> Iterator[str]:
    """What was worked out, what is assumed, what is odd."""
    for title, remarks in (
        ("Worked out from what was typed", [each.remark for each in basis.derived]),
        ("Assumed, generic: measure yours", assumed),
        ("Odd, worth a second look", basis.notes),
    ):
        yield from listed(title, map(said, remarks))
