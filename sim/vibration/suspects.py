"""The suspects: one class each, one line in `SUSPECTS`."""

from math import sin, tan
from typing import Final

from sim.balance import OUNCE_INCH
from sim.line import running
from sim.remark import Remark
from sim.speed import pose_under
from sim.vibration.case import EVEN, Case
from sim.vibration.suspect import UNTOLD, Prediction, Says, Suspect, points
from sim.whirl import SAFE_SHARE

DOUBT: Final = 0.5
"""Share of a limit from which it may be felt: the trade's limits differ by two, 500 to 1000 rad/s2
and 300 to 400 [AE-7, from memory]."""

NEARLY: Final = 0.85
"""Share of the critical speed from which whirl is foretold; there imbalance swings the shaft 3.6
times as far as slowly, 1 / (1 - share^2) [derivation]."""

BESIDE_HALF: Final = 0.1
"""How far off half of the critical speed joints still meet it, as a share; from memory."""


def said(share: float, yes: float = 1.0, near: float = DOUBT) -> Says:
    """What a share of a limit says."""
    return "yes" if share >= yes else "near" if share >= near else "no"


class Tyres(Suspect):
    """Tyres and wheels out of balance or round."""

    code = "tyres"
    turns_with = "wheel"
    orders = (1.0,)
    common = 1
    at = points(power=-2, coast=-2, always=2, takeoff=-4)
    under_load = -1
    least = 4.0
    of_shaft = False

    def predicted(self, case: Case) -> Prediction:  # noqa: ARG002
        """Nothing of a rig tells."""
        return UNTOLD


class Imbalance(Suspect):
    """The shaft out of balance, bent or run out, its slip worn, its flange loose."""

    code = "balance"
    orders = (1.0,)
    common = 1
    at = points(power=-1, coast=-1, always=2, takeoff=-4)
    under_load = -1
    least = 15.0

    def predicted(self, case: Case) -> Prediction:
        """Only how hard an ounce inch pulls at that speed."""
        shaft = case.turns.shaft
        if shaft is None:
            return UNTOLD
        pull = 1e-6 * OUNCE_INCH * shaft**2  # g mm rad2/s2 in N
        return Prediction("untold", None, Remark("ounce-inch-pulls", pull=pull))


class JointAngles(Suspect):
    """The bends of the joints: too large, or not cancelling."""

    code = "joint-angles"
    orders = (2.0,)
    common = 1
    at = points(power=2, coast=2, always=-1, takeoff=0)
    under_load = 2

    def comes_in(self, case: Case) -> bool:
        """Pulling away, the wind-up is asked instead."""
        return case.symptom.when != "takeoff"

    def predicted(self, case: Case) -> Prediction:
        """The shake of the exact chain under the load it is felt at, against its limit."""
        found, shaft = case.felt, case.turns.shaft
        joint, bend = case.to_blame
        why = Remark("joints-bent", joint=joint, bend=bend)
        if shaft is None:
            return Prediction("untold", None, why)
        share = (shaft / found.speed) ** 2
        return Prediction(said(share), share, why)


class WornJoint(Suspect):
    """A cross that is worn, dry or stiff, or play in the slip."""

    code = "worn-joint"
    orders = (1.0, 2.0)
    common = 1
    at = points(power=1, coast=1, always=0, takeoff=1)

    def predicted(self, case: Case) -> Prediction:  # noqa: ARG002
        """Nothing of a rig tells."""
        return UNTOLD


class WindUp(Suspect):
    """The axle winding up on its springs as it pulls away, and bending the joints."""

    code = "wind-up"
    orders = (2.0,)
    common = 1
    at = points(power=0, coast=0, always=0, takeoff=3)
    under_load = 1

    def comes_in(self, case: Case) -> bool:
        """Only pulling away."""
        return case.symptom.when == "takeoff"

    def predicted(self, case: Case) -> Prediction:
        """How uneven the shaft is with all the wrap there is."""
        at = pose_under(case.vehicle.travel, case.vehicle.front, "takeoff")
        like = running(case.vehicle, at).like_one_joint
        share = like / (2.0 * EVEN)
        return Prediction(said(share), share, Remark("wound-up", wrap=at.wrap, like=like))


