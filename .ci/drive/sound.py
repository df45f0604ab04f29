"""The sounds of the real program, recorded from real sound servers while it runs a session in a
terminal: does the right one start at the instant when the window opens, is about to close and closes,
when a hold is counted in, begins and ends, and when a record fell? And with a server that is stuck or
absent: does a frame come late?

    sound.py BINARY [RESTS|sample]

One half of the rests lasts 8 to 10 s, the other 20 to 40. Sounds start within 60 ms, those that a key
brings (the first tick before a hold, a record) within 300, frames come within 100: on a machine that
does nothing else. A sample is one short rest, for any machine: it holds that the right sounds come,
each once, and frames go on.
A server that this machine lacks is said and skipped; with CI set, that is a failure.
"""

import array
import concurrent.futures
import functools
import math
import os
import re
import shutil
import signal
import statistics
import subprocess
import sys
import tempfile
import threading
import time

from terminal import Program, make_home

RATE = 48000
SHORT, LONG = (8, 10), (20, 40)
# So long before the close it is announced, where the window is as long as the long one.
SOON = 10
LEAD_IN = 5
# A sound may start so much later than its instant, and a frame come so much later than it is due.
QUIET = (0.060, 0.100)
BY_KEY = 0.300
ANY = (0.900, 0.900)
# What is recorded comes in pieces of so many seconds: no instant is known better.
QUANTUM = 1024 / RATE


def pitch(samples):
    """The strongest frequency between 400 and 2500 Hz, by correlation at every 10 Hz."""
    n = len(samples)
    best = (0.0, 0)
    for hertz in range(400, 2500, 10):
        step = 2 * math.pi * hertz / RATE
        re = sum(s * math.cos(step * i) for i, s in enumerate(samples))
        im = sum(s * math.sin(step * i) for i, s in enumerate(samples))
        best = max(best, ((re * re + im * im) / n, hertz))
    return best[1]


def own_pitch(name):
    """The first pitch of a sound that ships."""
    path = os.path.join(os.path.dirname(__file__), "..", "..", "sounds", f"{name}.wav")
    with open(path, "rb") as file:
        samples = array.array("h", file.read()[44:])
    return pitch(samples[480:2880])


class Recorder:
    """Takes in what a recording program writes, and knows when each sample was made: the least
    delayed of the pieces around it tells. Not of all: a sink's clock is not this machine's."""

    def __init__(self, command, environment):
        self.process = subprocess.Popen(command, env=environment, stdout=subprocess.PIPE)
        self.samples = array.array("h")
        self.pieces = []
        self.thread = threading.Thread(target=self.listen, daemon=True)
        self.thread.start()

    def listen(self):
        rest = b""
        while True:
            data = os.read(self.process.stdout.fileno(), 65536)
            at = time.clock_gettime(time.CLOCK_BOOTTIME)
            if not data:
                return
            data = rest + data
            even = len(data) & ~1
            rest = data[even:]
            self.samples.frombytes(data[:even])
            self.pieces.append((len(self.samples), at - len(self.samples) / RATE))

    def instant(self, sample):
        near = (begin for end, begin in self.pieces if abs(end - sample) < 2 * RATE)
        return min(near) + sample / RATE

    def stop(self):
        self.process.terminate()
        self.process.wait()
        self.thread.join()

    def onsets(self):
        """When sounds begin, with the first 50 ms of each: the first loud sample after a silence of
        200 ms."""
        found, quiet = [], RATE
        for start in range(0, len(self.samples), 48):
            piece = self.samples[start : start + 48]
            if max(map(abs, piece), default=0) < 300:
                quiet += len(piece)
                continue
            if quiet > RATE // 5:
                first = next(i for i, s in enumerate(piece) if abs(s) >= 300)
                at = start + first
                found.append((self.instant(at), self.samples[at + 480 : at + 2880]))
            quiet = 0
        return found


class Server:
    """A sound server of our own with a sink that nobody hears, in a folder of its own."""

    def __init__(self, folder):
        self.folder = folder
        self.processes = []
        self.environment = {
            "HOME": folder,
            "XDG_RUNTIME_DIR": folder,
            "PATH": os.environ["PATH"],
        }

    def start(self, *command):
        with open(os.path.join(self.folder, "log"), "ab") as log:
            process = subprocess.Popen(command, env=self.environment, stdout=log, stderr=log)
        self.processes.append(process)
        return process

    def ask(self, *command):
        asked = subprocess.run(command, env=self.environment, capture_output=True, text=True)
        return asked.stdout if asked.returncode == 0 else ""

    def wait_for(self, is_so, what):
        end = time.monotonic() + 20
        while not is_so():
            if time.monotonic() > end:
                with open(os.path.join(self.folder, "log")) as log:
                    raise TimeoutError(f"waited for {what}:\n{log.read()}")
            time.sleep(0.05)

    def record(self):
        return Recorder(
            ["parec", "--raw", "-d", "probe.monitor", "--format=s16le", "--channels=1"]
            + [f"--rate={RATE}", "--latency-msec=2"],
            self.environment,
        )

    def stop(self):
        for process in reversed(self.processes):
            process.send_signal(signal.SIGCONT)
            process.kill()
            process.wait()


