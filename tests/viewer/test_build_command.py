"""`bindpoint build` as a user types it."""

import json
import re
from collections.abc import Callable
from pathlib import Path

import pytest
from PIL import Image

from sim.rig import changed, load_demo, save_rig
from sim.units import parse_length
from tests.sim.ticket.rigs import demo_ticket, with_crossmember
from tests.viewer.run_command import Ran, run
from viewer.words.build import cross_name
from viewer.words.units import format_length, hours, mass, road, rpm, torque, turned

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


@pytest.mark.slow
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


@pytest.mark.slow
def test_what_stops_the_shaft_is_said_before_anything_is_cut(command: Command) -> None:
    ran = command("build", TOUCHING)
    assert ran.code == 1
    head = ran.out[: ran.out.index("\nCUT")]
    assert "!! the pinion joint binds within the travel" in head
    assert "STRAPS: let the axle hang no lower than" in ran.out
    short = command("build", SHORT)
    assert short.code == 1
    assert "!! the slip runs short of spline" in short.out


@pytest.mark.slow
def test_what_lives_around_the_shaft_is_told(command: Command, tmp_path: Path) -> None:
    near = demo_ticket("quarry-hauler").found.near[0]
    clear = command("build", CLEAR)
    line = (
        f"crossmember: smallest gap {format_length(near.gap_mm)} from the shaft's {near.part}, at"
    )
    assert line in " ".join(clear.out.split())
    assert clear.code == 0
    place = tmp_path / "low.toml"
    save_rig(with_crossmember("4 in"), place)
    low = command("build", str(place))
    assert low.code == 1
    assert "  !! the shaft's tube hits the crossmember within the travel." in low.out
    assert "crossmember: the shaft's tube hits it at" in low.out


@pytest.mark.slow
def test_what_is_not_said_is_named_with_its_reason(command: Command) -> None:
    ran = command("build", SHORT)
    plain = " ".join(ran.out.split())
    assert "drive.top_speed: shaft speed at top speed" in plain
    assert "drive.axle_load: torque at which the tires slip" in plain
    assert "drive.converter taken as 1: a clutch" in plain
    borrowed = " ".join(command("build", CLEAR).out.split())
    assert "Taken from [wrap.drive], where [drive] does not say it: - engine_torque" in borrowed
    missing = borrowed.partition("Not told, since")[2].partition("Taken from")[0]
    # Which no drive says.
    assert "strap_bolt: whether the straps hold the caps; that goes by their bolt" in missing
    assert "strap_nuts: whether the straps hold the caps; that goes by the part maker's" in missing
    assert "drive." not in missing


@pytest.mark.slow
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


@pytest.mark.slow
def test_the_picture_is_black_and_white_and_not_blank(command: Command, tmp_path: Path) -> None:
    place = tmp_path / "ticket.png"
    ran = command("build", TWO, "--picture", str(place))
    assert f"wrote {place}" in ran.err
    with Image.open(place) as picture:
        red, green, blue, *_ = picture.convert("RGB").split()
        assert red.tobytes() == green.tobytes() == blue.tobytes()
        assert min(red.getextrema()) == 0
        assert picture.width > 1000


@pytest.mark.slow
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


@pytest.mark.slow
def test_a_rig_that_was_written_gives_the_same_ticket(command: Command, tmp_path: Path) -> None:
    place = tmp_path / "again.toml"
    save_rig(load_demo("goat-path-buggy"), place)
    assert command("build", str(place)).out == command("build", SHORT).out


def test_quantities_read_as_a_shop_says_them() -> None:
    assert torque(1355.8179483314004 * 740.0) == "740 lb-ft (1,003 N m)"
    assert rpm(314.159265) == "3,000 rpm"
    assert road(1_609_344.0 / 60.0) == "60 mph (97 km/h)"
    assert mass(0.45359237 * 20.0) == "20.0 lb (9.07 kg)"
    assert (hours(12_345.6), hours(float("inf"))) == ("about 12,000 h", "over 100,000 h")
    assert [turned(x) for x in (0.0, 0.5, -0.5)] == [
        "in line",
        "28.6 deg clockwise",
        "28.6 deg counterclockwise",
    ]


