"""Files that are no rig file: one clear line each, and never a traceback of another kind."""

import sys
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from geometry.errors import BindpointError
from sim.rig import RigError, load_rig, parse_rig, rig_from_data
from sim.table.problems import MOST_LINES
from sim.table.reading import LARGEST, LONGEST_LINE
from tests.sim.rigs import COORDINATES, PHONE_CALL, spoilt


def refusal(path: Path) -> str:
    """The one line that a file is refused with."""
    with pytest.raises(RigError) as caught:
        load_rig(path)
    text = str(caught.value)
    assert text.startswith(f"{path}: ")
    assert "\n" not in text
    assert isinstance(caught.value, BindpointError)
    assert isinstance(caught.value, ValueError)
    return text


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "rig.toml"


def test_a_file_is_read(path: Path) -> None:
    path.write_text(COORDINATES, encoding="utf-8")
    assert load_rig(path) == load_rig(str(path)) == parse_rig(COORDINATES)


@pytest.mark.parametrize("text", [COORDINATES, PHONE_CALL])
def test_windows_line_ends_and_a_byte_order_mark_are_read(path: Path, text: str) -> None:
    path.write_bytes(b"\xef\xbb\xbf" + text.replace("\n", "\r\n").encode())
    assert load_rig(path) == parse_rig(text)


def test_typographic_marks_are_read_from_a_file(path: Path) -> None:
    text = spoilt(
        PHONE_CALL,
        ('"36 5/16 in"', '"36 5\N{FRACTION SLASH}16\N{DOUBLE PRIME}"'),
        ('"14 deg"', '"14\N{DEGREE SIGN}"'),
    )
    path.write_text(text, encoding="utf-8")
    assert load_rig(path).ride_height is not None
    assert load_rig(path).ride_height.length.mm == 922.3375  # type: ignore[union-attr]


def test_absent_file(path: Path) -> None:
    assert "no such file, expected a rig file" in refusal(path)


def test_absent_folder(tmp_path: Path) -> None:
    assert "no such file" in refusal(tmp_path / "nowhere" / "rig.toml")


def test_folder(tmp_path: Path) -> None:
    assert "a folder, expected a rig file" in refusal(tmp_path)


def test_a_path_with_a_nul() -> None:
    with pytest.raises(RigError, match=r"not a path|no such file"):
        load_rig("rig\0.toml")


@pytest.mark.parametrize("raw", [b"", b"  \n\n", b"\xef\xbb\xbf"])
def test_empty_file(path: Path, raw: bytes) -> None:
    path.write_bytes(raw)
    assert "an empty file, expected" in refusal(path)


