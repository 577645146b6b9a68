"""What a drive to a finding is called, and what it says where it stops and where it ends."""

from sim.findings import Finding
from sim.vehicle import Pose
from viewer.words.finding_facts import Facts
from viewer.words.findings import finding_lines
from viewer.words.meeting import meets_words
from viewer.words.poses import travel_words, ways
from viewer.words.sentence import filled


def drive_name(finding: Finding) -> str:
    """What a drive to a finding is called: "to the bind: pinion joint touches at 3 in droop"."""
    lead = "to the bind" if finding.verdict == "touches" else "to the worst"
    return f"{lead}: {_begun_small(finding_lines(finding)[0])}"


def stopped_words(finding: Finding, at: Pose) -> str:
    """What a drive stopped at, in a pose; for what does not touch, what is left there."""
    if finding.verdict != "touches":
        return f"Nothing meets. {'; '.join(finding_lines(finding))}."
    said = _STOPS.get(finding.code, _begun_small(finding_lines(finding)[0]))
    if "surfaces" in finding.detail:
        meets = meets_words(finding.detail["surfaces"], finding.detail["bodies"])
        return f"Stopped: the {meets} {_there(at)}."
    return f"Stopped: {filled(said, Facts(finding))} {_there(at)}."


def ended_words(finding: Finding, at: Pose) -> str:
    """What holds at the worst of a finding that touches, past where it stopped."""
    if finding.margin.unit == "deg":
        past = f"{-finding.margin.value:.1f} deg too far"
        return f"The worst, {_there(at)}: the {finding.subject} joint is bent {past}."
    return f"The worst, {_there(at)}: {_begun_small('; '.join(finding_lines(finding)))}."


_STOPS = {
    "turns-at-ride": "the {joint} joint touches as the shaft is turned",
    "slip-closes": "the slip bottoms",
    "slip-opens": "the slip runs short of spline",
    "slip-comes-apart": "the slip comes apart",
    "surroundings": "the {called} {called:agree hits|hit} the {subject}",
    "out-of-reach": "suspension and shaft go no farther than here,",
}


def _there(at: Pose) -> str:
    return ", ".join([f"at {travel_words(at.travel)}", *ways(at)])


def _begun_small(line: str) -> str:
    return line[:1].lower() + line[1:]