def pulseaudio(folder):
    server = Server(folder)
    server.start(
        "pulseaudio", "-n", "--daemonize=no", "--exit-idle-time=-1", "--use-pid-file=no",
        "--load=module-native-protocol-unix",
        f"--load=module-null-sink sink_name=probe rate={RATE}",
        # As on a desktop: what nobody plays to goes to sleep.
        "--load=module-suspend-on-idle timeout=2",
    )
    server.wait_for(lambda: "probe" in server.ask("pactl", "list", "short", "sinks"), "the sink")
    return server


def pipewire(folder):
    server = Server(folder)
    # A bus of its own, or it would look for one of this machine.
    bus = os.path.join(folder, "bus")
    server.start("dbus-daemon", "--session", "--nofork", f"--address=unix:path={bus}")
    server.wait_for(lambda: os.path.exists(bus), "the bus")
    for name in ("DBUS_SESSION_BUS_ADDRESS", "DBUS_SYSTEM_BUS_ADDRESS"):
        server.environment[name] = f"unix:path={bus}"
    server.start("pipewire")
    server.wait_for(lambda: os.path.exists(os.path.join(folder, "pipewire-0")), "pipewire")
    server.start("wireplumber")
    server.start("pipewire-pulse")
    server.wait_for(lambda: "PipeWire" in server.ask("pactl", "info"), "pipewire-pulse")
    server.ask(
        "pactl", "load-module", "module-null-sink", "sink_name=probe", f"rate={RATE}"
    )
    server.wait_for(lambda: "probe" in server.ask("pactl", "list", "short", "sinks"), "the sink")
    server.ask("pactl", "set-default-sink", "probe")
    return server


SERVERS = {
    "PulseAudio": (pulseaudio, ["pulseaudio", "pactl", "parec"]),
    "PipeWire": (
        pipewire,
        ["pipewire", "pipewire-pulse", "wireplumber", "dbus-daemon", "pactl", "parec"],
    ),
}


class Frames(Program):
    """The program, with the instants of its frames."""

    def __init__(self, binary, home, variables):
        self.times = []
        super().__init__(binary, home, variables=variables)

    def take(self, frame):
        self.times.append(time.clock_gettime(time.CLOCK_BOOTTIME))
        super().take(frame)


def slot(exercise, sets, count, window):
    """An exercise of a program's day."""
    opens, closes = window
    return (
        f'(exercise: "{exercise}", sets: {sets}, {count}, rest: "0:{opens:02}-0:{closes:02}"),'
    )


def opened(binary, folder, variables, slots):
    """The program at the first set of a day of these exercises."""
    home = os.path.join(folder, "home")
    if not os.path.exists(home):
        make_home(home)
    with open(os.path.join(home, "config", "programs", "many.ron"), "w") as file:
        file.write(DAY % "".join(slots))
    program = Frames(binary, home, variables)
    program.wait("Enter start")
    program.keys("\r")
    program.wait("set 1 of")
    return program


DAY = """(format: 1, name: "Many", rhythm: Rotation(per_week: 3), phases: [
    (name: "Only", weeks: 4, days: [(name: "Day 1", slots: [%s])]),
])"""


def train_before(binary, folder):
    """A session of one set, so that there is something to be better than."""
    program = opened(binary, folder, {}, [slot("push_up", 1, 'reps: "1-9"', SHORT)])
    pressed(program, "5.3\r")
    program.wait("how hard was it")
    program.keys("\r")
    program.wait("session closed")
    program.keys("\r")
    program.end()


def pressed(program, keys):
    """Presses keys: gives the instant."""
    at = time.clock_gettime(time.CLOCK_BOOTTIME)
    program.keys(keys)
    return at


def rest(program, window):
    """A set is done, and the rest behind it is over: gives what was due, and when."""
    (opens, closes), at = window, pressed(program, "9.3\r")
    due = [(at + opens, "rest_opens"), (at + closes, "rest_closed")]
    if closes - opens > SOON:
        due.insert(1, (at + closes - SOON, "ten_seconds"))
    program.read(closes + 1.5)
    return due


def hold(program):
    """A hold is counted in and held: gives what was due, and when, and the rest behind it."""
    at = pressed(program, " ")
    program.wait(re.compile(r"hold to \d+:\d+").search)
    minutes, seconds = re.search(r"hold to (\d+):(\d+)", program.frame).groups()
    over = at + LEAD_IN + 60 * int(minutes) + int(seconds)
    due = [(at + second, "lead_in") for second in range(LEAD_IN)]
    due += [(at + LEAD_IN, "hold_begins"), (over, "hold_over")]
    opens, closes = SHORT
    due += [(over + opens, "rest_opens"), (over + closes, "rest_closed")]
    program.read(over + closes + 1.5 - time.clock_gettime(time.CLOCK_BOOTTIME))
    return due


def session(program, rests):
    """A session of so many rests: gives what was due, and when."""
    if rests == 1:
        return rest(program, SHORT)
    long = rests // 2
    due = hold(program)
    for number in range(1, rests):
        due += rest(program, SHORT if number < rests - long else LONG)
    return [*due, (pressed(program, "9.3\r"), "record")]


