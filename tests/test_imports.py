"""No module imports itself, however far around: the parts of the house have an order."""

import ast
from collections.abc import Iterator
from graphlib import CycleError, TopologicalSorter
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[1]
ROOMS = ("geometry", "sim", "viewer", "models")

Tree = dict[str, ast.Module]


def tree() -> Tree:
    """Every module of the house, parsed, by its dotted name."""
    files = (file for room in ROOMS for file in sorted((ROOT / room).rglob("*.py")))
    return {named(file): ast.parse(file.read_text("utf-8")) for file in files}


def named(file: Path) -> str:
    parts = file.relative_to(ROOT).with_suffix("").parts
    return ".".join(parts[:-1] if parts[-1] == "__init__" else parts)


def imported(module: ast.Module, house: Tree) -> Iterator[str]:
    """Modules of the house that a module imports, at once, late, or for its types alone."""
    for node in ast.walk(module):
        if isinstance(node, ast.Import):
            yield from (each.name for each in node.names if each.name in house)
        elif isinstance(node, ast.ImportFrom) and node.module in house:
            inner = {f"{node.module}.{each.name}" for each in node.names}
            yield from inner & house.keys()
            if not inner <= house.keys():
                yield node.module


def check(house: Tree) -> None:
    """Raise CycleError where modules import each other."""
    TopologicalSorter({name: set(imported(each, house)) for name, each in house.items()}).prepare()


@pytest.mark.slow
def test_no_module_imports_itself_however_far_around() -> None:
    house = tree()
    assert len(house) > 500
    check(house)


@pytest.mark.parametrize("late", ["from sim.b import B", "def f():\n    import sim.b"])
def test_a_cycle_would_be_seen(late: str) -> None:
    house = {
        "sim.a": ast.parse(late),
        "sim.b": ast.parse("from sim import a"),
        "sim": ast.parse(""),
    }
    with pytest.raises(CycleError, match="sim"):
        check(house)
