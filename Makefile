# Two commands for everyone: `make booklets` and `make test`. The rest is for contributors.

PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/.ready
SOURCE_DATE_EPOCH ?= 1764547200
export SOURCE_DATE_EPOCH

.PHONY: booklets test check bench golden wheel clean

booklets: $(READY)
	$(BIN)/drawleaf compile plans/*

test: $(READY)
	$(BIN)/python -m pytest -n 2 --dist worksteal

check: $(READY)
	$(BIN)/ruff format --check .
	$(BIN)/ruff check .
	$(BIN)/pyright

bench: $(READY)
	$(BIN)/python bench/run.py

# Writes the golden outputs anew; read the difference before you commit it.
golden: $(READY)
	$(BIN)/python -m pytest -n 2 --dist worksteal --golden -k golden

wheel: $(READY)
	$(BIN)/python -m build --wheel --outdir dist

clean:
	rm -rf build dist $(VENV)

# The environment is made once, and again when the requirements change.
$(READY): pyproject.toml scripts/system-libraries
	scripts/system-libraries
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --upgrade pip
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -e '.[dev]'
	touch $(READY)
