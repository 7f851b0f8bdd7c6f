"""What the tests of the command line share."""

import pytest

from tests.cli.running import Run


@pytest.fixture
def run(capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Run:
    for name in ("COILSIDE_HOME", "COILSIDE_TREES", "COILSIDE_SHOP", "COILSIDE_UNITS"):
        monkeypatch.delenv(name, raising=False)
    return Run(capsys)
