"""Programs killed as the power does: `python -m tests.soak.kills [KILLS] [SEED] [SORT]...`, by default 1,000 of all.

Most are killed in front of one of their own write calls (`killing.py`): each of these is hit at least once, then
places are drawn. A tenth are calls on a terminal (`chat`), a fifth of them killed at a moment by chance. After each,
what lies on disk is held against what had been acknowledged, and the next program must go on with it as if nothing had
happened. It is only printed.
"""

import random
import shutil
import subprocess
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import takewhile
from pathlib import Path
from typing import Final

from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.call.prompts import DoStep
from assistant.practice.session.practice_call import PracticeCall
from assistant.practice.session.practice_results import FILE_NAME
from assistant.session.session import Session
from assistant.source.shipped import shipped_folder
from assistant.store.exchange import exported
from assistant.store.opening import mend
from assistant.store.soundness import PARTS
from assistant.store.store import Line, Store
from assistant.store.times import now
from tests.answering import written
from tests.cli.lines import REPLIES, STORED, folder_of_small
from tests.cli.running import START, environment
from tests.cli.terminal import Terminal
from tests.soak.counted import memory

SIZE: Final = (200, 60)
"""So wide that no question is wrapped: then it can be found among what was sent."""
ENDED: Final = {"chat": "END OF THE CALL", "plain": "The call has ended."}
"""What shows behind the last answer."""
SLOW: Final = 5.0
KEPT: Final = " is kept. Pick it up with: "
PRACTICE: Final = """
practice: First week
exercises:
  - {title: The bakery, minutes: 30, faults: {dirty_filter: 40%}, complaint: Warm by noon}
"""
PRACTICE_REPLIES: Final = ("", "1", "2", "", "agree")
CALLS: Final = 14


@dataclass(frozen=True)
class Round:
    """How one round went: answers acknowledged when the kill came, answers found afterwards, what is wrong if any."""

    acknowledged: int
    found: int
    wrong: str = ""


def questions(library: Library) -> list[str]:
    """The question that each reply answers, as far as a line of the screen holds it."""
    session = Session(library, None)
    asked: list[str] = []
    for reply in REPLIES:
        assert session.prompt is not None
        # Of an act its title is on one line; how it is done goes over many.
        asked.append(session.prompt.title if isinstance(session.prompt, DoStep) else session.prompt.question)
        session.say(reply)
    assert session.prompt is None
    return asked


def killed(
    options: Sequence[str | Path], asked: Sequence[str], lifetime: float, before: Sequence[str | Path] = ()
) -> int:
    """Type the call on a terminal until it ends or its time [s] is over, then kill it; `before` is what it runs under.

    Gives the answers whose next question was seen.
    """
    end = time.monotonic() + lifetime
    width, height = SIZE
    with Terminal("call", *options, width=width, height=height, before=before) as terminal:
        seen = -1
        while seen + 1 < len(asked) and terminal.wait_until_shown(asked[seen + 1], max(end - time.monotonic(), 0.0)):
            seen += 1
            if seen < len(REPLIES):
                terminal.press(f"{REPLIES[seen]}\r")
    return max(seen, 0)


def check(library: Library, home: Path, acknowledged: int) -> Round:
    """Open the record and hold it against what was acknowledged."""
    if not (home / "calls.db").exists():
        return Round(acknowledged, 0, "the record is missing" if acknowledged else "")
    with Store(home / "calls.db") as store:
        entries = store.entries()
        found = [(answer.name, answer.text) for entry in entries for answer in store.answers(entry.number)]
        if found != list(STORED[: len(found)]):
            return Round(acknowledged, len(found), f"other answers than were typed: {found}")
        if len(found) < acknowledged:
            return Round(acknowledged, len(found), f"lost {acknowledged - len(found)}")
        if entries:
            again = Session.resume(library, store, entries[0].number)
            uncut = Session(library, None)
            for reply in REPLIES[: len(found)]:
                uncut.say(reply)
            if (again.conversation.turns, again.prompt) != (uncut.conversation.turns, uncut.prompt):
                return Round(acknowledged, len(found), "another conversation")
    return Round(acknowledged, len(found))


