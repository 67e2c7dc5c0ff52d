"""Maximum flow and minimum cut by Dinic's method, on whole numbers: the same cut every time."""

from __future__ import annotations

from collections import deque

ENDLESS = 1 << 62
"""A capacity that no cut of finite ones can reach."""


class Network:
    """Arcs with capacities between numbered nodes. Arc i and i ^ 1 are each other's reverse."""

    def __init__(self, nodes: int) -> None:
        self.out: list[list[int]] = [[] for _ in range(nodes)]
        self.head: list[int] = []
        self.room: list[int] = []

    def arc(self, tail: int, head: int, capacity: int) -> None:
        """Add an arc; capacity is a whole number from 0."""
        if capacity < 0:
            raise ValueError(f"the capacity is {capacity}; expected a whole number from 0.")
        self.out[tail].append(len(self.head))
        self.head.append(head)
        self.room.append(capacity)
        self.out[head].append(len(self.head))
        self.head.append(tail)
        self.room.append(0)

    def copy(self) -> Network:
        """The same arcs with the flow that is in them; either may grow without the other."""
        made = Network(0)
        made.out = [list(arcs) for arcs in self.out]
        made.head = list(self.head)
        made.room = list(self.room)
        return made


def minimum_cut(network: Network, source: int, sink: int) -> tuple[int, set[int]]:
    """The value of the smallest cut, and the smallest set of nodes on the source's side.

    Max flow by blocking flows in layers; the nodes that the source still reaches. The flow
    stays in the network: after arcs were added, a second call finds what more flows, and the
    cut of the whole.

    Args:
        network: arcs with whole capacities.
        source: where flow begins.
        sink: where it ends, another node.

    Returns:
        Value of what was added, and the nodes reachable from the source in what is left: of all
        minimum cuts the one with the fewest nodes, so the answer does not hang on the order of
        arcs.

    Raises:
        ValueError: source and sink are one node.

    References:
        Ford & Fulkerson 1956; Dinic 1970; from memory.

    >>> network = Network(4)
    >>> for tail, head, room in ((0, 1, 3), (0, 2, 2), (1, 3, 2), (2, 3, 3), (1, 2, 5)):
    ...     network.arc(tail, head, room)
    >>> minimum_cut(network, 0, 3)
    (5, {0})
    """
    if source == sink:
        raise ValueError(f"source and sink are both node {source}; expected two nodes.")
    flow = 0
    while True:
        layer = _layers(network, source)
        if layer[sink] < 0:
            return flow, {node for node, at in enumerate(layer) if at >= 0}
        flow += _blocking_flow(network, source, sink, layer)


def _layers(network: Network, source: int) -> list[int]:
    """Steps from the source through arcs with room; −1 where it does not reach."""
    layer = [-1] * len(network.out)
    layer[source] = 0
    queue = deque([source])
    while queue:
        node = queue.popleft()
        for arc in network.out[node]:
            head = network.head[arc]
            if network.room[arc] and layer[head] < 0:
                layer[head] = layer[node] + 1
                queue.append(head)
    return layer


def _blocking_flow(network: Network, source: int, sink: int, layer: list[int]) -> int:
    """Fill ways that go one layer on at each arc until none is left."""
    room, head = network.room, network.head
    tried = [0] * len(network.out)
    way: list[int] = []
    node, total = source, 0
    while True:
        if node == sink:
            least = min(room[arc] for arc in way)
            total += least
            for arc in way:
                room[arc] -= least
                room[arc ^ 1] += least
            full = next(at for at, arc in enumerate(way) if not room[arc])
            node = head[way[full] ^ 1]
            del way[full:]
            continue
        arc = _onward(network, node, layer, tried)
        if arc >= 0:
            way.append(arc)
            node = head[arc]
        elif way:
            node = head[way.pop() ^ 1]
            tried[node] += 1
        else:
            return total


def _onward(network: Network, node: int, layer: list[int], tried: list[int]) -> int:
    """The next arc with room into the next layer; −1 where there is none."""
    arcs = network.out[node]
    while tried[node] < len(arcs):
        arc = arcs[tried[node]]
        if network.room[arc] and layer[network.head[arc]] == layer[node] + 1:
            return arc
        tried[node] += 1
    return -1
