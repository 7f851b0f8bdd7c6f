"""Which widget shows a turn, and when two turns show the same."""

from typing import assert_never

from assistant.call.turns import (
    Answered,
    CameBack,
    Coached,
    Concluded,
    Contradicted,
    Decided,
    NothingWrong,
    NumberMissing,
    NumberShown,
    Repair,
    Told,
    Turn,
    Undecided,
    Verified,
)
from assistant.tui.widgets.prompts import HELP_OF_PROMPTS, prompt_view
from assistant.tui.widgets.turns.base import TurnView
from assistant.tui.widgets.turns.came_back import CameBackView
from assistant.tui.widgets.turns.coached import CoachedView
from assistant.tui.widgets.turns.concluded import ConcludedView
from assistant.tui.widgets.turns.contradicted import ContradictedView
from assistant.tui.widgets.turns.decided import DecidedView
from assistant.tui.widgets.turns.endings import NothingWrongView, UndecidedView
from assistant.tui.widgets.turns.number import MissingNumberView, NumberView
from assistant.tui.widgets.turns.repair import RepairView
from assistant.tui.widgets.turns.told import ToldView
from assistant.tui.widgets.turns.verified import VerifiedView


def view_of(turn: Turn) -> TurnView:
    """The widget that shows a turn."""
    match turn:
        case Answered():
            view = prompt_view(turn.prompt)
            view.settle(turn)
            return view
        case Told():
            return ToldView(turn)
        case NumberShown():
            return NumberView(turn)
        case NumberMissing():
            return MissingNumberView(turn)
        case Contradicted():
            return ContradictedView(turn)
        case Decided():
            return DecidedView(turn)
        case CameBack():
            return CameBackView(turn)
        case Coached():
            return CoachedView(turn)
        case Concluded() | Repair() | Verified() | NothingWrong() | Undecided():
            return _view_of_end(turn)
        case _:
            assert_never(turn)


def _view_of_end(turn: Concluded | Repair | Verified | NothingWrong | Undecided) -> TurnView:
    match turn:
        case Concluded():
            return ConcludedView(turn)
        case Repair():
            return RepairView(turn)
        case Verified():
            return VerifiedView(turn)
        case NothingWrong():
            return NothingWrongView(turn)
        case Undecided():
            return UndecidedView(turn)
        case _:
            assert_never(turn)


def shows_the_same(old: Turn, new: Turn) -> bool:
    """Whether the widget of one turn can stand for the other."""
    match old, new:
        # Two numbers with doubt from different runs are never equal, as they do not vary together.
        case (NumberShown(), NumberShown()):
            return old.line == new.line and old.work == new.work
        case (NumberMissing(), NumberMissing()):
            return old.line == new.line
        case _:
            return old == new


HELP_OF_TURNS = (
    *HELP_OF_PROMPTS,
    NumberView.help_text,
    ContradictedView.help_text,
    DecidedView.help_text,
    ConcludedView.help_text,
    VerifiedView.help_text,
)
"""What the kinds of turns say of themselves, in the order in which a call meets them."""
