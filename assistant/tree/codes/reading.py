"""Codes of files that cannot be read, and of YAML as we do not take it."""

from assistant.tree.codes.explanation import explained

READING = (
    explained(
        "file-encoding",
        "The file is not saved as UTF-8",
        """Everything is read as UTF-8, so that a degree sign is a degree sign on every computer. Text saved otherwise
        would come out as other characters, or not at all.""",
    ),
    explained(
        "file-ending",
        "A file ends in .yml",
        """Trees end in .yaml. A file with another ending would be passed over on a call without a word.""",
    ),
    explained(
        "file-folder",
        "A folder stands where a file is needed",
        "The name leads to a folder. Name a file in it.",
    ),
    explained(
        "file-large",
        "The file is larger than 2 MB",
        """The largest tree anybody could keep in mind has a tenth of that. Something else was probably saved under this
        name.""",
    ),
    explained("file-missing", "There is no such file", "The name or the folder is misspelt, or the file was moved."),
    explained(
        "file-special",
        "This is not an ordinary file",
        "A device or a pipe could keep the program waiting for ever, so it is not read.",
    ),
    explained(
        "file-unreadable",
        "The file or folder cannot be read",
        "The computer refuses it: mostly the account may not read it. The message says what the computer says.",
    ),
    explained(
        "yaml-alias",
        "A part of the file refers to another part",
        """A problem must point at the one spot where its author wrote the words, and nothing may grow beyond what is on
        the page. So & and * are not used; a text that begins with one goes in quotes.""",
        "first",
        "say: *warning\ngo: open_end",
        "say: Wait until the gauges stand still.\ngo: open_end",
    ),
    explained(
        "yaml-block",
        "A text behind | or > does not begin on the next line",
        "Behind | and > stands nothing; the text follows on the next lines, indented.",
        "first",
        "say: | Wait.\ngo: open_end",
        "say: |\n  Wait.\ngo: open_end",
    ),
    explained(
        "yaml-bracket",
        "A list or a { } is not closed",
        "A bracket is open, or a comma is missing between two items.",
        "first",
        "ask: [filter_condition, air_at_vents\ngo: open_end",
        "ask: [minutes_running, suction_pressure]\ndecide:\n  - when: minutes_running < 15 min and superheat > 12 F\n"
        "    go: found\n  - cannot_tell: open_end\n  - otherwise: open_end",
    ),
    explained(
        "yaml-colon",
        "A colon too many or too few",
        """A colon and a space part a key from its value. A text that holds such a pair goes in quotes; a key without
        its colon is no key.""",
        "first",
        "say: Remember: air first.\ngo: open_end",
        'say: "Remember: air first."\ngo: open_end',
    ),
    explained(
        "yaml-control",
        "An invisible character is in the text",
        """Control characters and those that turn the direction of writing make a line read otherwise than it works.
        They come in with text copied from elsewhere. Type the part again.""",
    ),
    explained(
        "yaml-deep",
        "Lists and keys are nested too deep",
        "No tree needs more than a few levels. A bracket is probably repeated or never closed.",
        "first",
        "ask: [[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[[minutes_running]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]]\ngo: open_end",
        "ask: minutes_running\ndecide:\n  - when: minutes_running < 15 min\n    go: found\n"
        "  - cannot_tell: open_end\n  - otherwise: open_end",
    ),
    explained(
        "yaml-directive",
        "A line begins with %",
        "At the start of a line, % is an instruction to the reader of the file; nothing here needs one.",
        "file",
        "%FOO bar\ntree: example",
        "tree: example\nversion: 1\ntitle: An example\ncomplaints: [warm air]\nstart: fine\nnodes:\n"
        "  fine:\n    no_fault: Nothing wrong was found.",
    ),
    explained(
        "yaml-documents",
        "A second document begins in the file",
        "A line of three hyphens begins another document. A file holds one tree, so that the two have the same name.",
        "file",
        "tree: example\n---\ntree: other",
        "tree: example\nversion: 1\ntitle: An example\ncomplaints: [warm air]\nstart: fine\nnodes:\n"
        "  fine:\n    no_fault: Nothing wrong was found.",
    ),
    explained(
        "yaml-duplicate",
        "The same key or node stands twice",
        "Only one of the two could count, and nobody would see which.",
        "first",
        "say: Air first.\nsay: Then the circuit.\ngo: open_end",
        "say: Air first, then the circuit.\ngo: open_end",
    ),
    explained("yaml-empty", "The file is empty", "Nothing is in it, or nothing but remarks.", "file", "# later\n", ""),
    explained(
        "yaml-indent",
        "A line does not fit what is above it",
        """How far a line is indented says what it belongs to. Keys of one node begin in the same column, with
        spaces only.""",
        "first",
        "ask:\n  - minutes_running\n - suction_pressure\ngo: open_end",
        "say: Air first.\ngo: open_end",
    ),
    explained(
        "yaml-key",
        "A list or mapping stands where a name must stand",
        "In front of a colon stands a plain name.",
        "first",
        "? [say, why]\n: Air first.\ngo: open_end",
        "say: Air first.\ngo: open_end",
    ),
    explained(
        "yaml-large",
        "The file holds more values than any tree needs",
        "Beyond 100,000 values the file is something else, or was repeated by mistake.",
    ),
    explained(
        "yaml-many",
        "There are too many mistakes",
        """After two hundred mistakes in reading, the rest is not read. Mend the first ones: they often cause the
        others.""",
    ),
    explained(
        "yaml-quote",
        "A quote is not closed, or a backslash means nothing",
        "A text in quotes ends with the same quote. In double quotes a backslash begins a special character.",
        "first",
        'say: "Feel C:\\pipe"\ngo: open_end',
        "say: 'Feel C:\\pipe'\ngo: open_end",
    ),
    explained(
        "yaml-start",
        "A text begins with a character that it cannot begin with",
        "A few characters mean something at the start of a text, such as @ and `. Put the text in quotes.",
        "first",
        "say: @ 400 cfm per ton.\ngo: open_end",
        'say: "@ 400 cfm per ton."\ngo: open_end',
    ),
    explained(
        "yaml-syntax",
        "This is not YAML",
        "The reader cannot tell what is meant. Look at the indentation, quotes and brackets around the place.",
    ),
    explained(
        "yaml-tab",
        "A tab indents a line",
        "Tabs are as wide as every editor pleases, so YAML takes only spaces in front of a line.",
        "first",
        "say: Air first.\n\tgo: open_end",
        "say: Air first.\ngo: open_end",
    ),
    explained(
        "yaml-tag",
        "A text begins with !",
        "At the start of a value, ! is a tag that asks for special reading; nothing here needs one.",
        "first",
        "say: !Stop here.\ngo: open_end",
        'say: "!Stop here."\ngo: open_end',
    ),
)
