"""What every turn on the transcript has in common."""

from typing import ClassVar

from assistant.tui.widgets.column import View


class TurnView(View):
    """One turn: blocks of plain text, one below the other."""

    help_text: ClassVar[str] = ""
    """What the help page says of this kind of turn."""

    is_finding: ClassVar[bool] = False
    """Whether it is read from its first line on, before what is asked behind it."""
