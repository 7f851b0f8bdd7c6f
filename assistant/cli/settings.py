"""`coilside settings`: what is set, and where each value comes from."""

import os
from pathlib import Path
from typing import Any

import click
from click.core import ParameterSource

from assistant.cli.options import (
    home_option,
    look_options,
    open_store,
    record_path,
    shop_option,
    trees_option,
    units_option,
)
from assistant.cli.talk import say
from assistant.errors import FileError, StoreError
from assistant.files import reason_of, write_whole
from assistant.session.instruments import told_accuracies
from assistant.settings import SETTINGS, Value, read_settings, setting, settings_path, template
from assistant.source.problem import without_controls


@click.command("settings")
@click.option("--write", "is_to_write", is_flag=True, help="Write a settings file to begin with, all in comments.")
@units_option
@look_options
@trees_option
@shop_option
@home_option
@click.pass_context
def settings_command(ctx: click.Context, /, is_to_write: bool, theme: str, home: Path | None, **others: Any) -> None:
    """Show the settings file, every setting, and where its value comes from.

    An option comes before the environment, the environment before the file, the file before what is usual.
    """
    path = settings_path()
    if is_to_write:
        _write(path)
        return
    found = read_settings(path)
    say(f"Settings file: {path}{'' if found.exists else ' (not there)'}")
    say("")
    given = {"theme": theme, "home": home, **others}
    told = _told(home)
    usual = {"trees": "the shipped ones", "home": str(record_path(None).parent)}
    for each in SETTINGS.values():
        value = told.get(each.name) or _given(ctx, each.name, given) or setting(each.name)
        text = without_controls(value.text) or usual.get(each.name, "-")
        say(f"{each.name:13} {text:18}  {value.source}")
        say(f"{'':13} {each.words}")
    if not found.exists:
        say("\n`coilside settings --write` writes a file to begin with.")


def _write(path: Path) -> None:
    if os.path.lexists(path):
        raise FileError(f"{path} is there already; it was left as it is.")
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
        write_whole(path, template(), anew=True)
    except FileExistsError as error:
        raise FileError(f"{path} is there already; it was left as it is.") from error
    except OSError as error:
        raise FileError(f"{path} could not be written: {reason_of(error)}.") from error
    say(f"{path} is written. Open it in an editor and take the # away in front of what you set.")


def _given(ctx: click.Context, name: str, given: dict[str, Any]) -> Value | None:
    """The value of an option that was typed."""
    for parameter in (name, f"{name}_folder"):
        if parameter in given and ctx.get_parameter_source(parameter) is ParameterSource.COMMANDLINE:
            return Value(str(given[parameter]), f"option --{name}")
    if name == "theme" and ctx.get_parameter_source("no_color") is ParameterSource.COMMANDLINE:
        return Value("none", "option --no-color")
    return None


def _told(home: Path | None) -> dict[str, Value]:
    """What was told of the tech's own instruments on a call, which comes before all else."""
    if not record_path(home).exists():
        return {}
    try:
        with open_store(home) as store:
            told = told_accuracies(store)
    except StoreError as error:
        say(f"coilside: {error}", err=True)
        return {}
    return {word: Value(text, "told on a call") for word, text in told.items()}
