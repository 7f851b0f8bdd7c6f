"""A call on a tree that is being written: saved files are taken up, and any node can be gone to. Nothing is kept."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from assistant.author.attempt import Attempt, attempt
from assistant.author.carrying import carry_over
from assistant.author.edits import new_names, tree_edits
from assistant.author.examined import Examined, examine
from assistant.author.parting import end_of, parting
from assistant.author.source_lines import SourceLines
from assistant.author.watching import Watch
from assistant.call.answers import Answer, EntryValue
from assistant.call.headless import answers_by_name
from assistant.call.keys import Topic, entry_key
from assistant.call.replies import tidy
from assistant.call.script import Start
from assistant.call.state import OWN_ACCURACY
from assistant.call.turns import Answered, CameBack, Decided
from assistant.errors import UnknownNameError
from assistant.quantity import UnitSystem
from assistant.session.session import Accepted, Information, Rejected, Response, Session
from assistant.source.nearest import nearest
from assistant.source.problem import Problem, render_all
from assistant.tree.graph import links
from assistant.tree.model import Step, Tree

WORDS: Mapping[str, str] = {
    "jump": "jump NODE: begin at a node, with what is known there",
    "problems": "what is wrong with the file as it was last saved",
    "examples": "how the example calls end, as the file was last saved",
}
"""What can be typed on a trial besides the words of every call."""

# A source line with its number in front fits 80 columns.
_SOURCE_WIDTH = 66
# Of a long way only its ends are told.
_MOST_TOLD = 6


@dataclass
class Trial(Session):
    """A session over the last state of a tree that could be walked.

    `good` is that state, `latest` what was last found on disk. With a `watch`, the files are looked at before each
    reply. `examined` is how the example calls end on the good state, once they were walked.
    """

    good: Attempt | None = None
    latest: Attempt | None = None
    watch: Watch | None = None
    examined: Examined | None = None

    @classmethod
    def of(
        cls, found: Attempt, node: str | None, given: Mapping[str, Sequence[str]], system: UnitSystem = "us"
    ) -> "Trial":
        """Return a trial of a tree from its start, or from a node on, with answers by name.

        Raises:
            UnknownNameError: the tree has no such node.
            ValueError: the tree cannot be walked.
        """
        tree = found.tree
        if tree is None or found.library is None:
            raise ValueError(f"{found.file} cannot be walked")
        if node is not None and node not in tree.nodes:
            raise UnknownNameError("node", node, nearest(node, tree.nodes))
        order = found.library.catalogue.taking_order
        known = sorted((name for name in given if name in order), key=order.__getitem__)
        start = Start(tree.name, node, tuple(known) if node is not None else ())
        answers = answers_by_name(found.library, tree.name, given, system)
        return cls(found.library, None, system, answers=answers, start=start, good=found, latest=found)

    @property
    def tree(self) -> Tree:
        """The tree that is walked."""
        return next(iter(self.library.trees.values()))

    @property
    def at(self) -> str:
        """The node to which the call has come."""
        for turn in reversed(self.conversation.turns):
            if isinstance(turn, Decided):
                return turn.go
            if isinstance(turn, CameBack):
                return turn.node
        return (self.start.node if self.start else None) or self.tree.start.text

    @property
    def problems(self) -> tuple[Problem, ...]:
        """What is wrong with the files as they were last saved."""
        return self.latest.problems if self.latest else ()

    @property
    def is_behind(self) -> bool:
        """Whether the tree that is walked is an older one, as the saved one cannot be walked."""
        return self.latest is not None and self.latest.library is None

    def say(self, text: str) -> Response:
        """Take a typed reply, the words of a trial among them."""
        saved = self._look() if self.watch is not None and self.watch.changed(settled=False) else None
        if saved is not None:
            # What was typed was the answer to a question that may be another one now.
            return Accepted((*saved, *self._problem_lines(), "Your reply was not taken: the file was saved just now."))
        word, _, argument = tidy(text).partition(" ")
        match word.casefold():
            case "jump":
                return self.jump(argument)
            case "problems" if not argument:
                return Information("What is wrong", self._problem_lines() or ("Nothing.",))
            case "examples" if not argument:
                return Information("The example calls", self._example_lines())
            case _:
                return super().say(text)

    def _example_lines(self) -> tuple[str, ...]:
        assert self.good is not None
        if self.examined is None:
            self.examined = examine(self.good)
        return self.examined.lines if self.examined else ("There are none beside the tree.",)

    def command(self, word: str, argument: str = "") -> Response:
        """Do what a command word asks; the help tells of the words of a trial too."""
        response = super().command(word, argument)
        if word == "help" and isinstance(response, Information):
            return replace(response, lines=(*response.lines, *(f"{name:12} {text}" for name, text in WORDS.items())))
        return response

    def jump(self, name: str) -> Response:
        """Begin at a node with what is known there, as if the call had come to it."""
        node = name.strip().replace(" ", "_")
        if node not in self.tree.nodes:
            near = nearest(node, self.tree.nodes) if node else ()
            hint = f"Did you mean {' or '.join(near)}?" if near else "Type jump and the name of a node."
            return Rejected(f"The tree has no node {node!r}. {hint}" if node else hint)
        known = self._known_at(node)
        own = [answer for answer in self.conversation.used if answer.key.name in OWN_ACCURACY.values()]
        self.changing = None
        self.start = Start(self.tree.name, node, tuple(known))
        self._take((*own, *(Answer(entry_key(name), value) for name, value in known.items())))
        return Accepted((self.begun,))

    def _known_at(self, node: str) -> dict[str, EntryValue]:
        """What was known when the call last came to a node; where it never did, all but what the node itself asks."""
        turns = self.conversation.turns
        arrived = [place for place, turn in enumerate(turns) if isinstance(turn, Decided) and turn.go == node]
        known = {
            turn.prompt.key.name: turn.answer.value
            for turn in turns[: arrived[-1] if arrived else None]
            if isinstance(turn, Answered)
            and turn.prompt.key.topic is Topic.ENTRY
            and isinstance(turn.answer.value, EntryValue)
        }
        if arrived:
            return known
        if node == ((self.start.node if self.start else None) or self.tree.start.text):
            first = {*map(str, self.tree.facts), *(self.start.known if self.start else ())}
            return {name: value for name, value in known.items() if name in first}
        step = self.tree.nodes[node]
        own = set(map(str, step.ask)) if isinstance(step, Step) else set()
        return {name: value for name, value in known.items() if name not in own}

    @property
    def begun(self) -> str:
        """Where the call began and what was jumped over, in a sentence; empty where it began at the start."""
        node = self.start.node if self.start else None
        if node is None:
            return ""
        way = way_to(self.tree, node)
        if way is None:
            return f"Begun at {node}. No way leads there from the start."
        if not way:
            return f"Begun at {node}, the start of the tree."
        told = way if len(way) <= _MOST_TOLD else (*way[:3], "...", *way[-2:])
        cautions = dict.fromkeys(str(caution) for name in way for caution in self.tree.nodes[name].cautions)
        guarded = f" Cautions on that way: {', '.join(cautions)}." if cautions else ""
        return f"Begun at {node}. Jumped over: {', '.join(told)}.{guarded}"

    def take_up(self, found: Attempt) -> tuple[str, ...]:
        """Go on with what was saved; the sentences say what became of the call."""
        self.latest = found
        if found.library is None:
            return ()
        then = self.conversation
        names, before = _names(self.good, found), self.good.tree if self.good else None
        notes = list(self._begin_again(found, names))
        self.good, self.library = found, found.library
        self.examined = None
        if self.changing is not None:
            self.changing = None
            notes.append("The change was left.")
        self._take(carry_over(self.answers, before, names) if before else self.answers)
        now = self.conversation
        if not notes:
            parted = parting(then, now, names)
            if parted is None:
                notes.append("Saved. The call goes as it did.")
            else:
                notes.append(f"Saved. The call goes another way from {parted.node} on, to {end_of(now).words()}.")
        if now.unfit is not None:
            notes.append(f"An earlier answer does not fit any more: {now.unfit}")
        return tuple(notes)

    def _begin_again(self, found: Attempt, names: Mapping[str, str]) -> tuple[str, ...]:
        """Set where the call begins in the tree that was saved."""
        assert found.tree is not None
        assert found.library is not None
        start = self.start or Start(found.tree.name)
        node = None if start.node is None else names.get(start.node, start.node)
        known = tuple(name for name in start.known if name in found.library.catalogue.taking_order)
        if node is None or node in found.tree.nodes:
            self.start = Start(found.tree.name, node, known)
            return ()
        self.start = Start(found.tree.name)
        return (f"Saved. There is no node {node} any more, so the call begins at the start.",)

    def _look(self) -> tuple[str, ...]:
        assert self.latest is not None
        found = attempt(self.latest.file, self.latest.layers)
        if found.library is None:
            self.take_up(found)
            return ("The file has mistakes; you walk the tree as it was before them.",)
        return self.take_up(found)

    def _problem_lines(self) -> tuple[str, ...]:
        texts = self.latest.texts if self.latest else {}
        return tuple(render_all(self.problems, texts, _SOURCE_WIDTH).split("\n")) if self.problems else ()


def way_to(tree: Tree, node: str) -> tuple[str, ...] | None:
    """The nodes on the shortest way from the start to a node, that one left out; `None` where no way leads there."""
    along = links(tree)
    came_from: dict[str, str | None] = {tree.start.text: None}
    waiting = [tree.start.text]
    for name in waiting:
        for target in along.get(name, ()):
            if target not in came_from:
                came_from[target] = name
                waiting.append(target)
    if node not in came_from:
        return None
    way: list[str] = []
    at = came_from[node]
    while at is not None:
        way.append(at)
        at = came_from[at]
    return tuple(reversed(way))


def _names(before: Attempt | None, found: Attempt) -> dict[str, str]:
    """Return the new names of nodes, where the saved files call them otherwise."""
    old, new = before.tree if before else None, found.tree
    if before is None or old is None or new is None:
        return {}
    edits = tree_edits(old, new, SourceLines(before.texts), SourceLines(found.texts))
    return new_names(old, {old.name: edits.renamed})
