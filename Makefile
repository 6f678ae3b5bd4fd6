# Two commands for everyone: `make booklets` and `make test`. The rest is for contributors.

PYTHON ?= python3
VENV := .venv
BIN := $(VENV)/bin
READY := $(VENV)/.ready

.PHONY: booklets test check bench golden docs fuzz mutate wheel clean

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
	$(BIN)/python -m pytest -n 2 --dist worksteal --golden tests/book/test_wording.py tests/draw/test_drawings.py tests/checks tests/outside/published

# Writes the pages and schemas that are made from the code.
docs: $(READY)
	$(BIN)/python scripts/write_docs.py

# The long runs: every edit of the example sources, compiles killed 200 times, and edits led by coverage (on Linux).
# FUZZ="--every 10" tries one edit in ten; GUIDED="--sources 5000" is a shorter run of the last.
fuzz: $(READY)
	$(BIN)/python -m pytest -n 2 tests/fuzz tests/solids/test_travel.py tests/test_crash.py tests/test_workshop.py tests/draw/test_renderers_agree.py tests/book/test_two_englishes.py \
		tests/draw/test_example_drawings.py tests/book/test_html_in_browser.py tests/outside/test_solids_occt.py tests/draw/test_hidden_lines_oracle.py tests/outside/test_layout_optima.py tests/test_cli.py tests/catalogue/test_real_bytes.py \
		tests/derive/test_operation_settings.py tests/book/test_addresses.py --long
	PYTHONPATH=tests $(BIN)/python -m fuzz.long_run $(FUZZ)
	PYTHONPATH=tests $(BIN)/python -m fuzz.guided --place build/fuzz $(GUIDED)

# Would the tests notice? One change of derive, setting_out or joinery at a time; MUTATE="--mutants 1300" tries about a tenth of all.
mutate: $(READY)
	$(BIN)/python scripts/mutate.py $(MUTATE)

wheel: $(READY)
	$(BIN)/python -m build --wheel --outdir dist

clean:
	rm -rf build dist $(VENV)

# The environment is made once, and again when the requirements change.
$(READY): pyproject.toml scripts/system-libraries scripts/fetch-browser-library scripts/three-used.js
	scripts/system-libraries
	$(PYTHON) -m venv $(VENV)
	$(BIN)/python -m pip install --quiet --disable-pip-version-check --upgrade pip
	$(BIN)/python -m pip install --quiet --disable-pip-version-check -e '.[dev]'
	-scripts/fetch-browser-library
	touch $(READY)
