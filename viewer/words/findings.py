"""What a finding says, long and short. Findings come as coded records (`sim.findings`)."""

import re
from typing import Final

from sim.findings import Finding
from viewer.words.finding_facts import Facts
from viewer.words.finding_rows import ROWS, Row
from viewer.words.sentence import filled


def says(finding: Finding) -> str:
    """The sentences for one finding, as they are spoken."""
    return spoken(filled(_row(finding)[0], Facts(finding)))


def spoken(text: str) -> str:
    """A text with its degrees as they are spoken; tables and short lines keep ``deg``."""
    return _DEG.sub("degrees", text)


_DEG: Final = re.compile(r"(?<=\d )deg\b")


def finding_lines(finding: Finding) -> tuple[str, str]:
    """What is found and where; then by how much, and how the axle stands there."""
    _, short, rest = _row(finding)
    facts = Facts(finding)
    return filled(short, facts), filled(rest, facts)


def _row(finding: Finding) -> Row:
    rows = ROWS[finding.code]
    which = finding.detail.get("hubs", finding.verdict)
    return rows[which if which in rows else ""]