def test_a_file_that_cannot_be_read(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path.write_text(COORDINATES, encoding="utf-8")

    def forbidden(*_: object, **__: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", forbidden)
    assert "permission denied, expected a file that can be read" in refusal(path)


def test_a_pipe_is_refused_and_not_waited_for(path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    path.touch()
    monkeypatch.setattr(Path, "is_file", lambda _: False)
    assert "not a plain file, expected" in refusal(path)


def test_ten_megabytes(path: Path) -> None:
    path.write_bytes(b"# filler\n" * 1_200_000)
    assert path.stat().st_size > 10_000_000
    assert f": more than {LARGEST:,} bytes" in refusal(path)


def test_the_largest_file_is_still_read(path: Path) -> None:
    filler = "#" * 999 + "\n"
    text = COORDINATES + filler * ((LARGEST - len(COORDINATES)) // 1000)
    path.write_text(text, encoding="utf-8", newline="\n")
    assert LARGEST - 1000 < path.stat().st_size <= LARGEST
    assert load_rig(path) == parse_rig(COORDINATES)


def test_binary_file(path: Path) -> None:
    path.write_bytes(bytes(range(256)) * 20)
    assert "a binary file, expected a TOML text in UTF-8" in refusal(path)


@pytest.mark.parametrize("encoding", ["utf-16", "utf-16-le", "utf-16-be", "utf-32"])
def test_wide_encodings(path: Path, encoding: str) -> None:
    path.write_text(PHONE_CALL, encoding=encoding)
    assert "UTF-8" in refusal(path)


def test_an_old_encoding_names_byte_and_line(path: Path) -> None:
    text = spoilt(PHONE_CALL, ('"3 deg"', '"3\N{DEGREE SIGN}"'))
    path.write_text(text, encoding="latin-1")
    assert "byte 0xb0 in line 3, which is not UTF-8" in refusal(path)


@pytest.mark.parametrize(
    ("text", "place", "says"),
    [
        ("[output]\npoints_down = 3 deg\n", "line 2, column 17", "a measurement in quotes"),
        ('[output]\njoint = ["1 in"\n', "", "the ] of a list is missing"),
        ("[output\n", "line 1, column 8", "[output (the ] at its end is missing)"),
        ("[output]\n[axle]\n[output]\n", "line 3, column 8", "each key once"),
        ('name = "a"\nname = "b"\n', "line 2, column 11", "each key once"),
        ('[travel]\nbump = "1 in"\nbump = "2 in"\n', "line 3, column 14", "each key once"),
        ("just words\n", "line 1", "there is no = after the name"),
        ("\N{DEGREE SIGN} = 1\n", "line 1", "not a name of a value"),
    ],
)
def test_bad_toml_names_line_and_column(path: Path, text: str, place: str, says: str) -> None:
    path.write_text(text, encoding="utf-8")
    message = refusal(path)
    assert f"{path}: {place}" in message
    assert says in message


@pytest.mark.parametrize(
    "text",
    [
        "a = " + "[" * 1500 + "]" * 400,
        "a = [\n" + "[\n" * 300_000,
        "a = " + "{ b = " * 100 + "1" + " }" * 100,
        "\n".join(".".join(["a"] * 900) + f".b{n} = 1" for n in range(100)),
        "[" + ".".join(["a"] * 900) + "]",
        "a = [" + "[" * 20 + "]" * 21,
    ],
)
def test_deep_nesting(path: Path, text: str) -> None:
    path.write_text(text, encoding="utf-8")
    assert "nested" in refusal(path)


def test_a_number_without_end(path: Path) -> None:
    path.write_text("a = [\n" + ",\n".join(["9" * 1900] * 3) + "\n]", encoding="utf-8")
    with pytest.raises(RigError, match="unknown key"):
        load_rig(path)


def test_a_line_without_end(path: Path) -> None:
    path.write_text('name = "' + "x" * LONGEST_LINE + '"', encoding="utf-8")
    assert f"came {LONGEST_LINE + 9} characters" in refusal(path)


def test_thousands_of_problems_are_counted_and_not_all_printed() -> None:
    with pytest.raises(RigError) as caught:
        parse_rig("\n".join(f"key{n} = 1" for n in range(3000)))
    lines = str(caught.value).splitlines()
    assert len(lines) == MOST_LINES + 1
    assert len(caught.value.problems) > 3000
    assert lines[-1] == f"and {len(caught.value.problems) - MOST_LINES} more"


def test_what_came_cannot_break_the_line_or_the_terminal() -> None:
    with pytest.raises(RigError) as caught:
        parse_rig('name = 3\nnote = "\\u001b[31m\\n"\nx = "\\u001b[31m red \\n two"\n')
    assert "\x1b" not in str(caught.value)
    assert all(line.startswith("rig: ") for line in str(caught.value).splitlines())


@given(st.text(max_size=300))
def test_no_text_whatever_raises_anything_else(text: str) -> None:
    with pytest.raises(RigError):  # nothing short of a whole rig is accepted
        parse_rig(text)


@given(st.binary(max_size=300))
def test_no_bytes_whatever_raise_anything_else(
    tmp_path_factory: pytest.TempPathFactory, raw: bytes
) -> None:
    path = tmp_path_factory.mktemp("raw") / "rig.toml"
    path.write_bytes(raw)
    with pytest.raises(RigError):
        load_rig(path)


KEYS = st.sampled_from(
    [
        "schema",
        "name",
        "output",
        "joint",
        "points_down",
        "ride_height",
        "length",
        "axle",
        "snout",
        "travel",
        "bump",
        "suspension",
        "kind",
        "readings",
        "at",
        "shaft",
        "tube",
        "slip",
        "output_end",
        "cross",
        "size",
        "output_yoke",
        "surroundings",
        "box",
        "wanted",
        "bend",
        "nonsense",
    ]
)
VALUES = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(KEYS, inner, max_size=4),
    max_leaves=20,
)


@given(st.dictionaries(KEYS, VALUES, max_size=8))
def test_no_data_whatever_raises_anything_else(data: dict[str, object]) -> None:
    with pytest.raises(RigError) as caught:
        rig_from_data(data)
    assert all(str(problem) for problem in caught.value.problems)


def test_the_recursion_limit_is_left_alone() -> None:
    before = sys.getrecursionlimit()
    with pytest.raises(RigError):
        parse_rig("a = " + "[" * 1900)
    assert sys.getrecursionlimit() == before
