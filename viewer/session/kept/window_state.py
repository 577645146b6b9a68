"""How large the window and its parts were, as plain data, to be the same next time."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from types import MappingProxyType
from typing import Any

from viewer.state_folder import recall, remember, state_folder

Frame = tuple[int, int, int, int]
"""Left, top, width, height, px of the screens."""

MOST = 100_000
"""px. No screen reaches as far."""

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
    """

    frame: Frame | None = None
    maximized: bool = False
    splits: Mapping[str, tuple[int, ...]] = field(default_factory=lambda: MappingProxyType({}))

    def on(self, screens: Sequence[Frame]) -> "WindowState":
        """The same arrangement on screens that are there: no larger, and within reach."""
        if self.frame is None or not screens:
            return self
        left, top, width, height = self.frame
        for x, y, w, h in screens:
            across = min(left + width, x + w) - max(left, x)
            if across >= GRIP and y <= top <= y + h - GRIP:
                return self._at((left, top, min(width, w), min(height, h)))
        x, y, w, h = screens[0]
        width, height = min(width, w), min(height, h)
        return self._at((x + (w - width) // 2, y + (h - height) // 2, width, height))

    def _at(self, frame: Frame) -> "WindowState":
        return WindowState(frame, self.maximized, self.splits)


def recalled_state(file: Path | None = None) -> WindowState:
    """The arrangement of the last time; whatever of it makes no sense is left out."""
    data = recall(file or _place())
    if not isinstance(data, dict):
        return WindowState()
    frame = _numbers(data.get("frame"), -MOST)
    splits = data.get("splits")
    kept = {
        str(name): sizes
        for name, given in (splits.items() if isinstance(splits, dict) else ())
        if (sizes := _numbers(given, 0)) is not None and any(sizes)
    }
    return WindowState(
        (frame[0], frame[1], frame[2], frame[3])
        if frame is not None and len(frame) == 4 and min(frame[2:]) > 0
        else None,
        data.get("maximized") is True,
        MappingProxyType(kept),
    )


def keep_state(state: WindowState, file: Path | None = None) -> None:
    """Remember an arrangement; one that cannot be kept is lost, nothing more."""
    data = {
        "frame": state.frame,
        "maximized": state.maximized,
        "splits": {name: list(sizes) for name, sizes in state.splits.items()},
    }
    remember(file or _place(), data)


def _place() -> Path:
    return state_folder() / "window.json"


def _numbers(given: Any, least: int) -> tuple[int, ...] | None:
    if not isinstance(given, list) or not given:
        return None
    if all(type(each) is int and least <= each <= MOST for each in given):
        return tuple(given)
    return None
