"""System calls of the real program made to fail in turn, once and for good, by strace: nothing is
called recorded that is not there, and what was not recorded is rescued and read back.

    inject.py BINARY [every|sample]
"""

import os
import re
import shutil
import subprocess
import sys
import tempfile
import time

from terminal import SETS, Program, begin, make_home, read_back

STRACE = shutil.which("strace")
SETS_DONE = 3

# What fails, how, and whether only for the journal's own file.
FAULTS = [
    ("write", "ENOSPC", True),
    ("write", "EIO", True),
    ("fdatasync", "EIO", False),
    ("fsync", "EIO", False),
    ("openat", "EACCES", True),
    ("openat", "EIO", True),
    ("rename", "EIO", False),
    ("renameat2", "EIO", False),
    ("mkdir", "ENOSPC", False),
    ("flock", "ENOLCK", False),
]


def prepared(folder, binary):
    """A home with a session that is on, one set done, and the path of its journal's file."""
    home = os.path.join(folder, "home")
    make_home(home)
    program = Program(binary, home)
    begin(program)
    program.keys("1.3\r")
    program.wait(lambda frame: program.acknowledged == 1)
    program.keys("q")
    assert program.end() == 0, program.text_behind()
    journal = os.path.join(home, "data", "journal")
    (name,) = os.listdir(journal)
    return home, os.path.join(journal, name)


def traced(log, *how):
    return (STRACE, "-f", "-qq", "-o", log, *how)


def position(frame):
    """Which set is to come, or none where the frame shows no session."""
    found = re.search(r"\bset (\d+) of %d\b" % SETS, frame)
    return int(found.group(1)) if found else None


def train(program, first):
    """Does some sets, whatever becomes of them. Gives the reps by set that the screen took."""
    typed = {}
    for number in range(first, first + SETS_DONE):
        program.keys(f"{number}.3\r")
        program.wait(lambda frame: position(frame) == number + 1)
        typed[number] = number
        # Long enough for its fate, not for all that will be tried again.
        settled = lambda frame: "all recorded" in frame or "NOT SAVED" in frame
        program.wait(settled)
    return typed


def one(binary, template, fault, when):
    """One session with a fault. Gives what went wrong, whether the fault came to pass, and
    whether sets were rescued."""
    name, error, of_journal = fault
    with tempfile.TemporaryDirectory(prefix="rackside-inject-") as folder:
        home, log = os.path.join(folder, "home"), os.path.join(folder, "log")
        shutil.copytree(template[0], home)
        path = os.path.join(home, os.path.relpath(template[1], template[0]))
        how = [f"-einject={name}:error={error}:when={when}", f"-etrace={name}"]
        how += ["-P", path] if of_journal else []
        program = Program(binary, home, traced(log, *how))
        typed, refused = {1: 1}, False
        try:
            begin(program)
            typed |= train(program, 2)
            program.keys("q")
        except EOFError:
            refused = True
        code = program.end(60)
        with open(log, errors="replace") as file:
            came = "(INJECTED)" in file.read()
        found = read_back(binary, home)
        return judged(program, (typed, found), (code, refused)), came, code == 4


def judged(program, sets, ending):
    """What of an ending is not as it should be, in words."""
    (typed, found), (code, refused) = sets, ending
    behind = program.text_behind()
    wrong = []
    for number in range(1, program.acknowledged + 1):
        if found.get(number) != typed.get(number):
            wrong.append(f"set {number} called recorded, and not there")
    lost = [n for n in typed if found.get(n) != typed[n]]
    shown = [n for n in lost if f"number:{n}," in behind]
    if lost != shown:
        wrong.append(f"sets {lost} were not kept, {shown} of them shown")
    if lost and code != 4:
        wrong.append(f"sets were not kept, and the exit code is {code}")
    looked = "look only" in program.frame
    if refused and not looked and (code != 1 or "error" not in behind):
        wrong.append(f"it did not start, code {code}, and said {behind!r}")
    if not refused and code not in (0, 4):
        wrong.append(f"exit code {code}: {behind}")
    if code == 4 and not ("rescue" in behind or "number:" in behind):
        wrong.append(f"exit code 4, and nothing said: {behind!r}")
    return wrong


