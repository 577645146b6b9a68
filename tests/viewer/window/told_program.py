"""The program as a user starts it; its window also writes what it shows into a file of facts."""

import os
from pathlib import Path

from tests.viewer.window.facts_file import FACTS_VARIABLE, FactsFile


def main() -> None:
    """Start the program on what was typed, with facts of its window as soon as there is one."""
    from viewer import start
    from viewer.window import app

    shown = app.open_window

    def told(*given: object) -> object:
        window = shown(*given)  # type: ignore[arg-type]
        window.facts = FactsFile(window, Path(os.environ[FACTS_VARIABLE]))  # type: ignore[attr-defined]
        return window

    app.open_window = told  # type: ignore[assignment]
    start.main()


if __name__ == "__main__":
    main()
