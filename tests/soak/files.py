"""Files of every kind, changed by chance and read: `python -m tests.soak.files [COUNT] [SEED] [KIND]...`; only printed.

COUNT of each kind are read and checked, by default 50,000. What comes back is what the file holds, or mistakes with a
place in it: never a trace, and never after more than five seconds.
"""

import json
import random
import re
import sys
import tempfile
import time
from collections import Counter
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Final

from assistant.call.headless import state_by_name, walk_by_name
from assistant.call.library import Library
from assistant.call.loading import load_library
from assistant.catalogue.keys import FILES
from assistant.catalogue.loading import load_catalogue
from assistant.catalogue.rules import check_catalogue
from assistant.errors import CoilsideError
from assistant.practice.training.exercises import read_exercises
from assistant.programs import Talk, run_programs
from assistant.session.session import Session
from assistant.settings import read_settings, template
from assistant.source.problem import Problem
from assistant.source.shipped import shipped_folder
from assistant.store.exchange import imported
from assistant.store.store import Store
from assistant.tree.calls_check import check_answers
from assistant.tree.check import review_file
from assistant.tree.examples import read_answers
from tests.soak.changing import changed_bytes
from tests.soak.counted import memory

SLOW: Final = 5.0
LIST: Final = """
practice: First week
exercises:
  - {title: The bakery, minutes: 30, faults: {dirty_filter: 40%}, complaint: Warm by noon}
  - title: A roof
    system: {refrigerant: R-410A, tons: 3, metering_device: txv}
    weather: {outdoor: 95 F}
    faults: {undercharge: 30%, bulb_loose: 60%}
  - {title: Drawn, seed: 6, difficulty: 2}
"""
ANSWERS: Final = """
facts: {refrigerant: R-410A, metering_device: txv, altitude: 0 ft, subcooling_target: 10 F}
answers:
  filter_condition: clean
  air_at_vents: normal
  outdoor_unit: all_well
  minutes_running: [3 min, 25 min]
  outdoor_air_temperature: 95 F
  suction_pressure: 118 psig
  liquid_pressure: 340 psig
  suction_line_temperature: 52 F
  liquid_line_temperature: 95 F
"""
REQUESTS: Final = "\n".join(
    json.dumps(request)
    for request in (
        {"begin": {"tree": "poor_cooling"}},
        {"answer": "R-410A"},
        {"answer": "why"},
        {"back": True},
        {"begin": {"complaint": "not cold"}},
        {"answer": "1"},
        {"quit": True},
    )
)


@dataclass(frozen=True)
class Sort:
    """A kind of file: texts that are sound, how a changed one is named, and how it is read.

    `read` gives what is wrong with it in words, each with the file's name; an error of ours is words as well.
    """

    name: str
    sound: Sequence[tuple[str, str]]
    read: Callable[[Path], Sequence[str]]


def told(problems: Sequence[Problem], lines: int) -> list[str]:
    """The problems as they are told, each with a place that is there."""
    for problem in problems:
        if not 0 <= problem.place.line <= lines + 1:
            raise AssertionError(f"no such line: {problem}")
    return [str(problem) for problem in problems]


def _lines(path: Path) -> int:
    return path.read_bytes().count(b"\n") + path.read_bytes().count(b"\r") + 1


def _tree(library: Library, path: Path) -> list[str]:
    review = review_file(path, library.catalogue, [shipped_folder("trees"), path.parent])
    return told([*review.problems, *review.notes], _lines(path))


def _catalogue(path: Path) -> list[str]:
    catalogue, problems = load_catalogue(path.parent)
    here = [problem for problem in problems if problem.place.path == str(path)]
    list(check_catalogue(catalogue))
    return told(here, _lines(path))


def _answers(library: Library, path: Path) -> list[str]:
    answers, problems = read_answers(path)
    tree = library.tree("poor_cooling")
    found = [*problems, *check_answers(answers, tree, library.catalogue)]
    if not found:
        walk_by_name(library, tree.name, answers.texts())
        list(state_by_name(library.catalogue, answers.texts()).sheet.all_numbers())
    return told(found, _lines(path))


def _imported(library: Library, store: Store, path: Path) -> list[str]:
    return list(imported(store, path, library)[1])


def _settings(path: Path) -> list[str]:
    read_settings.cache_clear()
    return list(read_settings(path).problems)


def _exercises(path: Path) -> list[str]:
    return told(read_exercises(path)[1], _lines(path))


