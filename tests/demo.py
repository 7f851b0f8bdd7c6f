"""Write the conversations of the demo calls again: `python -m tests.demo`. Read the difference before you commit it."""

from pathlib import Path

from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.call.replies import read_all_written
from assistant.call.walk import walk
from assistant.call.what_if import tried_lines
from assistant.call.wording import conversation_lines, wrapped
from assistant.source.shipped import shipped_folder
from assistant.store.transcripts import read_transcript

WIDTH = 100


def conversation_text(library: Library, file: Path) -> str:
    """The conversation that follows from a demo call's answers, and what was tried at its end."""
    call = read_transcript(file)
    answers = read_all_written(call.answers, library.catalogue, "us")
    conversation = walk(library, answers)
    lines = (*conversation_lines(conversation), *tried_lines(library, conversation, answers, call.tried, "us"))
    return "\n".join(wrapped(lines, WIDTH)) + "\n"


if __name__ == "__main__":
    library, _ = load_library(shipped_folder("trees"))
    for file in sorted(shipped_folder("transcripts_demo").glob("*.yaml")):
        file.with_suffix(".txt").write_text(conversation_text(library, file), encoding="utf-8")
