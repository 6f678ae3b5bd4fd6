"""Whether a booklet stands in its folder as it was made."""

from __future__ import annotations

from hashlib import sha256
from pathlib import Path
from typing import NoReturn

import pytest

from drawleaf.catalogue.building import stands
from drawleaf.catalogue.traces import Trace
from drawleaf.outputs import write_set

TRACE = Trace({}, {"list.csv": sha256(b"a list").hexdigest()}, 1.0)


def test_the_very_bytes_or_none(tmp_path: Path) -> None:
    write_set(tmp_path / "out", {"list.csv": b"a list"})
    assert stands(tmp_path / "out", TRACE)
    (tmp_path / "out" / "list.csv").write_bytes(b"mine")
    assert not stands(tmp_path / "out", TRACE)


def test_what_cannot_be_read_ends_no_run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Also just after the booklet was made, where putting it there then tells why it cannot be."""
    write_set(tmp_path / "out", {"list.csv": b"a list"})

    def refused(*_: object) -> NoReturn:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("drawleaf.catalogue.building.hashlib.file_digest", refused)
    assert not stands(tmp_path / "out", TRACE)
