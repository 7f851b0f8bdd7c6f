"""The command `coilside`: its groups, and how it ends.

Exit codes: 0 done, 1 the input has mistakes, 2 wrong usage.
"""

import importlib
import sys
from pathlib import Path
from typing import Any

import click
from click.core import ParameterSource

from assistant import __version__
from assistant.cli.options import (
    Folders,
    home_option,
    look_options,
    shop_option,
    tell_settings_problems,
    trees_option,
    units_option,
)
from assistant.cli.talk import give_up_output, prepare, say, say_error
from assistant.errors import CoilsideError, OutOfRangeError, OutputError
from assistant.files import reason_of
from assistant.ranges import range_sentence

_COMMANDS = {
    "call": ("assistant.cli.call", "call"),
    "walk": ("assistant.cli.walk", "walk_command"),
    "pt": ("assistant.cli.pt", "pt"),
    "numbers": ("assistant.cli.numbers", "numbers"),
    "expect": ("assistant.cli.expect", "expect"),
    "opinion": ("assistant.cli.opinion", "opinion"),
    "trees": ("assistant.cli.trees", "trees"),
    "calls": ("assistant.cli.calls", "calls"),
    "practice": ("assistant.cli.practice", "practice"),
    "settings": ("assistant.cli.settings", "settings_command"),
    "completion": ("assistant.cli.completing", "completion"),
}

_OPTIONS = {
    "units": "--units",
    "theme": "--theme",
    "no_color": "--no-color",
    "trees_folder": "--trees",
    "shop_folder": "--shop",
    "home": "--home",
}


class _LazyGroup(click.Group):
    """A group that loads a command's module when the command is wanted."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        return list(_COMMANDS)

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        if cmd_name not in _COMMANDS:
            return None
        module, name = _COMMANDS[cmd_name]
        command: click.Command = getattr(importlib.import_module(module), name)
        return command

    def invoke(self, ctx: click.Context) -> Any:
        try:
            return super().invoke(ctx)
        except BrokenPipeError:
            # Whoever read our output has seen enough; what is still buffered must not fail again at the end.
            give_up_output()
            ctx.exit(0)


@click.group(cls=_LazyGroup, invoke_without_command=True, context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="coilside")
@units_option
@look_options
@trees_option
@shop_option
@home_option
@click.pass_context
def cli(
    ctx: click.Context,
    units: Any,
    theme: str,
    trees_folder: Path | None,
    shop_folder: Path | None,
    home: Path | None,
) -> None:
    """Find out why an air conditioner or heat pump does not cool, with the numbers worked at every step.

    Without a command: the chat. It begins a new call, or offers to pick one up.
    """
    tell_settings_problems()
    if ctx.invoked_subcommand is None:
        from assistant.cli.call import chat

        chat(units, Folders(trees_folder, shop_folder), home, theme)
        return
    typed = [name for name in ctx.params if ctx.get_parameter_source(name) is ParameterSource.COMMANDLINE]
    if typed:
        # Taken without effect, it would open another record of calls than the one that was named.
        option = _OPTIONS[typed[0]]
        raise click.UsageError(f"Put {option} behind the command: coilside {ctx.invoked_subcommand} {option} ...", ctx)


def main(arguments: list[str] | None = None) -> None:
    """Run the command line and end the process with its exit code."""
    prepare()
    try:
        code = cli.main(args=arguments, prog_name="coilside", standalone_mode=False)
    except click.exceptions.Abort:
        code = 130
    except click.ClickException as error:
        say_error(error)
        code = error.exit_code
    except OutOfRangeError as error:
        say(f"coilside: {range_sentence(error, 'us')}", err=True)
        code = 1
    except OutputError as error:
        say(f"coilside: {error}", err=True)
        give_up_output()
        code = 1
    except CoilsideError as error:
        say(f"coilside: {error}", err=True)
        code = 1
    except PermissionError as error:
        # Already whether a file is there may not be asked in a folder that is closed to whoever asks.
        say(f"coilside: {error.filename} may not be looked at: {reason_of(error)}.", err=True)
        code = 1
    sys.exit(code if isinstance(code, int) else 0)
