"""Write the conversations of the demo calls again: `python -m tests.demo`. Read the difference before you commit it."""

from pathlib import Path

from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.call.walk import walk
from assistant.call.wording import conversation_lines, wrapped
from assistant.records.transcripts import read_transcript
from assistant.source.shipped import shipped_folder

WIDTH = 100


def conversation_text(library: Library, file: Path) -> str:
    """The conversation that follows from a demo call's answers."""
    conversation = walk(library, read_transcript(file).answers)
    return "\n".join(wrapped(conversation_lines(conversation), WIDTH)) + "\n"


if __name__ == "__main__":
    library, _ = load_library(shipped_folder("trees"))
    for file in sorted(shipped_folder("transcripts_demo").glob("*.yaml")):
        file.with_suffix(".txt").write_text(conversation_text(library, file), encoding="utf-8")
