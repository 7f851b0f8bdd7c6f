"""A file of answers as the commands take it: read, held against the catalogue, its mistakes told."""

from pathlib import Path

import click

from assistant.catalogue.catalogue import Catalogue
from assistant.cli.options import problems_text
from assistant.cli.talk import say
from assistant.tree.calls_check import check_answers
from assistant.tree.examples import Answers, read_answers
from assistant.tree.model import Tree


def answers_from(file: Path, catalogue: Catalogue, tree: Tree | None = None) -> Answers:
    """Return the answers of a file; of a tree, those to its steps may be among them.

    Raises:
        Exit: it holds mistakes, which are told.
    """
    answers, problems = read_answers(file)
    problems = sorted([*problems, *check_answers(answers, tree, catalogue)])
    if problems:
        say(problems_text(problems), err=True)
        raise click.exceptions.Exit(1)
    return answers
