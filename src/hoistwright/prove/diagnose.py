"""What is most likely wrong: Bayes' rule on the mechanics of each fault."""

from __future__ import annotations

import functools
import math
from collections.abc import Mapping

import attrs
import numpy as np

from hoistwright.prove.fault_data import NONE, Scatter, fault_data
from hoistwright.prove.forward import Floats, Loads, applicable, predict
from hoistwright.prove.machine import Machine
from hoistwright.prove.observables import Observables, Observed

CASES = 1024
"""Draws for each fault."""
MISTAKEN = {"held": 0.01, "lifted": 0.01, "pawls": 0.04}
"""How often a yes or no, or a count of pawls, is noted wrongly (common practice)."""
RAN_BY_MISTAKE = 1e-9
"""A load that ran away is not noted by mistake: whatever else is strange, the brake comes first."""
FLOOR = 18.0
"""No single observable counts against a fault by more than this (natural log): it is strange
data, not proof."""
WORTH_TELLING = 0.01
"""Below this probability no reasons are worked out."""
SLIPS_AT = 3.0
"""Creep beyond this many standard uncertainties is creep that was seen."""


@attrs.frozen(kw_only=True)
class Likely:
    """One fault with its probability, given what was seen."""

    key: str
    name: str
    probability: float
    prior: float
    look_first: str
    caution: str
    because: tuple[str, ...]
    """The observables that speak most for it, against a sound hoist."""


@attrs.frozen(kw_only=True)
class Diagnosis:
    """The faults, the likeliest first. It says where to look; it passes nothing.

    `not_seen` are observables that were not recorded. `brake_slips` is true where the brake
    did not hold: "nothing wrong" is then not among the faults.
    """

    ranked: tuple[Likely, ...]
    brake_slips: bool
    not_seen: tuple[str, ...]
    remark: str

    @property
    def first(self) -> Likely:
        return self.ranked[0]


def diagnose(machine: Machine, seen: Observables, *, cases: int = CASES) -> Diagnosis:
    """Rank the faults that could have given what was seen.

    p(f | x) ~ p(f) (1/n) sum_k prod_j N(x_j; y_jk(f), sqrt(u_j² + s_j²)), y by `predict`

    Args:
        machine: the hoist.
        seen: the observables; those that are None do not count.
        cases: n, draws for each fault.

    Returns:
        Every fault that the machine can have, with probabilities that sum to 1.

    Raises:
        ValueError: nothing at all was seen.

    >>> from hoistwright.hoist.library import shipped
    >>> from hoistwright.prove.machine import machine_of
    >>> machine = machine_of(shipped("ardle-2000"))
    >>> seen = Observables(load=2000, held=False, creep=Observed(value=2.0, u=0.05), pawls=2)
    >>> diagnose(machine, seen).first.key
    'oily_discs'

    References:
        Bayes' rule; Gelman et al., Bayesian Data Analysis, 3rd ed., ch. 1 and 7 (marginal
        likelihood by Monte Carlo), from memory. Priors and sizes: `diagnosis.toml`.
    """
    if not seen.measured() and all(getattr(seen, name) is None for name in MISTAKEN):
        raise ValueError("diagnosis: nothing was recorded; expected at least one observable.")
    keys = applicable(machine)
    slips = brake_slips(seen)
    if slips:
        keys = tuple(key for key in keys if key != NONE)
    logs = {key: _terms(machine, key, seen, cases) for key in keys}
    weight = {key: math.log(fault_data().of(key).prior) + _mean(logs[key]) for key in keys}
    shares = posterior(weight)
    sound = logs.get(NONE) or _terms(machine, NONE, seen, cases)
    ranked = sorted(keys, key=lambda key: (-shares[key], key))
    return Diagnosis(
        ranked=tuple(_likely(key, shares[key], logs[key], sound) for key in ranked),
        brake_slips=slips,
        not_seen=seen.missing,
        remark=_remark(seen, slips),
    )


def brake_slips(seen: Observables) -> bool:
    """Whether the brake was seen not to hold: it ran, or crept beyond its uncertainty."""
    crept = seen.creep is not None and seen.creep.value > max(SLIPS_AT * seen.creep.u, 0.3)
    return seen.held is False or crept


