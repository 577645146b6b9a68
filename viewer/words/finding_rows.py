"""What each kind of finding says: for each verdict the sentence, and two short lines.

A line is filled with what `finding_facts` knows of the finding, by name. The first short line is
what is found and where, the second by how much and how the axle stands there.
"""

from collections.abc import Mapping
from typing import Final, TypedDict

Row = tuple[str, str, str]
"""The sentence, the first short line, the second."""

Rows = Mapping[str, Row]
"""By verdict, or by hubs; "" for all others."""

_All = TypedDict(
    "_All",
    {
        "joint-bend": Rows,
        "joint-gap": Rows,
        "turns-at-ride": Rows,
        "slip-closes": Rows,
        "slip-opens": Rows,
        "slip-comes-apart": Rows,
        "slip-not-measured": Rows,
        "no-room-for-slip": Rows,
        "surroundings": Rows,
        "surroundings-unfinished": Rows,
        "out-of-reach": Rows,
        "beyond-readings": Rows,
        "caster": Rows,
        "hubs": Rows,
    },
)
"""Every code of `sim.findings`, so that the type checker asks for the words of a new one."""

ROWS: Final[_All] = {
    "joint-bend": {
        "touches": (
            "{joint_called} binds at {start:pose}. What meets: {meeting}. It is good for "
            "{limit:.1f} deg. The travel bends it to {worst:.1f} deg, {short:.1f} too far, at "
            "{at:pose}.{takes_binding}",
            "{joint_name} binds at {start.travel:travel}",
            "{left_deg} deg too far{start_ways}",
        ),
        "close": (
            "{joint_called} comes within {margin:under {reserve_deg}} deg of binding at {at:pose}. "
            "Wanted: {reserve_deg:.1f} deg. It bends to {worst:.1f} deg and is good for "
            "{limit:.1f} deg. The gap there is {gap_room}: {meeting}.",
            "{joint_name} close at {at.travel:travel}",
            "{left_deg} deg left{ways}",
        ),
        "clear": (
            "{joint_called} has {margin:.1f} deg left. It is good for {limit:.1f} deg and "
            "bends to {worst:.1f}, at {at:pose}.",
            "{joint_name} has {left_deg} deg left",
            "at {at.travel:travel}{ways}",
        ),
    },
    "joint-gap": {
        "": (
            "{joint_called} is down to {worst_room} of gap at {at:pose}: {meeting}. Wanted: "
            "{limit_room}.",
            "Small gap in the {subject} joint",
            "{worst_inches} at {at.travel:travel}{ways}",
        )
    },
    "turns-at-ride": {
        "touches": (
            "The shaft will not turn all the way around at ride height{turned_with}. The {joint} "
            "joint hits at {spin_deg:.0f} deg of its turn.",
            "Will not turn at ride height",
            "{joint} joint hits at {spin_deg:.0f} deg of turn",
        ),
        "": (
            "At ride height the shaft turns all the way around. The tightest spot, at the {joint} "
            "joint{turned_with}, has {margin:.1f} deg left.",
            "Turns freely at ride height",
            "{turn_left} deg left at the {joint} joint",
        ),
    },
    "slip-closes": {
        "touches": (
            "The slip bottoms out at {at:pose}. From ride height it can close {limit:length}; the "
            "travel closes it {worst:length}. It is {short:missing} short.{takes_bottoming}",
            "Slip is {short:fraction_up} short at {at.travel:travel}",
            "bottoms{since}",
        ),
        "close": (
            "The slip has only {margin:length_under {reserve_mm}} left before it bottoms out, at "
            "{at:pose}. Wanted: {reserve_mm:length}. The travel closes it {worst:length}.",
            "Slip has only {margin:small} left to close",
            "at {at.travel:travel}{ways}",
        ),
        "clear": (
            "The slip has {left:length} left before it bottoms out. The travel closes it "
            "{worst:length}, most at {at:pose}.",
            "Slip has {margin:small} left to close",
            "at {at.travel:travel}{ways}",
        ),
    },
    "slip-opens": {
        "touches": (
            "The slip runs out at {at:pose}. From ride height it can open {limit:length} and keep "
            "enough spline in; the travel opens it {worst:length}. It is {short:missing} "
            "short.{takes_running_out}",
            "Slip is {short:fraction_up} short at {at.travel:travel}",
            "runs out{since}",
        ),
        "close": (
            "The slip has only {margin:length_under {reserve_mm}} left before it runs short of "
            "spline, at {at:pose}. Wanted: {reserve_mm:length}. The travel opens it "
            "{worst:length}.",
            "Slip has only {margin:small} left to open",
            "at {at.travel:travel}{ways}",
        ),
        "clear": (
            "The slip has {left:length} left before it runs short of spline. The travel opens it "
            "{worst:length}, most at {at:pose}.",
            "Slip has {margin:small} left to open",
            "at {at.travel:travel}{ways}",
        ),
    },
    "slip-comes-apart": {
        "": (
            "The slip comes apart at {at:pose}. It lets go {limit:length} out from ride height; "
            "the travel opens it {worst:length}.",
            "Slip comes apart, {short:fraction_up} too far out",
            "at {at.travel:travel}{ways}",
        )
    },
    "slip-not-measured": {
        "": (
            "Nobody measured how far the slip can {unmeasured}, so it is not judged. From ride "
            "height the travel takes {asked_at}. {generic_slip}. Measure the truck's own.",
            "Slip not measured",
            "travel takes {asked_short}",
        )
    },
    "no-room-for-slip": {
        "touches": (
            "No slip fits between the yokes. At ride height they leave {limit:length} from weld "
            "to weld. {measured:?The slip|The shortest slip that would do} takes {worst:length}, "
            "{short:missing} too long.",
            "No slip fits between the yokes",
            "{limit:fraction} weld to weld, slip takes {worst:fraction_up}",
        ),
        "": (
            "The slip hardly fits between the yokes. At ride height they leave {limit:length} from "
            "weld to weld; a generic slip with this stroke takes {worst:length}. A shorter one "
            "would do: measure yours pushed home.",
            "Slip hardly fits between the yokes",
            "{limit:fraction} weld to weld, slip takes {worst:fraction_up}",
        ),
    },
    "surroundings": {
        "touches": (
            "The {called} {called:agree hits|hit} the {subject} at {at:pose}.{takes_hitting} "
            "{part_seen}",
            "{part_short} {part_short:agree hits|hit} the {subject}",
            "at {at.travel:travel}{ways}",
        ),
        "close": (
            "The {called} {called:agree comes|come} close to the {subject}: "
            "{worst:length_under {limit}} left at {at:pose}. Wanted: {limit:length}. {part_seen}",
            "{part_short} close to the {subject}",
            "{worst:small} left at {at.travel:travel}{ways}",
        ),
        "clear": (
            "The {called} {called:agree clears|clear} the {subject} by {worst:length}, nearest at "
            "{at:pose}. {part_seen}",
            "{part_short} clear of the {subject}",
            "{worst:small} left at {at.travel:travel}{ways}",
        ),
    },
    "surroundings-unfinished": {
        "": (
            "The search for the smallest gap to the {subject} was cut short. The gap is at least "
            "{sure_inches} in ({sure_mm} mm). The smallest found is {worst:length} at {at:pose}, "
            "at the {called}. A simpler mesh can be searched to the end. {part_seen}",
            "Gap to the {subject} not settled",
            "{sure_inches} in or more, {worst:small} found",
        )
    },
    "out-of-reach": {
        "": (
            "The suspension and the shaft as described cannot get to {at:pose}. The rest of the "
            "travel is judged. Check travel, links and slip.",
            "Cannot reach {at.travel:travel}",
            "as described{ways}",
        )
    },
    "beyond-readings": {
        "": (
            "The axle was measured to {limit:length} of {at.travel:?bump|droop} but travels "
            "{worst:length}. Past the readings it is taken to go straight on. Measure there too.",
            "Travels beyond what was measured",
            "{limit:fraction} of {at.travel:?bump|droop} read, travels {worst:fraction}",
        )
    },
    "caster": {
        "": (
            "To aim the pinion along the shaft at ride height: {caster}. It works both ways: each "
            "degree of caster you gain drops the pinion a degree.",
            "Pinion aimed along the shaft",
            "{caster_short}",
        )
    },
    "hubs": {
        "unlock": (
            "With the hubs unlocked this shaft stands still on the road. With them locked it turns "
            "as unevenly as a single joint bent {worst:.1f} deg, at ride height.",
            "Turns with locked hubs only",
            "as uneven as one joint at {worst:.1f} deg",
        ),
        "": (
            "With full-time hubs this shaft turns at road speed, so you can feel its angles. At "
            "ride height it turns as unevenly as a single joint bent {worst:.1f} deg. "
            "{limit:.0f} deg or less runs smooth (common practice, no source).",
            "The shaft turns at road speed",
            "as uneven as one joint at {worst:.1f} deg",
        ),
    },
}
