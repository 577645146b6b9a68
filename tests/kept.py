"""Whole answers shared by all tests of a run, also between its workers: worked out once, then read.

An answer is kept under the name of what makes it and what it is made from, in the run's own cache,
which is empty when the run starts: what the program says is asked anew in every run.
"""

import copyreg
import os
import pickle
import tempfile
from collections.abc import Callable
from functools import cache, wraps
from hashlib import sha256
from pathlib import Path
from types import MappingProxyType
from typing import ParamSpec, TypeVar

P = ParamSpec("P")
T = TypeVar("T")


def _read_only(plain: dict[object, object]) -> MappingProxyType[object, object]:
    return MappingProxyType(plain)


# Read-only mappings stay so: what one test changed, the next would get.
copyreg.pickle(MappingProxyType, lambda mapping: (_read_only, (dict(mapping),)))


def kept(make: Callable[P, T]) -> Callable[P, T]:
    """Return what `make` gives for its arguments, made once in a run; these are told by `repr`."""

    @cache
    @wraps(make)
    def answer(*args: P.args, **kwargs: P.kwargs) -> T:
        told = f"{make.__module__}.{make.__qualname__}{args!r}{sorted(kwargs.items())!r}"
        folder = Path(os.environ["BINDPOINT_CACHE"]) / "answers"
        place = folder / sha256(told.encode()).hexdigest()
        if place.is_file():
            found: T = pickle.loads(place.read_bytes())
            return found
        made = make(*args, **kwargs)
        folder.mkdir(exist_ok=True)
        with tempfile.NamedTemporaryFile(dir=folder, delete=False) as file:
            pickle.dump(made, file)
        Path(file.name).replace(place)
        return made

    return answer
