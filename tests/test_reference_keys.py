"""Every source key in code, data, tests and pages stands on docs/references.md, and none idly."""

import ast
import re
import tokenize
from collections.abc import Iterator
from pathlib import Path

HOUSE = Path(__file__).parents[1]
PAGE = HOUSE / "docs" / "references.md"
KEY = re.compile(r"\[([A-Z][A-Z0-9]+(?:-[A-Z0-9]+)*)(?:,[^\]]*)?\](?!\()")
ROOMS = ("geometry", "sim", "viewer", "models", "tests")


def in_python(path: Path) -> Iterator[str]:
    """Comments, docstrings and the strings that explain an attribute; no code."""
    with tokenize.open(path) as file:
        text = file.read()
    for node in ast.walk(ast.parse(text)):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            yield str(node.value.value)
    if not re.search(r"#.*\[[A-Z]", text):  # no comment that could name one
        return
    with path.open("rb") as file:
        for token in tokenize.tokenize(file.readline):
            if token.type == tokenize.COMMENT:
                yield token.string


def in_page(path: Path) -> str:
    return re.sub(r"```.*?```", "", path.read_text("utf-8"), flags=re.DOTALL)


def used() -> dict[str, set[str]]:
    """Keys and the files that name them."""
    found: dict[str, set[str]] = {}
    texts = [(path, text) for room in ROOMS for path in (HOUSE / room).rglob("*.py")
             for text in in_python(path)]  # fmt: skip
    texts += [(path, path.read_text("utf-8")) for path in (HOUSE / "models").rglob("*.toml")]
    pages = [*(HOUSE / "docs").glob("*.md"), *HOUSE.glob("*.md")]
    texts += [(path, in_page(path)) for path in pages if path != PAGE]
    for path, text in texts:
        for key in KEY.findall(text):
            found.setdefault(key, set()).add(path.relative_to(HOUSE).as_posix())
    return found


def test_every_key_resolves_and_none_is_idle() -> None:
    listed = re.findall(r"^\| \[(.*?)\] \|", PAGE.read_text("utf-8"), re.MULTILINE)
    assert len(listed) == len(set(listed))
    named = used()
    unknown = {key: files for key, files in named.items() if key not in listed}
    assert not unknown
    assert set(listed) <= set(named)
