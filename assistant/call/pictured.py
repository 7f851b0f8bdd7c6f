"""The pictures of a conversation: from what it knows now, and from what its decisions compared."""

from typing import Final

from assistant.call.prompts import CloseCall
from assistant.call.turns import Decided
from assistant.call.walk import Conversation
from assistant.pictures.album import Picture, draw_pictures, find_wanted, in_characters, in_words
from assistant.pictures.cells import ASCII, text_of
from assistant.pictures.scale import Scale
from assistant.pictures.scale_text import small_scale
from assistant.pictures.vapour import Enthalpies, work_here

DRAWN: Final = "drawn"
"""What is typed behind the word for a picture to have it in characters."""

PICTURE_FORMS: Final = f"Type picture, or picture {DRAWN}."
"""What can be typed to have pictures as text."""

_WIDTH: Final = 76
_HEIGHT: Final = 22


def scales_in(conversation: Conversation) -> tuple[Scale, ...]:
    """Every comparison that the decisions of a conversation came to, and the close call that waits, each once."""
    decided = (turn for turn in conversation.turns if isinstance(turn, Decided))
    scales = [scale for turn in decided for scale in turn.scales]
    if isinstance(conversation.prompt, CloseCall):
        scales += (leaning.scale for leaning in conversation.prompt.leanings if leaning.scale is not None)
    return tuple(dict.fromkeys(scales))


def pictures_of(conversation: Conversation, enthalpies: Enthalpies) -> tuple[Picture, ...]:
    """The pictures of a conversation, with what is known of its superheated states."""
    return draw_pictures(conversation.state.sheet, conversation.display, scales_in(conversation), enthalpies)


def finished_pictures(conversation: Conversation) -> tuple[Picture, ...]:
    """The pictures with all that can be worked; waits for the equations of state, a matter of seconds."""
    return pictures_of(conversation, work_here(find_wanted(pictures_of(conversation, {}))))


def picture_lines(conversation: Conversation, argument: str) -> tuple[str, ...] | None:
    """The pictures as lines of text: in words, or drawn; `None` when the argument asks for something else."""
    if argument not in ("", DRAWN):
        return None
    lines: list[str] = []
    for picture in finished_pictures(conversation):
        lines.append(picture.title)
        if argument:
            lines += (f"  {text_of(shown)}".rstrip() for shown in in_characters(picture, _WIDTH, _HEIGHT, ASCII))
        else:
            lines += (f"  {words}" for words in in_words(picture))
        lines.append("")
    return (*lines, *([] if argument else [f"picture {DRAWN} shows them in characters."]))


def scale_lines(name: str, conversation: Conversation) -> tuple[str, ...]:
    """Under the work of a number: the limit that it came closest to as a small scale, its other limits in words."""
    compared = [scale for scale in scales_in(conversation) if scale.names[:1] == (name,)]
    if not compared:
        return ()
    closest, *others = sorted(compared, key=lambda scale: scale.sureness)
    also = "; ".join(f"{scale.text}: {scale.verdict}" for scale in others)
    return (
        "  Compared on this call:",
        *(f"  {line}" for line in small_scale(closest)),
        *([f"  Also {also}."] if also else []),
    )
