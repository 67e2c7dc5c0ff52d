"""Making a strip problem smaller without losing its optimum.

The problem: choose steps so that a root's conditions are met, each chosen step's conditions
are met, and the cost is least. Most of a hoist is "this before that"; only few steps leave
a choice. The rules below take away everything but the choices. They hold for graphs without
cycles (`loops.py` deals with the others).

The rules are of the kind used for set covering and for minimum cost derivations; each is
argued where it stands, and the tests hold them against exhaustive search.
"""

from __future__ import annotations

from hoistwright.strip.bits import members
from hoistwright.strip.sharpen import sharpened, union

ROOT = -1
"""The place that stands for the wish itself: what it needs must be done."""


class Kernel:
    """A strip problem that shrinks. Private to the optimiser: changed in place.

    `after[x]`: steps that x needs; `groups[x]`: sets of which x needs one; `cost[x]`;
    `whole[x]`: the steps of the first graph that x now stands for; `chosen`: those already
    sure to be in the optimum, at `spent` in all.
    """

    __slots__ = ("after", "chosen", "cost", "groups", "impossible", "must", "spent", "whole")

    def __init__(self) -> None:
        self.after: dict[int, int] = {}
        self.groups: dict[int, set[int]] = {}
        self.cost: dict[int, int] = {}
        self.whole: dict[int, int] = {}
        self.must: dict[int, int] = {}
        self.chosen = 0
        self.spent = 0
        self.impossible = False

    def copy(self) -> Kernel:
        """A copy that may be changed apart from this one."""
        twin = Kernel()
        twin.after = dict(self.after)
        twin.groups = {at: set(groups) for at, groups in self.groups.items()}
        twin.cost = dict(self.cost)
        twin.whole = dict(self.whole)
        twin.chosen, twin.spent = self.chosen, self.spent
        twin.must = self.must
        twin.impossible = self.impossible
        return twin

    @property
    def open(self) -> set[int]:
        """The choices that are left: sets of steps of which one must be done."""
        return self.groups[ROOT]

    def reduce(self) -> None:
        """Apply the rules until none bites."""
        changed = True
        while changed and not self.impossible:
            self._absorb()
            if self.impossible or not self.open:
                return
            self._keep_relevant()
            changed = self.tighten()
            changed |= self._drop_dominated()
            changed |= self._merge_chains()

    def require(self, at: int) -> None:
        """From here on `at` is to be done."""
        self.after[ROOT] |= 1 << at

    def forbid(self, gone: int) -> None:
        """From here on the steps of `gone` may not be done, nor what cannot do without them."""
        while gone and not self.impossible:
            self._remove(gone)
            gone = sum(
                1 << at
                for at, groups in self.groups.items()
                if at != ROOT and (0 in groups or self.after[at] & gone)
            )
            self.impossible = 0 in self.groups[ROOT]

    def _remove(self, gone: int) -> None:
        """Take steps away from the graph; a group may be left empty."""
        for at in members(gone):
            del self.after[at], self.groups[at], self.cost[at], self.whole[at]
        keep = ~gone
        for at, groups in self.groups.items():
            if any(group & gone for group in groups):
                self.groups[at] = {group & keep for group in groups}

    def _absorb(self) -> None:
        """What the root needs is chosen; its own conditions become the root's."""
        done = 0
        while todo := self.after[ROOT]:
            at = (todo & -todo).bit_length() - 1
            if at not in self.cost:
                self.impossible = True
                return
            done |= 1 << at
            self.chosen |= self.whole.pop(at)
            self.spent += self.cost.pop(at)
            self.after[ROOT] = (todo | self.after.pop(at)) & ~done
            self.groups[ROOT] |= self.groups.pop(at)
        if done:
            keep = ~done
            for at, groups in self.groups.items():
                self.after[at] &= keep
                if groups:
                    self.groups[at] = {group for group in groups if not group & done}

    def _keep_relevant(self) -> None:
        """Forget the steps that nothing in question leads to."""
        seen, todo = 0, union(self.open)
        while todo:
            seen |= todo
            found = 0
            for at in members(todo):
                found |= self.after[at] | union(self.groups[at])
            todo = found & ~seen
        for at in [at for at in self.cost if not seen >> at & 1]:
            del self.after[at], self.groups[at], self.cost[at], self.whole[at]

    def tighten(self) -> bool:
        """Sharpen every step's conditions; True where any changed."""
        changed = False
        must: dict[int, int] = {}
        for at in self._order():
            after, groups, needs = sharpened(self.after[at], self.groups[at], must)
            changed |= after != self.after[at] or groups != self.groups[at]
            self.after[at], self.groups[at] = after, groups
            must[at] = needs | 1 << at if at != ROOT else needs
        del must[ROOT]
        self.must = must
        return changed

    def _order(self) -> list[int]:
        """Every step after what it may need (the root last)."""
        order: list[int] = []
        seen = 0
        for start in (*sorted(self.cost), ROOT):
            if start != ROOT and seen >> start & 1:
                continue
            stack = [(start, self._next(start))]
            if start != ROOT:
                seen |= 1 << start
            while stack:
                at, rest = stack[-1]
                rest &= ~seen
                if not rest:
                    order.append(at)
                    stack.pop()
                    continue
                low = rest & -rest
                seen |= low
                stack[-1] = (at, rest ^ low)
                child = low.bit_length() - 1
                stack.append((child, self._next(child)))
        return order

    def _next(self, at: int) -> int:
        return self.after[at] | union(self.groups[at])

    def _merge_chains(self) -> bool:
        """A step that only one other step needs, always, is done with it or not at all."""
        users, in_group = self._users()
        merged = False
        for at in sorted(self.cost):
            if in_group >> at & 1 or len(users.get(at, ())) != 1:
                continue
            (user,) = users[at]
            if user == ROOT:
                continue
            self._merge(at, user)
            for used in members(self.after[user]):
                users[used] = [user if place == at else place for place in users[used]]
                users[used] = list(dict.fromkeys(users[used]))
            merged = True
        return merged

    def _users(self) -> tuple[dict[int, list[int]], int]:
        users: dict[int, list[int]] = {}
        in_group = 0
        for at, after in self.after.items():
            for used in members(after):
                users.setdefault(used, []).append(at)
            in_group |= union(self.groups[at])
        return users, in_group

    def _merge(self, at: int, user: int) -> None:
        self.cost[user] += self.cost.pop(at)
        self.whole[user] |= self.whole.pop(at)
        self.after[user] = (self.after[user] | self.after.pop(at)) & ~(1 << at)
        self.groups[user] |= self.groups.pop(at)

    def _drop_dominated(self) -> bool:
        """A way is dropped when another is at least as cheap, opens all that it opens, and
        needs nothing that it does not need: whoever uses the one may use the other.
        """
        opens: dict[int, set[int]] = {}
        needed = 0
        for at, groups in self.groups.items():
            needed |= self.after[at]
            for group in groups:
                for member in members(group):
                    opens.setdefault(member, set()).add(group)
        gone = 0
        for worse in sorted(opens, key=lambda at: (-self.cost[at], -at)):
            if needed >> worse & 1:
                continue
            rivals = next(iter(opens[worse])) & ~gone & ~(1 << worse)
            if any(self._dominates(better, worse, opens) for better in members(rivals)):
                gone |= 1 << worse
        if gone:
            self._remove(gone)
        return gone != 0

    def _dominates(self, better: int, worse: int, opens: dict[int, set[int]]) -> bool:
        return (
            self.cost[better] <= self.cost[worse]
            and opens[worse] <= opens[better]
            and not self.after[better] & ~(self.must[worse] & ~(1 << worse))
            and all(self._meets(group, worse) for group in self.groups[better])
        )

    def _meets(self, group: int, at: int) -> bool:
        return bool(group & self.must[at] & ~(1 << at)) or group in self.groups[at]
