"""Text from a tree or a catalogue that means harm, or is only far too long, is shown as plain text."""

import re
from dataclasses import replace
from pathlib import Path

import pytest
from textual.events import Paste

from assistant.call.library import Library
from assistant.call.wording import conversation_lines, wrapped
from assistant.session.session import Session
from assistant.store.store import Store
from assistant.tree.reader import read_tree
from assistant.tui.app import chat_app
from tests.tui.conftest import CONTENT, Opened
from tests.tui.driving import START, asked, chat, enter
from tests.tui.screens import screen_text

HOSTILE = {
    "markup": "[bold red]hot[/] [@click=app.quit]x[/] [/",
    "escape": "a\x1b[31m\x1b]0;title\x07b\x9b1mc\x00d",
    "right to left": "\u202egnikool\u202c \u05d7\u05dd \u2066x\u2069",
    "emoji": "\N{FIRE}\N{FIRE} air \N{WOMAN}\u200d\N{ADHESIVE BANDAGE}",
    "zero width": "su\u200bper\u2060heat\ufeff",
    "long": "x" * 10_000,
    "long words": "air " * 500,
}
SAFE = re.compile(r"[\x00-\x08\x0b-\x1f\x7f-\x9f\u200b\u2060\ufeff\u202a-\u202e\u2066-\u2069]")


def with_text(library: Library, text: str) -> Library:
    """The small library with a hostile text wherever a person reads one, of a tree and of the catalogue."""
    tree, _ = read_tree(CONTENT / "weak_cooling.yaml")
    assert tree is not None
    nodes = {name: replace(node, say=text) if hasattr(node, "say") else node for name, node in tree.nodes.items()}
    facts = {name: replace(fact, title=text, question=text, how=text) for name, fact in library.catalogue.facts.items()}
    seen = {
        name: replace(entry, question=text, how=text, choices={key: f"{key} {text}" for key in entry.choices})
        for name, entry in library.catalogue.observations.items()
    }
    cautions = {
        name: replace(caution, title=text, text=text, rule=text) for name, caution in library.catalogue.cautions.items()
    }
    catalogue = replace(library.catalogue, facts=facts, observations=seen, cautions=cautions)
    return Library(catalogue, {tree.name: replace(tree, title=text, nodes=nodes)})


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE.keys())
async def test_a_hostile_tree_and_catalogue_are_shown_plainly(small_library: Library, store: Store, text: str) -> None:
    """A call is walked through them at 60x20: no row is too long, no control character shows, no markup acts."""
    app = chat_app(with_text(small_library, text), store)
    async with app.run_test(size=(60, 20)) as pilot:
        for reply in (*START, "ok", "1", "118"):
            await enter(pilot, reply)
            lines = screen_text(pilot.app).splitlines()
            assert all(SAFE.search(line) is None for line in lines)
            assert len(lines) == 20
        assert asked(pilot) == "suction_line_temperature"
        for page in ("f1", "f6", "f10"):
            await pilot.press(page)
            await pilot.pause()
            assert SAFE.search(screen_text(pilot.app).replace("\n", "")) is None
            await pilot.press("escape")
            await pilot.pause()
        assert pilot.app.is_running


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE.keys())
def test_line_by_line_they_are_plain_too(small_library: Library, text: str) -> None:
    """Every line fits its width, and none holds a control character."""
    session = Session(with_text(small_library, text), None)
    for reply in (*START, "ok", "1", "118"):
        session.say(reply)
    lines = list(wrapped(conversation_lines(session.conversation), 80))
    assert len(lines) > 20
    assert all(len(line) <= 80 and SAFE.search(line) is None for line in lines)


async def test_many_lines_pasted_at_once_are_one_reply(opened: Opened) -> None:
    """A page out of a manual is refused in words, whatever is asked; nothing of it answers anything."""
    async with opened(after=(*START, "ok")) as pilot:
        before = chat(pilot).session.answers
        for pasted in ("1\n" * 300, "ok\r\n" * 1000, "\n".join(f"line {place}" for place in range(5000))):
            chat(pilot).reply.post_message(Paste(pasted))
            await pilot.pause()
            assert chat(pilot).session.answers == before
            await pilot.press("enter")
            await pilot.pause()
            assert chat(pilot).session.answers == before
            assert chat(pilot).session.prompt is not None
            await pilot.press("escape")
            await pilot.pause()


def test_a_huge_reply_costs_nothing(small_library: Library, tmp_path: Path) -> None:
    """Ten megabytes are refused by their length, and nothing is written."""
    with Store(tmp_path / "calls.db") as store:
        session = Session(small_library, store)
        session.say("x" * 10_000_000)
        assert session.answers == ()
        assert store.entries() == []
