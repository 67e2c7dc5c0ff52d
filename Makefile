# The recipes of Hoistwright. `make` alone lists them; every recipe sets up what it needs.
PY := .venv/bin/python
BENCH ?= on

.DEFAULT_GOAL := help
.PHONY: help run test lint bench lock clean

help: ## list the recipes
	@grep -hE '^[a-z-]+:.*##' $(MAKEFILE_LIST) | sed -E 's/:.*## /\t/' | expand -t 10

.venv/run.stamp: requirements/run.txt pyproject.toml tools/setup.sh
	@sh tools/setup.sh run

.venv/test.stamp: requirements/test.txt pyproject.toml tools/setup.sh
	@sh tools/setup.sh test

run: .venv/run.stamp ## examine the demo shop's job sheets, write the reports to out/, start the bench (BENCH=off: not)
	@$(PY) -m hoistwright demo --out out
	@[ "$(BENCH)" = off ] || $(PY) -m hoistwright serve --demo

lint: .venv/test.stamp ## linter, strict types, import direction
	$(PY) -m ruff check .
	$(PY) -m ruff format --check .
	$(PY) -m mypy src tests benchmarks tools
	.venv/bin/lint-imports

test: lint ## everything that must hold: lint, then every test and doctest
	$(PY) -m pytest -n 2 --doctest-modules --cov --cov-report=term:skip-covered

bench: .venv/test.stamp ## speed and memory, each as a ratio against a peer in one run
	@for f in benchmarks/bench_*.py; do echo "== $$f"; $(PY) $$f || exit 1; done

lock: ## make the pinned requirements again (needs uv)
	uv pip compile --generate-hashes --no-emit-index-url --no-header --python-version 3.11 --universal requirements/run.in -o requirements/run.txt
	uv pip compile --generate-hashes --no-emit-index-url --no-header --python-version 3.11 --universal -c requirements/run.txt requirements/test.in -o requirements/test.txt

clean: ## remove what the recipes made
	rm -rf .venv out build
