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
            "{joint_called} touches at {start:pose}: {meeting}. It is clear to {limit:.1f} deg and "
            "bends to {worst:.1f} deg at {at:pose}; it needs {short:.1f} deg more.{takes_touching}",
            "{joint_name} touches at {start.travel:travel}",
            "short {left_deg} deg{start_ways}",
        ),
        "close": (
            "{joint_called} comes within {margin:under {reserve_deg}} deg of touching "
            "({reserve_deg:.1f} deg wanted), with {gap_room} of room: it bends to {worst:.1f} deg "
            "at {at:pose} and is clear to {limit:.1f} deg. Nearest: {meeting}.",
            "{joint_name} close at {at.travel:travel}",
            "{left_deg} deg left{ways}",
        ),
        "clear": (
            "{joint_called} has {margin:.1f} deg to spare: it bends to {worst:.1f} deg at "
            "{at:pose} and is clear to {limit:.1f} deg.",
            "{joint_name} has {left_deg} deg left",
            "at {at.travel:travel}{ways}",
        ),
    },
    "joint-gap": {
        "": (
            "{joint_called} has only {worst_room} of room at {at:pose}: {meeting}. {limit_room} is "
            "wanted.",
            "Small gap in the {subject} joint",
            "{worst_inches} in at {at.travel:travel}{ways}",
        )
    },
    "turns-at-ride": {
        "touches": (
            "The shaft cannot be turned all the way round at ride height{turned_with}: the {joint} "
            "joint touches at {spin_deg:.0f} deg of its turn.",
            "Cannot be turned at ride height",
            "{joint} joint touches at {spin_deg:.0f} deg of turn",
        ),
        "": (
            "At ride height the shaft turns freely all the way round; the tightest spot, at the "
            "{joint} joint{turned_with}, has {margin:.1f} deg left.",
            "Turns freely at ride height",
            "{turn_left} deg left at the {joint} joint",
        ),
    },
    "slip-closes": {
        "touches": (
            "The slip bottoms: it has {limit:length} to close from ride height and needs "
            "{worst:length} at {at:pose}. It needs {short:missing} more.{takes_bottoming}",
            "Slip bottoms at {at.travel:travel}",
            "short {short:fraction_up}{ways}",
        ),
        "close": (
            "The slip has only {margin:length_under {reserve_mm}} left before it bottoms: it "
            "closes {worst:length} at {at:pose}; {reserve_mm:length} is wanted.",
            "Slip has only {margin:small} to close",
            "at {at.travel:travel}{ways}",
        ),
        "clear": (
            "The slip keeps {left:length} left before it bottoms: it closes {worst:length} at "
            "{at:pose}.",
            "Slip has {margin:small} to close",
            "at {at.travel:travel}{ways}",
        ),
    },
    "slip-opens": {
        "touches": (
            "The slip runs out: it may open {limit:length} from ride height with enough spline "
            "engaged and is pulled {worst:length} at {at:pose}. It needs {short:missing} "
            "more.{takes_running_out}",
            "Slip runs out at {at.travel:travel}",
            "short {short:fraction_up}{ways}",
        ),
        "close": (
            "The slip has only {margin:length_under {reserve_mm}} left before it runs short of "
            "spline: it opens {worst:length} at {at:pose}; {reserve_mm:length} is wanted.",
            "Slip has only {margin:small} to open",
            "at {at.travel:travel}{ways}",
        ),
        "clear": (
            "The slip keeps {left:length} left before it runs short of spline: it opens "
            "{worst:length} at {at:pose}.",
            "Slip has {margin:small} to open",
            "at {at.travel:travel}{ways}",
        ),
    },
    "slip-comes-apart": {
        "": (
            "The slip comes apart at {at:pose}: it parts when opened {limit:length} and is pulled "
            "{worst:length}.",
            "Slip comes apart at {at.travel:travel}",
            "{short:fraction_up} too far open{ways}",
        )
    },
    "slip-not-measured": {
        "": (
            "Nobody measured how far the slip can {unmeasured}, so it is not judged. From ride "
            "height the travel asks {asked_at}. {generic_slip}; the truck's own has to be "
            "measured.",
            "Slip not measured",
            "asks {asked_short}",
        )
    },
    "no-room-for-slip": {
        "touches": (
            "No slip fits between the yokes: the yokes leave {limit:length} from weld to weld at "
            "ride height, and {measured:?the slip|the shortest slip that does} takes "
            "{worst:length}. It is {short:missing} short.",
            "No slip fits between the yokes",
            "{limit:fraction} from weld to weld, takes {worst:fraction_up}",
        ),
        "": (
            "The slip as described hardly fits: the yokes leave {limit:length} from weld to weld "
            "at ride height, and a generic one with its stroke takes {worst:length}. A shorter one "
            "would do; measure yours pushed home.",
            "Slip hardly fits between the yokes",
            "{limit:fraction} from weld to weld, takes {worst:fraction_up}",
        ),
    },
    "surroundings": {
        "touches": (
            "The {called} {called:agree touches|touch} the {subject} at {at:pose}.{takes_hitting} "
            "{part_seen}",
            "{part_short} touches the {subject}",
            "at {at.travel:travel}{ways}",
        ),
        "close": (
            "The {called} {called:agree comes|come} close to the {subject}: "
            "{worst:length_under {limit}} left at {at:pose}; {limit:length} is wanted. {part_seen}",
            "{part_short} close to the {subject}",
            "{worst:small} left at {at.travel:travel}{ways}",
        ),
        "clear": (
            "The {called} {called:agree stays|stay} clear of the {subject}: {worst:length} left at "
            "{at:pose}. {part_seen}",
            "{part_short} clear of the {subject}",
            "{worst:small} left at {at.travel:travel}{ways}",
        ),
    },
    "surroundings-unfinished": {
        "": (
            "The search for the least gap to the {subject} was cut short: it is {sure_inches} in "
            "({sure_mm} mm) or more, and {worst:length} at {at:pose}, where the {called} "
            "{called:agree is|are} nearest so far. A simpler mesh is searched to the end. "
            "{part_seen}",
            "Gap to the {subject} not settled",
            "{sure_inches} in or more, {worst:small} found",
        )
    },
    "out-of-reach": {
        "": (
            "The suspension and the shaft cannot reach {at:pose} as described; what is said here "
            "holds for the poses that can be reached. Check travel, links and slip.",
            "Cannot reach {at.travel:travel}",
            "as described{ways}",
        )
    },
    "beyond-readings": {
        "": (
            "The axle was read to {limit:length} of {at.travel:?bump|droop} but travels "
            "{worst:length}; beyond the readings it is taken to go straight on. Read it there too.",
            "Travels beyond what was read",
            "{limit:fraction} of {at.travel:?bump|droop} read, travels {worst:fraction}",
        )
    },
    "caster": {
        "": (
            "The pinion aimed along the shaft at ride height: {caster}. The other way round, each "
            "degree of caster gained by turning the housing lowers the pinion by a degree.",
            "Pinion aimed along the shaft",
            "{caster_short}",
        )
    },
    "hubs": {
        "unlock": (
            "With the hubs unlocked this shaft stands still on the road; how unevenly it turns, "
            "like one joint at {worst:.1f} deg at ride height, matters only while they are locked.",
            "The shaft turns with locked hubs only",
            "as uneven as one joint at {worst:.1f} deg",
        ),
        "": (
            "With full-time hubs this shaft turns at road speed, so its angles can be felt: at "
            "ride height it is as uneven as one joint at {worst:.1f} deg; {limit:.0f} deg or less "
            "runs well (common practice, no source).",
            "The shaft turns at road speed",
            "as uneven as one joint at {worst:.1f} deg",
        ),
    },
}
