"""How large the window and its parts were, as plain data, to be the same next time."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from types import MappingProxyType
from typing import Annotated, Any

from pydantic import Field, StrictBool, TypeAdapter, ValidationError

from viewer.state_folder import recall, remember, state_folder

MOST = 100_000
"""px. No screen reaches as far."""

Place = Annotated[int, Field(strict=True, ge=-MOST, le=MOST)]
Size = Annotated[int, Field(strict=True, ge=0, le=MOST)]

Frame = tuple[Place, Place, Annotated[Size, Field(gt=0)], Annotated[Size, Field(gt=0)]]
"""Left, top, width, height, px of the screens."""

GRIP = 60
"""px of a window that must be on a screen, so that it can be taken hold of."""


@dataclass(frozen=True)
class WindowState:
    """Arrangement of a window.

    Attributes
    ----------
    frame : where it was; None at the first start.
    maximized : whether it filled the screen.
    splits : sizes of the parts of each splitter, by its name, px.
    folded : whether a part was folded away, by its name; those nobody ever touched are left out.
    """

    frame: Frame | None = None
    maximized: bool = False
    splits: Mapping[str, tuple[int, ...]] = field(default_factory=lambda: MappingProxyType({}))
    folded: Mapping[str, bool] = field(default_factory=lambda: MappingProxyType({}))

    def on(self, screens: Sequence[Frame]) -> "WindowState":
        """The same arrangement on screens that are there: no larger, and within reach."""
        if self.frame is None or not screens:
            return self
        left, top, width, height = self.frame
        for x, y, w, h in screens:
            across = min(left + width, x + w) - max(left, x)
            if across >= GRIP and y <= top <= y + h - GRIP:
                return replace(self, frame=(left, top, min(width, w), min(height, h)))
        x, y, w, h = screens[0]
        width, height = min(width, w), min(height, h)
        middle = x + (w - width) // 2, y + (h - height) // 2
        return replace(self, frame=(*middle, width, height))


def recalled_state(file: Path | None = None) -> WindowState:
    """The arrangement of the last time; whatever of it makes no sense is left out."""
    data = _sound(dict[str, Any], recall(file or _place())) or {}
    splits = _sound(dict[str, Any], data.get("splits")) or {}
    known = {name: _sound(tuple[Size, ...], given) for name, given in splits.items()}
    return WindowState(
        _sound(Frame, data.get("frame")),
        data.get("maximized") is True,
        MappingProxyType({name: sizes for name, sizes in known.items() if sizes and any(sizes)}),
        MappingProxyType(_sound(dict[str, StrictBool], data.get("folded")) or {}),
    )


def keep_state(state: WindowState, file: Path | None = None) -> None:
    """Remember an arrangement; one that cannot be kept is lost, nothing more."""
    remember(
        file or _place(), vars(state) | {"splits": dict(state.splits), "folded": dict(state.folded)}
    )


def _place() -> Path:
    return state_folder() / "window.json"


def _sound(kind: Any, given: Any) -> Any:
    """What was given if it is of a kind, else None."""
    try:
        return TypeAdapter(kind).validate_python(given)
    except ValidationError:
        return None
