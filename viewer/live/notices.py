"""What is said of all that is seen: parts are to come, an answer is old, a pose out of reach."""

from dataclasses import replace

import numpy as np

from sim.frames import pose
from viewer.draw.camera import UP, Camera
from viewer.draw.stage import Stage
from viewer.live.looks import SIZE, Look
from viewer.session.session import Session
from viewer.session.told.state_words import OLD, is_old

LOST, TO_COME = "out of reach", "parts to come"
"""What the stage calls the words that no part can be where it was sent, and those that something
is old or not there yet."""

TOP = 0.46
"""How far over the middle of the view the latter stand, in its heights."""


class Notices:
    """The words of a stage that speak of no part alone.

    Attributes
    ----------
    lost : whether it is said that nothing can be where it was sent.
    """

    def __init__(self, stage: Stage, session: Session) -> None:
        self._stage, self._session = stage, session
        self.lost = False

    def lose(self, look: Look, camera: Camera) -> None:
        """Say that nothing can be where it was sent; what is seen is the last pose there was."""
        self.lost = True
        letters, plate = look.letters(SIZE, True), look.framed("touches")
        self._stage.words(LOST, "out of reach\nshown: the last pose before it", UP, letters, plate)
        self._stage.move(LOST, pose(np.eye(3), camera.focus - UP))

    def find(self) -> None:
        """Take that back."""
        if self.lost:
            self.lost = False
            self._stage.remove(LOST)

    def announce(self, is_building: bool, look: Look, camera: Camera) -> None:
        """Say over the shaft that its parts are still to come, or that the answer is old."""
        self._stage.grey(is_old(self._session))
        text = notice(self._session, is_building)
        self._stage.remove(TO_COME)
        if text:
            plate = look.edged(look.ink)
            letters = replace(look.letters(SIZE, True), align="middle")
            self._stage.words(TO_COME, text, np.zeros(3), letters, plate)
            self.face(camera)

    def face(self, camera: Camera) -> None:
        """Keep what is said of all of it at the upper edge, wherever the eye is."""
        top = camera.focus + TOP * camera.span * camera.R_VC[1]
        self._stage.move(TO_COME, pose(np.eye(3), top))


def notice(session: Session, is_building: bool) -> str:
    """What has to be said of what is seen: that it is not all there yet, or old; "" if neither."""
    if session.check is None:
        more = "yokes and joints come with the answer"
        return f"simple shapes: {more if session.answers.is_computing else 'there is no answer'}"
    if is_building:
        return "building parts"
    return OLD if is_old(session) else ""
