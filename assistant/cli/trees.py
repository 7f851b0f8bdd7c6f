"""`coilside trees`: the author's bench."""

import click

from assistant.cli.checking import check, explain
from assistant.cli.comparing import compare
from assistant.cli.drawing import draw
from assistant.cli.examples import examples
from assistant.cli.names import names
from assistant.cli.new import new
from assistant.cli.schema import schema
from assistant.cli.trying import try_command


@click.group()
def trees() -> None:
    """Write, check, draw and compare trees, and walk their example calls."""


trees.add_command(check)
trees.add_command(compare)
trees.add_command(draw)
trees.add_command(examples)
trees.add_command(explain)
trees.add_command(names)
trees.add_command(new)
trees.add_command(schema)
trees.add_command(try_command)
