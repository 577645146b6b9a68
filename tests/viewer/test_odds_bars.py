"""Odds as bars: as long as they are likely, told apart without color, as many as fit."""

import numpy as np
import pytest

from tests.viewer.recording_stage import RecordingStage
from viewer.draw.camera import Region
from viewer.scene.odds import TALL, Bar, draw_odds

BOX = Region(100.0, 100.0, 1000.0, 400.0)


def drawn(*shares: float, box: Region = BOX) -> tuple[RecordingStage, float]:
    """Bars of some shares, and how low they reach."""
    page = RecordingStage()
    bars = [Bar(f"cause {n}", share, f"{share:.0%}") for n, share in enumerate(shares)]
    return page, draw_odds(page, bars, box)


@pytest.mark.parametrize("share", [0.25, 0.5, 1.0])
def test_the_first_bar_is_filled_as_far_as_it_is_likely(share: float) -> None:
    page, _ = drawn(share)
    filled = np.asarray(page.of("area")[-1].told["triangles"])
    wide, tall = np.ptp(filled.reshape(-1, 2), axis=0)
    assert wide == pytest.approx(share * BOX.width, abs=1e-9)
    assert tall == pytest.approx(TALL, abs=1e-9)


def test_the_others_are_stroked_within_their_length() -> None:
    page, _ = drawn(0.9, 0.4)
    strokes = np.concatenate([np.asarray(c.told["segments"]) for c in page.of("stroke")])
    x = strokes[..., 0]
    assert x.min() >= BOX.left - 1e-9
    assert x.max() == pytest.approx(BOX.left + 0.4 * BOX.width, abs=1e-9)


def test_only_as_many_bars_as_fit_are_drawn() -> None:
    low = Region(100.0, 350.0, 1000.0, 150.0)
    page, reached = drawn(0.9, 0.4, 0.3, 0.2, box=low)
    said = [call.told["text"] for call in page.of("write")]
    assert [text for text in said if text.startswith("cause")] == ["cause 0", "cause 1"]
    assert reached >= low.bottom - 20.0
