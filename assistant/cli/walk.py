"""`coilside walk`: a call without anybody to ask."""

import json
from pathlib import Path
from typing import Any

import click

from assistant.call.headless import reply_by_name, state_by_name
from assistant.call.plain_values import conversation_values, number_values
from assistant.call.wording import conversation_lines, wrapped
from assistant.cli.answered import answers_from
from assistant.cli.completing import complete_tree
from assistant.cli.options import Folders, folders_option, json_option, library_from, units_option
from assistant.cli.talk import say
from assistant.errors import FileError
from assistant.programs import Talk
from assistant.session.session import Session
from assistant.worksheet.showing import display_for


@click.command("walk")
@click.option("--tree", required=True, metavar="NAME", shell_complete=complete_tree, help="The tree to follow.")
@click.option("--answers", "file", required=True, type=click.Path(path_type=Path), help="YAML: facts: and answers:.")
@json_option
@units_option
@folders_option
def walk_command(tree: str, file: Path, as_json: bool, units: Any, folders: Folders) -> None:
    """Follow a tree with answers from a file; what is not in it is answered "cannot tell"."""
    library = library_from(folders, lazily=True)
    chosen = library.tree(tree)
    given = answers_from(file, library.catalogue, chosen).texts()
    talk = Talk(lambda: Session(library, None, units))
    asked: list[str] = []
    talk.take({"begin": {"tree": tree}})
    assert talk.session is not None
    while (prompt := talk.session.prompt) is not None:
        reply = talk.take({"answer": reply_by_name(prompt, given)})
        if reply["error"] or not reply["turns"]:
            raise FileError(f"{file}: {prompt.name}: {reply['error'] or 'that is no answer'}")
        asked.append(prompt.key.name or prompt.node)
    conversation = talk.session.conversation
    for name, texts in given.items():
        if asked.count(name) < len(texts):
            say(f"not asked on this way: {name}", err=True)
    if not as_json:
        for line in wrapped(conversation_lines(conversation), 100):
            say(line)
        return
    state = state_by_name(library.catalogue, given)
    display = display_for(library.catalogue, units, state.sheet.known)
    values = conversation_values(conversation, number_values(state.sheet.all_numbers(), display))
    say(json.dumps(values, indent=2, ensure_ascii=False))
