"""The catalogue as a page of the documentation, and the slips of its examples as text."""

from __future__ import annotations

from drawleaf.codes import GROUPS, Code, Example
from drawleaf.codes.samples import SAMPLES

_HEAD = """\
# Diagnostics

<!-- Made from src/drawleaf/codes by `make docs`. Change it there. -->

What drawleaf prints is laid out the same in the terminal, in [the preview](preview.md) and on these pages: the file and the line, what is amiss, the
line itself with a double rule under the word that is meant, the cause and the mend.

```text
plan.yaml, line 8, to mend: Unknown key “lft” (unknown-key)
    side: {stock: ply, lft: 0}
                       ═══
    Cause: “side” takes no such key.
    Mend:  Did you mean “left”?
```

*To mend* stops the compile, *advice* does not. In round brackets stands a short code that stays the same from version to version: `drawleaf why unknown-key`
prints what this page says of it. Every example below is tested: it is a slip in one of the small plans at the end of this page, and
it yields the code that it stands under.

For an editor or another program, `drawleaf check --format json` and `drawleaf compile --format json` print
[one JSON object](#machine-readable-output).
"""

_JSON = """\
## Machine-readable output

`--format json` prints one object on standard output, and nothing on standard error but wrong usage. The exit status is the same as ever:
0 all plans are good, 1 a plan has errors, 2 wrong usage.

| key | meaning |
|---|---|
| `format`, `version` | `drawleaf-report` and 1; the version rises when a key changes its meaning or goes away. New keys may come at any time. |
| `command` | `check` or `compile` |
| `plans` | one entry for each plan named, in that order, and for each of its editions that `check` tries |
| `plans[].edition` | the edition, or null for the plan as it stands; of an edition only what is wrong with it alone is listed |
| `plans[].plan`, `plans[].folder` | its name and its folder |
| `plans[].good` | whether it has no errors (and, for `compile`, whether its booklet was written) |
| `plans[].booklet` | folder of the booklet that was written, or null |
| `plans[].failure` | why it could not be worked on at all, or null |
| `plans[].diagnostics` | sorted by place; each with the keys below |
| `errors`, `advice` | how many of each there are in all plans |

| key of a diagnostic | meaning |
|---|---|
| `file`, `line`, `column`, `length` | the place; lines and columns count from 1, in characters. All null where no file is to blame. |
| `code` | one of those on this page |
| `severity` | `error` or `advice` |
| `message`, `cause`, `mend` | sentences; cause and mend may be empty |
| `related` | further places, each with `file`, `line`, `column`, `length` and `message` |
"""


def page() -> str:
    """The whole page, as Markdown."""
    blocks = [_HEAD, _contents()]
    for title, group in GROUPS:
        blocks.append(f"## {title}\n")
        blocks += [_entry(code) for code in group]
    blocks.append(_JSON)
    blocks.append("## The two sample plans\n")
    for name, text in SAMPLES.items():
        blocks.append(f"### The {name}\n\n```yaml\n{text}```\n")
    return "\n".join(blocks).rstrip() + "\n"


def shown_slip(code: Code) -> str:
    """The example as text: what is written by mistake and what should be; empty where no plan can show it."""
    example = code.example
    if code.inner or example == Example():
        return ""
    lines = []
    if example.wrong or example.right:
        lines.append(f"wrong: {_short(example.wrong)}" if example.wrong else "wrong: (nothing)")
        if example.right:
            lines.append(f"right: {_short(example.right)}")
    if example.edition:
        lines.append(f"with --edition {example.edition}")
    for name, content in example.files.items():
        text = content.decode("utf-8", "replace") if isinstance(content, bytes) else content
        lines.append(f"with {name}: {_short(text)}")
    return "\n".join(lines)


def _contents() -> str:
    return "\n".join(f"- [{title}](#{_anchor(title)}): {len(group)} codes" for title, group in GROUPS) + "\n"


def _anchor(title: str) -> str:
    return "".join(letter for letter in title.lower() if letter.isalnum() or letter in " -").replace(" ", "-")


def _entry(code: Code) -> str:
    lines = [f"### {code.name}", "", code.what, "", f"*Why:* {code.why}", "", f"*Mend:* {code.mend}", ""]
    if slip := shown_slip(code):
        lines += ["```text", slip, "```", ""]
    elif code.inner:
        lines += [f"*When:* {code.inner}", ""]
    return "\n".join(lines)


def _short(text: str) -> str:
    """The text on lines of its own where it has several, and cut where it would fill a page."""
    shown = "".join(letter if letter.isprintable() or letter in "\n\t" else "�" for letter in text).rstrip()
    shown = shown.replace("\t", "⇥")
    if len(shown) > 600:
        shown = shown[:300].rstrip() + " … and so on"
    return shown if "\n" not in shown else "\n  " + shown.strip("\n").replace("\n", "\n  ")
