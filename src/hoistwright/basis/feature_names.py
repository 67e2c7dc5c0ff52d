"""The features of a role, in the catalogue's order: measured ones first, then looks."""

from __future__ import annotations

from hoistwright.hoist.feature import catalogue


def feature_names(role: str) -> dict[str, str]:
    """Feature key to name; empty for a role that the catalogue does not have."""
    found = catalogue().get(role)
    if found is None:
        return {}
    names = {item.key: item.name for item in found.measure}
    return names | {item.key: item.name for item in found.look}
