#!/usr/bin/env python3
"""Recomputes, from the exported CSV of sets alone, what the other exports say.

    export.py PROGRAM

Own code from the definitions in shared/logbook.md and shared/export.md, with pandas: one-rep maxes by
each published equation, weekly sets of each muscle, volume load, monotony, strain, records and Brier
scores of invented journals must be the same to the last printed digit. First it proves that it would
notice a difference: with one rep more in one set the answers must not be the same.
"""
import datetime
import math
import os
import pathlib
import random
import re
import subprocess
import sys
import tempfile
from decimal import Decimal
from io import StringIO

import pandas as pd

PER = {"kg": 10**12, "lb": 453_592_370_000}  # nanograms; the pound as of the agreement of 1959
EQUATIONS = {
    "epley": lambda w, n: w * (1 + n / 30),
    "brzycki": lambda w, n: w * (36 / (37 - n)),
    "lander": lambda w, n: w * (100 / (101.3 - 2.67123 * n)),
    "lombardi": lambda w, n: w * n**0.10,
    "mayhew": lambda w, n: w * (100 / (52.2 + 41.9 * math.exp(-0.055 * n))),
    "oconner": lambda w, n: w * (1 + 0.025 * n),
    "wathan": lambda w, n: w * (100 / (48.8 + 53.8 * math.exp(-0.075 * n))),
}
FEW = 10  # reps to failure that enter a one-rep max, at most


def decimal(number):
    """As the export prints it: six decimals at most."""
    return f"{number:.6f}".rstrip("0").rstrip(".")


def kilograms(nanograms):
    text = f"{Decimal(int(nanograms)) / 10**12:f}"
    return text.rstrip("0").rstrip(".") if "." in text else text


def one_rep_max(equation, moved, reps):
    if reps < 1 or reps > FEW:
        return None
    return moved if reps == 1 else EQUATIONS[equation](moved, reps)


class Exports:
    """What the program says of a home."""

    def __init__(self, program, home):
        self.program, self.home = program, home

    def rows(self, kind):
        command = [self.program, "export", "csv", "--rows", kind]
        environment = {"RACKSIDE_HOME": str(self.home), "TZ": "UTC", "PATH": "/usr/bin:/bin"}
        ran = subprocess.run(command, env=environment, capture_output=True, check=True)
        text = ran.stdout.decode()
        assert text.count("\r\n") == text.count("\n"), "lines end in CR LF"
        return pd.read_csv(StringIO(text), dtype=str, keep_default_na=False)


def understood(sets):
    """The undamaged sets, with what the definitions make of each."""
    sets = sets[sets.damaged == "false"].copy()
    sets["held"] = sets.seconds != ""
    sets["count"] = sets.reps.where(~sets.held, sets.seconds).astype(int)
    sets["work"] = (sets.kind != "ramp") & (sets["count"] > 0)
    spare = pd.to_numeric(sets.spare.replace("", "0"))
    sets["hard"] = sets.work & (sets.deload == "false") & (spare <= 4)
    sets["to_failure"] = (sets["count"] + spare).where(sets.work & ~sets.held & (spare <= 4))
    sets["load_ng"] = [int(Decimal(kg or 0) * 10**12) for kg in sets.load_kg]
    sets["moved_ng"] = [moved(row) for row in sets.itertuples()]
    sets["volume_ng"] = [volume(row) for row in sets.itertuples()]
    sets["iso_week"] = [iso_week(day) for day in sets.date]
    return sets


def moved(row):
    if row.counts == "band":
        return 0
    body = Decimal(row.body_weight_kg or 75) * Decimal(row.percent or 0) / 100
    return max(0, int(body * 10**12) + row.load_ng)


def volume(row):
    if row.held or not row.work:
        return 0
    sides = int(row.left) + int(row.right) if row.left else 2 * row.count
    reps = sides if row.sides in ("each", "alternating") else int(row.left or row.count)
    return max(0, row.load_ng) * reps * (2 if row.counts == "per_hand" else 1)