@dataclass
class Sort:
    """One sort of program to be killed, with a folder of its own for each round.

    `prepared` is copied into it first. `told` is all that had come out of the program when it was killed.
    """

    name: str
    command: tuple[str, ...]
    typed: str
    check: Callable[[Path, str], Round]
    prepared: Path | None = None
    places: list[str] = field(default_factory=list)
    hit: Counter[str] = field(default_factory=Counter)
    rounds: list[Round] = field(default_factory=list)

    def run(self, folder: Path, nth: int) -> tuple[int, list[str], str]:
        """Run the program in a folder until its `nth` change there; gives its exit code, its changes, what it said."""
        home, report = folder / "home", folder / "report"
        if self.prepared is not None:
            shutil.copytree(self.prepared, home)
        words = [word.replace("HOME", str(home)) for word in self.command]
        told = subprocess.run(
            [sys.executable, "-m", "tests.soak.killing", str(nth), report, home, sys.executable, "-c", START, *words],
            input=self.typed,
            capture_output=True,
            encoding="utf-8",
            env=environment({"COILSIDE_SETTINGS": str(home / "settings.toml")}),
            check=False,
        )
        changes = report.read_text(encoding="utf-8").splitlines() if report.exists() else [told.stderr]
        return told.returncode, changes, told.stdout + told.stderr

    def round(self, folder: Path, nth: int) -> None:
        """Kill it in front of its `nth` change, and look at what is left."""
        _, changes, told = self.run(folder, nth)
        begun = time.monotonic()
        try:
            found = self.check(folder / "home", told)
        except Exception as error:
            found = Round(0, 0, f"{type(error).__name__}: {error}")
        took = time.monotonic() - begun
        if "Traceback" in told:
            found = replace(found, wrong=f"a trace: {told[-300:]}")
        if took > SLOW:
            found = replace(found, wrong=f"going on took {took:.1f} s")
        place = spelled(changes[-1]) if changes else "nothing"
        self.hit[place] += 1
        self.rounds.append(replace(found, wrong=f"{nth}: {place}: {found.wrong}") if found.wrong else found)


def spelled(change: str) -> str:
    """A change without what is drawn anew in the name of each file that is not yet whole."""
    call, _, file = change.partition(" ")
    return f"{call} {file.rpartition('.')[0]}.*" if file.startswith(".") else change