class Whirl(Suspect):
    """The shaft bowing out near its critical speed."""

    code = "whirl"
    orders = (1.0,)
    common = -1
    at = points(power=-1, coast=-1, always=1, takeoff=-5)
    least = 15.0

    def predicted(self, case: Case) -> Prediction:
        """The share of the critical speed in use, slip open where the axle hangs low."""
        shaft, whirl = case.turns.shaft, case.whirl
        critical = whirl.critical
        if case.symptom.only == "drooped" and whirl.critical_open is not None:
            critical = whirl.critical_open
        if shaft is None or critical is None:
            return UNTOLD
        share = shaft / critical
        why = Remark("whirl-share", share=share, critical=critical)
        says = said(share, NEARLY, SAFE_SHARE)
        if says == "no" and abs(2.0 * share - 1.0) < BESIDE_HALF:
            return Prediction("near", share, Remark("whirl-at-half", critical=critical))
        return Prediction(says, share, why)


class Carrier(Suspect):
    """The carrier bearing: its rubber, its height, the push of a bent joint beside it."""

    code = "carrier"
    orders = (2.0,)
    common = 1
    at = points(power=1, coast=0, always=0, takeoff=3)
    under_load = 1

    def comes_in(self, case: Case) -> bool:
        """Where there is a bearing."""
        return case.vehicle.section is not None

    def predicted(self, case: Case) -> Prediction:
        """The bend at the middle joint, and how hard it pushes the bearing.

        A bent joint bends what drives it by T tan(b) and what it drives by T sin(b), twice a turn;
        between output joint and bearing the two may add up. [derivation; the tests hold them to
        vector statics]
        """
        section = case.vehicle.section
        if section is None:
            return UNTOLD
        bends = case.bends(case.felt.load)
        middle = bends["middle"]
        push = (tan(middle) + sin(bends["output"])) / section.to_bearing
        share = middle / (2.0 * EVEN)
        return Prediction(said(share), share, Remark("pushes-bearing", bend=middle, push=push))


class AxleGears(Suspect):
    """Ring and pinion, or their bearings."""

    code = "axle-gears"
    orders = (8.0, 15.0)
    is_span = True
    common = -1
    at = points(power=1, coast=1, always=-1, takeoff=-2)
    of_shaft = False

    def predicted(self, case: Case) -> Prediction:  # noqa: ARG002
        """Nothing of a rig tells."""
        return UNTOLD


class Engine(Suspect):
    """Engine, clutch or converter, mounts, exhaust."""

    code = "engine"
    turns_with = "engine"
    orders = (0.5, 1.0)
    at = points(power=1, coast=-1, always=-3, takeoff=1)
    under_load = -2
    of_shaft = False

    def predicted(self, case: Case) -> Prediction:  # noqa: ARG002
        """Nothing of a rig tells."""
        return UNTOLD


class OtherShaft(Suspect):
    """The shaft to the other axle."""

    code = "other-shaft"
    orders = (1.0, 2.0)
    common = -1
    at = points(power=0, coast=0, always=0, takeoff=0)
    of_shaft = False

    def comes_in(self, case: Case) -> bool:
        """Where this one stands still, or it takes four-wheel drive and this is the rear one."""
        takes_front = case.symptom.only in ("4wd", "hubs-locked")
        return case.stands_still or (takes_front and not case.vehicle.front)

    def predicted(self, case: Case) -> Prediction:  # noqa: ARG002
        """Nothing of a rig tells."""
        return UNTOLD


SUSPECTS: Final[tuple[Suspect, ...]] = (
    Tyres(),
    WornJoint(),
    Imbalance(),
    JointAngles(),
    WindUp(),
    Carrier(),
    Whirl(),
    OtherShaft(),
    Engine(),
    AxleGears(),
)
"""The cheapest to look at first; of two as likely that one is named first."""
