"""`python -m hoistwright`."""

from hoistwright.cli.main import run

run()
