"""Hints are shown one by one, and never again once they were dismissed."""

from pytestqt.qtbot import QtBot

from viewer.window.main.hints import HINTS, HintBar


def test_hints_go_by_one_by_one_and_stay_away(qtbot: QtBot) -> None:
    bar = HintBar()
    qtbot.addWidget(bar)
    shown = []
    while not bar.isHidden():
        shown.append(bar.accessibleDescription())
        bar.got.click()
    assert shown == list(HINTS.values())
    again = HintBar()
    qtbot.addWidget(again)
    assert again.isHidden()
    again.bring_back()
    assert again.key == next(iter(HINTS))
    assert not again.isHidden()


def test_no_more_hints_means_none(qtbot: QtBot) -> None:
    bar = HintBar()
    qtbot.addWidget(bar)
    bar.got.click()
    bar.never.click()
    assert bar.isHidden()
    later = HintBar()
    qtbot.addWidget(later)
    assert later.key is None


def test_what_is_dismissed_alone_stays_so_while_the_rest_comes(qtbot: QtBot) -> None:
    first = HintBar()
    qtbot.addWidget(first)
    first.got.click()
    second = HintBar()
    qtbot.addWidget(second)
    assert second.key == list(HINTS)[1]
    assert "Hint 2 of 4" in second.words.text()
