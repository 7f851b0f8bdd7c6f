"""The commands of `coilside`, one module for each group."""

import sys


def start() -> None:
    """Run the program; an interrupt while it is still being loaded leaves no more of a trace than one later on."""
    try:
        from assistant.cli.main import main
    except KeyboardInterrupt:
        sys.exit(130)
    main()
