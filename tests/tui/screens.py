"""Text snapshots of the screen."""

import os
from pathlib import Path

from textual.app import App
from textual.pilot import Pilot

FOLDER = Path(__file__).parent / "snapshots"


def screen_text(app: App[object]) -> str:
    """What is on the screen, line by line, without colours."""
    strips = app.screen._compositor.render_strips()
    return "\n".join(strip.text.rstrip() for strip in strips) + "\n"


def assert_snapshot(app: App[object], name: str) -> None:
    """The screen is as stored; `COILSIDE_SNAPSHOTS=write` stores it anew, to be looked at before it is committed."""
    assert_text(screen_text(app), name)


async def assert_settles(pilot: Pilot[object], name: str) -> None:
    """The screen comes to be as stored; a scroll bar goes a layout later than what it scrolled."""
    if os.environ.get("COILSIDE_SNAPSHOTS") == "write":
        await pilot.pause(0.5)
    else:
        stored = (FOLDER / f"{name}.txt").read_text(encoding="utf-8")
        for _ in range(40):
            if screen_text(pilot.app) == stored:
                break
            await pilot.pause(0.05)
    assert_snapshot(pilot.app, name)


def assert_text(shown: str, name: str) -> None:
    """The text of a screen is as stored."""
    path = FOLDER / f"{name}.txt"
    if os.environ.get("COILSIDE_SNAPSHOTS") == "write":
        path.write_text(shown, encoding="utf-8")
    assert shown == path.read_text(encoding="utf-8")
