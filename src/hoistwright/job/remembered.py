"""Results that follow from a design alone, worked out once for as long as it is in use."""

from __future__ import annotations

import threading
from collections import OrderedDict
from collections.abc import Callable, Hashable
from functools import wraps
from typing import Concatenate, ParamSpec, TypeVar

from hoistwright.hoist.design import Design

MOST = 64

P = ParamSpec("P")
T = TypeVar("T")


def remembered(
    make: Callable[Concatenate[Design, P], T],
) -> Callable[Concatenate[Design, P], T]:
    """`make` with its last results kept, by the very design and the other arguments.

    A design has no hash that could be had cheaply; the one in memory is its own key, and is held
    together with what was made of it, so that no other can take its place there.
    """
    kept: OrderedDict[Hashable, tuple[Design, T]] = OrderedDict()
    lock = threading.Lock()

    @wraps(make)
    def asked(design: Design, /, *words: P.args, **named: P.kwargs) -> T:
        key = (id(design), words, tuple(sorted(named.items())))
        with lock:
            if key in kept:
                kept.move_to_end(key)
                return kept[key][1]
        made = make(design, *words, **named)
        with lock:
            kept[key] = design, made
            while len(kept) > MOST:
                kept.popitem(last=False)
        return made

    return asked
