"""The tree of groups that lend each other strength: all, then design, then duty."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

import attrs
import numpy as np
from numpy.typing import NDArray

from hoistwright.metrology.arrays import Floats

Path = tuple[str, ...]


@attrs.frozen(eq=False)
class GroupTree:
    """`nodes`: every path, root first, level by level; `leaves`: the paths of full depth.

    `links` is (leaves, nodes), 1 where the node is the leaf or above it: the mean rate of a
    leaf is the sum of its nodes' effects.
    """

    nodes: tuple[Path, ...]
    leaves: tuple[Path, ...]
    links: Floats
    number: Mapping[Path, int]

    @property
    def depth(self) -> int:
        """Levels below the root."""
        return len(self.leaves[0])

    @property
    def levels(self) -> NDArray[np.intp]:
        """The level of each node, 0 for the root."""
        return np.array([len(path) for path in self.nodes], np.intp)

    def leaves_of(self, paths: Sequence[Path]) -> NDArray[np.intp]:
        """The number of each path's leaf; ValueError names those that are not in the tree."""
        missing = sorted({path for path in paths if path not in self.number})
        if missing:
            raise ValueError(
                f"groups {missing} are not in the fitted tree; expected {list(self.leaves)}. "
                "Use group_rate for a group without own hoists."
            )
        return np.fromiter((self.number[path] for path in paths), np.intp, len(paths))

    def row(self, path: Path) -> tuple[Floats, int]:
        """The nodes that are known above `path`, and how many levels of it are not known."""
        row = np.zeros(len(self.nodes))
        known = 0
        for at, node in enumerate(self.nodes):
            if path[: len(node)] == node:
                row[at] = 1.0
                known = max(known, len(node))
        return row, self.depth - known


def group_tree(paths: Sequence[Path]) -> GroupTree:
    """The tree over these leaf paths, in order of name.

    >>> tree = group_tree([("a", "light"), ("a", "heavy"), ("b", "light")])
    >>> tree.nodes[:3], tree.links.astype(int).tolist()[0]
    (((), ('a',), ('b',)), [1, 1, 0, 1, 0, 0])
    """
    leaves = tuple(sorted(set(paths)))
    if not leaves:
        raise ValueError("no groups are given; expected one path for each hoist.")
    if len({len(path) for path in leaves}) > 1:
        raise ValueError("groups of different depth are mixed; expected one depth.")
    depth = len(leaves[0])
    nodes = tuple(
        node for level in range(depth + 1) for node in sorted({path[:level] for path in leaves})
    )
    links = np.array([[float(path[: len(n)] == n) for n in nodes] for path in leaves])
    return GroupTree(nodes, leaves, links, {path: at for at, path in enumerate(leaves)})
