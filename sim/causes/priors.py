"""Chances of the causes before anything is seen, of joints that are brought in."""

from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from sim.causes.codes import CauseCode
from sim.causes.graph import Floats, Graph, GraphError


@dataclass(frozen=True, eq=False)
class Prior:
    """How likely each set of causes is.

    A joint that is brought in has a cause. So causes are independent of one another on all joints
    that run, and those are looked at which have at least one, or failed for none of the graph's:
    one cause that is sure makes the others as rare again as they are on the road.

    Attributes
    ----------
    shares : (causes,) of all joints that run, those that have it; 0 for what is taken out.
    none : by how many times the empty set is likelier than it would be if nothing had failed.
    """

    shares: Floats
    none: float

    def weights(self, members: Floats) -> Floats:
        """(sets,) logs of the chances of sets, but for one number for all; members as in `Sets`."""
        with np.errstate(divide="ignore"):
            # A cause taken out gets a number that its sets never come back from, in place of
            # -inf, which times 0 would be no number.
            for_it = np.maximum(np.log(self.shares), -1e300) - np.log1p(-self.shares)
            empty = np.where(members.any(axis=1), 0.0, np.log(self.none))
        return np.asarray(members @ for_it + empty)


def prior_of(graph: Graph, said: Mapping[CauseCode, float] | None = None) -> Prior:
    """How likely sets are, with some causes' chances said in place of the graph's.

    With p the chances of the causes of joints that are brought in, n of none of them, and r the
    shares of all that run, p = (1 - n) r / Z with Z = 1 - prod (1 - r) [derivation]; solved for Z.
    A chance of 0 takes a cause out, which makes the others likelier. Raises GraphError for a cause
    that the graph does not have and for what is no chance.
    """
    said = dict(said or {})
    for cause, chance in said.items():
        if cause not in graph.codes:
            raise GraphError(f"no cause {cause!r}; there are: {', '.join(graph.codes)}")
        if not 0.0 <= chance < 1.0:
            raise GraphError(f"{cause}: got a chance of {chance}, expected from 0 to under 1")
    stays = np.array([said.get(code, 1.0) > 0.0 for code in graph.codes])
    chances = np.array([said.get(each.code) or each.prior.mean for each in graph.causes])
    if graph.none is None:
        return Prior(chances * stays, 1.0)
    some = chances / (1.0 - graph.none)
    if not some.sum() > 1.0:
        raise GraphError(
            f"got chances that add to {chances.sum():.4g}, expected more than "
            f"{1.0 - graph.none:.4g}: every joint but that rest has a cause"
        )

    # Read late: a check has words about causes, and asks for no odds.
    from scipy.optimize import brentq  # noqa: PLC0415

    def beyond(z: float) -> float:
        return float(-np.expm1(np.log1p(-some * z).sum()) - z)

    # At 0 it is zero as well, and rises from there; past the first share of 1 it has no meaning.
    top = min(1.0, (1.0 - 1e-12) / float(some.max()))
    z = float(brentq(beyond, 1e-9, top, xtol=1e-15, rtol=1e-14))
    none = graph.none / (1.0 - graph.none) * z / (1.0 - z)
    return Prior(some * z * stays, none)