def day(rests):
    """The exercises that such a session has."""
    reps = 'reps: "1-9"'
    if rests == 1:
        return [slot("push_up", 2, reps, SHORT)]
    long = rests // 2
    return [
        slot("plank", 1, 'hold: "10-12"', SHORT),
        slot("push_up", rests - long, reps, SHORT),
        slot("glute_bridge", long, reps, LONG),
    ]


def lacks(name):
    """What a server needs and this machine has not."""
    return [need for need in SERVERS[name][1] if not shutil.which(need)]


def hear(name, binary, rests, latest):
    """So many rests on a server: when did what start? Gives what there is to say, and problems."""
    problems, late = [], []
    by_key = ("record", "lead_in")
    with tempfile.TemporaryDirectory(prefix="rackside-sound-") as folder:
        server = SERVERS[name][0](folder)
        try:
            if rests > 1:
                train_before(binary, folder)
            program = opened(binary, folder, {"XDG_RUNTIME_DIR": folder}, day(rests))
            recorder = server.record()
            server.wait_for(lambda: len(recorder.samples) > RATE, "the recording")
            instants = session(program, rests)
            program.read(2)
            program.keys("q")
            program.end()
            recorder.stop()
        finally:
            server.stop()
    onsets = recorder.onsets()
    pitches = {one: own_pitch(one) for one in {sound for _, sound in instants}}
    for number, (instant, sound) in enumerate(instants):
        near = [(at - instant, samples) for at, samples in onsets if abs(at - instant) < 0.5]
        if len(near) != 1:
            problems.append(f"{name}: {len(near)} sounds at instant {number} ({sound})")
            continue
        ((delay, samples),) = near
        heard = pitch(samples)
        if sound not in by_key:
            late.append(delay)
        most = max(latest, BY_KEY) if sound in by_key else latest
        if not -QUANTUM < delay <= most:
            problems.append(f"{name}: {sound} {number} starts {delay * 1000:.1f} ms after")
        if abs(heard - pitches[sound]) > 20:
            problems.append(f"{name}: {sound} {number} has {heard} Hz, not {pitches[sound]}")
    if len(onsets) > len(instants):
        problems.append(f"{name}: {len(onsets)} sounds, {len(instants)} were due")
    if not late:
        return f"{name}: silence", problems
    median, worst = statistics.median(late) * 1000, max(late) * 1000
    said = f"{len(onsets)} sounds in {rests} rests, after their instant: median {median:.1f} ms"
    return f"{name}: {said}, worst {worst:.1f} ms", problems


def has_rung(program, begin_at):
    """Whether the bell rang: titles end with the same byte."""
    return b"\x07" in re.sub(rb"\x1b\][^\x07]*\x07", b"", program.said[begin_at:])


def count_on(what, binary, server_of, latest):
    """A rest with a server that is stopped or absent: every second's frame, and the bell."""
    problems = []
    with tempfile.TemporaryDirectory(prefix="rackside-sound-") as folder:
        server = server_of(folder)
        try:
            program = opened(binary, folder, {"XDG_RUNTIME_DIR": folder}, day(1))
            for process in server.processes:
                process.send_signal(signal.SIGSTOP)
            said, closes = len(program.said), SHORT[1]
            at = pressed(program, "9.3\r")
            program.read(closes + 2.3)
            rung = has_rung(program, said)
            program.keys("q")
            program.end()
        finally:
            server.stop()
    worst = 0.0
    for second in range(1, closes + 2):
        behind = [frame - at - second for frame in program.times if frame >= at + second - 0.005]
        delay = min(behind, default=math.inf)
        worst = max(worst, delay)
        if delay > latest:
            problems.append(f"{what}: second {second} is drawn {delay * 1000:.0f} ms late")
    if not rung:
        problems.append(f"{what}: the bell did not ring")
    return f"{what}: every second drawn, {worst * 1000:.1f} ms late at most", problems


def main():
    binary = os.path.abspath(sys.argv[1])
    asked = sys.argv[2] if len(sys.argv) > 2 else "10"
    rests, (latest, frame) = (1, ANY) if asked == "sample" else (int(asked), QUIET)
    jobs = [functools.partial(count_on, "no server", binary, Server, frame)]
    missing = []
    for name in SERVERS:
        if lacks(name):
            print(f"{name}: skipped, this machine has no {', '.join(lacks(name))}")
            missing += lacks(name)
            continue
        jobs.append(functools.partial(hear, name, binary, rests, latest))
        stuck = f"{name}, stopped"
        jobs.append(functools.partial(count_on, stuck, binary, SERVERS[name][0], frame))
    failed = bool(missing and os.environ.get("CI"))
    with concurrent.futures.ProcessPoolExecutor(len(jobs)) as pool:
        for said, problems in pool.map(call, jobs):
            print("\n".join([said, *problems]))
            failed = failed or bool(problems)
    return 1 if failed else 0


def call(job):
    return job()


if __name__ == "__main__":
    sys.exit(main())
