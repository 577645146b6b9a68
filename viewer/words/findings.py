"""What a finding says, long and short. Findings come as coded records (`sim.findings`)."""

from sim.findings import Finding
from viewer.words.finding_facts import Facts
from viewer.words.finding_rows import ROWS, Row
from viewer.words.sentence import filled


def says(finding: Finding) -> str:
    """The sentence for one finding."""
    return filled(_row(finding)[0], Facts(finding))


def finding_lines(finding: Finding) -> tuple[str, str]:
    """What is found and where; then by how much, and how the axle stands there."""
    _, short, rest = _row(finding)
    facts = Facts(finding)
    return filled(short, facts), filled(rest, facts)


def _row(finding: Finding) -> Row:
    rows = ROWS[finding.code]
    which = finding.detail.get("hubs", finding.verdict)
    return rows[which if which in rows else ""]
