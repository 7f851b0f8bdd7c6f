"""`coilside completion`: what a shell needs to complete commands, options, names of trees and numbers of calls."""

import click
from click.shell_completion import get_completion_class

from assistant.cli.talk import say

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
