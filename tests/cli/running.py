"""Running the command line: in this process with what it printed, and as a process of its own."""

import os
import subprocess
import sys
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

import pytest

from assistant.cli.main import main

ROOT = Path(__file__).parents[2]
START = "from assistant.cli import start; start()"


@dataclass(frozen=True)
class Ran:
    """How a command ended and what it printed."""

    code: int
    out: str
    err: str


class Run:
    """Runs commands in this process, each with a home of its own."""

    def __init__(self, capsys: pytest.CaptureFixture[str]) -> None:
        self.capsys = capsys

    def __call__(self, *arguments: str | Path) -> Ran:
        self.capsys.readouterr()
        with pytest.raises(SystemExit) as ended:
            main([str(argument) for argument in arguments])
        printed = self.capsys.readouterr()
        assert isinstance(ended.value.code, int)
        assert "Traceback" not in printed.out + printed.err
        return Ran(ended.value.code, printed.out, printed.err)


def environment(more: Mapping[str, str] | None = None) -> dict[str, str]:
    """The environment of a process that runs this checkout."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith("COILSIDE_")}
    here = {"PYTHONPATH": str(ROOT), "PYTHONIOENCODING": "utf-8", "COILSIDE_SETTINGS": os.devnull}
    return {**kept, **here, **(more or {})}


def process(*arguments: str | Path) -> "subprocess.Popen[str]":
    """A command as a process of its own, to be written to and read from."""
    return subprocess.Popen(
        [sys.executable, "-c", START, *map(str, arguments)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        encoding="utf-8",
        env=environment(),
    )
