"""What is remembered between runs comes back, and rubbish in its files does no harm."""

import json
from pathlib import Path

import pytest

from viewer.session.kept.recent import MOST, RecentFiles
from viewer.session.kept.seen import ALL, SeenHints
from viewer.session.kept.window_state import WindowState, keep_state, recalled_state


def touched(folder: Path, *names: str) -> list[Path]:
    for name in names:
        (folder / name).touch()
    return [folder / name for name in names]


def test_the_last_file_comes_first_and_each_only_once(tmp_path: Path) -> None:
    recent = RecentFiles(tmp_path / "recent.json")
    a, b, c = touched(tmp_path, "a.toml", "b.toml", "c.toml")
    for path in (a, b, c, a):
        recent.add(path)
    assert [each.path for each in recent.files] == [a, c, b]
    assert [each.path for each in RecentFiles(tmp_path / "recent.json").files] == [a, c, b]
    recent.forget(c)
    assert [each.path for each in recent.files] == [a, b]
    assert recent.last_folder == tmp_path
    recent.clear()
    assert RecentFiles(tmp_path / "recent.json").files == []


def test_missing_files_are_shown_as_missing(tmp_path: Path) -> None:
    recent = RecentFiles(tmp_path / "recent.json")
    a, b = touched(tmp_path, "a.toml", "b.toml")
    recent.add(a)
    recent.add(b)
    a.unlink()
    assert [(each.path, each.missing) for each in recent.files] == [(b, False), (a, True)]
    assert recent.files[1].says == f"a.toml (missing) in {tmp_path}"


def test_two_programs_remember_together_and_not_without_end(tmp_path: Path) -> None:
    one, other = (RecentFiles(tmp_path / "recent.json") for _ in range(2))
    one.add(tmp_path / "a.toml")
    other.add(tmp_path / "b.toml")
    assert [each.path.name for each in other.files] == ["b.toml", "a.toml"]
    for number in range(30):
        one.add(tmp_path / f"{number}.toml")
    assert len(one.files) == MOST
    assert one.files[0].path.name == "29.toml"


RUBBISH = pytest.mark.parametrize(
    "text", ["", "{", "null", "[1, null, {}]", '{"frame": [1], "splits": {"a": ["x"]}}', "\xff"]
)


@RUBBISH
def test_rubbish_is_nothing(tmp_path: Path, text: str) -> None:
    file = tmp_path / "file.json"
    file.write_bytes(text.encode("latin-1"))
    assert RecentFiles(file).files == []
    assert recalled_state(file) == WindowState()
    assert SeenHints(file).left(["a", "b"]) == ["a", "b"]


def test_a_place_that_cannot_be_written_loses_only_the_memory(tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    file = tmp_path / "file" / "inner.json"
    recent, seen = RecentFiles(file), SeenHints(file)
    recent.add(tmp_path / "a.toml")
    seen.mark("a")
    keep_state(WindowState(maximized=True), file)
    assert len(recent.files) == 1
    assert seen.left(["a"]) == []


def test_an_arrangement_comes_back(tmp_path: Path) -> None:
    state = WindowState((-10, 20, 1200, 800), True, {"whole": (300, 700, 200), "charts": (1, 0)})
    keep_state(state, tmp_path / "deep" / "window.json")
    assert recalled_state(tmp_path / "deep" / "window.json") == state
    assert recalled_state(tmp_path / "none.json") == WindowState()


def test_parts_that_make_no_sense_are_left_out(tmp_path: Path) -> None:
    file = tmp_path / "window.json"
    file.write_text(
        json.dumps(
            {
                "frame": [0, 0, -5, 100],
                "maximized": "yes",
                "splits": {"good": [1, 2], "zero": [0, 0], "minus": [-1, 4], "words": "no"},
            }
        ),
        encoding="utf-8",
    )
    assert recalled_state(file) == WindowState(None, False, {"good": (1, 2)})


@pytest.mark.parametrize(
    ("frame", "fitted"),
    [
        ((100, 50, 800, 600), (100, 50, 800, 600)),
        ((-700, 50, 800, 600), (-700, 50, 800, 600)),
        ((-790, 50, 800, 600), (560, 240, 800, 600)),
        ((2500, 50, 800, 600), (560, 240, 800, 600)),
        ((100, -300, 800, 600), (560, 240, 800, 600)),
        ((100, 50, 5000, 3000), (100, 50, 1920, 1080)),
    ],
)
def test_a_window_is_within_reach_on_the_screen_that_is_there(
    frame: tuple[int, int, int, int], fitted: tuple[int, int, int, int]
) -> None:
    assert WindowState(frame).on([(0, 0, 1920, 1080)]).frame == fitted


def test_no_screen_changes_nothing() -> None:
    assert WindowState((1, 2, 3, 4)).on([]) == WindowState((1, 2, 3, 4))
    assert WindowState().on([(0, 0, 800, 600)]) == WindowState()


def test_hints_seen_stay_seen(tmp_path: Path) -> None:
    seen = SeenHints(tmp_path / "hints.json")
    seen.mark("b")
    assert SeenHints(tmp_path / "hints.json").left(["a", "b", "c"]) == ["a", "c"]
    seen.mark(ALL)
    assert SeenHints(tmp_path / "hints.json").left(["a", "new"]) == []
    seen.forget()
    assert SeenHints(tmp_path / "hints.json").left(["a"]) == ["a"]
