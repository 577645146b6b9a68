"""`bindpoint look`: its files, and what it refuses."""

import json
from pathlib import Path
from typing import Any

import pytest

from sim.seen import Inspection, inspection_from_data, load_inspection
from tests.viewer.run_command import Ran, run
from tests.viewer.seen.talks import HEAD
from viewer.commands.look import beside
from viewer.endings import STOPPED
from viewer.inspections import beside_rig


class Shop:
    """A folder in which `look` is typed."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, capsys: Any, folder: Path) -> None:
        monkeypatch.chdir(folder)
        self._with = (monkeypatch, capsys)
        self.folder = folder

    def look(self, *words: str, typed: str = "") -> Ran:
        return run(*self._with, "look", *words, typed=typed)


@pytest.fixture
def shop(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> Shop:
    return Shop(monkeypatch, capsys, tmp_path)


DEMO = "demo:quarry-hauler"


@pytest.mark.slow
def test_a_demo_is_written_where_one_stands(shop: Shop) -> None:
    ran = shop.look(DEMO, typed="wore\npinion\nstop\n")
    file = shop.folder / "quarry-hauler-seen.toml"
    assert (ran.code, ran.err) == (0, "")
    assert f"Next: bindpoint why {DEMO} --seen {file.name}" in " ".join(ran.out.split())
    found = load_inspection(file)
    assert (found.came, found.joint, found.rig) == ("wore", "pinion", DEMO)


@pytest.mark.slow
def test_a_rig_gets_its_inspection_beside_it_and_it_is_taken_up(shop: Shop) -> None:
    text = Path(__file__).parents[3].joinpath("models/rigs/quarry-hauler.toml").read_text("utf-8")
    folder = shop.folder / "jobs"
    folder.mkdir()
    rig = folder / "mine.toml"
    rig.write_text(text, encoding="utf-8")
    assert shop.look(str(rig), typed="wore\nstop\n\n").code == 0
    file = folder / "mine-seen.toml"
    assert load_inspection(file).rig == "mine.toml"
    ran = shop.look(str(rig), typed="pinion\nstop\n")
    assert "is there already: what it says is not asked again" in " ".join(ran.out.split())
    assert "Did it break" not in ran.out
    assert (load_inspection(file).came, load_inspection(file).joint) == ("wore", "pinion")


def test_an_inspection_that_the_window_saved_is_taken_up(shop: Shop) -> None:
    text = 'schema = 1\nkind = "inspection"\njoint = "{}"\n'
    pinion, output = (
        shop.folder / f"quarry-hauler-{joint}-seen.toml" for joint in ("pinion", "output")
    )
    pinion.write_text(text.format("pinion"), encoding="utf-8")
    assert beside(DEMO) == Path(pinion.name)
    output.write_text(text.format("output"), encoding="utf-8")
    ran = shop.look(DEMO)
    assert ran.code == 2
    assert "expected --seen with one of them" in ran.err
    (shop.folder / "quarry-hauler-seen.toml").write_text(text.format("pinion"), encoding="utf-8")
    assert beside(DEMO) == Path("quarry-hauler-seen.toml")
    assert beside("jobs/my.truck.toml") == Path("jobs/my.truck-seen.toml")
    own = beside_rig(shop.folder / "My Truck.toml", "output")
    own.write_text(text.format("output"), encoding="utf-8")
    assert beside(str(shop.folder / "My Truck.toml")) == own


@pytest.mark.parametrize("content", ["notes of mine\n", 'schema = 1\nname = "rig"\n', "a = 1\n"])
def test_somebodys_file_is_not_written_over(shop: Shop, content: str) -> None:
    file = shop.folder / "mine.toml"
    file.write_text(content, encoding="utf-8")
    ran = shop.look(DEMO, "--seen", str(file))
    assert ran.code == 2
    assert "which is there already" in ran.err
    assert file.read_text("utf-8") == content


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ('joint = "middle"', 'joint: came "middle", a joint that this rig does not have'),
        (
            'joint = "pinion"\nhead_cross = "outer"',
            'head_cross: came "outer", yet the pinion joint',
        ),
        ('came = "bent"', 'came: came "bent", expected one of broke, wore, runs'),
        ("[caps.shaft_a]\nbore = [1.06]", "a number without a unit"),
    ],
)
def test_a_bad_inspection_is_one_line_and_stays(shop: Shop, text: str, says: str) -> None:
    file = shop.folder / "quarry-hauler-seen.toml"
    file.write_text(f'schema = 1\nkind = "inspection"\n{text}\n', encoding="utf-8")
    before = file.read_bytes()
    ran = shop.look(DEMO)
    assert ran.code == 2
    assert says in ran.err
    assert len(ran.err.strip().splitlines()) == 1
    assert file.read_bytes() == before


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ((), "look: no rig named, expected a rig file or demo:NAME"),
        (("nowhere.toml",), "nowhere.toml: no such file, expected a rig file"),
        ((DEMO, "--seen", "no/such/folder.toml"), "the folder is not there"),
        ((DEMO, "--seen", "."), "a folder"),
        ((DEMO, "--seen", DEMO), "which is shipped and stays, expected a file"),
    ],
)
def test_what_cannot_be_done_is_one_line(shop: Shop, words: tuple[str, ...], says: str) -> None:
    ran = shop.look(*words)
    assert ran.code == 2
    assert says in ran.err
    assert len(ran.err.strip().splitlines()) == 1


@pytest.mark.slow
def test_ended_early_it_writes_nothing_and_offers_the_answers_again(shop: Shop) -> None:
    ran = shop.look(DEMO, typed="wore\npinion\n")
    assert ran.code == 2
    assert list(shop.folder.iterdir()) == []
    ran = shop.look(DEMO, typed="yes\nstop\n")
    assert "There are 2 answers from" in ran.out
    assert load_inspection(shop.folder / "quarry-hauler-seen.toml").joint == "pinion"


def test_stopped_by_the_keyboard_it_says_that_answers_are_kept(
    shop: Shop, monkeypatch: pytest.MonkeyPatch
) -> None:
    asked: list[str] = []

    def ask(prompt: str) -> str:
        asked.append(prompt)
        if len(asked) > 2:
            raise KeyboardInterrupt
        return ["wore", "pinion"][len(asked) - 1]

    monkeypatch.setattr("viewer.commands.terminal.ask_line", ask)
    ran = shop.look(DEMO)
    assert ran.code == STOPPED
    assert "your answers are kept and offered the next time" in ran.err
    assert not (shop.folder / "quarry-hauler-seen.toml").exists()


def test_what_somebody_wrote_meanwhile_stays(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    file = shop.folder / "quarry-hauler-seen.toml"
    theirs = 'schema = 1\nkind = "inspection"\ncame = "runs"\n'

    def asked(*_: Any, **__: Any) -> Inspection:
        file.write_text(theirs, encoding="utf-8")
        return inspection_from_data(HEAD | {"came": "wore"})

    monkeypatch.setattr("viewer.commands.look.look", asked)
    ran = shop.look(DEMO)
    assert ran.code == 2
    assert "was changed meanwhile" in ran.err
    assert file.read_text("utf-8") == theirs


def test_the_json_schema_is_written_for_an_editor(shop: Shop) -> None:
    assert shop.look("--json-schema", "seen.json").code == 0
    assert json.loads(Path("seen.json").read_text("utf-8"))["title"] == "Bindpoint inspection"
    assert shop.look("--json-schema", "seen.json").code == 0
    Path("mine.json").write_text("{}", encoding="utf-8")
    assert shop.look("--json-schema", "mine.json").code == 2


@pytest.mark.needs_gl
@pytest.mark.slow
def test_every_word_is_drawn_to_print(shop: Shop) -> None:
    assert shop.look("--words", "words.png").code == 0
    assert Path("words.png").read_bytes().startswith(b"\x89PNG")
    Path("mine.png").write_text("mine", encoding="utf-8")
    assert shop.look("--words", "mine.png").code == 2
