"""A session that holds every kind of event that keys and commands bring about, and what must be
read back when the power is cut behind each. (Nothing brings about a body weight or imported sets
but lines from elsewhere; the first run's answers, a body weight among them, are a file.)
"""

import os
import re
import subprocess

from terminal import Program, environment, read_reps

PROGRAM = """(
    format: 1,
    name: "Three",
    rhythm: Rotation(per_week: 3),
    phases: [(name: "Only", weeks: 4, days: [(name: "Day 1", slots: [
        (exercise: "push_up", sets: 4, reps: "1-9", rest: "0:10-0:40"),
        (exercise: "glute_bridge", sets: 4, reps: "1-9", rest: "0:10-0:40"),
        (exercise: "split_squat", sets: 4, reps: "1-9", rest: "0:10-0:40"),
    ])])],
)
"""
LIFTER = re.compile(r'unit: Kg\b.*body_weight: "80 kg"', re.S)

# Keys, between them what the screen says when it wants the next; what it says once they did
# something, the events they bring about, and the reps of all sets that then stand.
HURTS = "Where does it hurt?"
STEPS = [
    (("l", "where?", "2"), "at: Garage", ["Chose"], []),
    (("p", HURTS, "3"), "Enter start", ["Pain"], []),
    (("\r",), "set 1 of 4", ["Opened"], []),
    (("5.3\r",), "set 1: body × 5, 3 spare", ["Set"], [5]),
    ((".2",), "set 1: 2 spare", ["Spare"], [5]),
    (("\x1b[A", "Enter save", "4\r"), "set changed", ["Amended"], [4]),
    (("u",), "U brings it back", ["Voided"], [5]),
    (("U",), "brought back", ["Voided"], [4]),
    (("k",), "set skipped", ["Skipped"], [4]),
    (("o",), "put off", ["PutOff"], [4]),
    (("s", "what instead?", "1"), "now ", ["Swapped"], [4]),
    (("4\r", "other side?", "4\r"), "set 1: body × 4", ["Set"], [4, 4]),
    (("u",), "U brings it back", ["Voided"], [4]),
    (("7\r", "other side?", "7\r"), "set 1: body × 7", ["Set"], [4, 7]),
    (("a",), "a set added", ["Added"], [4, 7]),
    (("i",), "counts as interrupted", ["Amended"], [4, 7]),
    (("nwarm\r",), "note kept", ["Note"], [4, 7]),
    (("t",), "time out", ["Paused"], [4, 7]),
    (("t",), "on again", ["Resumed"], [4, 7]),
    (("K",), "left out", ["Skipped"], [4, 7]),
    (("p", HURTS, "8"), "something that does not load it", ["Pain"], [4, 7]),
    (("1",), "now ", ["Swapped"], [4, 7]),
    (("f", "finish with", "1", "how hard", "nso it ends\r"), "note kept", ["Note"], [4, 7]),
    (("7\r",), "session closed", ["Closed"], [4, 7]),
]

# The same by command, once the session is over: all of a command's work is done when it ends.
COMMANDS = [
    (["program", "adopt", "three"], "Adopted", [4, 7]),
    (["journal", "amend", "{set}", "--reps", "8"], "Amended", [8, 7]),
    (["journal", "void", "{last}"], "Voided", [4, 7]),
]

KINDS = sorted({kind for step in STEPS for kind in step[2]} | {kind for _, kind, _ in COMMANDS})


def lines(home):
    """The lines of the journal."""
    folder = os.path.join(home, "data", "journal")
    files = sorted(os.listdir(folder)) if os.path.isdir(folder) else []
    found = []
    for name in files:
        with open(os.path.join(folder, name), encoding="utf-8", errors="replace") as file:
            found += file.read().splitlines()
    return found


def kinds(home):
    """The kinds of the events in the journal's lines."""
    found = (re.search(r",event:(\w+)", line) for line in lines(home))
    return [one.group(1) if one else "?" for one in found]


def ask(binary, home, *arguments):
    return subprocess.run([binary, *arguments], env=environment(home), capture_output=True)


