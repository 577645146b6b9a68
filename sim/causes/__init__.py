"""Causes and signs as a graph of odds, and the question that settles most.

| to | use |
|---|---|
| have the graph of the trade | `load_graph()` |
| weigh what was seen | `infer(graph, evidence)`, a `Posterior` |
| ask on | `next_questions(graph, evidence, may_ask)` |
| put a chance in a step that has words | `band(chance)` |
"""

from sim.causes.bands import NOT_RULED_OUT, Band, band
from sim.causes.codes import CauseCode, ComputedCode, SeenCode, SignCode
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
    "Graph",
    "GraphError",
    "ImpossibleEvidenceError",
    "Link",
    "Posterior",
    "Push",
    "SeenCode",
    "SignCode",
    "State",
    "Story",
    "band",
    "graph_of",
    "infer",
    "load_graph",
    "next_questions",
]
