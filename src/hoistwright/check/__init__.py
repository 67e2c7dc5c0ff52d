"""Design check: everything that follows from a design's figures, and what cannot be right.

`check_design` is a pure function on a `Design`; it works on partial designs and names each
figure that could not be derived together with what is missing and how to find it.
"""

from hoistwright.check.check import check_design
from hoistwright.check.model import DesignCheck, Figure, Remark

__all__ = ["DesignCheck", "Figure", "Remark", "check_design"]
