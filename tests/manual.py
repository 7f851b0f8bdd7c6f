"""Working through a page of the manual as a reader would: files are written, edited and checked, commands are run.

What is to be done with a fenced block stands in a comment in front of it:

- `file PATH`: a file that is written; a tree, or what lies in a shop's folder over the shipped one, has no problem;
- `node`, `nodes`: what stands at the node `first`, or several nodes; no problem. `wrong node: CODE` gives that one;
- `conditions`: one condition a line, each without a problem;
- `copy FROM TO`, `edit PATH`: a folder is copied; a line of a file is replaced, as the diff says;
- `run`, `run, exit CODE`: commands, which end so;
- `shows`: lines that the last of the commands before it has printed.
"""

import contextlib
import io
import os
import re
import shlex
import shutil
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from assistant.catalogue.layers import load_layers
from assistant.cli.checking import check_path
from assistant.cli.main import main
from assistant.source.shipped import shipped_folder
from assistant.tree.codes.explanation import Part, whole

_BLOCK = re.compile(r"((?:^<!-- .*? -->\n)*)^```(\w*)\n(.*?)^```$", re.DOTALL | re.MULTILINE)
_COMMENT = re.compile(r"<!-- (.*?) -->")
_PARTS: dict[str, Part] = {"node": "first", "nodes": "nodes"}


@dataclass(frozen=True)
class Block:
    """One fenced block: its line in the page, its language, its text, and what is to be done with it."""

    line: int
    language: str
    text: str
    orders: tuple[str, ...]


def blocks(page: str) -> tuple[Block, ...]:
    """Every fenced block of a page, in order."""
    return tuple(
        Block(page.count("\n", 0, found.start(2)) + 1, found[2], found[3], tuple(_COMMENT.findall(found[1])))
        for found in _BLOCK.finditer(page)
    )


class Reader:
    """Somebody who does what the page says, in a folder of their own; `shown` is what the last command printed."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.shown = ""

    def do(self, block: Block) -> Iterator[str]:
        """Do what a block says, and give everything that is not as the page has it."""
        if not block.orders:
            yield f"nothing says what to do with this {block.language or 'block'}"
        for order in block.orders:
            word, _, rest = order.partition(" ")
            known = getattr(self, f"_do_{word.strip(',')}", None)
            if known is None:
                yield f"nobody knows what {order!r} means"
            else:
                yield from known(rest, block.text)

    def _do_file(self, name: str, text: str) -> Iterator[str]:
        file = self.folder / name
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
        top = self.folder / Path(name).parts[0]
        if top.name == "shop":
            _, problems, _ = load_layers([shipped_folder("trees") / "catalogue", top / "catalogue"])
            found = problems if "catalogue" in file.parts else check_path(file, shop=top).problems
            yield from (str(problem) for problem in found)
        elif file.parent != self.folder:
            yield from (str(problem) for problem in check_path(file).problems)

    def _do_node(self, _: str, text: str) -> Iterator[str]:
        yield from self._fragment(whole("first", text), "")

    def _do_nodes(self, _: str, text: str) -> Iterator[str]:
        yield from self._fragment(whole("nodes", text), "")

    def _do_wrong(self, what: str, text: str) -> Iterator[str]:
        part, _, code = what.partition(": ")
        yield from self._fragment(whole(_PARTS[part], text), code)

    def _do_conditions(self, _: str, text: str) -> Iterator[str]:
        for line in text.splitlines():
            yield from self._fragment(whole("condition", line), "")

    def _fragment(self, text: str, code: str) -> Iterator[str]:
        folder = self.folder / "fragment"
        folder.mkdir(exist_ok=True)
        (folder / "example.yaml").write_text(text, encoding="utf-8")
        found = [problem.code for problem in check_path(folder / "example.yaml").problems]
        if found != ([code] if code else []):
            yield f"expected {code or 'no problem'}, found {', '.join(found) or 'none'} in\n{text}"

    def _do_copy(self, names: str, _: str) -> Iterator[str]:
        shutil.copytree(*(self.folder / name for name in names.split()))
        yield from ()

    def _do_edit(self, name: str, diff: str) -> Iterator[str]:
        file = self.folder / name
        old, new = ("".join(f"{line[1:]}\n" for line in diff.splitlines() if line[0] == sign) for sign in "-+")
        text = file.read_text(encoding="utf-8")
        if text.count(old) != 1:
            yield f"{file.name} holds this {text.count(old)} times:\n{old}"
        file.write_text(text.replace(old, new), encoding="utf-8")

    def _do_shows(self, _: str, text: str) -> Iterator[str]:
        if text not in self.shown:
            yield f"the page shows\n{text}but what was printed is\n{self.shown}"

    def _do_run(self, end: str, commands: str) -> Iterator[str]:
        expected = int(end.removeprefix("exit ") or 0)
        for line in commands.splitlines():
            name, *arguments = shlex.split(line)
            if name != "coilside":
                yield f"a page of the manual runs coilside alone, not {line}"
                continue
            kept = arguments.index(">") if ">" in arguments else len(arguments)
            code, out, err = run_in(self.folder, arguments[:kept])
            if code != expected:
                yield f"{line} ended with {code}\n{out}{err}"
            if kept < len(arguments):
                (self.folder / arguments[kept + 1]).write_text(out, encoding="utf-8")
            self.shown = out + err


def run_in(folder: Path, arguments: list[str]) -> tuple[int, str, str]:
    """The exit code of a command run in a folder with nobody at the keyboard, and what it printed."""
    out, err = io.StringIO(), io.StringIO()
    here, keyboard = Path.cwd(), sys.stdin
    os.chdir(folder)
    sys.stdin = io.StringIO()
    try:
        with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
            main(arguments)
    except SystemExit as ended:
        return int(ended.code or 0), out.getvalue(), err.getvalue()
    finally:
        os.chdir(here)
        sys.stdin = keyboard
    raise AssertionError("a command always exits")
