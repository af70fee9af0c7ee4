# Everything runs in a virtual environment of the project's own; nothing but python3 is needed.
PYTHON ?= python3
VENV ?= .venv
BIN := $(VENV)/bin

# What Python has compiled is kept, whatever the environment says: the tests start the program some hundred times.
export PYTHONDONTWRITEBYTECODE :=

.PHONY: fly test check bench clean soak pictures

fly: $(VENV)/.flying
	@$(BIN)/flowdeck fly

test: check
	$(BIN)/pytest -q -n 2 --dist worksteal

check: $(VENV)/.testing
	$(BIN)/ruff check .
	$(BIN)/ruff format --check .
	$(BIN)/mypy
	$(BIN)/lint-imports

soak: $(VENV)/.testing
	$(BIN)/pytest -q -m soak -n 2 --dist worksteal

bench: $(VENV)/.benching
	$(BIN)/python -m tests.bench

pictures: $(VENV)/.testing
	$(BIN)/python -m tests.pictures

$(VENV)/.flying: pyproject.toml
	@test -x $(BIN)/python || $(PYTHON) -m venv $(VENV)
	@echo "setting up (once) ..."
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable .
	@touch $@

$(VENV)/.testing: pyproject.toml
	@test -x $(BIN)/python || $(PYTHON) -m venv $(VENV)
	@echo "setting up (once) ..."
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable '.[test,check]'
	@touch $@

$(VENV)/.benching: $(VENV)/.testing
	@echo "setting up the peers (once) ..."
	@$(BIN)/python -m pip install --quiet --disable-pip-version-check --editable '.[bench]'
	@touch $@

clean:
	rm -rf $(VENV) dist build .pytest_cache .mypy_cache .ruff_cache .hypothesis