@pytest.mark.slow
def test_every_yoke_is_named_by_its_end_and_kind(command: Command) -> None:
    found = rows(command("build", TOUCHING).out)
    assert "output-end weld yoke, joint center to weld land" in found
    assert "pinion-end weld yoke, joint center to weld land" in found
    front = rows(command("build", "demo:heather-moor-scout").out)
    assert "output-end deep-throat weld yoke, joint center to weld land" in front
    # The output lies behind on a front axle: nothing is ahead or behind.
    assert "SAW joining tube, between the output-end yoke and the slip" in front
    two = rows(command("build", TWO).out)
    assert "middle-joint weld yoke, joint center to weld land" in two
    assert "SAW joining tube, between the middle-joint yoke and the slip" in two


@pytest.mark.slow
def test_a_head_and_the_yoke_in_the_hand_have_rows_of_their_own(command: Command) -> None:
    found = rows(command("build", "demo:short-tailed-scout").out)
    _, _, head = found["output-end head, joint center (its ball) to inner cross"]
    _, _, land = found["output-end weld yoke, inner cross to weld land"]
    piece = demo_ticket("short-tailed-scout").cuts.cuts[0].piece
    assert head == pytest.approx(piece.first.reach, abs=0.06)
    assert land == pytest.approx(piece.first.land, abs=0.06)
    assert head > 20.0
    assert land == pytest.approx(found["pinion-end weld yoke, joint center to weld land"][2])
    # Reach of the head: from the ball to the inner cross, as the tape has it.
    joint = found["output joint center to yoke flat at the pinion"][2]
    inner = found["inner cross to yoke flat at the pinion"][2]
    assert joint - inner == pytest.approx(head, abs=0.5)


@pytest.mark.slow
def test_the_front_section_has_its_own_tape_check(command: Command) -> None:
    found = rows(command("build", TWO).out)
    whole = found["front section, joint center to joint center"][2]
    behind = found["behind the bearing, to the middle joint"][2]
    assert found["output joint center to bearing"][2] == pytest.approx(whole - behind, abs=0.11)
    assert "flange face to bearing" in found


@pytest.mark.slow
def test_what_the_welder_needs_is_on_the_ticket(command: Command, tmp_path: Path) -> None:
    plain = " ".join(command("build", TWO).out.split())
    assert "EARS, front section: those at the output joint and those at the middle joint" in plain
    assert "EARS, rear section: those at the middle joint and those at the pinion joint" in plain
    assert "SLIP: sleeve toward the output, stub toward the pinion" in plain
    for blank in ("Order", "Customer", "Date", "Built by", "Checked by", "Process, filler"):
        assert re.search(rf"{blank} _{{8,}}", plain)
    assert "stub of the slip and at the carrier bearing" in plain
    assert re.search("Strap nuts at the pinion joint, part maker's figure _{8,}", plain)
    assert "lb-ft" not in plain[plain.index("Straps:") : plain.index("Process, filler")]
    place = tmp_path / "turned.toml"
    save_rig(changed(load_demo("quarry-hauler"), {"shaft.phase": "20 deg"}), place)
    turned_ears = " ".join(command("build", str(place)).out.split())
    assert (
        "EARS, shaft: those at the pinion joint turned 20.0 deg clockwise from those at the output "
        "joint, seen from the output, within 1 deg" in turned_ears
    )


@pytest.mark.slow
def test_the_part_makers_figure_is_printed_at_its_own_joint(
    command: Command, tmp_path: Path
) -> None:
    place = tmp_path / "told.toml"
    told = {"shaft.pinion_end.strap_nuts": "31 lb-ft", "shaft.pinion_end.strap_bolt": "3/8 in"}
    save_rig(changed(load_demo("quarry-hauler"), told), place)
    ticket = " ".join(command("build", str(place)).out.split())
    assert "Strap nuts at the pinion joint: 31 lb-ft (42 N m), the part maker's figure." in ticket
    assert "strap_nuts" not in ticket, "nothing is missing"


@pytest.mark.slow
def test_a_use_that_nobody_said_stands_first_on_the_ticket(
    command: Command, tmp_path: Path
) -> None:
    place = tmp_path / "unsaid.toml"
    save_rig(changed(load_demo("long-legged-trail-wagon"), {"drive.use": None}), place)
    lines = command("build", str(place)).out.splitlines()
    marked = [line for line in lines if line.startswith(("  !!", "   ~"))]
    assert marked[0].startswith("   ~ nobody said what it is used for (drive.use).")
    assert any(line.startswith("  !!") for line in marked[1:])
    data = json.loads(command("build", str(place), "--json").out)
    assert data["flags"][0]["code"] == "use-not-said"


