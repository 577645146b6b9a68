"""Demo files that are shipped with the program, by their folder. All of them are invented."""

from dataclasses import dataclass
from difflib import get_close_matches
from importlib.resources import files
from importlib.resources.abc import Traversable

from sim.table.problems import one_problem

_END = ".toml"


@dataclass(frozen=True)
class Shipped:
    """The files of one folder of `models`. what : what one of them is called in errors."""

    folder: str
    what: str

    def names(self) -> tuple[str, ...]:
        """Their names, such as "quarry-hauler", in order."""
        names = (each.name for each in self._place().iterdir())
        return tuple(sorted(name.removesuffix(_END) for name in names if name.endswith(_END)))

    def text(self, name: str) -> str:
        """The text of one. Raises `RigError` for an unknown name."""
        names = self.names()
        if name not in names:
            close = get_close_matches(name, names, 1)
            hint = f"; did you mean {close[0]}?" if close else ""
            raise one_problem(
                name, "", f"an unknown {self.what}", f"one of {', '.join(names)}{hint}"
            )
        return self._place().joinpath(name + _END).read_text(encoding="utf-8")

    def _place(self) -> Traversable:
        return files("models").joinpath(self.folder)
