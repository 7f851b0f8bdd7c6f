"""Small trees over the shipped catalogue, so that facts about the walk do not rest on what the shipped trees say."""

from collections.abc import Sequence
from dataclasses import replace
from textwrap import dedent, indent

from assistant.call.answers import Answer, Chosen, OwnWords, with_answer
from assistant.call.keys import COMPLAINT, TREE
from assistant.call.library import Library
from assistant.call.prompts import Prompt
from assistant.call.replies import Given
from assistant.call.state import ALTITUDE
from assistant.call.turns import Answered, Decided
from assistant.call.walk import Conversation, accept, walk
from assistant.catalogue.catalogue import Catalogue
from assistant.source.problem import render
from assistant.tree.check import check_tree
from assistant.tree.reader import read_tree_string

START = (Answer(COMPLAINT, OwnWords("anything")), Answer(TREE, Chosen("small")))


def at_sea_level(catalogue: Catalogue) -> Catalogue:
    """A catalogue that does not know of altitude, so that no gauge asks for the site."""
    return replace(catalogue, facts={name: fact for name, fact in catalogue.facts.items() if name != ALTITUDE})


def small_library(catalogue: Catalogue, nodes: str, facts: str = "", mode: str = "") -> Library:
    """A library with one tree called small, which passes every check.

    Unless the tree speaks of altitude it stands at sea level.
    """
    if ALTITUDE not in nodes + facts:
        catalogue = at_sea_level(catalogue)
    line = (f"mode: {mode}\n" if mode else "") + (f"facts: [{facts}]\n" if facts else "")
    head = f"tree: small\nversion: 1\ntitle: Small\ncomplaints: [anything]\n{line}start: first\nnodes:\n"
    tree, problems = read_tree_string(head + indent(dedent(nodes), "  "), "small.yaml")
    assert tree is not None
    # What is dangerous without its caution is for an author to mend; the walk takes it as it stands.
    found = [*problems, *(problem for problem in check_tree(tree, catalogue) if problem.code != "tree-caution")]
    assert not found, [render(problem, head + indent(dedent(nodes), "  ")) for problem in found]
    return Library(catalogue, {"small": tree})


def talk(library: Library, *replies: str, begin: Sequence[Answer] = START) -> Conversation:
    """The conversation after typed replies, each of which must be an answer to what is asked."""
    answers = tuple(begin)
    conversation = walk(library, answers)
    for reply in replies:
        read = accept(conversation, reply)
        assert isinstance(read, Given), (conversation.prompt, reply, read)
        assert conversation.prompt is not None
        answers = with_answer(answers, Answer(conversation.prompt.key, read.value))
        conversation = walk(library, answers)
    return conversation


def prompted(conversation: Conversation) -> list[str]:
    """The names of all that was asked and answered, complaint and tree apart."""
    names = [turn.prompt.name for turn in conversation.turns if isinstance(turn, Answered)]
    return names[2:]


def way(conversation: Conversation) -> list[str]:
    """The nodes that were come to, the start apart."""
    return [turn.go for turn in conversation.turns if isinstance(turn, Decided)]


def asked_next(conversation: Conversation) -> str:
    """The name of what is asked next."""
    assert conversation.prompt is not None
    return conversation.prompt.name


def prompt_called(conversation: Conversation, name: str) -> Prompt:
    """The prompt of that name which was answered, or is asked next."""
    if conversation.prompt is not None and conversation.prompt.name == name:
        return conversation.prompt
    return next(t.prompt for t in conversation.turns if isinstance(t, Answered) and t.prompt.name == name)
