"""A sheet to print and fill in at the bench: drawings, what to read, and room for a number."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from html import escape

_STYLE = (
    "body{font:15px/1.4 sans-serif;margin:2em auto;max-width:60em;color:#222}"
    "section{display:flex;gap:1.5em;align-items:center;border-top:1px solid #999;padding:1em 0;"
    "break-inside:avoid}svg{max-width:24em;height:auto;flex:none}"
    ".wide section{display:block}.wide svg{max-width:100%}"
    ".box{border:1.5px solid #222;min-width:9em;height:2em;display:inline-block}"
    "h2{font-size:1.05em;margin:0 0 .3em}p{margin:.3em 0}"
)


@dataclass(frozen=True)
class Entry:
    """One reading on a sheet: its drawing as SVG, what is asked, how it is done, and a remark."""

    drawing: str
    asks: str
    how: str
    remark: str = ""


def sheet(
    title: str, lead: str, entries: Iterable[Entry], caution: str, *, wide: bool = False
) -> str:
    """Return a page to print, HTML, with a section for each reading.

    wide : whether a drawing has the whole width of the paper.
    """
    body = '<body class="wide">' if wide else "<body>"
    return (
        f'<!doctype html><html lang="en"><head><meta charset="utf-8"><title>{escape(title)}'
        f"</title><style>{_STYLE}</style></head>{body}<h1>{escape(title)}</h1>"
        f"<p>{escape(lead)}</p>{''.join(_sections(entries))}<p>{escape(caution)}</p>"
        "</body></html>\n"
    )


def _sections(entries: Iterable[Entry]) -> Iterator[str]:
    for number, entry in enumerate(entries, start=1):
        remark = f" ({escape(entry.remark)})" if entry.remark else ""
        yield (
            f"<section>{entry.drawing}<div><h2>{number}. {escape(entry.asks)}</h2>"
            f'<p>{escape(entry.how)}</p><p><span class="box"></span>{remark}</p></div></section>'
        )
