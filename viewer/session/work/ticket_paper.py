"""The build ticket of a rig as it is read on the screen."""

from sim.rig import Rig
from sim.ticket.ticket import build_ticket
from viewer.session.work.tasks import Tell
from viewer.ticket.text import build_text


def ticket_paper(rig: Rig, tell: Tell) -> str:
    """The text of the ticket. Raises BindpointError for a rig that cannot be computed."""
    return build_text(build_ticket(rig, tell))
