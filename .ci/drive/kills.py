"""Kills the program at random moments while sets are recorded, and asks that every set that the
screen called recorded is read back, as it was typed.

    kills.py BINARY KILLS [SEED]
"""

import os
import random
import sys
import tempfile
import time

from terminal import SETS, Program, begin, make_home, read_back


def check(binary, home, acknowledged, typed):
    """How many sets were called recorded and are not there as typed."""
    found = read_back(binary, home)
    lost = [n for n in range(1, acknowledged + 1) if found.get(n) not in typed.get(n, ())]
    if lost:
        print(f"LOST {lost} of {acknowledged}: typed {typed}, found {found}, home {home}")
    return len(lost)


def run_until_killed(binary, home, typed, chance):
    """One life of the program: sets are done until it is killed. Returns what the screen called
    recorded, and whether the session is over."""
    program = Program(binary, home)
    moment = chance.choice([0.0, 0.02, 0.1, 0.3])
    begin(program)
    # What was typed and not entered when the last life ended is still there.
    program.keys("\x7f" * 4)
    for left in reversed(range(chance.randint(1, 4))):
        if "session done" in program.frame:
            break
        here = program.frame.split(f" of {SETS}")[0].rsplit(" ", 1)[-1]
        reps = chance.randint(1, 9)
        typed.setdefault(int(here), set()).add(reps)
        program.keys(f"{reps}.3\r")
        if left == 0:
            break
        program.wait(lambda frame: f"set {here} of {SETS}" not in frame and "all rec" in frame)
    program.read(chance.uniform(0, moment))
    program.kill()
    program.end()
    return program.acknowledged, "session done" in program.frame


def prove(binary):
    """Asks that a set taken away after it was called recorded would be found out."""
    with tempfile.TemporaryDirectory(prefix="rackside-kills-") as home:
        make_home(home)
        program = Program(binary, home)
        begin(program)
        program.keys("5.3\r")
        program.wait(lambda frame: program.acknowledged == 1)
        program.kill()
        program.end()
        journal = os.path.join(home, "data", "journal")
        for name in os.listdir(journal):
            path = os.path.join(journal, name)
            os.truncate(path, os.path.getsize(path) - 20)
        found = read_back(binary, home)
        if found.get(1) == 5:
            sys.exit("kills: a set that was taken away was not missed")


def main():
    binary, kills = sys.argv[1], int(sys.argv[2])
    seed = int(sys.argv[3]) if len(sys.argv) > 3 else random.randrange(1 << 32)
    chance = random.Random(seed)
    prove(binary)
    began = time.monotonic()
    done = acknowledged_in_all = lost = homes = 0
    while done < kills:
        homes += 1
        with tempfile.TemporaryDirectory(prefix="rackside-kills-") as home:
            make_home(home)
            typed, acknowledged, over = {}, 0, False
            while not over and done < kills:
                here, over = run_until_killed(binary, home, typed, chance)
                acknowledged = max(acknowledged, here)
                done += 1
                lost += check(binary, home, acknowledged, typed)
            acknowledged_in_all += acknowledged
    seconds = time.monotonic() - began
    print(
        f"{done} kills in {homes} homes, {acknowledged_in_all} sets called recorded, "
        f"{lost} of them not read back (seed {seed}, {seconds:.0f} s)"
    )
    sys.exit(1 if lost else 0)


if __name__ == "__main__":
    main()
