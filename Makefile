# Every target makes its own environment in .venv; nothing else needs to be set up first.
SHELL := /bin/bash
BIN := .venv/bin
STAMP := .venv/installed
PYTEST := $(BIN)/python -m pytest
# Two workers: each test process compiles its own kernels, so more would cost memory, not save time.
WORKERS ?= 2

.DEFAULT_GOAL := help
.PHONY: help demo test check check-fast lint bench docs-figures clean

help:
	@echo "make demo          the whole way on the invented example, into demo-output/"
	@echo "make check-fast    lint, types and the fast tests"
	@echo "make test          lint, types and all tests, slow ones too (make check is the same)"
	@echo "make bench         the benchmarks"
	@echo "make docs-figures  the figures of the documentation, drawn again"
	@echo "make clean         remove .venv and everything generated"

$(STAMP): pyproject.toml constraints.txt
	@set -eu; found=""; \
	for python in python3 python3.13 python3.12 python3.11; do \
	  if "$$python" -c 'import sys; sys.exit(not (3, 11) <= sys.version_info[:2])' 2>/dev/null; \
	  then found="$$python"; break; fi; \
	done; \
	if [ -z "$$found" ]; then \
	  echo "Borewright needs Python 3.11 or newer, and none was found." >&2; \
	  echo "Install one, for example python3.12 with its venv module, then run make again." >&2; \
	  exit 2; \
	fi; \
	if ! { [ -x $(BIN)/python ] && $(BIN)/python -m pip --version >/dev/null 2>&1; }; then \
	  rm -rf .venv; \
	  "$$found" -m venv .venv || { \
	    echo "$$found cannot make an environment: install its venv module." >&2; exit 2; }; \
	fi
	$(BIN)/python -m pip install --quiet --disable-pip-version-check \
	  -e ".[test,solve3d]" -c constraints.txt
	@touch $(STAMP)

demo: $(STAMP)
	$(BIN)/borewright demo demo-output

lint: $(STAMP)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy

check-fast: lint
	$(PYTEST) -n $(WORKERS) -m "not slow"

test: lint
	$(PYTEST) -n $(WORKERS) --no-skips

check: test

bench: $(STAMP)
	@for script in benchmarks/*.py; do \
	  echo "== $$script"; $(BIN)/python "$$script" || exit 1; \
	done

docs-figures: $(STAMP)
	$(BIN)/python docs/figures.py

clean:
	rm -rf .venv build demo-output .pytest_cache .mypy_cache .ruff_cache .hypothesis src/*.egg-info
	find src tests -name __pycache__ -type d -prune -exec rm -rf {} +