@pytest.mark.slow
def test_a_yoke_on_the_output_tells_one_number_of_spline(command: Command) -> None:
    """Flag and SLIP once said 0.28 and 0.29 in: before and after the tube was rounded."""
    out = command("build", SHORT).out
    plain = " ".join(out.split())
    head, slip = plain.split(" SLIP yoke sliding")
    (flag,) = re.findall(r"only (\S+ in \(\S+ mm\)) of spline in", head)
    assert f"Spline in at the longest: {flag}." in slip
    assert "of the sliding yoke, generic unless measured" in slip
    assert "nothing tells its size" not in slip
    assert "The sliding yoke's barrel is taken to bottom at the seal (assumed)" in head
    assert "tape check from the output seal: the joint stands" in slip
    # Where no split would do, no tube is to be cut for one.
    assert "However it is set, this slip is too short for the travel" in slip
    assert "For that, cut the tube" not in slip


def with_values(tmp_path: Path, demo: str, **values: object) -> str:
    """A demo with other values in it, by key with __ for dots, saved; its path."""
    place = tmp_path / "other.toml"
    save_rig(changed(load_demo(demo), {k.replace("__", "."): v for k, v in values.items()}), place)
    return str(place)


@pytest.mark.slow
def test_gears_are_called_what_they_are_and_no_speed_is_made_up(
    command: Command, tmp_path: Path
) -> None:
    name = "long-legged-trail-wagon"
    whole = command("build", f"demo:{name}").out
    assert "  low gear 3.8, low range 2.7, engine at redline: 448 rpm" in whole
    place = with_values(tmp_path, name, drive__top_speed=None, drive__low_gear=None)
    out = command("build", place).out
    assert "Shaft at top speed: not told without drive.top_speed." in out
    assert "  top gear 0.79, high range, engine at redline: 5,823 rpm, 125 mph" in out
    assert "lowest gear" not in out
    assert "at top speed the joints" not in out


@pytest.mark.slow
def test_both_ends_of_each_piece_are_balanced(command: Command) -> None:
    plain = " ".join(command("build", TWO).out.split("BALANCE")[1].split())
    assert re.search(r"front section: G16 .* at the output end\. At the middle end .*\.", plain)
    assert re.search(r"rear section: G16 .* at the middle end\. At the pinion end .*\.", plain)
    # Grams on a 3 1/2 in tube make the g mm told.
    told = re.findall(r"\((\d+) g mm; ([\d.]+) g", plain)
    assert len(told) == 4
    for residual, weight in told:
        assert float(residual) == pytest.approx(float(weight) * 44.45, abs=0.5 + 0.05 * 44.45)
    assert "Planes: the outer ends of each piece's tube (3 1/2 in), weights beside" in plain


@pytest.mark.slow
def test_hubs_that_unlock_are_told_with_the_speed(command: Command) -> None:
    said = "With the hubs unlocked this shaft stands still on the road"
    assert said in command("build", "demo:heather-moor-scout").out
    assert said not in command("build", SHORT).out


@pytest.mark.slow
def test_both_names_of_a_cross_are_said(command: Command) -> None:
    """1310 was typed and 27 x 82 answered."""
    out = command("build", SHORT).out
    assert "1310 (27 x 82): deep-throat sliding yoke" in out
    assert "27 x 92 (1330) for 27 x 82 (1310)" in out
    assert cross_name("30 x 92") == "30 x 92 (1350)"


@pytest.mark.slow
def test_words_that_read_odd(command: Command, tmp_path: Path) -> None:
    flagged = " ".join(command("build", TWO).out.split())
    assert "under power the joints shake the shaft above" in flagged
    assert "since engine_torque may be 10% off (from memory)." in flagged
    assert "axle_load may be 10% off (from memory) and friction may be 20% off" in flagged
    swapped = with_values(tmp_path, "timber-crew-carrier", drive__low_gear=0.42)
    out = " ".join(command("build", swapped).out.split())
    assert "top_gear 0.7 is a larger number than low_gear 0.42:" in out
    assert "or is one mistyped? " in out
    assert "?." not in out


@pytest.mark.slow
def test_a_tooth_has_a_direction_and_tells_what_it_leaves(command: Command, tmp_path: Path) -> None:
    place = with_values(tmp_path, "long-legged-trail-wagon", shaft__phase="20 deg")
    out = " ".join(command("build", place).out.split())
    assert "Before welding: turning the ears takes away much of the shaking, see SHAKING." in out
    assert re.search(r"put it together 1 tooth further counterclockwise at the pinion end", out)
    assert re.search(r"Ears \d+\.\d deg (counter)?clockwise then leave \d+%\.", out)
