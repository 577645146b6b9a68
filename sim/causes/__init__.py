"""Causes and signs as a graph of odds, and the question that settles most.

| to | use |
|---|---|
| have the graph of the trade | `load_graph()` |
| weigh what was seen | `infer(graph, evidence)`, a `Posterior` |
| know how good the odds are | `odds_within(posterior)` |
| ask on | `next_questions(graph, evidence, may_ask)` |
| put a chance in a step that has words | `band(chance)` |
| shift the odds by a shop's settled joints | `load_confirmed(path).priors(graph)`, for `infer` |
"""

from sim.causes.bands import NOT_RULED_OUT, Band, band
from sim.causes.codes import CauseCode, ComputedCode, SeenCode, SignCode
from sim.causes.confirmed import (
    Confirmed,
    SettledJoint,
    Shift,
    confirmed_from_data,
    confirmed_schema,
    load_confirmed,
    none_confirmed,
    save_confirmed,
)
from sim.causes.doubt import odds_within
from sim.causes.graph import Beta, Cause, Graph, GraphError, Link, State
from sim.causes.inference import ImpossibleEvidenceError, Posterior, Push, Story, infer
from sim.causes.questions import Asked, next_questions
from sim.causes.shipped import graph_of, load_graph

__all__ = [
    "NOT_RULED_OUT",
    "Asked",
    "Band",
    "Beta",
    "Cause",
    "CauseCode",
    "ComputedCode",
    "Confirmed",
    "Graph",
    "GraphError",
    "ImpossibleEvidenceError",
    "Link",
    "Posterior",
    "Push",
    "SeenCode",
    "SettledJoint",
    "Shift",
    "SignCode",
    "State",
    "Story",
    "band",
    "confirmed_from_data",
    "confirmed_schema",
    "graph_of",
    "infer",
    "load_confirmed",
    "load_graph",
    "next_questions",
    "none_confirmed",
    "odds_within",
    "save_confirmed",
]
