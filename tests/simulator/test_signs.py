"""The page that explains what each fault does, held to the practice system."""

import re
from pathlib import Path

import pytest

from assistant.quantity import fahrenheit
from assistant.simulator.faults import FAULTS
from assistant.simulator.plant import DeviceKind, Mode
from assistant.simulator.signs import QUANTITIES, changes, sign
from assistant.simulator.system import Wish

PAGE = (Path(__file__).parents[2] / "assistant" / "simulator" / "signs.md").read_text(encoding="utf-8")
RATED = {"cooling": (95.0, 80.0, 67.0), "heating": (47.0, 70.0, 60.0)}
KINDS: tuple[tuple[Mode, DeviceKind], ...] = (
    ("cooling", "txv"),
    ("cooling", "fixed_orifice"),
    ("heating", "txv"),
    ("heating", "fixed_orifice"),
)


def sections() -> dict[str, str]:
    """What the page says of each fault, by its name."""
    parts = re.split(r"^## (\w+)\n", PAGE, flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


@pytest.mark.parametrize(("mode", "device"), KINDS)
def test_the_page_shows_the_signs_of_the_system(mode: Mode, device: DeviceKind) -> None:
    """Every row of the page is what the system does with that fault at its usual severity."""
    outdoor, dry, wet = map(fahrenheit, RATED[mode])
    wish = Wish("R-410A", 3.0, device, outdoor, dry, wet, mode=mode)
    worked = {one.fault.fault.name: " ".join(map(sign, one.changes)) for one in changes(wish)}
    told = {
        name: row.group(1)
        for name, text in sections().items()
        if (row := re.search(rf"^{mode} {device} +([-+0 ]+)$", text, flags=re.MULTILINE))
    }
    assert told == worked
    assert all(len(row.split()) == len(QUANTITIES[mode]) for row in told.values())


def test_every_fault_is_explained() -> None:
    """Each fault has its section, with a paragraph of more than a sentence."""
    assert list(sections()) == list(FAULTS)
    for name, text in sections().items():
        words = text.rpartition("```")[2].split()
        assert len(words) > 35, name


def test_what_hardly_moves_has_no_sign() -> None:
    """A change of half a kelvin is told as none, and more as what it is."""
    assert [sign(change) for change in (-0.6, -0.4, 0.0, 0.5, 0.51)] == ["-", "0", "0", "0", "+"]
