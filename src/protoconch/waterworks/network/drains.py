"""What a drain carries away by its own fall."""

from protoconch.seawater.ranges import more_than_zero
from protoconch.waterworks.hydraulics.fittings import fitting_k, fittings_k
from protoconch.waterworks.hydraulics.line import pipe_loss
from protoconch.waterworks.network.parts import Drain
from protoconch.waterworks.water import Water
from protoconch.words import say


def drain_flow_l_min(drain: Drain, water: Water) -> float:
    """Flow that a drain carries away when it runs full [L/min].

    Raises: BadInput, where it has no fall.
    Source: Darcy-Weisbach; entrance and exit counted once each.
    """
    from scipy.optimize import brentq

    fall = more_than_zero(say("the fall of {name}", name=drain.name), drain.fall_m, "m")
    nominal = drain.size.nominal_in
    k = fittings_k(drain.fittings, nominal)
    k += fitting_k("entrance", nominal) + fitting_k("exit", nominal)

    def spare(flow: float) -> float:
        return fall - pipe_loss(flow, drain.size, drain.length_m, water, k).head_loss_m

    most = 1.0
    while spare(most) > 0:
        most *= 2
    return float(brentq(spare, 0.0, most, xtol=1e-9))