def iso_week(day):
    year, week, _ = datetime.date.fromisoformat(day).isocalendar()
    return f"{year:04}-W{week:02}"


def exercises(sets):
    rows = {}
    for key, group in sets.groupby(["session", "exercise"], sort=False):
        work = group[group.work & (group.moved_ng > 0)]
        unit = work.unit.iloc[0] if len(work) else ""
        row = {
            "sets": str(group.work.sum()),
            "hard_sets": str(group.hard.sum()),
            "volume_kg": kilograms(group.volume_ng.sum()),
            "unit": unit,
        }
        for name in EQUATIONS:
            maxes = []
            for s in work[work.to_failure.notna()].itertuples():
                per = PER[s.unit]
                found = one_rep_max(name, s.moved_ng / per, int(s.to_failure))
                if found is not None:
                    maxes.append(found if s.unit == unit else found * per / PER[unit])
            row[f"e1rm_{name}"] = decimal(max(maxes)) if maxes else ""
        rows[key] = row
    return rows


def weeks(sets, today):
    rows = {}
    first = min(map(datetime.date.fromisoformat, sets.date))
    monday = first - datetime.timedelta(days=first.weekday())
    while monday <= today:
        days = [(monday + datetime.timedelta(days=k)).isoformat() for k in range(7)]
        group = sets[sets.date.isin(days)]
        sessions = group.drop_duplicates("session")
        known = sessions[(sessions.effort != "") & (sessions.minutes != "")]
        loads = known.effort.astype(int) * known.minutes.astype(int)
        daily = pd.Series([float(loads[known.date == day].sum()) for day in days])
        over = monday + datetime.timedelta(days=7) <= today
        row = {
            "over": str(over).lower(),
            "sessions": str(len(sessions)),
            "days": str(sessions.date.nunique()),
            "told": str(len(known)),
            "minutes": str(sessions.minutes[sessions.minutes != ""].astype(int).sum()),
            "hard_sets": str(group.hard.sum()),
            "volume_kg": kilograms(sum(group.volume_ng)),
            "load": "", "monotony": "", "strain": "",
        }
        if over and len(sessions) and len(known) == len(sessions):
            row["load"] = decimal(daily.sum())
            spread = daily.std(ddof=1)
            if spread > 0:
                row["monotony"] = decimal(daily.mean() / spread)
                row["strain"] = decimal(daily.sum() * (daily.mean() / spread))
        muscles = {}
        for s in group[group.hard].itertuples():
            for name in filter(None, s.muscles.split(", ")):
                bare = name.strip("()").replace(" ", "_")
                muscles[bare] = muscles.get(bare, 0) + (0.5 if name.startswith("(") else 1)
        row |= {f"sets_{name}": decimal(count) for name, count in muscles.items()}
        rows[days[0]] = row
        monday += datetime.timedelta(days=7)
    return rows


