"""``drawleaf why CODE``: what a diagnostic means, why it matters, a slip that yields it, and how to mend it."""

from __future__ import annotations

import textwrap

from drawleaf.codes import CODES, GROUPS, Code
from drawleaf.codes.page import shown_slip

_WIDTH = 100


def explanation(name: str) -> str | None:
    """The text for a code, or None where there is no such code. ``(code)`` as it was printed works as well."""
    wanted = name.strip().lower().strip("(). ").replace("_", "-")
    code = CODES.get(wanted)
    return _told(code) if code else None


def no_such_code(name: str) -> str:
    """What to say about a code that is not known, with the nearest one."""
    from drawleaf.source.names import did_you_mean

    mend = did_you_mean(name, CODES, otherwise="`drawleaf why` without a code lists them all.")
    return f"There is no code “{name}”. {mend}"


def all_codes() -> str:
    """All codes by theme, each with what it reports."""
    wide = max(map(len, CODES)) + 2
    blocks = []
    for title, group in GROUPS:
        blocks.append("\n".join([title, *(f"  {code.name:<{wide}}{code.what}" for code in group)]))
    return "\n\n".join(blocks)


def _told(code: Code) -> str:
    parts = [code.name, _filled(code.what), _filled(f"Why: {code.why}"), _filled(f"Mend: {code.mend}")]
    if slip := shown_slip(code):
        parts.append(textwrap.indent(slip, "    "))
    elif code.inner:
        parts.append(_filled(f"When: {code.inner}"))
    return "\n\n".join(parts)


def _filled(text: str) -> str:
    return textwrap.fill(text, _WIDTH, break_long_words=False, break_on_hyphens=False)
