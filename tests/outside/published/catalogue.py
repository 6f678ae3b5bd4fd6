"""The shipped catalogue, read once."""

from __future__ import annotations

from functools import cache

from tests.conftest import ROOT

from drawleaf.model.catalogue import Catalogue
from drawleaf.resources import shared_folders
from drawleaf.source.library import load_library


@cache
def catalogue() -> Catalogue:
    """What ``shared/`` holds."""
    library, found = load_library(shared_folders(ROOT / "plans" / "boot-bench"))
    assert not found
    return library.catalogue
