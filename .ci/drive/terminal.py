"""The real program in a real terminal: keys in, whole frames of its screen out.

Only the standard library, and nothing of the program's own code.
"""

import fcntl
import json
import os
import pty
import re
import select
import signal
import struct
import subprocess
import termios
import time

ROWS, COLUMNS = 24, 80
SETS = 20

# One exercise of many sets, so that "set 7 of 20" says that six are done.
PROGRAM = """(
    format: 1,
    name: "Many",
    rhythm: Rotation(per_week: 3),
    phases: [(name: "Only", weeks: 4, days: [(name: "Day 1", slots: [
        (exercise: "push_up", sets: %d, reps: "1-9", rest: "%s"),
    ])])],
)
"""
LIFTER = '(format: 1, unit: Kg, place: "home", program: "many")\n'

PIECE = re.compile(
    rb"\x1b\[([?>=]?)([0-9;]*)[ -/]*([@-~])"
    rb"|\x1b\][^\x07\x1b]*(?:\x07|\x1b\\)"
    rb"|\x1b[()][A-Z0-9]"
    rb"|\x1b[^\[\]()]"
)


def make_home(home, rest="0:10-0:40"):
    """A home whose person has answered the first run's questions."""
    os.makedirs(os.path.join(home, "config", "programs"))
    with open(os.path.join(home, "config", "programs", "many.ron"), "w") as file:
        file.write(PROGRAM % (SETS, rest))
    with open(os.path.join(home, "config", "lifter.ron"), "w") as file:
        file.write(LIFTER)


def environment(home, variables=()):
    return {
        "RACKSIDE_HOME": home,
        "HOME": home,
        "PATH": "/usr/bin:/bin",
        "TERM": "xterm-256color",
        "LANG": "C.UTF-8",
        "TZ": "CET-1",
        "DBUS_SESSION_BUS_ADDRESS": "disabled:",
        "DBUS_SYSTEM_BUS_ADDRESS": "disabled:",
        **dict(variables),
    }


class Screen:
    """As much of a terminal as the program uses. `frames` are told as each ends: the program
    hides or shows the cursor once all of a frame is out."""

    def __init__(self, on_frame):
        self.cells = [[" "] * COLUMNS for _ in range(ROWS)]
        self.row = self.column = 0
        self.rest = b""
        self.on_frame = on_frame

    def feed(self, data):
        data = self.rest + data
        at = 0
        while at < len(data):
            if data[at] == 0x1B:
                found = PIECE.match(data, at)
                if not found:
                    break
                self.control(found)
                at = found.end()
                continue
            end = data.find(b"\x1b", at)
            end = len(data) if end < 0 else end
            try:
                text = data[at:end].decode()
            except UnicodeDecodeError as error:
                # A character whose end is not there yet.
                if error.end < end - at or end < len(data):
                    raise
                text = data[at : at + error.start].decode()
                end = at + error.start
                if not text:
                    break
            self.text(text)
            at = end
        self.rest = data[at:]

    def control(self, found):
        kind, numbers, name = found.group(1), found.group(2), found.group(3)
        values = [int(n) if n else 0 for n in (numbers or b"").split(b";")]
        if name == b"H":
            self.row = max(values[0], 1) - 1
            self.column = max(values[1] if len(values) > 1 else 1, 1) - 1
        elif name == b"J":
            self.cells = [[" "] * COLUMNS for _ in range(ROWS)]
        elif name == b"K" and self.row < ROWS:
            self.cells[self.row][self.column :] = [" "] * (COLUMNS - self.column)
        elif kind == b"?" and values == [25]:
            self.on_frame(self.shown())

    def text(self, text):
        for c in text:
            if c == "\r":
                self.column = 0
            elif c == "\n":
                self.row = min(self.row + 1, ROWS - 1)
            elif c >= " " and self.row < ROWS and self.column < COLUMNS:
                self.cells[self.row][self.column] = c
                self.column += 1

    def shown(self):
        return "\n".join("".join(row).rstrip() for row in self.cells)


