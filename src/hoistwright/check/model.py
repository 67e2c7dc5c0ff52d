"""What a design check gives back: figures with their derivation, and remarks."""

from __future__ import annotations

from typing import Literal, TypeAlias

import attrs

from hoistwright.quantity import Dimension, show

Sense = Literal["at most", "at least"]
Severity = Literal["wrong", "doubtful", "unknown"]
"""wrong: cannot be so, or must not; doubtful: unusual, look again; unknown: cannot be told."""

_RANK: dict[Severity, int] = {"wrong": 0, "doubtful": 1, "unknown": 2}


@attrs.frozen(kw_only=True)
class Figure:
    """One figure that follows from the design, in SI, with the unit to show it in."""

    key: str
    name: str
    value: float
    dimension: Dimension
    unit: str
    how: str
    """From what it was derived, in words or as the equation."""
    source: str
    limit: float | None = None
    limit_is: Sense = "at most"
    limit_source: str = ""
    note: str = ""

    @property
    def reserve(self) -> float | None:
        """How many times the figure stays within its limit: 1 is at the limit, below 1 beyond."""
        if self.limit is None or min(self.limit, self.value) <= 0:
            return None
        up = self.limit_is == "at most"
        return self.limit / self.value if up else self.value / self.limit

    @property
    def keeps_limit(self) -> bool | None:
        """Whether the limit is kept; None where there is none."""
        if self.limit is None:
            return None
        return self.value <= self.limit if self.limit_is == "at most" else self.value >= self.limit

    @property
    def text(self) -> str:
        """The value with its unit."""
        return show(self.value, self.dimension, self.unit)

    @property
    def limit_text(self) -> str:
        """The limit with its sense and unit; empty where there is none."""
        if self.limit is None:
            return ""
        return f"{self.limit_is} {show(self.limit, self.dimension, self.unit)}"


@attrs.frozen(kw_only=True)
class Remark:
    """Something that a reader of the design must know."""

    severity: Severity
    key: str
    """The key of the design, or the figure, that it is about."""
    read: str
    expected: str
    mend: str = ""
    missing: tuple[str, ...] = ()
    """Keys of the design that an unknown figure waits for."""


Finding: TypeAlias = Figure | Remark


@attrs.frozen(kw_only=True)
class DesignCheck:
    """All figures in the order of the load path, and all remarks, worst first."""

    design: str
    figures: tuple[Figure, ...]
    remarks: tuple[Remark, ...]

    def of(self, severity: Severity) -> tuple[Remark, ...]:
        """The remarks of one severity."""
        return tuple(remark for remark in self.remarks if remark.severity == severity)

    def figure(self, key: str) -> Figure:
        """The figure with this key; KeyError where it could not be derived."""
        for figure in self.figures:
            if figure.key == key:
                return figure
        raise KeyError(key)

    @property
    def cannot_be_right(self) -> bool:
        """True where at least one remark is "wrong"."""
        return bool(self.of("wrong"))

    @property
    def missing(self) -> tuple[str, ...]:
        """Every key of the design that some figure waits for, the most waited-for first."""
        keys = [key for remark in self.of("unknown") for key in remark.missing]
        return tuple(sorted(set(keys), key=lambda key: (-keys.count(key), key)))


def gathered(design: str, findings: list[Finding]) -> DesignCheck:
    """Sort findings into figures and remarks; what is said twice is said once."""
    figures = tuple(item for item in findings if isinstance(item, Figure))
    remarks: dict[tuple[str, str, str], Remark] = {}
    for item in findings:
        if isinstance(item, Remark):
            same = item.key if item.severity == "unknown" else ""
            remarks.setdefault((item.severity, same, item.read), item)
    ranked = sorted(remarks.values(), key=lambda remark: _RANK[remark.severity])
    return DesignCheck(design=design, figures=figures, remarks=tuple(ranked))