def stands(frame):
    """Where the session stands, as a frame says it: the coming set, or before one. To finish with
    sets left is no event before the session is closed, and says nothing of where to go on."""
    found = re.search(r"^.*· set \d+ of \d+.*$", frame, re.M)
    if found:
        return found.group(0).strip()
    return "before" if "Enter start" in frame or "session closed" in frame else None


def resumed(binary, home):
    """Where the session stands when the program is started in what the cut left."""
    program = Program(binary, home)
    program.wait(lambda frame: stands(frame))
    found = stands(program.frame)
    program.kill()
    program.end()
    return found


class Cuts:
    """Cuts the power, and holds what is read back against what must be there."""

    def __init__(self, binary, disk, name):
        self.binary, self.disk, self.name = binary, disk, name
        self.expected = []
        self.done = self.lost = 0

    def cut(self, said, kinds_new, reps, standing=None):
        self.expected += kinds_new
        self.done += 1
        look = lambda at: self.problem(os.path.join(at, self.name), reps, standing)
        problem = self.disk.cut(look)
        if problem:
            self.lost += 1
            print(f"LOST: cut behind {said}: {problem}")

    def cut_behind_first_run(self):
        self.done += 1
        if not LIFTER.search(self.disk.cut(lambda at: lifter(os.path.join(at, self.name)))):
            self.lost += 1
            print("LOST: cut behind the first run's answers")

    def problem(self, home, reps, standing):
        if kinds(home) != self.expected:
            return f"wrote {self.expected}, found {kinds(home)}"
        if ask(self.binary, home, "journal", "check").returncode != 0:
            return "the journal is not whole"
        if read_reps(self.binary, home) != reps:
            return f"did {reps}, found {read_reps(self.binary, home)}"
        if standing and resumed(self.binary, home) != standing:
            return f"stood at {standing}, went on at {resumed(self.binary, home)}"
        return None


def lifter(home):
    """What the file says of the person; nothing where it is not there."""
    path = os.path.join(home, "config", "lifter.ron")
    if not os.path.exists(path):
        return ""
    with open(path, encoding="utf-8") as file:
        return file.read()


def first_run(program):
    """Answers the four questions; the briefing comes once they are on the disk."""
    for number, answer in enumerate(["\r", "80\r", "\r", "3\r"], 1):
        program.wait(f"question {number}")
        program.keys(answer)
    program.wait("Enter start")


def press(program, keys, said):
    """Presses keys, and waits until what came of them is called recorded."""
    # The notice and the word for what is not yet on the disk come with the same frame.
    did = lambda frame: said in frame and "all recorded" in frame and HURTS not in frame
    for key, wanted in zip(keys[0:-1:2], keys[1::2]):
        program.keys(key)
        program.wait(wanted)
    if did(program.frame):
        raise RuntimeError(f"{said}: the screen said so before the keys {keys}")
    program.keys(keys[-1])
    program.wait(did)


def session_of_every_kind(binary, disk):
    """How often the power was cut, and how often something that was called recorded was lost."""
    home = os.path.join(disk.at, "kinds")
    os.makedirs(os.path.join(home, "config", "programs"))
    with open(os.path.join(home, "config", "programs", "three.ron"), "w") as file:
        file.write(PROGRAM)
    os.sync()
    cuts = Cuts(binary, disk, "kinds")
    program = Program(binary, home)
    first_run(program)
    cuts.cut_behind_first_run()
    for keys, said, brought, reps in STEPS:
        press(program, keys, said)
        cuts.cut(f"keys {keys}", brought, reps, stands(program.frame))
    program.keys("\r")
    program.end()
    for arguments, kind, reps in COMMANDS:
        ids = re.findall(r'id:"([^"]+)"', "\n".join(lines(home)))
        named = {"set": ids[STEPS.index(first_set())], "last": ids[-1]}
        ran = ask(binary, home, *[word.format(**named) for word in arguments])
        if ran.returncode != 0:
            raise RuntimeError(f"{arguments}: {ran.stderr.decode()}")
        cuts.cut(f"command {arguments}", [kind], reps)
    return cuts.done, cuts.lost


def first_set():
    return next(step for step in STEPS if step[2] == ["Set"])