def _requests(library: Library, path: Path) -> list[str]:
    lines = iter(path.read_bytes().decode("utf-8", "surrogateescape").split("\n"))
    said: list[str] = []
    run_programs(Talk(lambda: Session(library, None, "us")), partial(next, lines, None), said.append)
    return [str(path)] if all(isinstance(json.loads(one), dict) for one in said) else ["no object"]


def sorts(library: Library, store: Store) -> list[Sort]:
    """Every kind of file that is read."""
    trees, demos = shipped_folder("trees"), shipped_folder("transcripts_demo")
    texts = [(file.name, file.read_text(encoding="utf-8")) for file in sorted(trees.glob("*.yaml"))]
    # Short ones that use no others are read more often, so that a long run meets more mistakes in its time.
    short = [
        (name, text) for name, text in texts if "calls" not in name and len(text) < 9000 and "    use:" not in text
    ]
    calls = [(f"{name.removesuffix('.yaml')}.calls.yaml", dict(texts)[f"{name.removesuffix('.yaml')}.calls.yaml"])
             for name, _ in short]  # fmt: skip
    own = [(f"{name}.yaml", _catalogue_text(trees / "catalogue", name)) for name in FILES]
    return [
        Sort("trees", [*short * 20, *(one for one in texts if "calls" not in one[0])], partial(_tree, library)),
        Sort("catalogue", own, _catalogue),
        Sort("example calls", calls, partial(_tree, library)),
        Sort("answers", [("answers.yaml", ANSWERS)], partial(_answers, library)),
        Sort("calls as files", [(file.name, file.read_text(encoding="utf-8")) for file in sorted(demos.glob("*.yaml"))],
             partial(_imported, library, store)),
        Sort("settings", [("settings.toml", re.sub(r"(?m)^# (?=\w+ = )", "", template()))], _settings),
        Sort("lists", [("list.yaml", LIST)], _exercises),
        Sort("requests", [("requests", REQUESTS)], partial(_requests, library)),
    ]  # fmt: skip


def _catalogue_text(folder: Path, name: str) -> str:
    files = [folder / f"{name}.yaml", *sorted((folder / name).glob("*.yaml"))]
    return min((file.read_text(encoding="utf-8") for file in files if file.is_file()), key=len)


def read_changed(sort: Sort, count: int, folder: Path, dice: random.Random) -> tuple[Counter[str], list[str]]:
    """Read so many changed files of a kind; gives how they came out, and what went wrong."""
    came: Counter[str] = Counter()
    wrong: list[str] = []
    slowest = 0.0
    for _ in range(count):
        state = dice.getrandbits(64)
        chance = random.Random(state)
        name, text = chance.choice(sort.sound)
        path = folder / name
        path.write_bytes(changed_bytes(text, chance))
        begun = time.monotonic()
        try:
            said = sort.read(path)
            came["sound" if not said else "told"] += 1
            if said and sort.name != "calls as files" and not all(str(path) in one for one in said):
                wrong.append(f"{state} {name}: told without the file's name: {said[0][:200]}")
        except CoilsideError as error:
            came["refused"] += 1
            if not str(error):
                wrong.append(f"{state} {name}: refused without a word")
        except Exception as error:
            wrong.append(f"{state} {name}: {type(error).__name__}: {error}")
        slowest = max(slowest, time.monotonic() - begun)
        path.unlink()
    if slowest > SLOW:
        wrong.append(f"one took {slowest:.1f} s")
    came["slowest [ms]"] = round(slowest * 1000)
    return came, wrong


def main() -> None:
    """Print how it went."""
    count = int(sys.argv[1]) if len(sys.argv) > 1 else 50_000
    seed = int(sys.argv[2]) if len(sys.argv) > 2 else 1
    library, _ = load_library(shipped_folder("trees"))
    with tempfile.TemporaryDirectory() as name, Store(Path(name) / "home" / "calls.db") as store:
        for sort in sorts(library, store):
            if len(sys.argv) > 3 and sort.name not in sys.argv[3:]:
                continue
            begun = time.monotonic()
            came, wrong = read_changed(sort, count, Path(name), random.Random(f"{seed} {sort.name}"))
            took = time.monotonic() - begun
            said = ", ".join(f"{number:,} {what}" for what, number in came.items())
            print(f"{sort.name}: {count:,} in {took:.0f} s: {said}; {len(wrong)} wrong; {memory()}", flush=True)
            for one in wrong[:20]:
                print(f"  WRONG {one[:300]!r}")


if __name__ == "__main__":
    main()
