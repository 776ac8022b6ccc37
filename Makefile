# friable: `make run` sets up, loads the demo and serves; `make test` checks everything.

SHELL := /bin/bash
PYTHON ?= $(shell command -v python3.11 || command -v python3)
BIN := .venv/bin
DATA = $${FRIABLE_DATA:-var}
# Two browsers and two cores: more workers than that slow one another down.
WORKERS ?= 2

.PHONY: run test lint docs bench soak environment system-parts clean

run: .venv/.ready-to-run
	@mkdir -p -m 700 "$(DATA)"
	@if [ ! -e "$(DATA)/quillmoor-loaded" ]; then \
	  $(BIN)/python manage.py migrate -v 0 && $(BIN)/python manage.py load_quillmoor >/dev/null \
	    && touch "$(DATA)/quillmoor-loaded"; \
	fi
	@exec $(BIN)/friable serve

test: environment system-parts lint
	@$(BIN)/python -m pytest -n $(WORKERS) --dist loadgroup -q

lint: environment
	@$(BIN)/ruff check .
	@$(BIN)/ruff format --check -q .
	@templates="$$(find src -name '*.html')"; [ -z "$$templates" ] || $(BIN)/djade --check --target-version 5.2 $$templates
	@$(BIN)/mypy
	@$(BIN)/lint-imports --no-logo

docs: environment
	@$(BIN)/python -m sphinx -q -W -b html docs build/docs
	@echo "build/docs/index.html"

bench: environment
	@$(BIN)/python benchmarks/science.py
	@$(BIN)/python benchmarks/start_up.py
	@$(BIN)/python benchmarks/flow.py
	@$(BIN)/python benchmarks/search.py
	@$(BIN)/python benchmarks/page_latency.py

soak: environment
	@$(BIN)/python benchmarks/soak.py
	@$(BIN)/python benchmarks/season.py

environment: .venv/.ready-to-test

system-parts:
	@.ci/system-parts

# The set for tests holds the set for running, so either will do to run.
.venv/.ready-to-run: run.lock
	@if cmp -s requirements.lock .venv/requirements.lock; then touch $@; else \
	  PYTHON="$(PYTHON)" .ci/environment run.lock && touch $@; fi

.venv/.ready-to-test: requirements.lock
	@PYTHON="$(PYTHON)" .ci/environment requirements.lock && touch $@ .venv/.ready-to-run

clean:
	rm -rf .venv build docs/_build .mypy_cache .ruff_cache .pytest_cache .hypothesis .import_linter_cache