def posterior(weights: Mapping[str, float]) -> dict[str, float]:
    """Probabilities from log weights (log prior + log likelihood).

    p_f = exp(w_f) / sum exp(w)

    Args:
        weights: natural log of prior times likelihood, by fault.

    Returns:
        Probabilities that sum to 1.

    Raises:
        ValueError: no fault, or a weight that is no figure.

    >>> posterior({"a": math.log(0.01 * 0.99), "b": math.log(0.99 * 0.05)})["a"].__round__(4)
    0.1667

    References:
        Bayes' rule.
    """
    if not weights or any(math.isnan(value) for value in weights.values()):
        raise ValueError(f"weights: given {dict(weights)}; expected a figure for each fault.")
    top = max(weights.values())
    parts = {key: math.exp(value - top) for key, value in weights.items()}
    whole = sum(parts.values())
    return {key: part / whole for key, part in parts.items()}


@functools.lru_cache(maxsize=256)
def _predicted(machine: Machine, fault: str, loads: Loads, cases: int) -> dict[str, Floats]:
    return predict(machine, fault, loads, cases)


def _terms(machine: Machine, fault: str, seen: Observables, cases: int) -> dict[str, Floats]:
    """Log likelihood of every observable in every case."""
    loads = Loads(load=seen.load, light=seen.light_load)
    cases_of = _predicted(machine, fault, loads, cases)
    scatter = fault_data().scatter
    terms = {
        name: _normal(value, cases_of[name], scatter, name)
        for name, value in seen.measured().items()
    }
    for name, usual in MISTAKEN.items():
        noted = getattr(seen, name)
        if noted is not None:
            mistaken = RAN_BY_MISTAKE if name == "held" and not noted else usual
            right = np.abs(cases_of[name] - float(noted)) < 0.5
            terms[name] = np.where(right, math.log1p(-mistaken), math.log(mistaken / 2))
    return terms


def _normal(seen: Observed, told: Floats, scatter: Scatter, name: str) -> Floats:
    sigma = math.hypot(seen.u, getattr(scatter, name))
    away = np.where(np.isfinite(told), (seen.value - told) / sigma, 20.0)
    return np.maximum(-0.5 * away**2, -FLOOR) - math.log(sigma)


def _mean(terms: Mapping[str, Floats]) -> float:
    """Log of the mean over the cases of the product over the observables."""
    whole = np.sum(list(terms.values()), axis=0)
    top = float(np.max(whole))
    return top + math.log(float(np.mean(np.exp(whole - top))))


def _because(own: Mapping[str, Floats], sound: Mapping[str, Floats]) -> tuple[str, ...]:
    """Up to three observables that by themselves speak most for a fault against a sound hoist."""
    gain = {name: _mean({name: own[name]}) - _mean({name: sound[name]}) for name in own}
    most = sorted(gain, key=lambda name: (-gain[name], name))
    return tuple(name for name in most[:3] if gain[name] > 1.0)


def _likely(
    key: str, probability: float, own: Mapping[str, Floats], sound: Mapping[str, Floats]
) -> Likely:
    fault = fault_data().of(key)
    because = _because(own, sound) if probability > WORTH_TELLING else ()
    return Likely(
        key=key,
        name=fault.name,
        probability=probability,
        prior=fault.prior,
        look_first=fault.look_first,
        caution=fault.caution,
        because=because,
    )


def _remark(seen: Observables, slips: bool) -> str:
    if slips:
        return "The brake did not hold: take the load off, nobody near it, no further trial."
    if seen.held is None and seen.creep is None:
        return "Whether the brake holds was not recorded: nothing wrong cannot be told."
    return "Ranked by what was recorded; a competent person looks and decides."


WORDS = {
    "pull_up": "pull while raising",
    "pull_down": "pull while lowering",
    "pull_light": "pull with a light load",
    "ripple_shaft": "ripple at each turn of the drive shaft",
    "ripple_layshaft": "ripple at each turn of the layshafts",
    "ripple_pocket": "ripple at each pocket",
    "ripple_sheave": "ripple at each turn of the load sheave",
    "ripple_mesh": "ripple at each tooth",
    "creep": "creep",
    "clicks": "clicks per metre",
    "travel": "hand path per metre",
    "free_play": "free play of the hand wheel",
    "stop_drop": "drop until the brake holds",
    "slip": "slip load of the limiter",
    "held": "the brake holding",
    "lifted": "the hoist lifting the load",
    "pawls": "pawls heard",
}
