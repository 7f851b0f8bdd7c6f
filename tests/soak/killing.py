"""A process killed in front of one of its write calls: `python -m tests.soak.killing NTH REPORT FOLDER COMMAND...`.

The command is run under the kernel's tracing (ptrace(2), Linux on x86-64), which stops it at every system call. Calls
that change something in a folder are counted; in front of the NTH the process is killed outright, as the power does.
With 0 it is let run to its end. What was counted goes to the report, one call a line. Signals, threads and processes
that it starts go their way.
"""

import contextlib
import ctypes
import os
import platform
import signal
import struct
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Final

_TRACE_ME, _PEEK, _SYSCALL, _SET_OPTIONS, _SYSCALL_INFO = 0, 2, 24, 0x4200, 0x420E
_OPTIONS: Final = 1 | 2 | 4 | 8 | 16 | 0x100000
"""Syscall stops are told apart; forks, clones and exec are followed; whoever traces takes all with it when it ends."""
_ENTERED: Final = 1
_ANY_CHILD: Final = 0x40000000

ON_A_FILE: Final = {
    1: "write", 18: "pwrite64", 20: "writev", 296: "pwritev", 74: "fsync", 75: "fdatasync", 77: "ftruncate",
    91: "fchmod", 285: "fallocate",
}  # fmt: skip
"""Calls whose first argument is an open file, by their numbers on x86-64 (Linux, arch/x86/entry/syscalls)."""
ON_A_PATH: Final = {
    82: ("rename", 0), 87: ("unlink", 0), 86: ("link", 0), 83: ("mkdir", 0), 84: ("rmdir", 0), 90: ("chmod", 0),
    76: ("truncate", 0), 85: ("creat", 0), 264: ("renameat", 1), 316: ("renameat2", 1), 263: ("unlinkat", 1),
    265: ("linkat", 1), 258: ("mkdirat", 1), 268: ("fchmodat", 1), 257: ("openat", 1), 2: ("open", 0),
}  # fmt: skip
"""Calls with a path, and which argument it is; what is opened counts when it may be made."""
_MAKES: Final = os.O_CREAT

_libc = ctypes.CDLL(None, use_errno=True)
_libc.ptrace.argtypes = [ctypes.c_long, ctypes.c_long, ctypes.c_void_p, ctypes.c_void_p]
_libc.ptrace.restype = ctypes.c_long


def _trace(request: int, process: int, address: int = 0, data: object = None) -> None:
    if _libc.ptrace(request, process, address, data) == -1:
        error = ctypes.get_errno()
        raise OSError(error, os.strerror(error))


def may_trace() -> bool:
    """Return whether a process may be traced here: only on Linux on x86-64, and not in every container."""
    if (sys.platform, platform.machine()) != ("linux", "x86_64"):
        return False
    asked = [sys.executable, "-c", "import sys; from tests.soak.killing import _trace; _trace(0, 0)"]
    return subprocess.run(asked, capture_output=True, check=False).returncode == 0


def _entered(thread: int) -> tuple[int, tuple[int, ...]] | None:
    """The number and arguments of a call that a thread is about to make; `None` where it comes back from one."""
    buffer = ctypes.create_string_buffer(88)
    if _libc.ptrace(_SYSCALL_INFO, thread, len(buffer), ctypes.cast(buffer, ctypes.c_void_p)) <= 0:
        return None
    if buffer.raw[0] != _ENTERED:
        return None
    number, *arguments = struct.unpack_from("<7Q", buffer.raw, 24)
    return number, tuple(arguments)


def _text_at(thread: int, address: int) -> str:
    with open(f"/proc/{thread}/mem", "rb", buffering=0) as memory:
        memory.seek(address)
        return os.fsdecode(memory.read(256).partition(b"\0")[0])


def changed_by(thread: int, folder: Path) -> str | None:
    """Tell which call a thread is about to make that changes something in a folder, and on what; `None` for others."""
    entered = _entered(thread)
    if entered is None:
        return None
    number, arguments = entered
    try:
        if number in ON_A_FILE:
            path, name = os.readlink(f"/proc/{thread}/fd/{arguments[0]}"), ON_A_FILE[number]
        elif number in ON_A_PATH:
            name, place = ON_A_PATH[number]
            if name in ("openat", "open") and not arguments[place + 1] & _MAKES:
                return None
            path = _text_at(thread, arguments[place])
        else:
            return None
    except OSError:
        return None
    return f"{name} {path.removeprefix(str(folder)).strip('/')}" if path.startswith(str(folder)) else None


def kill_before(nth: int, folder: Path, command: list[str], tell: Callable[[str], object]) -> int:
    """Run a command, kill it in front of its `nth` change in a folder, and tell each; gives its exit code."""
    process = os.fork()
    if process == 0:
        _trace(_TRACE_ME, 0)
        os.kill(os.getpid(), signal.SIGSTOP)
        os.execvp(command[0], command)
    os.waitpid(process, os.WUNTRACED)
    _trace(_SET_OPTIONS, process, 0, _OPTIONS)
    _trace(_SYSCALL, process)
    seen = 0
    threads = {process}
    while True:
        thread, status = os.waitpid(-1, _ANY_CHILD)
        if os.WIFEXITED(status) or os.WIFSIGNALED(status):
            threads.discard(thread)
            if thread == process:
                return os.waitstatus_to_exitcode(status)
            continue
        stopped, passed_on = os.WSTOPSIG(status), 0
        if stopped == signal.SIGTRAP | 0x80:
            change = changed_by(thread, folder)
            if change is not None:
                seen += 1
                tell(f"{change}\n")
                if seen == nth:
                    os.kill(process, signal.SIGKILL)
                    continue
        elif status >> 16 == 0 and not (stopped == signal.SIGSTOP and thread not in threads):
            passed_on = stopped
        threads.add(thread)
        with contextlib.suppress(ProcessLookupError):
            _trace(_SYSCALL, thread, 0, passed_on)


def main() -> None:
    """Run and report."""
    nth, report, folder, *command = sys.argv[1:]
    with open(report, "w", encoding="utf-8", buffering=1) as file:
        code = kill_before(int(nth), Path(folder), command, file.write)
    sys.exit(code if code >= 0 else 128 - code)


if __name__ == "__main__":
    main()
