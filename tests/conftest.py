"""What many tests share: the shipped library, loaded once."""

import pytest

from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.catalogue.catalogue import Catalogue
from assistant.source.shipped import shipped_folder


@pytest.fixture(scope="session")
def library() -> Library:
    library, problems = load_library(shipped_folder("trees"))
    assert problems == []
    return library


@pytest.fixture(scope="session")
def catalogue(library: Library) -> Catalogue:
    return library.catalogue
