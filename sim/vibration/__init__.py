"""A shake, from what somebody feels to its likeliest cause, and what would mend it."""

from sim.vibration.find import Suspected, Vibration, find_vibration
from sim.vibration.mending import Mend
from sim.vibration.suspect import Prediction, Suspect, SuspectCode
from sim.vibration.suspects import SUSPECTS
from sim.vibration.symptom import Feel, Follows, Only, Symptom, SymptomError, When

__all__ = [
    "SUSPECTS",
    "Feel",
    "Follows",
    "Mend",
    "Only",
    "Prediction",
    "Suspect",
    "SuspectCode",
    "Suspected",
    "Symptom",
    "SymptomError",
    "Vibration",
    "When",
    "find_vibration",
]
