"""`bindpoint build` as a user types it."""

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image

from sim.rig import load_demo, save_rig
from sim.units import format_length, parse_length
from tests.sim.ticket.rigs import demo_ticket, with_crossmember
from tests.viewer.run_command import Ran, run
from viewer.build_picture import kind_of
from viewer.build_words import hours, mass, road, rpm, torque, turned

CLEAR, TOUCHING, SHORT, TWO = (
    "demo:quarry-hauler",
    "demo:long-legged-trail-wagon",
    "demo:goat-path-buggy",
    "demo:timber-crew-carrier",
)
Command = Callable[..., Ran]


@pytest.fixture
def command(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Command:
    return lambda *words, typed="": run(monkeypatch, capsys, *words, typed=typed)


def rows(text: str) -> dict[str, tuple[float, float, float]]:
    """Lines of the cut list: fraction, decimals and mm, all in mm."""
    found = {}
    for line in text.splitlines():
        match = re.fullmatch(r"  (\S.*?)\s{2,}(\S.* in)\s+([\d.]+)\s+([\d.]+)", line)
        if match:
            name, fraction, inch, mm = match.groups()
            found[name] = parse_length(fraction), float(inch) * 25.4, float(mm)
    return found


def test_the_cut_list_comes_first_in_three_readings(command: Command) -> None:
    ran = command("build", CLEAR)
    assert ran.code == 0
    sections = [line.split()[0] for line in ran.out.splitlines() if re.match(r"[A-Z]{3,}", line)]
    assert sections[:4] == ["BUILD", "CUT", "TAPE", "SLIP"]
    found = rows(ran.out)
    for fraction, inch, mm in found.values():
        assert fraction == pytest.approx(mm, abs=25.4 / 32.0 + 0.06)
        assert inch == pytest.approx(mm, abs=0.07)
    sawn = [found[name] for name in found if name.startswith("SAW")]
    # What is sawn is in whole 1/16 in: the fraction is exact.
    assert [f for f, _, mm in sawn if abs(f - mm) > 0.06] == []
    assert found["tube in all, cut square"][0] == pytest.approx(
        sum(f for f, _, _ in sawn), abs=1e-9
    )
    assert "certifies nothing" in ran.out
    assert "measure the yokes and the slip in your hand" in " ".join(ran.out.split())
    assert all(len(line) <= 96 for line in ran.out.splitlines())


def test_what_stops_the_shaft_is_said_before_anything_is_cut(command: Command) -> None:
    ran = command("build", TOUCHING)
    assert ran.code == 1
    head = ran.out[: ran.out.index("\nCUT")]
    assert "!! the pinion joint touches within the travel" in head
    assert "STRAPS: let the axle hang no further than" in ran.out
    short = command("build", SHORT)
    assert short.code == 1
    assert "!! the slip runs short of spline" in short.out


def test_what_lives_around_the_shaft_is_told(command: Command, tmp_path: Path) -> None:
    near = demo_ticket("quarry-hauler").near[0]
    clear = command("build", CLEAR)
    line = f"crossmember: least gap {format_length(near.gap_mm)} from the shaft's {near.part}, at"
    assert line in " ".join(clear.out.split())
    assert clear.code == 0
    place = tmp_path / "low.toml"
    save_rig(with_crossmember("4 in"), place)
    low = command("build", str(place))
    assert low.code == 1
    assert "  !! the shaft's tube touches the crossmember within the travel." in low.out
    assert "crossmember: the shaft's tube touches it at" in low.out


def test_what_is_not_said_is_named_with_its_reason(command: Command) -> None:
    ran = command("build", SHORT)
    plain = " ".join(ran.out.split())
    assert "drive.top_speed: shaft speed at top speed" in plain
    assert "drive.axle_load: torque at which the tyres slip" in plain
    assert "drive.converter assumed as 1: a clutch" in plain
    assert "taken from [wrap.drive]" in " ".join(command("build", CLEAR).out.split())


def test_json_is_the_ticket(command: Command) -> None:
    ran = command("build", TWO, "--json")
    assert ran.code == 0
    data = json.loads(ran.out)
    ticket = demo_ticket("timber-crew-carrier")
    front, rear = data["cut_list"]
    assert rear["joint_to_joint_mm"] == pytest.approx(ticket.cuts.cuts[1].piece.length, abs=1e-9)
    parts = sum(part["length_mm"] for part in rear["parts"])
    assert parts == pytest.approx(rear["joint_to_joint_mm"], abs=1e-9)
    assert [part["saw"] for part in front["parts"]] == [False, True, False, False]
    assert data["torque"]["governs"] == "wheel slip"
    assert data["strength"]["at_worst_bends"]["safety"] > 1.0
    assert data["speed"]["shaft_rpm"] == pytest.approx(3172.0, abs=1.0)
    assert data["rig"] == TWO


def test_the_picture_is_black_and_white_and_not_blank(command: Command, tmp_path: Path) -> None:
    place = tmp_path / "ticket.png"
    ran = command("build", TWO, "--picture", str(place))
    assert f"wrote {place}" in ran.err
    with Image.open(place) as picture:
        red, green, blue, *_ = picture.convert("RGB").split()
        assert red.tobytes() == green.tobytes() == blue.tobytes()
        assert min(red.getextrema()) == 0
        assert picture.width > 1000


def test_bad_input_is_one_line_and_two(command: Command, tmp_path: Path) -> None:
    for words, says in (
        (("build", "demo:nobody"), "nobody"),
        (("build", str(tmp_path / "none.toml")), "no such file"),
        (("build", CLEAR, "--picture", str(tmp_path / "x.pdf")), "ends in .png"),
    ):
        ran = command(*words)
        assert ran.code == 2
        assert says in ran.err
        assert len(ran.err.splitlines()) == 1
        assert ran.out == ""
    ran = command("build", CLEAR, "--picture", str(tmp_path / "no" / "x.png"))
    assert ran.code == 2
    assert "could not be written" in ran.err
    assert "CUT" in ran.out


def test_a_rig_that_was_written_gives_the_same_ticket(command: Command, tmp_path: Path) -> None:
    place = tmp_path / "again.toml"
    save_rig(load_demo("goat-path-buggy"), place)
    assert command("build", str(place)).out == command("build", SHORT).out


def test_quantities_read_as_a_shop_says_them() -> None:
    assert torque(1355.8179483314004 * 740.0) == "740 lb-ft (1,003 N m)"
    assert rpm(314.159265) == "3,000 rpm"
    assert road(1_609_344.0 / 60.0) == "60 mph (97 km/h)"
    assert mass(0.45359237 * 20.0) == "20.0 lb (9.07 kg)"
    assert (hours(12_345.6), hours(float("inf"))) == ("12,346 h", "over 100,000 h")
    assert [turned(x) for x in (0.0, 0.5, -0.5)] == [
        "in line",
        "28.6 deg clockwise",
        "28.6 deg counter-clockwise",
    ]


def test_every_part_is_drawn_as_what_it_is() -> None:
    """The joining tube is named after the slip, and the slip runs to weld lands as a yoke does."""
    parts = demo_ticket("long-legged-trail-wagon").cuts.cuts[0].parts
    assert [kind_of(part) for part in parts] == ["yoke", "tube", "slip", "tube", "yoke"]
