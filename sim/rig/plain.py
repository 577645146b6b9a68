"""Values that TOML allows and no key of a rig file wants, wherever they stand."""

from collections.abc import Iterator, Mapping
from typing import Any, Final

from geometry.printable import acts
from sim.rig.structure import Path
from sim.table.kinds import LARGEST_NUMBER
from sim.table.problems import Problem, as_typed, dotted

_LINES: Final = frozenset({("note",)})
"""Keys whose text may have several lines."""


def odd_values(data: Any, path: Path = ()) -> Iterator[Problem]:
    """Texts that would act on what shows them, such as a name with a line break; endless numbers.

    A name of several lines could print lines of its own into an answer.
    """
    if isinstance(data, Mapping):
        for key, value in data.items():
            yield from odd_values(value, (*path, key))
    elif isinstance(data, list):
        for place, value in enumerate(data):
            yield from odd_values(value, (*path, place))
    elif isinstance(data, str):
        keep = "\n\t" if path in _LINES else ""
        found = next((each for each in data if acts(each) and each not in keep), None)
        if found is not None:
            why = "a line break" if found in "\n\r" else f"a control character, U+{ord(found):04X}"
            yield Problem(dotted(path), as_typed(data), "a text that is seen as it is", why)
    elif isinstance(data, int) and abs(data) > LARGEST_NUMBER:
        yield Problem(dotted(path), as_typed(data), "a number of a few digits", "too long")
