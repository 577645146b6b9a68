"""What a drive leaves out of all that stops the shaft, so that nobody takes it for the whole."""

import numpy as np

from sim.frames import FloatArray
from sim.vehicle import RIDE, Pose
from viewer.session.moving.bind import BindDrive
from viewer.session.moving.drives import Drive
from viewer.session.moving.motion import Motion
from viewer.words.drives import left_out_words

LOOKS = 129
"""Poses of a drive that are looked at to say how far it goes."""


def left_out(drive: Drive, binds: tuple[BindDrive, ...], motion: Motion) -> str:
    """The worst that stops the shaft but not in this drive, in a line; "" where there is none.

    A drive to what stops the shaft leaves out nothing.
    """
    stops = [bind for bind in binds if bind.finding.verdict == "touches"]
    if drive in stops or not stops:
        return ""
    at = motion.at if drive.stays else RIDE
    course = drive.course(at, 0.0, motion.box, motion.front)

    def path(place: FloatArray) -> FloatArray:
        poses = [course.at(at, each * course.seconds) for each in place.ravel().tolist()]
        listed = np.array([(pose.travel, pose.roll, pose.wrap) for pose in poses])
        return listed.reshape(*place.shape, 3)

    seen = path(np.linspace(0.0, 1.0, LOOKS))
    low, high = (Pose(*map(float, end)) for end in (seen.min(axis=0), seen.max(axis=0)))
    for bind in stops:
        if not bind.happens_on(path):
            said = left_out_words(bind.finding, bind.stop, low, high)
            if said:
                return said
    return ""
