"""The drawings of the caliper form as files."""

from pathlib import Path

import numpy as np
import pytest
from PIL import Image

from sim.parts.caliper import caliper_form
from sim.parts.catalogue import yoke_kinds
from viewer.caliper.png import save_drawings
from viewer.draw.plan_page import DPI, DRAWN, SIZE
from viewer.written.files import FileError

RED = np.array([0xC1, 0x12, 0x1F])


@pytest.mark.slow
@pytest.mark.parametrize("kind", yoke_kinds()[:4])
def test_every_reading_gets_a_page_with_a_red_arrow_in_its_drawing(
    tmp_path: Path, kind: str
) -> None:
    files = save_drawings(kind, "27 x 82", tmp_path / "new" / "drawings")
    form = caliper_form(kind, "27 x 82")
    assert list(files) == [reading.name for reading in form]
    assert len(set(files.values())) == len(form)
    assert (tmp_path / "new" / "drawings" / "sheet.html").read_text("utf-8").count("<svg") == len(
        form
    )
    for path in files.values():
        with Image.open(path) as read:
            image = np.asarray(read.convert("RGB")).astype(int)
        tall, wide = (round(size * DPI) for size in SIZE[::-1])
        assert image.shape == (tall, wide, 3)
        left, bottom, width, height = DRAWN
        rows, columns = np.nonzero(np.abs(image - RED).max(axis=-1) < 12)
        assert len(rows) > 100
        assert columns.min() >= left * wide - 1
        assert columns.max() <= (left + width) * wide + 1
        assert rows.min() >= (1.0 - bottom - height) * tall - 1
        assert rows.max() <= (1.0 - bottom) * tall + 1
        # Words keep off the edge of the page.
        assert (image[:, -20:] == 255).all()
        assert (image[:, :20] == 255).all()


def test_a_folder_that_is_a_file(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("x")
    with pytest.raises(FileError, match="this is a file"):
        save_drawings("weld yoke", "27 x 82", tmp_path / "file")
    with pytest.raises(FileError, match="could not be written"):
        save_drawings("weld yoke", "27 x 82", tmp_path / "file" / "below")
