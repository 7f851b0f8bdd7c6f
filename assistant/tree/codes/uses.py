"""Codes of trees that use other trees."""

from assistant.tree.codes.explanation import explained

USES = (
    explained(
        "shape-use",
        "A node uses a tree and does something else as well",
        """"use:" hands the call over to another tree. What is to be asked, done or decided before or behind it stands
        in a node of its own; "caution" and "say" may come first.""",
        "nodes",
        """
        first:
          use: look_at_filter
          do: set_blower_speed
        """,
        """
        first:
          do: set_blower_speed
          decide:
            - cannot_tell: open_end
            - otherwise: filter
        filter:
          use: look_at_filter
        """,
    ),
    explained(
        "tree-use-end",
        "A used tree never ends in the way that is waited for",
        """The node behind "when_no_fault" or "when_undecided" is come to when the used tree ends so, and this one never
        does. A cause found there ends the call. Without such a way, the call ends where the used tree does.""",
        "first",
        "use: look_at_filter\nwhen_no_fault: fine\nwhen_undecided: open_end",
        "use: look_at_filter\nwhen_undecided: open_end",
    ),
    explained(
        "tree-use-large",
        "A tree grows too large with the trees it uses",
        """Every use brings all nodes of the used tree along. Where trees use each other twice, and these again, that
        soon is more than any call needs.""",
    ),
    explained(
        "tree-use-mode",
        "A used tree is for another mode",
        """A reading means one thing while the system cools and another while it heats. So a tree for one mode is used
        by trees for the same mode, or by such as ask for the mode and decide by it.""",
    ),
    explained(
        "tree-use-ring",
        "A tree uses itself",
        """Directly or through others, the tree would begin inside itself again and never end. To come back to a step,
        lead to it with "go", "when_no_fault" or "when_undecided".""",
        "first",
        "use: example",
        "use: look_at_filter",
    ),
)
