"""What reading a yoke from a mesh file has found, as text."""

from collections.abc import Iterator
from textwrap import wrap

from geometry.imported.importing import ImportedYoke
from sim.remark import remark_of
from viewer.words.lines import WIDTH
from viewer.words.remarks import said
from viewer.words.verdicts import CAUTION
from viewer.words.yoke import yoke_rows


def yoke_lines(made: ImportedYoke, kind: str, cross: str | None, given: bool) -> Iterator[str]:
    """Everything that was found, line by line.

    kind : format of the file; cross : that was given, or that seems to fit
    """
    report = made.report
    yield f"{report.source}: {kind.lstrip('.').upper()}, {report.repair.faces:,} triangles"
    for name, text in yoke_rows(made, cross, given):
        yield from wrap(f"{name:<10}{text}", WIDTH, subsequent_indent=" " * 10)
    yield ""
    yield "Look at:"
    for note in report.checks:
        yield from wrap(f"  - {said(remark_of(note))}", WIDTH, subsequent_indent="    ")
    yield ""
    yield from wrap(CAUTION, WIDTH)
