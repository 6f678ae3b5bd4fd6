"""The fuzz that is led by coverage: what reaches new lines of the compiler is kept and edited further. ``make fuzz``, on Linux.

Sources go through the whole check in this process, a tiny plan each, the shared folders read once; what passes is written out as data and
read by the reader of outputs. One process tries (`--child`), another watches over it: should native code take the first one down, the
source that did it is kept, and a new process goes on. Figures of a run go to ``tests/fuzz/last_run.json``, those of one
that was stopped by ``--take-stock``; ``asked`` says how many it was to try.
"""

from __future__ import annotations

import argparse
import hashlib
import json
import os
import platform
import subprocess
import sys
import tempfile
import zlib
from collections.abc import Callable, Sequence
from datetime import UTC, datetime
from pathlib import Path
from random import Random
from typing import Any

from fuzz.edits import Editor, Pool, misspelt

HERE = Path(__file__).resolve().parent
ROOT = HERE.parents[1]
CORPUS = HERE / "corpus"
LAST_RUN = HERE / "last_run.json"
LONGEST_SOURCE = 6000
NATIVE_SECONDS = 120
MOST_MEGABYTES = 3000
SEEDS = sorted(CORPUS.glob("*.yaml"))
MOST_GOOD = 300
EACH_KIND = 3
SHARE_OF_GOOD = 0.4


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("--sources", type=int, default=100_000, help="Stop after so many.")
    parser.add_argument(
        "--place", type=Path, help="A folder for the grown corpus, the log, and the sources in trouble."
    )
    parser.add_argument(
        "--take-stock", action="store_true", help="Write the figures of a run that was stopped, and try nothing."
    )
    parser.add_argument("--child", action="store_true", help=argparse.SUPPRESS)
    options = parser.parse_args()
    place = options.place or Path(tempfile.mkdtemp(prefix="fuzz-"))
    place.mkdir(parents=True, exist_ok=True)
    if options.take_stock:
        return _take_stock(place, options.sources, _state(place)["segments"][-1]["version"])
    return _try_sources(place, options.sources) if options.child else _watch(place, options.sources)


def _watch(place: Path, sources: int) -> int:
    command = [sys.executable, "-m", "fuzz.guided", "--child", "--place", str(place), "--sources", str(sources)]
    version = _version()
    while (state := _state(place))["sources"] < sources:
        with (place / "engine.log").open("ab") as log:
            code = subprocess.run(command, stdout=log, stderr=log, check=False).returncode
        after = _state(place)
        if after["sources"] >= sources:
            break
        if after["sources"] == state["sources"]:
            sys.stdout.write(f"it does not start: see {place / 'engine.log'}\n")
            return 1
        _keep(place, (place / "now.yaml").read_text(encoding="utf-8", errors="replace"), f"the process ended: {code}")
    return _take_stock(place, sources, version)


def _take_stock(place: Path, asked: int, version: str) -> int:
    """Write what a run came to; 1 where it met trouble."""
    figures = {
        **_state(place),
        "asked": asked,
        "troubles": len(list((place / "trouble").glob("*.txt"))) if (place / "trouble").exists() else 0,
        "date": datetime.now(UTC).strftime("%Y-%m-%d"),
        "version": version,
        "python": platform.python_version(),
        "engine": "atheris",
    }
    LAST_RUN.write_text(json.dumps(figures, indent=1) + "\n", encoding="utf-8")
    sys.stdout.write(f"{json.dumps(figures)}\n")
    return 1 if figures["troubles"] else 0


def _version() -> str:
    found = subprocess.run(
        ["git", "-C", str(ROOT), "rev-parse", "--short=12", "HEAD"], capture_output=True, text=True, check=False
    )
    return found.stdout.strip() or "unknown"


def _state(place: Path) -> dict[str, Any]:
    """What was tried so far: in all, and by each version of the code since the run began; a run may be stopped and go on."""
    file = place / "state.json"
    return (
        json.loads(file.read_text(encoding="utf-8")) if file.exists() else {"sources": 0, "passed": 0, "segments": []}
    )