def faults(binary, template, every):
    """Each fault at the first call, the second, and so on until it no longer comes to pass."""
    runs = failures = rescued = 0
    for fault in FAULTS if every else FAULTS[:1] + FAULTS[2:3]:
        for form in ("{}", "{}+"):
            for number in range(1, 40 if every else 3):
                when = form.format(number)
                wrong, came, rescued_here = one(binary, template, fault, when)
                if not came:
                    break
                runs += 1
                rescued += rescued_here
                failures += bool(wrong)
                for words in wrong:
                    print(f"inject {fault[0]} {fault[1]} when={when}: {words}")
    print(f"inject: {runs} sessions with a fault, {rescued} ended with code 4, {failures} wrong")
    return failures


def order(binary, template):
    """No byte of "recorded" goes to the terminal before the line's sync came back with 0, and no
    socket is opened but to the sound server of this machine, though others are named."""
    with tempfile.TemporaryDirectory(prefix="rackside-order-") as folder:
        home, log = os.path.join(folder, "home"), os.path.join(folder, "log")
        shutil.copytree(template[0], home)
        trace = "-etrace=write,fdatasync,network"
        variables = {
            "PULSE_SERVER": f"tcp:127.0.0.1:4713 unix:{home}/native",
            "DBUS_SESSION_BUS_ADDRESS": "tcp:host=127.0.0.1,port=4714",
            "DBUS_SYSTEM_BUS_ADDRESS": "tcp:host=127.0.0.1,port=4714",
        }
        program = Program(binary, home, traced(log, "-y", "-s", "100000", trace), variables)
        begin(program)
        train(program, 2)
        # No such key: a sound is due.
        program.keys("z")
        program.wait("no such key")
        # The sound has a thread of its own, which a busy machine lets wait.
        for _ in range(100):
            with open(log, errors="replace") as file:
                if f"{home}/native" in file.read():
                    break
            program.read(0.1)
        program.keys("q")
        program.end()
        with open(log, errors="replace") as file:
            lines = file.read().splitlines()
    written, synced, told, sockets, early, sounds = 0, 0, 0, [], 0, 0
    syncing = set()
    for line in lines:
        thread, _, call = line.partition(" ")
        call = call.strip()
        if call.startswith("write(") and "/data/journal/" in call.split(",")[0]:
            written += 1
        elif call.startswith("fdatasync(") and "/data/journal/" in call:
            syncing.add(thread)
        elif call.startswith("write(") and "recorded" in call and "/dev/" in call.split(",")[0]:
            told += 1
            early += synced < written
        elif re.match(r"\w*socket\w*\(", call) and "AF_UNIX" not in call:
            sockets.append(call)
        elif re.match(r"(connect|sendto)\(", call) and "AF_" in call:
            if f'sun_path="{home}/native"' in call:
                sounds += 1
            else:
                sockets.append(call)
        if thread in syncing and "fdatasync" in call and call.endswith("= 0"):
            syncing.discard(thread)
            synced = written
    print(
        f"inject: {written} lines written, {told} times told as recorded, {early} of them before "
        f"the sync; {len(sockets)} sockets not to be opened {sockets or ''}, {sounds} to the sound "
        "server"
    )
    return early + len(sockets) + (sounds == 0) + (told == 0) + (written < SETS_DONE)


