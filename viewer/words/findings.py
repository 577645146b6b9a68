"""What a finding says, long and short: every kind of it in one place, by what it is about.

Findings come as coded records (`sim.findings`). The type checker asks for the words of a new kind:
its code has to stand in one of the three `Code`s, and there in a `match` with a whole `Told`.
"""

from sim.findings import Finding
from viewer.words.on_axle import on_axle
from viewer.words.on_joint import on_joint
from viewer.words.on_slip import on_slip
from viewer.words.told import Told


def told(finding: Finding) -> Told:
    """Everything that a finding says."""
    code = finding.code
    match code:
        case "joint-bend" | "joint-gap" | "turns-at-ride":
            return on_joint(code, finding)
        case (
            "slip-closes"
            | "slip-opens"
            | "slip-comes-apart"
            | "slip-not-measured"
            | "no-room-for-slip"
        ):
            return on_slip(code, finding)
        case _:
            return on_axle(code, finding)


def says(finding: Finding) -> str:
    """The sentence for one finding."""
    return told(finding).long


def finding_lines(finding: Finding) -> tuple[str, str]:
    """What is found and where; then by how much, and how the axle stands there."""
    words = told(finding)
    return words.short, words.rest
