"""What the tests of the command line share."""

import os

import pytest

from tests.cli.running import Run


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    for name in ("COILSIDE_HOME", "COILSIDE_TREES", "COILSIDE_SHOP", "COILSIDE_UNITS", "NO_COLOR"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("COILSIDE_SETTINGS", os.devnull)
    return Run(capsys)
