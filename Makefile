# Every target makes its own environment in .venv; nothing else needs to be set up first.
SHELL := /bin/bash
BIN := .venv/bin
STAMP := .venv/installed
PYTEST := $(BIN)/python -m pytest
# Two workers: each test process compiles its own kernels, so more would cost memory, not save time.
# A file stays with one worker: what its tests share is made once.
WORKERS ?= 2

.DEFAULT_GOAL := help
# One test may take this long (s) before it is ended, with what it was doing.
LONGEST ?= 900
OLDEST := .venv-oldest
OLD_PYTEST = $(OLDEST)/bin/python -m pytest -n $(WORKERS) --dist loadfile --timeout $(LONGEST) --no-skips --by-room \
  -m "not slow" -o filterwarnings=default
SAMPLE := tests/words tests/tasks tests/model/test_atomic.py tests/documents/test_charts.py \
  tests/documents/test_papers.py tests/ledger/test_store.py tests/ledger/test_migrations.py \
  tests/ledger/test_certifying.py tests/ledger/test_batch_cost.py tests/solids/test_export.py \
  tests/acoustics/test_geometry.py tests/playing/test_pitch.py tests/fit/test_checks.py \
  tests/keywork/test_key_files.py tests/cli/test_tune.py

.PHONY: help browser slicer demo test test-oldest test-oldest-sample coverage check check-fast lint words bench docs-figures clean

help:
	@echo "make demo          the whole way on the invented example, into demo-output/"
	@echo "make check-fast    lint, types and the fast tests"
	@echo "make test          lint, types and all tests, slow ones too (make check is the same)"
	@echo "make test-oldest   the fast tests on the oldest supported versions, in .venv-oldest"
	@echo "make coverage      which share of each room's lines the tests reach"
	@echo "make words         what other languages lack; brings their catalogues up to date"
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
	  -e ".[test,solve3d,cluster]" -c constraints.txt
	@touch $(STAMP)

# The bench's tests drive a real browser: what is missing is installed or asked for, never skipped.
browser:
	@set -eu; \
	for name in chromium chromium-browser; do \
	  if command -v "$$name" >/dev/null 2>&1; then exit 0; fi; \
	done; \
	if command -v apt-get >/dev/null 2>&1; then \
	  as_root=""; \
	  if [ "$$(id -u)" -ne 0 ]; then \
	    if command -v sudo >/dev/null 2>&1 && sudo -n true 2>/dev/null; then as_root="sudo -n"; \
	    else \
	      echo "The bench's tests need the browser Chromium: sudo apt-get install chromium" >&2; \
	      exit 2; \
	    fi; \
	  fi; \
	  $$as_root apt-get update -qq; \
	  DEBIAN_FRONTEND=noninteractive $$as_root apt-get install -y -qq chromium; \
	else \
	  echo "The bench's tests need the browser Chromium: install it, then run make again." >&2; \
	  exit 2; \
	fi

# A general slicer takes the files for the printer in the slow tests: a tool of the tests alone.
slicer:
	@set -eu; \
	if command -v prusa-slicer >/dev/null 2>&1; then exit 0; fi; \
	as_root=""; \
	if [ "$$(id -u)" -ne 0 ]; then as_root="sudo -n"; fi; \
	if command -v apt-get >/dev/null 2>&1 && $$as_root true 2>/dev/null; then \
	  $$as_root apt-get update -qq; \
	  DEBIAN_FRONTEND=noninteractive $$as_root apt-get install -y -qq --no-install-recommends \
	    prusa-slicer; \
	else \
	  echo "The slow tests need a slicer: sudo apt-get install prusa-slicer" >&2; \
	  exit 2; \
	fi

demo: $(STAMP)
	$(BIN)/borewright demo demo-output

lint: $(STAMP)
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy

check-fast: lint browser
	$(PYTEST) -n $(WORKERS) --dist loadfile --timeout $(LONGEST) -m "not slow"

test: lint browser slicer
	$(PYTEST) -n $(WORKERS) --dist loadfile --timeout $(LONGEST) --no-skips --by-room

# Which share of each room's lines the tests reach; slower than the tests alone.
coverage: lint browser slicer
	$(PYTEST) -n $(WORKERS) --dist loadfile --timeout $(LONGEST) --cov --cov-report=
	$(BIN)/python tools/coverage_by_room.py

$(OLDEST)/installed: pyproject.toml constraints-oldest.txt
	@rm -rf $(OLDEST)
	@python3.11 -m venv $(OLDEST) 2>/dev/null || python3 -m venv $(OLDEST)
	$(OLDEST)/bin/python -m pip install --quiet --disable-pip-version-check \
	  -e ".[test,solve3d,cluster]" -c constraints-oldest.txt
	@touch $@

# The browser's tests and the slow ones stay with the newest versions. Old libraries warn of what
# newer ones below them changed: that is theirs.
test-oldest: $(OLDEST)/installed
	$(OLD_PYTEST) --ignore tests/bench

# A few minutes of them, one or two files a room, with the lines that they reach: what CI has time for.
test-oldest-sample: $(OLDEST)/installed
	$(OLD_PYTEST) --cov --cov-report= $(SAMPLE)
	$(OLDEST)/bin/python tools/coverage_by_room.py

words: $(STAMP)
	$(BIN)/python tools/catalogues.py

check: test

bench: $(STAMP) browser slicer
	@for script in benchmarks/*.py; do \
	  echo "== $$script"; $(BIN)/python "$$script" || exit 1; \
	done

docs-figures: $(STAMP) browser
	$(BIN)/python docs/figures.py
	$(BIN)/python docs/bench_pictures.py
	$(BIN)/python docs/bench_workshop_pictures.py

clean:
	rm -rf .venv $(OLDEST) build demo-output .pytest_cache .mypy_cache .ruff_cache .hypothesis src/*.egg-info
	find src tests -name __pycache__ -type d -prune -exec rm -rf {} +
