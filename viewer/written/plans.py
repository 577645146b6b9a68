"""Drawings of where readings are taken: a PNG for each, and a sheet to print."""

from collections.abc import Callable, Mapping
from pathlib import Path

from viewer.written.files import FileError, replace, writable
from viewer.written.outputs import FORM, PICTURE, demand_room


def save_plans(
    folder: Path, pages: Mapping[str, Callable[[], bytes]], sheet: Callable[[], str], force: bool
) -> dict[str, Path]:
    """Write the drawings and `sheet.html`; the file of each drawing by its name.

    pages : what makes each PNG, by the name of the reading. sheet : what makes the HTML.
    force : whether they may replace files of another kind.
    Raises FileError where nothing can be written.
    """
    if folder.exists() and not folder.is_dir():
        raise FileError(f"{folder}: this is a file; expected a folder for the drawings")
    files = {
        name: folder / f"{number:02d}-{name.replace(' ', '-')}.png"
        for number, name in enumerate(pages, start=1)
    }
    form = folder / "sheet.html"
    for place in () if force else (*files.values(), form):
        demand_room(place, FORM if place == form else PICTURE, "--drawings")
    with writable(folder, "the drawings"):
        folder.mkdir(parents=True, exist_ok=True)
    for name, page in pages.items():
        replace(files[name], page(), "the drawing")
    replace(form, sheet(), "the sheet")
    return files
