"""A part of the long run of replies: whatever is typed, what comes back is an answer, a command or a sentence."""

from typing import get_args

from assistant.call.library import Library
from assistant.call.prompts import Prompt
from tests.soak.replies import prompts, run


def test_any_reply_is_read(library: Library) -> None:
    """No exception for any text; what is kept reads as the same again."""
    came, wrong = run(2000, 3, prompts(library, 4), library.catalogue)
    assert wrong == []
    assert {what.split()[1] for what in came} == {"Given", "Command", "Unclear"}
    assert {what.split()[0] for what in came} == {kind.__name__ for kind in get_args(Prompt)}
