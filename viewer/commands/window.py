"""`bindpoint window`: the shaft on the screen, to be moved by hand."""

from geometry.errors import BindpointError
from viewer.session.work.worker import InProcess


class NoWindowError(BindpointError, RuntimeError):
    """There is nothing here that could show a window."""


def run(name: str | None) -> int:
    """Open the window; return the exit code when it is closed."""
    # Reads its libraries while this process reads those of the window.
    worker = InProcess()
    try:
        return _shown(name, worker)
    finally:
        worker.close()


def _shown(name: str | None, worker: InProcess) -> int:
    try:
        from viewer.window.app import run as show
    except ImportError as error:
        raise NoWindowError(
            f"the window needs PyQt6 and pyvistaqt, and a part is missing ({error}); expected "
            "bindpoint installed with all it depends on"
        ) from None
    return show(name, worker)
