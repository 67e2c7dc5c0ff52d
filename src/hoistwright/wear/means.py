"""The mean rate of every group and the mean start: Gaussian, given the spread."""

from __future__ import annotations

import attrs
import numpy as np

from hoistwright.metrology.arrays import Floats
from hoistwright.wear.filtering import Filtered
from hoistwright.wear.groups import GroupTree
from hoistwright.wear.spread import Spread

_NOTHING = (
    "the readings say nothing about the mean rate or the mean start; expected at least one "
    "reading some time after a start, and a second where the start is unknown."
)


@attrs.frozen(eq=False)
class Means:
    """`effect` and `covariance`: of the tree's nodes, then (with unknown starts) mean start.

    `leaf_mean` (2, G) and `leaf_covariance` (2, 2, G): mean rate and mean start as each leaf
    sees them. `log_det`: of the precision; `log_prior`: Σ log τ² over nodes below the root.
    """

    effect: Floats
    covariance: Floats
    leaf_mean: Floats
    leaf_covariance: Floats
    integrated: Floats
    """The part of `covariance` that the likelihood integrates over; `leaf_integrated`
    (2, 2, G) as each leaf sees it.
    """
    leaf_integrated: Floats
    log_det: float
    log_prior: float
    penalty: float
    """Σ effect²/τ²."""
    flat: int
    """How many means have no prior: the root's rate, and the start where it is unknown."""


def means(
    tree: GroupTree, filtered: Filtered, leaf: Floats, spread: Spread, *, reml: bool
) -> Means:
    """Posterior of the group means.

    (Λ + Σ X'V⁻¹X)·β = Σ X'V⁻¹y, with Λ = 1/τ² for each node below the root.

    Args:
        tree: the groups.
        filtered: the forward pass.
        leaf: (H,) leaf number of each hoist.
        spread: the hyperparameters.
        reml: integrate over the means without prior too (restricted likelihood).

    Returns:
        Means and covariances.

    Raises:
        ValueError: readings that say nothing about the mean rate or start.

    References:
        Lindley & Smith 1972; Harville 1977 (restricted likelihood); from memory.
    """
    L, free = _links(tree, filtered)
    A, B = _by_leaf(filtered, leaf, len(tree.leaves))
    precision = np.einsum("gan,gab,gbm->nm", L, A, L)
    right = np.einsum("gan,ga->n", L, B)
    prior, log_prior = _prior(tree, spread, free)
    precision[np.diag_indices_from(precision)] += prior
    covariance = _inverse(precision)
    effect = covariance @ right
    inner = covariance
    if not reml:
        inner = np.zeros_like(covariance)
        random = np.flatnonzero(prior)
        inner[np.ix_(random, random)] = np.linalg.inv(precision[np.ix_(random, random)])
        precision = precision[np.ix_(random, random)]
    return Means(
        effect=effect,
        covariance=covariance,
        leaf_mean=np.einsum("gan,n->ag", L, effect),
        leaf_covariance=np.einsum("gan,nm,gbm->abg", L, covariance, L),
        integrated=inner,
        leaf_integrated=np.einsum("gan,nm,gbm->abg", L, inner, L),
        log_det=float(np.linalg.slogdet(precision)[1]) if precision.size else 0.0,
        log_prior=log_prior,
        penalty=float((effect**2 * prior).sum()),
        flat=1 + free,
    )


def _links(tree: GroupTree, filtered: Filtered) -> tuple[Floats, int]:
    """(G, 2, nodes and start): which effects make a leaf's mean rate and mean start."""
    free = filtered.x.shape[0] - 2
    G, K = tree.links.shape
    L = np.zeros((G, 2, K + free))
    L[:, 0, :K] = tree.links
    if free:
        L[:, 1, K] = 1.0
    return L, free


def _by_leaf(filtered: Filtered, leaf: Floats, G: int) -> tuple[Floats, Floats]:
    A, B = np.empty((G, 2, 2)), np.empty((G, 2))
    at = leaf.astype(np.intp)
    for a in range(2):
        B[:, a] = np.bincount(at, filtered.score[a], G)
        for b in range(2):
            A[:, a, b] = np.bincount(at, filtered.information[a, b], G)
    return A, B


def _prior(tree: GroupTree, spread: Spread, free: int) -> tuple[Floats, float]:
    tau = np.array([np.inf, *spread.levels])[tree.levels]
    prior = np.concatenate([1 / tau**2, np.zeros(free)])
    return prior, float(np.log(tau[np.isfinite(tau)] ** 2).sum())


def _inverse(precision: Floats) -> Floats:
    """Inverse by the Cholesky root; pivots that are nothing but rounding are refused."""
    try:
        root = np.linalg.cholesky(precision)
    except np.linalg.LinAlgError:
        raise ValueError(_NOTHING) from None
    if (np.diag(root) <= 1e-7 * np.sqrt(np.diag(precision))).any():
        raise ValueError(_NOTHING)
    half = np.linalg.inv(root)
    return np.asarray(half.T @ half)
