"""The long run of the fuzz: every edit of the example sources. ``make fuzz``, or a share of it: ``--every 7 --from 3``."""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from pathlib import Path

from fuzz.mutations import mutants
from fuzz.trying import trouble_with

ROOT = Path(__file__).resolve().parents[2]
PLANS = sorted(source.parent.name for source in (ROOT / "plans").glob("*/plan.yaml"))


def main() -> int:
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("plans", nargs="*", default=PLANS, help="Names of example plans; all of them if left out.")
    parser.add_argument("--every", type=int, default=1, help="Try one edit in so many.")
    parser.add_argument("--from", type=int, default=0, dest="first", help="Skip so many edits at the start.")
    parser.add_argument("--whole", action="store_true", help="Make the booklet of those that pass.")
    parser.add_argument("--seconds", type=float, default=1e9, help="Stop after so long; each plan has its share.")
    options = parser.parse_args()
    began, tried, found = time.monotonic(), 0, 0
    with tempfile.TemporaryDirectory() as place:
        for turn, name in enumerate(options.plans, 1):
            folder = Path(place) / name
            folder.mkdir(exist_ok=True)
            source = (ROOT / "plans" / name / "plan.yaml").read_text(encoding="utf-8")
            for at, mutant in enumerate(mutants(source)):
                if at < options.first or (at - options.first) % options.every:
                    continue
                if time.monotonic() - began > options.seconds * turn / len(options.plans):
                    break
                tried += 1
                if trouble := trouble_with(mutant.text, folder, whole=options.whole):
                    found += 1
                    sys.stdout.write(f"--- {name} {mutant.what}\n{trouble}\n")
                    sys.stdout.flush()
    sys.stdout.write(f"{tried} sources tried, {found} in trouble, {time.monotonic() - began:.0f} s\n")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main())
