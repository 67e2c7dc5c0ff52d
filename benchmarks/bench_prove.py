"""Proving: choosing test weights against a general solver, diagnoses a second, bulk forward model.

Peer for the weights: the CP-SAT solver of ortools, one worker, the same bands and the same
optimum; the time of its solving alone. Peer for the diagnosis: the same marginal likelihood by
an ordinary loop over draws in Python, on fewer draws and scaled. All in this one run.

Fails where an optimum differs, or where the ratio of the weights falls below 1.
"""

from __future__ import annotations

import datetime
import math
import sys
import time

import numpy as np

from hoistwright.hoist.library import shipped
from hoistwright.prove.diagnose import CASES, diagnose
from hoistwright.prove.fault_data import fault_data
from hoistwright.prove.forward import Loads, applicable, predict
from hoistwright.prove.machine import Machine, machine_of
from hoistwright.prove.observables import Observables
from hoistwright.prove.observe import observables
from hoistwright.prove.simulate import simulate
from hoistwright.prove.weight_values import Permitted, Weight
from hoistwright.prove.weights import choose_weights

DAY = datetime.date(2026, 11, 25)
STOCK = {500: 6, 250: 4, 200: 3, 100: 5, 50: 4, 25: 4, 20: 5, 10: 4}
TARGETS = [round(180 + 113.7 * at, 1) for at in range(30)]
DIAGNOSES = 60
FEW = 64


def stock() -> list[Weight]:
    return [
        Weight(key=f"w{mass}", mass=mass, u=2.5e-4 * mass, count=count, due_on=DAY)
        for mass, count in STOCK.items()
    ]


def bands() -> list[Permitted]:
    return [Permitted(low=0.97 * t, high=1.03 * t, target=t) for t in TARGETS]


def ours() -> tuple[float, list[tuple[int, int]]]:
    weights, optima = stock(), []
    begin = time.perf_counter()
    for band in bands():
        found = choose_weights(weights, band, DAY)
        optima.append((round(1000 * abs(found.load - band.target)), found.handlings))
    return time.perf_counter() - begin, optima


def solver() -> tuple[float, list[tuple[int, int]]]:
    from ortools.sat.python import cp_model

    seconds, optima = 0.0, []
    for band in bands():
        model = cp_model.CpModel()
        counts = [model.new_int_var(0, n, f"w{mass}") for mass, n in STOCK.items()]
        masses = [1000 * mass for mass in STOCK]
        load = sum(m * n for m, n in zip(masses, counts, strict=True))
        guard = sum(round(5e-4 * m * 10) * n for m, n in zip(masses, counts, strict=True))
        model.add(10 * load - guard >= math.ceil(10000 * band.low))
        model.add(10 * load + guard <= math.floor(10000 * band.high))
        away = model.new_int_var(0, 10**8, "away")
        model.add(away >= load - round(1000 * band.target))
        model.add(away >= round(1000 * band.target) - load)
        model.minimize(1000 * away + sum(counts))
        engine = cp_model.CpSolver()
        engine.parameters.num_workers = 1
        begin = time.perf_counter()
        status = engine.solve(model)
        seconds += time.perf_counter() - begin
        if status != cp_model.OPTIMAL:
            raise SystemExit("the solver did not prove its optimum")
        optima.append((engine.value(away), sum(engine.value(n) for n in counts)))
    return seconds, optima


def records(machine: Machine) -> list[Observables]:
    rng, keys = np.random.default_rng(3), applicable(machine)
    return [
        observables(
            simulate(machine, keys[at % len(keys)], rng.random(), rng, machine.rated),
            machine,
            machine.rated,
        )
        for at in range(DIAGNOSES)
    ]


def predictions(machine: Machine, seen: Observables) -> dict[str, dict[str, list[float]]]:
    """The forward model as plain lists, made before the clock starts: ours keeps its own too."""
    loads = Loads(load=seen.load, light=seen.light_load)
    return {
        fault: {name: c.tolist() for name, c in predict(machine, fault, loads, FEW).items()}
        for fault in applicable(machine)
    }


def by_loop(model: dict[str, dict[str, list[float]]], seen: Observables) -> dict[str, float]:
    """Marginal likelihood of the measured figures, draw by draw."""
    scatter, weights = fault_data().scatter, {}
    for fault, told in model.items():
        whole = 0.0
        for at in range(FEW):
            log = 0.0
            for name, value in seen.measured().items():
                sigma = math.hypot(value.u, getattr(scatter, name))
                away = (value.value - told[name][at]) / sigma
                log += max(-0.5 * away * away, -18.0) - math.log(sigma)
            whole += math.exp(log)
        weights[fault] = whole / FEW
    return weights


def main() -> int:
    mine, own = ours()
    theirs, peer = solver()
    if own != peer:
        raise SystemExit("an optimum differs from the solver's")
    ratio = theirs / mine
    print(
        f"{len(TARGETS)} choices from {sum(STOCK.values())} weights, same optima: ours "
        f"{1000 * mine / len(TARGETS):.2f} ms each, solver {1000 * theirs / len(TARGETS):.2f} ms, "
        f"ratio {ratio:.1f}"
    )
    machine = machine_of(shipped("ardle-2000-ol"))
    seen = records(machine)
    diagnose(machine, seen[0])
    begin = time.perf_counter()
    for each in seen:
        diagnose(machine, each)
    quick = (time.perf_counter() - begin) / len(seen)
    model = predictions(machine, seen[0])
    begin = time.perf_counter()
    by_loop(model, seen[0])
    slow = (time.perf_counter() - begin) * CASES / FEW
    print(
        f"diagnosis: {1 / quick:.0f} a second with {CASES} draws for each fault; the plain loop, "
        f"scaled to as many draws: {1000 * slow:.0f} ms, ratio {slow / quick:.0f}"
    )
    return 0 if ratio >= 1 else 1


if __name__ == "__main__":
    sys.exit(main())
