"""The outline of a tree."""

from assistant.tree.outline import outline
from assistant.tree.reader import read_tree_string

from .test_reader import GOOD, good_tree


def test_an_outline_names_every_node_once_and_where_it_leads() -> None:
    """Nodes come as a call reaches them, first branches first, each with its ways on."""
    assert outline(good_tree()) == (
        "Runs, but cools poorly (good, version 3)\n"
        "  asks first: refrigerant, metering_device\n"
        "\n"
        "settle\n"
        "  caution: moving_parts\n"
        "  ask: minutes_running\n"
        "  minutes_running < 15 min -> settle\n"
        "  cannot tell -> starved\n"
        "  otherwise -> starved\n"
        "\n"
        "starved\n"
        "  superheat > superheat_target + limits.superheat_band -> warm_bulb\n"
        "  cannot tell -> open_end\n"
        "  otherwise -> line\n"
        "\n"
        "warm_bulb\n"
        "  caution: floodback\n"
        "  do: Hold the bulb in a bare hand for three minutes.\n"
        "  measure again: suction_pressure\n"
        "  change(suction_pressure) > 3 psi -> open_end\n"
        "  cannot tell -> open_end\n"
        "  otherwise -> bulb_lost\n"
        "\n"
        "open_end\n"
        "  = undecided: Come back with gauges. Two lines.\n"
        "\n"
        "bulb_lost\n"
        "  = cause: bulb_charge_lost\n"
        "  because: superheat, change(suction_pressure)\n"
        "\n"
        "line\n"
        "  frost_line is none -> open_end\n"
        "  frost_line is at_valve or whole_coil -> fine\n"
        "  cannot tell -> open_end\n"
        "\n"
        "fine\n"
        "  = no fault: no\n"
    )  # fmt: skip


def test_an_outline_fits_its_width() -> None:
    """On a narrow screen, long lines are broken between words."""
    assert max(len(line) for line in outline(good_tree(), 44).splitlines()) <= 44


def test_an_outline_shows_a_tree_with_mistakes() -> None:
    """A tree that is still being written can be drawn."""
    tree, problems = read_tree_string(
        GOOD.replace("go: settle", "go: nowhere").replace("start: settle", "start: x"), "t"
    )
    assert problems == []
    assert tree is not None
    assert "minutes_running < 15 min -> nowhere" in outline(tree)