class Sorts:
    """What is killed, each prepared in a part of one folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.trees = folder_of_small(folder / "trees")
        self.small, _ = load_library(self.trees)

    @cached_property
    def shipped(self) -> Library:
        """The shipped trees."""
        return load_library(shipped_folder("trees"))[0]

    def all(self, wanted: Sequence[str] = ()) -> list[Sort]:
        """Every sort but the chat on a terminal, or those that are wanted, by the names of what makes them."""
        makers = (self.plain, self.practice, self.imported, self.mended, self.settings, self.results, self.sheet,
                  self.exported)  # fmt: skip
        return [make() for make in makers if not wanted or make.__name__ in wanted]

    def _texts(self, command: Sequence[str], replies: Sequence[str]) -> list[str]:
        """What a program has said when it has taken so many replies; the next question stands at the end."""
        texts = []
        for count in range(len(replies) + 1):
            with tempfile.TemporaryDirectory(dir=self.folder) as name:
                typed = "".join(f"{reply}\n" for reply in replies[:count])
                ran = Sort("", tuple(command), typed, lambda home, told: Round(0, 0)).run(Path(name), 0)
            texts.append("\n".join(takewhile(lambda line: KEPT not in line, ran[2].splitlines())).rstrip())
        return texts

    def plain(self) -> Sort:
        """A call line by line."""
        command = ("call", "--plain", "--trees", str(self.trees), "--home", "HOME")
        texts = self._texts(command, REPLIES)

        def checked(home: Path, told: str) -> Round:
            return check(self.small, home, acknowledged(texts, told))

        return Sort("plain", command, "".join(f"{reply}\n" for reply in REPLIES), checked)

    def practice(self) -> Sort:
        """A practice call line by line, to its review and its line in the file of results."""
        exercises = self.folder / "list.yaml"
        exercises.write_text(PRACTICE, encoding="utf-8")
        command = ("practice", "call", "--plain", "--list", str(exercises), "--home", "HOME")
        texts = self._texts(command, PRACTICE_REPLIES)
        uncut = []
        for count in range(len(PRACTICE_REPLIES) + 1):
            with tempfile.TemporaryDirectory(dir=self.folder) as name:
                typed = "".join(f"{reply}\n" for reply in PRACTICE_REPLIES[:count])
                Sort("", command, typed, lambda home, told: Round(0, 0)).run(Path(name), 0)
                uncut.append(self._of_practice(Path(name) / "home"))

        def checked(home: Path, told: str) -> Round:
            least = acknowledged(texts, told)
            if not (home / "practice.db").exists():
                return Round(least, 0, "the record is missing" if least else "")
            there = self._of_practice(home)
            counts = [count for count, turns in enumerate(uncut) if turns == there]
            if not counts:
                return Round(least, 0, "another practice call")
            wrong = "" if counts[-1] >= least else f"lost {least - counts[-1]}"
            rows = (home / FILE_NAME).read_text(encoding="utf-8") if (home / FILE_NAME).exists() else ""
            if rows and not rows.endswith("\n"):
                wrong = "half a line of results"
            return Round(least, counts[-1], wrong)

        return Sort("practice", command, "".join(f"{reply}\n" for reply in PRACTICE_REPLIES), checked)

    def _of_practice(self, home: Path) -> object:
        with Store(home / "practice.db") as store:
            entries = store.entries()
            if not entries:
                return None
            session = PracticeCall.picked_up(self.shipped, store, entries[0].number)
            return session.shown.turns, session.shown.prompt

    def _filled(self, name: str, calls: int) -> Path:
        home = self.folder / name
        with Store(home / "calls.db") as store:
            for count in range(calls):
                lines = [Line(now(), "set", written(f"answer_{number}", "73 psig")) for number in range(5)]
                store.describe(store.add_call(lines, f"call {count}"), f"complaint {count}", "ended", "", "tree 1")
        return home

    def imported(self) -> Sort:
        """A call that comes in as a file, beside three that are there."""
        home = self._filled("import", 3)
        file = self.folder / "call.yaml"
        with Store(home / "calls.db") as store:
            file.write_text(exported(store, 1), encoding="utf-8")

        def checked(home: Path, told: str) -> Round:
            least = 4 if "Kept as call" in told or "kept as call" in told else 3
            with Store(home / "calls.db") as store:
                counts = [len(store.answers(entry.number)) for entry in store.entries()]
            wrong = "" if least <= len(counts) <= 4 and set(counts) == {5} else f"calls of {counts} answers"
            return Round(least, len(counts), wrong)

        return Sort("import", ("calls", "import", str(file), "--home", "HOME"), "", checked, home)

    def mended(self) -> Sort:
        """A damaged record of which all calls can be read, looked through and put in order."""
        home = self.folder / "mend"
        whole = self._filled("mend-whole", 1)
        with Store(whole / "calls.db") as store:
            for count in range(1, CALLS):
                lines = [Line(now(), "set", written(f"answer_{number}", "73 psig")) for number in range(5)]
                store.add_call(lines, f"call {count}")
            home.mkdir()
            for part in PARTS[:3]:
                shutil.copyfile(whole / f"calls.db{part}", home / f"calls.db{part}")
        data = bytearray((home / "calls.db").read_bytes())
        data[18] = 7
        (home / "calls.db").write_bytes(data)

        def checked(home: Path, told: str) -> Round:
            mend(home / "calls.db")
            with Store(home / "calls.db") as store:
                counts = {entry.number: len(store.answers(entry.number)) for entry in store.entries()}
            kept = [file.read_bytes() for file in home.glob("calls-damaged-*.db")]
            wrong = "" if counts == dict.fromkeys(range(1, CALLS + 1), 5) else f"saved {counts}"
            return Round(CALLS, len(counts), wrong or ("" if kept == [bytes(data)] else "the damaged file is not kept"))

        return Sort("mend", ("calls", "mend", "--home", "HOME"), "", checked, home)

    def _of_a_file(self, name: str, command: tuple[str, ...], file: str, prepared: Path | None, old: str = "") -> Sort:
        """A file that is written: it is as it was, or whole."""
        if prepared is not None and old:
            (prepared / file).write_text(old, encoding="utf-8")
        sort = Sort(name, command, "", lambda home, told: Round(0, 0), prepared)
        with tempfile.TemporaryDirectory(dir=self.folder) as made:
            sort.run(Path(made), 0)
            whole = (Path(made) / "home" / file).read_text(encoding="utf-8")

        def checked(home: Path, told: str) -> Round:
            there = (home / file).read_text(encoding="utf-8") if (home / file).exists() else ""
            return Round(0, int(there == whole), "" if there in (old, whole) else f"half a file: {there[:80]!r}")

        return replace(sort, check=checked)

    def settings(self) -> Sort:
        """The file of settings to begin with."""
        home = self.folder / "settings"
        home.mkdir()
        return self._of_a_file("settings", ("settings", "--write"), "settings.toml", home)

    def sheet(self) -> Sort:
        """A call sheet over an earlier one."""
        home = self._filled("sheet", 1)
        command = ("calls", "sheet", "1", "--format", "html", "--output", "HOME/sheet.html", "--home", "HOME")
        return self._of_a_file("sheet", command, "sheet.html", home, "an earlier sheet\n")

    def exported(self) -> Sort:
        """A call as a file, over an earlier one."""
        home = self._filled("export", 1)
        command = ("calls", "export", "1", "--output", "HOME/call.yaml", "--home", "HOME")
        return self._of_a_file("export", command, "call.yaml", home, "an earlier file\n")

    def results(self) -> Sort:
        """The file of results, worked again from the record."""
        sort = self.practice()
        home = self.folder / "results"
        with tempfile.TemporaryDirectory(dir=self.folder) as made:
            sort.run(Path(made), 0)
            shutil.copytree(Path(made) / "home", home)
        (home / FILE_NAME).unlink()
        found = self._of_a_file("results", ("practice", "results", "--home", "HOME"), FILE_NAME, home)
        return found


def acknowledged(texts: Sequence[str], told: str) -> int:
    """How many replies a program has acknowledged, by what it had said: the question behind each was out whole."""
    return max((count for count, text in enumerate(texts) if told.startswith(text)), default=0)


def chats(sorts: Sorts, count: int, dice: random.Random) -> list[Sort]:
    """Kill calls on a terminal: most in front of a write call, a fifth at a moment by chance."""
    asked = (*questions(sorts.small), ENDED["chat"])
    by_place = Sort("chat, at a write call", (), "", lambda home, told: Round(0, 0))
    by_chance = replace(by_place, name="chat, at any moment", hit=Counter(), rounds=[], places=[])
    options = ("--no-color", "--trees", sorts.trees, "--home")

    def under(folder: Path, nth: int) -> tuple[str | Path, ...]:
        return (sys.executable, "-m", "tests.soak.killing", str(nth), folder / "report", folder / "home")

    with tempfile.TemporaryDirectory(dir=sorts.folder) as name:
        begun = time.monotonic()
        killed((*options, Path(name) / "home"), asked, 60.0, under(Path(name), 0))
        whole = time.monotonic() - begun
        by_place.places = (Path(name) / "report").read_text(encoding="utf-8").splitlines()
    last = len(by_place.places)
    at_places = count - count // 5
    places = dice.sample(range(1, last + 1), min(at_places, last))
    places += dice.choices(range(1, last + 1), k=at_places - len(places))
    for place in places:
        with tempfile.TemporaryDirectory(dir=sorts.folder) as name:
            home = Path(name) / "home"
            seen = killed((*options, home), asked, 60.0, under(Path(name), place))
            by_place.hit[spelled((Path(name) / "report").read_text(encoding="utf-8").splitlines()[-1])] += 1
            by_place.rounds.append(check(sorts.small, home, seen))
    for _ in range(count - at_places):
        with tempfile.TemporaryDirectory(dir=sorts.folder) as name:
            home = Path(name) / "home"
            seen = killed((*options, home), asked, whole * dice.uniform(0.4, 1.02))
            by_chance.rounds.append(check(sorts.small, home, seen))
    return [by_place, by_chance]


def kill_each(sorts: Sequence[Sort], folder: Path, count: int, dice: random.Random) -> None:
    """Kill so many programs, each sort in front of each of its changes in turn, then at places that are drawn."""
    for sort in sorts:
        with tempfile.TemporaryDirectory(dir=folder) as name:
            sort.places = sort.run(Path(name), 0)[1]
    plan = [(sort, place) for sort in sorts for place in range(1, len(sort.places) + 1)]
    if count < len(plan):
        plan = dice.sample(plan, count)
    while len(plan) < count:
        sort = dice.choice(sorts)
        plan.append((sort, dice.randrange(1, len(sort.places) + 1)))
    for sort, place in plan:
        with tempfile.TemporaryDirectory(dir=folder) as name:
            sort.round(Path(name), place)


def report(sort: Sort) -> None:
    """Print how one sort went."""
    wrong = [each.wrong for each in sort.rounds if each.wrong]
    acked, found = (sum(getattr(each, name) for each in sort.rounds) for name in ("acknowledged", "found"))
    print(f"{sort.name}: {len(sort.rounds)} killed, {acked} acknowledged, {found} found, {len(wrong)} wrong")
    missed = {spelled(change) for change in sort.places} - set(sort.hit)
    print(f"  {len(sort.places)} changes in a whole run, not hit: {', '.join(sorted(missed)) or 'none'}")
    print("  " + ", ".join(f"{count} {place}" for place, count in sort.hit.most_common()))
    for said in wrong[:20]:
        print(f"  WRONG {said}")


def main() -> None:
    """Print how the rounds went."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    dice = random.Random(int(sys.argv[2]) if len(sys.argv) > 2 else 1)
    wanted = sys.argv[3:]
    begun = time.monotonic()
    with tempfile.TemporaryDirectory() as name:
        made = Sorts(Path(name))
        sorts = made.all(wanted)
        of_chat = 0 if wanted and "chat" not in wanted else count // 10 if sorts else count
        kill_each(sorts, Path(name), count - of_chat, dice)
        if of_chat:
            sorts += chats(made, of_chat, dice)
        for sort in sorts:
            report(sort)
    print(f"{sum(len(sort.rounds) for sort in sorts)} kills in {time.monotonic() - begun:.0f} s, {memory()}")


if __name__ == "__main__":
    main()
