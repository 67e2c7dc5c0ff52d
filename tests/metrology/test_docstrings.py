"""Every formula that this package offers names its source and shows itself at work."""

from __future__ import annotations

import inspect

import pytest

import hoistwright.metrology as package

RULE_MAKERS = {"guarded", "maximum_probability", "simple"}  # their source stands at DecisionRule
NO_FORMULA = {"state_on", "worst"} | RULE_MAKERS
FUNCTIONS = [name for name in package.__all__ if inspect.isfunction(getattr(package, name))]


def test_all_are_found() -> None:
    assert len(FUNCTIONS) > 20


@pytest.mark.parametrize("name", FUNCTIONS)
def test_says_what_it_is_and_where_it_is_from(name: str) -> None:
    text = inspect.getdoc(getattr(package, name)) or ""
    assert text.splitlines()[0].endswith(".")
    if name not in NO_FORMULA:
        assert "\nReferences:\n" in text
        assert ">>> " in text


def test_the_package_loads_no_scipy() -> None:
    """Start-up time: numpy at the top, scipy only inside functions (as the layers ask)."""
    import subprocess
    import sys

    code = "import sys, hoistwright.metrology; sys.exit('scipy' in sys.modules)"
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
