"""A power cut at every event of a session: the home lies on a file system in a file, and whenever
the screen calls something recorded the file is copied as it is, as if the power went, and the copy
is mounted and read.

    power.py BINARY [every]   (needs root and loop mounts)

A session of every kind of event; with `every`, one of many sets too.
"""

import os
import shutil
import subprocess
import sys
import tempfile

from kinds import KINDS, session_of_every_kind
from terminal import SETS, Program, begin, make_home, read_back


def call(*command):
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL, stderr=subprocess.PIPE)


class Disk:
    """An ext4 in a file, mounted."""

    def __init__(self, folder):
        self.image = os.path.join(folder, "image")
        self.copy = os.path.join(folder, "copy")
        self.at = os.path.join(folder, "at")
        self.cut_at = os.path.join(folder, "cut")
        os.mkdir(self.at)
        os.mkdir(self.cut_at)
        with open(self.image, "wb") as file:
            file.truncate(16 << 20)
        call("mkfs.ext4", "-q", "-E", "lazy_itable_init=0,lazy_journal_init=0", self.image)
        call("mount", "-o", "loop", self.image, self.at)

    def cut(self, look):
        """The power goes now: `look` at what is on the disk."""
        shutil.copyfile(self.image, self.copy)
        call("mount", "-o", "loop", self.copy, self.cut_at)
        try:
            return look(self.cut_at)
        finally:
            call("umount", self.cut_at)

    def close(self):
        subprocess.run(["umount", self.at], check=False)


def can_lose(disk):
    """Whether the emulation takes away what was not synced; else it would show nothing."""
    with open(os.path.join(disk.at, "unsynced"), "w") as file:
        file.write("x" * 100)
        file.flush()
        size = lambda at: os.path.join(at, "unsynced")
        there = disk.cut(lambda at: os.path.exists(size(at)) and os.path.getsize(size(at)))
        os.fsync(file.fileno())
    os.sync()
    return not there and disk.cut(lambda at: os.path.getsize(size(at))) == 100


def resumed(binary, home):
    """Which set the program wants next when it is started in what the cut left."""
    program = Program(binary, home)
    begin(program)
    frame = program.frame
    program.kill()
    program.end()
    return SETS + 1 if "session done" in frame else int(frame.split("set ")[1].split(" of")[0])


def session_of_sets(binary, disk):
    """Twenty sets: how often one was lost, and how often the power was cut."""
    home = os.path.join(disk.at, "sets")
    make_home(home)
    os.sync()
    program = Program(binary, home)
    begin(program)
    lost = 0
    for number in range(1, SETS + 1):
        program.keys(f"{number % 9 + 1}.3\r")
        program.wait(lambda frame: program.acknowledged >= number)
        found, coming = disk.cut(
            lambda at: (
                read_back(binary, os.path.join(at, "sets")),
                resumed(binary, os.path.join(at, "sets")),
            )
        )
        right = all(found.get(n) == n % 9 + 1 for n in range(1, number + 1))
        if not right or coming != number + 1:
            lost += 1
            print(f"LOST: cut behind set {number}: found {found}, then set {coming}")
    program.kill()
    program.end()
    print(f"power: cut behind each of {SETS} sets called recorded, {lost} times one was lost")
    return lost


def sessions(binary, disk, every):
    if not can_lose(disk):
        print("power: the emulation keeps what was never synced, and shows nothing")
        return 1
    cuts, lost = session_of_every_kind(binary, disk)
    print(f"power: cut {cuts} times behind {len(KINDS)} kinds of event, {lost} times one was lost")
    if every:
        lost += session_of_sets(binary, disk)
    return 1 if lost else 0


def main():
    binary, every = sys.argv[1], sys.argv[2:] == ["every"]
    if os.geteuid() != 0:
        print("power: skipped, mounting needs root")
        return 0
    with tempfile.TemporaryDirectory(prefix="rackside-power-") as folder:
        try:
            disk = Disk(folder)
        except (subprocess.CalledProcessError, FileNotFoundError) as error:
            print(f"power: skipped, no loop mounts here: {getattr(error, 'stderr', error)}")
            return 0
        try:
            return sessions(binary, disk, every)
        finally:
            disk.close()


if __name__ == "__main__":
    sys.exit(main())
