"""What many tests share: the shipped library, loaded once."""

import pytest
from hypothesis import settings

from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.catalogue.catalogue import Catalogue
from assistant.source.shipped import shipped_folder

# The whole run is to stay short; a test that needs more cases says so itself.
settings.register_profile("short", max_examples=30)
settings.load_profile("short")


@pytest.fixture(scope="session")
def library() -> Library:
    library, problems = load_library(shipped_folder("trees"))
    assert problems == []
    return library


@pytest.fixture(scope="session")
def catalogue(library: Library) -> Catalogue:
    return library.catalogue