def records(sets):
    rows = {}

    def fell(exercise, what, load, s, **more):
        rows[(exercise, what, load)] = {"date": s.date, "session": s.session} | more

    work = sets[sets.work]
    for exercise, group in work.groupby("exercise"):
        best = 0
        loaded = group.moved_ng.gt(0) & (group.counts != "body")
        for s in group[~group.held & loaded].itertuples():
            found = one_rep_max("epley", s.moved_ng / PER[s.unit], s.count)
            nanograms = math.floor(found * PER[s.unit] + 0.5) if found else 0
            if nanograms > best:
                best = nanograms
                value = decimal(nanograms / PER[s.unit])
                fell(exercise, "e1rm", "", s, value=value, unit=s.unit)
        for held, what in ((False, "most_reps"), (True, "longest_hold")):
            for kind in ("mass", "body", "band"):
                of_kind = group[(group.held == held) & (group.load.map(kind_of) == kind)]
                if kind == "band":
                    order = of_kind.load.str.removeprefix("band ").astype(int)
                else:
                    order = of_kind.load_ng
                heavier = 0
                for load in sorted(order.unique(), reverse=True):
                    alike = of_kind[order == load]
                    first = next(alike[alike["count"] == alike["count"].max()].itertuples())
                    count = {"seconds" if held else "reps": str(first.count)}
                    fell(exercise, what, first.load, first, **count)
                    if not held and first.count > heavier:
                        fell(exercise, "heaviest", first.load, first, **count)
                        heavier = first.count
        best = 0
        for _, session in group.groupby("session", sort=False):
            volume_ng, done = sum(session.volume_ng), session["count"].sum()
            unit = "kg" if volume_ng else "s" if session.held.all() else "reps"
            amount = volume_ng or done
            if amount > best:
                best = amount
                value = kilograms(amount) if volume_ng else str(amount)
                fell(exercise, "most_work", "", next(session.itertuples()), value=value, unit=unit)
    return rows


def kind_of(load):
    return "body" if load.startswith("body") else "band" if load.startswith("band") else "mass"


def odds(sets):
    """Chance and outcome of every set and every exercise of which one can tell; the rest counted."""
    stated = {"set": [], "exercise": []}
    left_out = {"set": 0, "exercise": 0}
    for s in sets[sets.odds != ""].itertuples():
        if s.count >= int(s.asked):
            stated["set"].append((float(s.odds), 1))
        elif s.ended in ("as_asked", "short"):
            stated["set"].append((float(s.odds), 0))
        else:
            left_out["set"] += 1
    for _, item in sets[sets.plan_odds != ""].groupby(["session", "item"]):
        came = of_item(item)
        if came is None:
            left_out["exercise"] += 1
        else:
            stated["exercise"].append((float(item.plan_odds.iloc[0]), came))
    rows = {}
    for name, pairs in stated.items():
        edges = [(k / 10, (k + 1) / 10) for k in range(10)]
        for low, high in [*edges, (0, 1)]:
            whole = (low, high) == (0, 1)
            bin_of = [p for p in pairs if whole or min(int(p[0] * 10), 9) == round(low * 10)]
            row = {"stated": str(len(bin_of)), "came_true": str(sum(c for _, c in bin_of))}
            mean = lambda values: decimal(sum(values) / len(bin_of)) if bin_of else ""
            row["mean_stated"] = mean([p for p, _ in bin_of])
            row["share_true"] = mean([c for _, c in bin_of])
            row["brier"] = mean([(p - c) ** 2 for p, c in bin_of]) if whole else ""
            row["left_out"] = str(left_out[name]) if whole else ""
            rows[(name, decimal(low), decimal(high))] = row
    return rows


def of_item(item):
    planned = item.plan_exercise.iloc[0]
    own = list(item[(item.exercise == planned) & (item.kind == "working")].itertuples())
    for k in range(int(item.plan_sets.iloc[0])):
        if k >= len(own) or own[k].load != own[k].plan_load:
            return None
        if own[k].count < int(own[k].plan_asked):
            return 0 if own[k].ended in ("as_asked", "short") else None
    return 1


KEYS = {
    "exercises": ["session", "exercise"],
    "weeks": ["monday"],
    "records": ["exercise", "record", "load"],
    "odds": ["odds_of", "from", "to"],
}


def differences(exports, sets, today):
    """Every cell that differs, and how many were compared."""
    sets = understood(sets)
    own = {
        "exercises": exercises(sets),
        "weeks": weeks(sets, today),
        "records": records(sets),
        "odds": odds(sets),
    }
    found, compared = [], 0
    for kind, mine in own.items():
        told = {}
        for row in exports.rows(kind).to_dict("records"):
            key = tuple(row[name] for name in KEYS[kind])
            told[key if len(key) > 1 else key[0]] = row
        if set(told) != set(mine):
            found.append(f"{kind}: rows {sorted(set(told) ^ set(mine))[:5]} are in one alone")
        for key in set(told) & set(mine):
            named = mine[key] | {
                name: mine[key].get(name, "0") for name in told[key] if name.startswith("sets_")
            }
            for name, value in named.items():
                compared += 1
                if told[key][name] != value:
                    found.append(f"{kind} {key} {name}: {told[key][name]!r}, recomputed {value!r}")
    return found, compared


