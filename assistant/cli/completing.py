"""`coilside completion`, and what a shell completes: trees and numbers of calls. If it cannot, it offers nothing."""

from pathlib import Path
from typing import Final

import click
from click import Context, Parameter
from click.shell_completion import CompletionItem, get_completion_class

from assistant.cli.options import Folders, record_path
from assistant.cli.talk import say
from assistant.errors import CoilsideError
from assistant.settings import setting
from assistant.source.problem import shorten

_VARIABLE = "_COILSIDE_COMPLETE"


@click.command()
@click.argument("shell", type=click.Choice(["bash", "zsh", "fish"]))
@click.pass_context
def completion(ctx: click.Context, shell: str) -> None:
    """Print the completion for a SHELL, to be put where the shell reads it.

    \b
        bash: coilside completion bash >> ~/.bashrc
        zsh:  coilside completion zsh >> ~/.zshrc
        fish: coilside completion fish > ~/.config/fish/completions/coilside.fish
    """
    found = get_completion_class(shell)
    assert found is not None
    # Not `source`: that runs the shell to ask for its version, which is no business of printing a text.
    made = found(ctx.find_root().command, {}, "coilside", _VARIABLE)
    say(made.source_template % made.source_vars())


_MOST: Final = 50


def complete_tree(ctx: Context, parameter: Parameter, incomplete: str) -> list[CompletionItem]:
    """The names of trees that begin with what is typed; an argument that may be a file completes files also."""
    from assistant.tree.shelf import Shelf

    try:
        names = sorted(Shelf(Folders(_folder(ctx, "trees"), _folder(ctx, "shop")).layers).files)
    except (CoilsideError, OSError):
        return []
    found = [CompletionItem(name) for name in names if name.startswith(incomplete)]
    return found or [CompletionItem(incomplete, type="file")]


def complete_call(ctx: Context, parameter: Parameter, incomplete: str) -> list[CompletionItem]:
    """The numbers of stored calls that begin with what is typed, the last changed first, with their complaints.

    No more than so many as a person looks through: who types on gets those that fit better.
    """
    from assistant.store.store import Search, Store

    try:
        path = record_path(_folder(ctx, "home"))
        if not path.exists():
            return []
        with Store.to_read(path) as store:
            entries = store.entries(search=Search(digits=incomplete), most=_MOST)
    except CoilsideError:
        return []
    return [CompletionItem(str(entry.number), help=shorten(entry.shown, 40)) for entry in entries]


def _folder(ctx: Context, name: str) -> Path | None:
    """A folder as it was typed so far, else as it is set."""
    text = ctx.params.get(f"{name}_folder") or ctx.params.get(name) or setting(name).text
    return Path(text) if text else None