def _keep(place: Path, text: str, trouble: str) -> None:
    """A source in trouble, a few for each kind of trouble: one rule of the reader of outputs, or the same last lines."""
    first = trouble.partition(":")[0]
    kind = (
        first
        if first.isidentifier()
        else hashlib.sha256("\n".join(trouble.splitlines()[-3:])[-300:].encode()).hexdigest()[:10]
    )
    folder = place / "trouble"
    folder.mkdir(exist_ok=True)
    name = f"{kind}-{len(list(folder.glob(f'{kind}-*.txt'))) + 1}"
    if not (folder / f"{kind}-{EACH_KIND}.txt").exists():
        (folder / f"{name}.txt").write_text(trouble + "\n", encoding="utf-8")
        (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
        sys.stdout.write(f"--- {name}\n{trouble}\n")
        sys.stdout.flush()


def plans_to_learn_from() -> list[str]:
    """Sources in which every key of the language stands at least once, as far as our own plans go."""
    from drawleaf.codes.samples import SAMPLES

    files = [
        *sorted(ROOT.glob("plans/*/plan.yaml")),
        *sorted(ROOT.glob("shared/components/*.yaml")),
        *sorted(ROOT.glob("docs/tutorial/*.yaml")),
        *sorted(ROOT.glob("tests/hardware/*.yaml")),
        *SEEDS,
    ]
    return [*SAMPLES.values(), *(file.read_text(encoding="utf-8") for file in files)]


def editor() -> Editor:
    pool = Pool()
    for text in plans_to_learn_from():
        pool.add(text)
    return Editor(pool)


def _try_sources(place: Path, sources: int) -> int:
    import atheris

    with atheris.instrument_imports(include=["drawleaf"]):
        from fuzz.trying import Trials

        trials = Trials(place / "plan")
        trials.trouble_with((CORPUS / "shelf.yaml").read_text(encoding="utf-8"))
    state, good = _state(place), [seed.read_text(encoding="utf-8") for seed in SEEDS]
    segment = {"version": _version(), "sources": 0, "passed": 0}
    state["segments"].append(segment)
    now = place / "now.yaml"
    change = _changer(editor(), good)

    def one(data: bytes) -> None:
        text = data.decode("utf-8", errors="replace")
        now.write_text(text, encoding="utf-8")
        trouble = trials.trouble_with(text, zlib.crc32(data))
        for counts in (state, segment):
            counts["sources"] += 1
            counts["passed"] += trials.passed
        if trials.passed and text not in good:
            good.append(text)
            del good[len(SEEDS) : -MOST_GOOD]
        if trouble:
            _keep(place, text, trouble)
        if state["sources"] % 100 == 0 or state["sources"] >= sources:
            (place / "state.json").write_text(json.dumps(state), encoding="utf-8")
        if state["sources"] >= sources:
            sys.stdout.flush()
            os._exit(0)

    grown = place / "corpus"
    grown.mkdir(exist_ok=True)
    flags = [
        f"-max_len={LONGEST_SOURCE}",
        f"-timeout={NATIVE_SECONDS}",
        f"-rss_limit_mb={MOST_MEGABYTES}",
        "-reload=0",
        "-len_control=0",
        "-mutate_depth=1",
        "-entropic_scale_per_exec_time=1",
    ]
    atheris.Setup([sys.argv[0], *flags, str(grown), str(CORPUS)], one, custom_mutator=change)
    atheris.Fuzz()
    return 0


def _changer(editor: Editor, good: Sequence[str]) -> Callable[[bytes, int, int], bytes]:
    """How a source is changed: mostly in its tree, now and then in its letters. Often one of the ``good`` is changed in its place: coverage
    alone soon has more ways to be refused than to pass, and would seldom come to the lists and the steps."""

    def change(data: bytes, most: int, seed: int) -> bytes:
        random = Random(seed)
        source = random.choice(good) if random.random() < SHARE_OF_GOOD else data.decode("utf-8", errors="replace")
        text = editor.edited(source, random) if random.random() < 0.9 else None
        if text is None:
            text = misspelt(source, random)
        return text.encode("utf-8", errors="replace")[:most]

    return change


if __name__ == "__main__":
    sys.exit(main())