def acknowledged(frame):
    """How many sets of the session a frame calls recorded; none where it says nothing of all."""
    if "all recorded" not in frame:
        return None
    if "session done" in frame:
        return SETS
    found = re.search(r"\bset (\d+) of %d\b" % SETS, frame)
    return int(found.group(1)) - 1 if found else None


class Program:
    """The program in a terminal. `command` goes before it: a tracer, for instance; `variables`
    come on top of its environment."""

    def __init__(self, binary, home, command=(), variables=()):
        self.screen = Screen(self.take)
        self.frame = ""
        self.acknowledged = 0
        self.said = b""
        self.status = None
        self.pid, self.master = pty.fork()
        if self.pid == 0:
            argv = [*command, binary]
            os.execve(argv[0], argv, environment(home, variables))
        size = struct.pack("HHHH", ROWS, COLUMNS, 0, 0)
        fcntl.ioctl(self.master, termios.TIOCSWINSZ, size)

    def take(self, frame):
        self.frame = frame
        self.acknowledged = max(self.acknowledged, acknowledged(frame) or 0)

    def read(self, seconds):
        """Takes in what comes within that time; false once the terminal is closed."""
        end = time.monotonic() + seconds
        while True:
            left = max(end - time.monotonic(), 0)
            ready, _, _ = select.select([self.master], [], [], left)
            if not ready:
                return True
            try:
                data = os.read(self.master, 65536)
            except OSError:
                data = b""
            if not data:
                return False
            self.said += data
            self.screen.feed(data)

    def wait(self, wanted, seconds=20):
        """Waits for a frame as wanted: a text in it, or a question about it."""
        is_so = wanted if callable(wanted) else lambda frame: wanted in frame
        end = time.monotonic() + seconds
        while not is_so(self.frame):
            if time.monotonic() > end:
                self.kill()
                self.end()
                raise TimeoutError(f"waited for {wanted}:\n{self.frame}")
            ready, _, _ = select.select([self.master], [], [], 0.05)
            if ready and not self.read(0):
                raise EOFError(f"ended before {wanted}: {self.text_behind()}")

    def keys(self, keys):
        os.write(self.master, keys.encode())

    def kill(self, number=signal.SIGKILL):
        os.kill(self.pid, number)

    def end(self, seconds=20):
        """Takes in all that is left, and gives the exit code (negative: the signal)."""
        end = time.monotonic() + seconds
        while self.read(0.05):
            if time.monotonic() > end:
                raise TimeoutError(f"still running:\n{self.frame}")
        self.status = os.waitstatus_to_exitcode(os.waitpid(self.pid, 0)[1])
        os.close(self.master)
        return self.status

    def text_behind(self):
        """What it printed after its screen was gone."""
        behind = self.said.rsplit(b"\x1b[?1049l", 1)[-1]
        return PIECE.sub(b"", behind).decode(errors="replace").strip()


def begin(program):
    """From the briefing, or from wherever a killed run left off, to the coming set."""
    of = f"of {SETS}"
    known = (of, "Enter start", "session done", "look only")
    program.wait(lambda frame: any(words in frame for words in known))
    if "look only" in program.frame:
        program.keys("2")
        raise EOFError("it offers to look only")
    if "Enter start" in program.frame:
        program.keys("\r")
        program.wait(of)


def listed(binary, home):
    """The recorded sets as the program lists them."""
    ran = subprocess.run(
        [binary, "journal", "list", "--json"],
        env=environment(home),
        capture_output=True,
        check=True,
    )
    return [json.loads(line) for line in ran.stdout.splitlines()]


def read_back(binary, home):
    """The reps of each recorded set by its number."""
    return {one["set"]: one["reps"] for one in listed(binary, home)}


def read_reps(binary, home):
    """The reps of the recorded sets, in order."""
    return [one["reps"] for one in listed(binary, home)]