def slow(binary, template):
    """A sync that takes 5 s: keys and clock go on, leaving waits and says so."""
    with tempfile.TemporaryDirectory(prefix="rackside-slow-") as folder:
        home, log = os.path.join(folder, "home"), os.path.join(folder, "log")
        shutil.copytree(template[0], home)
        delay = ("-einject=fdatasync:delay_enter=5000000", "-etrace=fdatasync")
        program = Program(binary, home, traced(log, *delay))
        begin(program)
        program.keys("2.3\r")
        program.wait(lambda frame: position(frame) == 3)
        worst = 0.0
        for digit in "789":
            began = time.monotonic()
            program.keys(digit)
            program.wait(lambda frame: f"> {digit}" in frame)
            worst = max(worst, time.monotonic() - began)
            program.keys("\x7f")
            program.wait(lambda frame: f"> {digit}" not in frame)
        before = re.search(r"opens in (\S+)", program.frame)
        program.read(1.5)
        after = re.search(r"opens in (\S+)", program.frame)
        saving = "saving" in program.frame
        early = program.acknowledged
        began = time.monotonic()
        program.keys("q")
        code = program.end()
        waited = time.monotonic() - began
        found = read_back(binary, home)
    runs_on = before and after and before.group(1) != after.group(1)
    print(
        f"inject: with a sync of 5 s a key took {worst * 1000:.0f} ms to the screen, the rest "
        f"{'went on' if runs_on else 'STOOD STILL'}, saving {'' if saving else 'NOT '}shown, "
        f"leaving waited {waited:.1f} s"
    )
    right = runs_on and saving and code == 0 and found.get(2) == 2 and early < 2
    if worst > 2.5:
        print("inject: a key waited for the disk")
    return 0 if right and worst <= 2.5 else 1


def full(binary, template):
    """A disk that is really full takes a part of a line: it is told, and recorded once there is
    room again; where there never is, the line is shown at the end."""
    if os.geteuid() != 0:
        print("inject: the full disk is skipped, mounting needs root")
        return 0
    failures = 0
    for room_again in (True, False):
        with tempfile.TemporaryDirectory(prefix="rackside-full-") as folder:
            size = ["mount", "-t", "tmpfs", "-o", "size=256k", "tmpfs", folder]
            if subprocess.run(size, check=False, capture_output=True).returncode != 0:
                print("inject: the full disk is skipped, no tmpfs can be mounted here")
                return 0
            try:
                failures += on_full_disk(binary, template, (folder, room_again))
            finally:
                subprocess.run(["umount", folder], check=True)
    return failures


def on_full_disk(binary, template, how):
    folder, room_again = how
    home = os.path.join(folder, "home")
    shutil.copytree(template[0], home)
    path = os.path.join(home, os.path.relpath(template[1], template[0]))
    program = Program(binary, home)
    begin(program)
    # Empty lines up to 100 bytes before the end of the file's last page; other pages are taken.
    with open(path, "ab") as file:
        file.write(b"\n" * (-file.tell() % 4096 + 4096 - 100))
    length = os.path.getsize(path)
    filler = os.path.join(folder, "filler")
    with open(filler, "wb", buffering=0) as file:
        try:
            while file.write(b"x" * 4096):
                pass
        except OSError:
            pass
    program.keys("2.3\r")
    program.wait("NOT SAVED")
    short = os.path.getsize(path) == length + 100
    early = program.acknowledged
    if room_again:
        os.remove(filler)
        program.wait("all recorded")
    program.keys("q")
    code, behind = program.end(60), program.text_behind()
    kept = read_back(binary, home).get(2) == 2
    right = kept and code == 0 if room_again else code == 4 and (kept or "number:2," in behind)
    print(
        f"inject: full disk, {'room again later' if room_again else 'for good'}: short write "
        f"{'seen' if short else 'NOT seen'}, exit code {code}, {'kept' if kept else 'shown'}"
    )
    return 0 if right and short and early < 2 else 1


def main():
    binary, every = sys.argv[1], sys.argv[2:] != ["sample"]
    if STRACE is None:
        print("inject: skipped, there is no strace (apt-get install strace)")
        return 0
    if subprocess.run([STRACE, "-qq", "-o", "/dev/null", "true"], check=False).returncode != 0:
        print("inject: skipped, strace may not trace here")
        return 0
    with tempfile.TemporaryDirectory(prefix="rackside-template-") as folder:
        template = prepared(folder, binary)
        failures = order(binary, template) + slow(binary, template)
        failures += full(binary, template) + faults(binary, template, every)
    return 1 if failures else 0


if __name__ == "__main__":
    sys.exit(main())
