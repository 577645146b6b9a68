"""The program as a user starts it; its window also writes what it shows into a file of facts."""

import os
from pathlib import Path

from PyQt6.QtWidgets import QApplication

from tests.viewer.window.facts_file import FACTS_VARIABLE, FactsFile

SLOW_HAND = 2500
"""ms between two presses that are one double click: on a busy machine the screen's server itself
may stand still for longer than a person's hand does."""


def main() -> None:
    """Start the program on what was typed, with facts of its window as soon as there is one."""
    from viewer import start
    from viewer.window import app

    shown = app.open_window

    def told(*given: object) -> object:
        window = shown(*given)  # type: ignore[arg-type]
        QApplication.setDoubleClickInterval(SLOW_HAND)
        window.facts = FactsFile(window, Path(os.environ[FACTS_VARIABLE]))  # type: ignore[attr-defined]
        return window

    app.open_window = told  # type: ignore[assignment]
    start.main()


if __name__ == "__main__":
    main()
