"""A close call: what is measured cannot really decide."""

from collections.abc import Iterator

from assistant.call.prompts import CloseCall
from assistant.call.wording import words_of
from assistant.pictures.scale_text import small_tracks
from assistant.tui.passage import MUTED, STRONG, Block, headed, item, line
from assistant.tui.widgets.prompts.base import PromptView


class ClosePrompt(PromptView):
    """How the numbers lean and how likely, the way that is taken and the way that is kept."""

    prompt: CloseCall

    live_look = "warning"
    help_text = (
        "CLOSE CALL: a number lies within its own doubt of the limit. Go on the way it leans, or measure again. "
        "The other way is kept, and followed when the repair does not prove the cause."
    )

    def question(self) -> Iterator[Block]:
        """The comparisons with their likelihood, then both ways."""
        yield line("CLOSE CALL  The measurement cannot really decide this.", "bold $warning")
        for leaning in self.prompt.leanings:
            read = f"{leaning.text}: {leaning.measured} against {leaning.limit}"
            yield item("  ", read)
            if leaning.scale is not None:
                yield from (line(track) for track in small_tracks(leaning.scale))
            yield item("  ", f"{leaning.likelihood:.0%} likely as it reads", STRONG)
        yield headed("Leans to:", words_of(self.prompt.leans_to))
        ways = dict.fromkeys(words_of(leaning.other_way) for leaning in self.prompt.leanings if leaning.other_way)
        yield headed("Kept:", f"{', '.join(ways) or 'the other way'}", MUTED)

    def hint(self) -> str:
        """What the empty reply line says."""
        return "Enter goes on; or the number of a reading to measure again"
