"""What the tests on looks share: the looks of our own shared folder."""

from __future__ import annotations

import pytest

from drawleaf.model.catalogue import Catalogue
from drawleaf.resources import product_folder
from drawleaf.source.library import load_library


@pytest.fixture(scope="session")
def catalogue() -> Catalogue:
    """The catalogue of our own shared folder."""
    library, found = load_library((product_folder("shared"),))
    assert found == ()
    return library.catalogue
