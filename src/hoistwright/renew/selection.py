"""Choose things that need other things, for the greatest worth: maximum-weight closure."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

import attrs

from hoistwright.renew.flow import ENDLESS, Network, minimum_cut

Group = tuple[int, frozenset[int]]
"""A thing, and the things of which it needs at least one."""

MOST_BRANCHES = 4000


@attrs.frozen(kw_only=True)
class Problem:
    """`worth` of each thing, whole numbers, negative for a cost. `needs[i]`: all that must be
    done before i. `groups`: of each group one before it is enough. `together[i]`: what must be
    chosen with i, in any order. `forced`: must be chosen.
    """

    worth: tuple[int, ...]
    needs: tuple[frozenset[int], ...]
    groups: tuple[Group, ...] = ()
    together: Mapping[int, frozenset[int]] = attrs.Factory(dict)
    forced: frozenset[int] = frozenset()


@attrs.frozen(kw_only=True)
class Selection:
    """`chosen` things and their `worth`. `exact` is False only where the choices were too many:
    then `at_most` bounds what the best could be worth.
    """

    chosen: frozenset[int]
    worth: int
    exact: bool
    at_most: int
    branches: int


def closure(
    worth: Sequence[int], needs: Sequence[Iterable[int]], forced: Iterable[int] = ()
) -> frozenset[int]:
    """The set of greatest worth that holds all its members need; the smallest of the best.

    source → i with capacity w where w > 0, i → sink with −w where w < 0, i → need without
    limit: what stays with the source in a minimum cut.

    Args:
        worth: of each thing, whole numbers.
        needs: for each thing, the numbers of those it needs.
        forced: things that must be in.

    Returns:
        The chosen things.

    References:
        Picard 1976 (maximal closure of a graph); Rhys 1970, Balinski 1970 (shared fixed
        costs); from memory.

    >>> sorted(closure([5, 3, -4, -9], [[2], [2, 3], [], []]))
    [0, 2]
    """
    network = _network(worth, needs, forced)
    source, sink = len(worth), len(worth) + 1
    _, side = minimum_cut(network, source, sink)
    return frozenset(side - {source})


def _network(
    worth: Sequence[int], needs: Sequence[Iterable[int]], forced: Iterable[int]
) -> Network:
    """The network of a closure; the source and the sink are the two nodes after the things."""
    count = len(worth)
    network = Network(count + 2)
    source, sink = count, count + 1
    for at in forced:
        network.arc(source, at, ENDLESS)
    for at, value in enumerate(worth):
        if value > 0:
            network.arc(source, at, value)
        elif value < 0:
            network.arc(at, sink, -value)
        for need in sorted(needs[at]):
            network.arc(at, need, ENDLESS)
    return network


def select(problem: Problem, most_branches: int = MOST_BRANCHES) -> Selection:
    """The most worthy set that can be done, alternatives and all.

    Without groups one minimum cut is the answer. With them the groups are first left out,
    which can only promise too much; where the answer breaks a group, one branch is opened for
    each of its members. A branch that cannot beat the best found is dropped.

    Args:
        problem: worths, needs, groups of alternatives.
        most_branches: give up on proof after so many cuts.

    Returns:
        The selection; exact unless `most_branches` was reached.

    Raises:
        ValueError: no set holds the forced things (circles, or a group without members), or none
            was found within `most_branches`.

    References:
        branch and bound: Land & Doig 1960, from memory; relaxation as above, own arrangement.
    """
    search = _Search(problem)
    stack = [_Node({}, search.network())]
    while stack and search.branches < most_branches:
        stack += reversed(search.branch(stack.pop()))
    if search.best is None and stack:
        raise ValueError(
            f"the ways to the parts are not settled after {most_branches} cuts; expected far "
            "fewer alternatives. Allow more branches, or take alternatives out of the graph."
        )
    if search.best is None:
        raise ValueError(
            "no set of steps frees the parts that must be renewed; expected a way to each. Check "
            "the take-apart graph."
        )
    bound = max([search.worth, *(search.promise(node) for node in stack)])
    return Selection(
        chosen=search.best,
        worth=search.worth,
        exact=not stack or bound == search.worth,
        at_most=bound,
        branches=search.branches,
    )


_DEAD = 1 << 60
"""What choosing a forbidden thing costs: more than anything is worth."""

Branch = dict[int, frozenset[int]]
"""For some things, the members settled on, which they need from then on."""


@attrs.frozen(eq=False)
class _Node:
    """A branch with its network, in which the flow of the branch above it still is.

    To settle one more thing only adds arcs, so only what more flows is to be found.
    """

    extra: Branch
    network: Network


class _Search:
    """Thing number `count` is a dummy that nobody can afford: to need it is to be forbidden."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        self.count = len(problem.worth)
        self.costs = (*problem.worth, -_DEAD)
        self.best: frozenset[int] | None = None
        self.worth = -_DEAD
        self.branches = 0
        self.by: dict[int, list[frozenset[int]]] = {}
        for thing, members in problem.groups:
            self.by.setdefault(thing, []).append(members)

    def network(self) -> Network:
        """Of the whole problem without its groups."""
        nothing: frozenset[int] = frozenset()
        bound = self.problem.together
        needs = [n | bound.get(at, nothing) for at, n in enumerate(self.problem.needs)]
        return _network(self.costs, [*needs, nothing], self.problem.forced)

    def relaxed(self, node: _Node) -> frozenset[int]:
        source = len(self.costs)
        _, side = minimum_cut(node.network, source, source + 1)
        return frozenset(side - {source})

    def value(self, chosen: frozenset[int]) -> int:
        return sum(self.costs[at] for at in chosen)

    def promise(self, node: _Node) -> int:
        return self.value(self.relaxed(node))

    def branch(self, node: _Node) -> list[_Node]:
        """Settle one branch, or give those it falls into."""
        self.branches += 1
        chosen = self.relaxed(node)
        worth = self.value(chosen)
        if worth <= self.worth or self.count in chosen:
            return []
        done = self.done(chosen)
        if len(done) == len(chosen):
            self.best, self.worth = chosen, worth
            return []
        ways = self.ways_on(node.extra, done, chosen - done)
        return [self.below(node, extra) for extra in ways]

    def below(self, node: _Node, extra: Branch) -> _Node:
        """The branch in which what `extra` settles beyond the one above is needed, too."""
        network = node.network.copy()
        for at, members in extra.items():
            for member in sorted(members - node.extra.get(at, frozenset())):
                network.arc(at, member, ENDLESS)
        return _Node(extra, network)

    def done(self, chosen: frozenset[int]) -> frozenset[int]:
        """Those of `chosen` that can be done in some order."""
        done: set[int] = set()
        waiting = sorted(chosen)
        while True:
            ready = {at for at in waiting if self.ready(at, done)}
            if not ready:
                return frozenset(done)
            done |= ready
            waiting = [at for at in waiting if at not in ready]

    def ready(self, at: int, done: set[int]) -> bool:
        return self.problem.needs[at] <= done and all(g & done for g in self.by.get(at, ()))

    def ways_on(self, extra: Branch, done: frozenset[int], stuck: frozenset[int]) -> list[Branch]:
        """One branch for each member of an open group that holds a stuck thing up.

        Whoever does that thing does one of the members before it, so the branches cover every
        set. Where all such groups are settled the stuck things wait for each other in a circle:
        no set that keeps to what was settled has any of them.
        """
        for at in sorted(stuck):
            settled = extra.get(at, frozenset())
            for group in self.by.get(at, ()):
                if not group & done and not group & settled:
                    return [extra | {at: settled | {member}} for member in sorted(group - {at})]
        dead = frozenset({self.count})
        return [extra | {at: extra.get(at, frozenset()) | dead for at in stuck}]
