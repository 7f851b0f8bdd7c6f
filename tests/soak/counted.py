"""What every long run prints."""

import resource


def memory() -> str:
    """The most memory that this process and those that it started have held."""
    own, others = (
        resource.getrusage(whose).ru_maxrss // 1024 for whose in (resource.RUSAGE_SELF, resource.RUSAGE_CHILDREN)
    )
    return f"at most {own} MB here and {others} MB in a process that was started"
