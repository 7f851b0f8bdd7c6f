"""One line of news above the reply line: why a reply was not taken, what no longer applies."""

from textual.widget import Widget

from assistant.tui.passage import Passage, item


class Notice(Widget):
    """The latest news only, so that a key held down does not fill the screen."""

    DEFAULT_CSS = """
    Notice {
        height: auto;
        max-height: 6;
        padding: 0 1;
        display: none;
    }
    Notice.-told {
        display: block;
    }
    """

    help_text = "A line that begins with ! says why a reply was not taken; nothing has changed then."

    def __init__(self) -> None:
        self.text = ""
        self.is_problem = False
        super().__init__()

    def render(self) -> Passage:
        """The news."""
        return Passage((item("! " if self.is_problem else "* ", self.text),) if self.text else ())

    def tell(self, text: str, is_problem: bool = False) -> None:
        """Show some news in place of the last; an empty text shows none."""
        if (text, is_problem) == (self.text, self.is_problem):
            return
        self.text, self.is_problem = text, is_problem
        self.set_class(bool(text), "-told")
        self.set_class(is_problem, "-problem")
        self.refresh(layout=True)