def by_hand(journal, seed):
    """States odds in an invented journal, ends a few sets otherwise, and says body weights."""
    chance = random.Random(seed)
    lines = []
    for line in journal.read_text().splitlines():
        line = line.split(" // crc ")[0]
        stated = lambda match: f"odds:{chance.randrange(1, 10000) / 10000},{match.group(0)}"
        if ",event:Set(" in line and "odds:" not in line and chance.random() < 0.7:
            line = re.sub("counts:", stated, line, count=1)
        if ",event:Opened(" in line:
            line = re.sub("slot:", stated, line)
        if "ended:Short" in line and chance.random() < 0.4:
            line = line.replace("ended:Short", chance.choice(("ended:OnPurpose", "ended:Interrupted")))
        lines.append(line)
        if chance.random() < 0.01:
            at = re.search(r'at:"[^"]*"', line).group(0)
            weight = f'"{chance.randrange(140, 190)} lb"'
            lines.append(f'(v:1,id:"hand-{seed}-{len(lines)}",n:{len(lines)},{at},'
                         f"event:BodyWeight(weight:{weight}))")
    journal.write_text("\n".join(lines) + "\n")


SHEET = """date,exercise,load,reps,left,right,seconds,spare,effort,minutes,body_weight
2026-02-02,dumbbell bench press,50 lb,8,,,,2,7,45,81.35 kg
2026-02-02,dumbbell bench press,22.5 kg,9,,,,1,,,
2026-02-02,one-arm row,52.5 lb,,8,7,,0,,,
2026-02-03,push-up,+10 kg,12,,,,3,6,30,
2026-02-03,pull-up,-15.25 kg,4,,,,6,,,
2026-02-05,plank,,,,,45,,8,25,82.1 kg
2026-02-05,plank,,,,,50,,,,
2026-02-05,band row,band 2,15,,,,,,,
2026-02-05,goblet squat,47.75 lb,1,,,,,,,
2026-02-05,goblet squat,20 kg,0,,,,,,,
"""


def prepared(program, home, seed):
    run = lambda *arguments: subprocess.run(
        [program, *arguments], env={"RACKSIDE_HOME": str(home), "TZ": "UTC", "PATH": "/usr/bin"},
        check=True, capture_output=True,
    )
    run("demo", "--write-only", "--home", str(home), "--seed", str(seed))
    for journal in (home / "data/journal").glob("*.ron"):
        by_hand(journal, seed)
    sheet = home / "cellar.csv"
    sheet.write_text(SHEET)
    run("import", "csv", str(sheet), "--record")


def main():
    program = os.path.abspath(sys.argv[1])
    today = datetime.datetime.now(datetime.UTC).date()
    for seed in (1, 2, 3):
        with tempfile.TemporaryDirectory() as folder:
            home = pathlib.Path(folder)
            prepared(program, home, seed)
            exports = Exports(program, home)
            sets = exports.rows("sets")
            wrong = sets.copy()
            place = wrong.index[(wrong.kind == "working") & (wrong.reps == "8")][0]
            wrong.loc[place, "reps"] = "9"
            noticed, _ = differences(exports, wrong, today)
            assert noticed, "a rep more in one set was not noticed"
            found, compared = differences(exports, sets, today)
            for difference in found[:20]:
                print(difference)
            print(f"seed {seed}: {len(sets)} sets, {compared} numbers, {len(found)} differ")
            if found:
                return 1
    return 0


if __name__ == "__main__":
    sys.exit(main())
