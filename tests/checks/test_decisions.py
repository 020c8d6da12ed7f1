"""Where each check draws its line: the figure, its published source, and the cases on both sides."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from zlib import crc32

import pytest

from repslate.checks import run
from repslate.checks.prescription import figure_absurd
from repslate.facts import Facts
from repslate.source.finding import Finding

ReadFragment = Callable[[str], tuple[Facts | None, tuple[Finding, ...]]]

PICTURE = Path(__file__).parents[2] / "samples/boathouse-kettlebells/pictures/goblet-squat.png"
STRAIGHT = "## Straight sets\n### Goblet squat\n{line}\n"
PAIR = "## Superset A · 3 rounds · rest 90 s\n### Goblet squat\n{first}\n### Push-up\n{second}\n"
CIRCUIT = "## Circuit · 3 rounds · rest 60 s\n" + "".join(
    f"### {name}\n30 s, rest {{rest}}\n" for name in ("Bodyweight squat", "Push-up", "Glute bridge", "Plank")
)
EVERY_MINUTE = "## Every minute for 8 min\n### Goblet squat\n{line}\n"
TURNS = "## Every 2 min {says}\n### Goblet squat\n{first}{second}\n"
PUSH = "\n### Push-up\n60 s"
ANSWERED = (
    "## For time · 21-15-9\n### Goblet squat\n@ 16 kg\n### Push-up\n",
    "## For time\n### Goblet squat\n50 reps\n",
    "## Rounds for time · 5 rounds\n### Goblet squat\n10 reps\n",
    "## Chipper · cap 20 min\n### Goblet squat\n50 reps\n",
    "## Every 2 min for 8 rounds\n### Goblet squat\n5 reps\n",
    "## Intervals · 8 × 20 s on / 10 s off\n### Goblet squat\n",
    "## Circuit · 3 rounds · 30 s on / 15 s off\n### Goblet squat\n",
    "## Ladder · 3-2-1\n### Goblet squat\n",
    "## Ladder in 9 min · 3-6-9-…\n### Goblet squat\n",
    "## Flow · 3 rounds\n### Goblet squat\n5 reps\n",
    "## Partner · 10 rounds · in pairs\n### Goblet squat\n5 reps\n",
    "## Test\n### Goblet squat\n5 reps\n",
    "## As many repetitions as possible in 5 min\n### Goblet squat\nmax\n",
)
FILM = (
    "---\nformat: 1\ntitle: A film\n{length}---\n## Straight sets\n### Goblet squat\n3 × 10, rest 90 s\nchapters.txt:\n"
)


def film(*starts: int, length: str = "") -> str:
    lines = [f"{start // 60}:{start % 60:02} Goblet squat" for start in starts]
    return FILM.format(length=f'length: "{length}"\n' if length else "") + "\n".join(lines)


def front(level: str, line: str, name: str = "Goblet squat", extra: str = "") -> str:
    return f"---\nformat: 1\ntitle: T\nlevel: {level}\n{extra}---\n## Straight sets\n### {name}\n{line}\n"


WORK = "## Straight sets\n### Goblet squat\n5 × 3, rest 3 min\n"


UP = "## Warm-up\n### Arm circle\n10 reps\n"
DOWN = "## Cool-down\n### Standing calf stretch\n2 × 60 s per side\n"


def stretch(line: str, goal: str) -> str:
    return f"---\nformat: 1\ntitle: T\ngoal: {goal}\n---\n## Warm-up\n### Standing calf stretch\n{line}\n{WORK}"


GOAL = "---\nformat: 1\ntitle: T\ngoal: strength\nlevel: advanced\n---\n"
CASES = [
    # Schoenfeld, Ogborn & Krieger 2015, Sports Med 45(4):577–585: alike from 0.5 to 8 s a repetition, less above 10 s.
    ("tempo-slow", STRAIGHT.format(line="3 × 6, tempo 4-1-2-1, rest 90 s"), []),
    ("tempo-slow", STRAIGHT.format(line="3 × 6, tempo 5-1-2-1, rest 90 s"), ["warning"]),
    ("tempo-slow", STRAIGHT.format(line="3 × 6, tempo 6-1-2-1, rest 90 s"), ["warning"]),
    ("tempo-slow", STRAIGHT.format(line="3 × 6, tempo 6-1-3-1, rest 90 s"), ["warning"]),
    # X counts one second: common practice, no source. 6 + 1 + X + 0 = 8.
    ("tempo-slow", STRAIGHT.format(line="3 × 6, tempo 6-1-X-0, rest 90 s"), []),
    # Accepted 10–50 % a drop: our choice around 20–25 % (Schoenfeld & Grgic 2018, from memory).
    ("drop-size", STRAIGHT.format(line="3 × 10, 2 drops of 10 %, rest 90 s"), []),
    ("drop-size", STRAIGHT.format(line="3 × 10, 2 drops of 50 %, rest 90 s"), []),
    ("drop-size", STRAIGHT.format(line="3 × 10, 2 drops of 9 %, rest 90 s"), ["warning"]),
    ("drop-size", STRAIGHT.format(line="3 × 10, 2 drops of 5–20 %, rest 90 s"), ["warning"]),
    ("drop-size", STRAIGHT.format(line="3 × 10, 2 drops of 40–60 %, rest 90 s"), ["warning"]),
    ("drop-size", STRAIGHT.format(line="3 × 10, 2 drops of 51 %, rest 90 s"), ["warning"]),
    # A turn of two minutes: three quarters are 90 s, each exercise by itself or all of them together.
    ("minute-full", TURNS.format(says="for 10 min", first="90 s", second=""), []),
    ("minute-full", TURNS.format(says="for 10 min", first="91 s", second=""), ["warning"]),
    ("minute-full", TURNS.format(says="for 10 min", first="120 s", second=""), ["error"]),
    ("minute-full", TURNS.format(says="for 8 rounds", first="91 s", second=""), ["warning"]),
    ("minute-full", TURNS.format(says="for 10 min · alternating", first="60 s", second=PUSH), []),
    ("minute-full", TURNS.format(says="for 10 min · all every turn", first="45 s", second=PUSH), ["warning"]),
    # Whose each turn is: one exercise has them all, several a minute take turns, anything else is asked.
    ("turns-unclear", TURNS.format(says="for 10 min", first="30 s", second=""), []),
    ("turns-unclear", TURNS.format(says="for 10 min", first="30 s", second=PUSH), ["warning"]),
    ("turns-unclear", TURNS.format(says="for 10 min · alternating", first="30 s", second=PUSH), []),
    ("turns-unclear", EVERY_MINUTE.format(line="30 s" + PUSH), []),
    ("turns-unclear", "## Every minute for 8 rounds\n### Goblet squat\n5 reps" + PUSH, ["warning"]),
    ("turns-unclear", "## Intervals · 8 × 20 s on / 10 s off\n### Goblet squat\n### Push-up\n", ["warning"]),
    ("turns-unclear", "## Circuit · 2 rounds · 20 s on / 10 s off\n### Goblet squat\n### Push-up\n", []),
    ("clock-missing", "## Every 2 min\n### Goblet squat\n5 reps\n", ["error"]),
    ("clock-missing", "## Every\n### Goblet squat\n5 reps\n", ["error"]),
    ("clock-missing", "## Every 2 min for 8 rounds\n### Goblet squat\n5 reps\n", []),
    ("clock-missing", "## Ladder · 3-6-9\n### Goblet squat\n", []),
    ("clock-missing", "## For time · 3-6-9\n### Goblet squat\n", []),
    # What the form answers is not asked for.
    *(
        (check, text, [])
        for check in ("rest-missing", "sets-missing", "nothing-to-do", "work-missing")
        for text in ANSWERED
    ),
    ("sets-missing", "## Rounds for time\n### Goblet squat\n10 reps\n", ["warning"]),
    ("sets-missing", "## Ladder\n### Goblet squat\n10 reps\n", ["warning"]),
    ("sets-missing", "## Strength\n### Goblet squat\n10 reps, rest 2 min\n", ["warning"]),
    ("rest-missing", "## Complex · 3 rounds\n### Goblet squat\n6 reps\n", ["warning"]),
    ("rest-missing", "## Strength\n### Goblet squat\n3 × 10\n", ["warning"]),
    ("nothing-to-do", "## For time\n### Goblet squat\n", ["error"]),
    ("nothing-to-do", "## Flow\n### Goblet squat\n", ["warning"]),
    # 21-15-9 are three rounds.
    ("rounds-differ", "## Rounds for time · 3 rounds · 21-15-9\n### Goblet squat\n", []),
    ("rounds-differ", "## Rounds for time · 4 rounds · 21-15-9\n### Goblet squat\n", ["error"]),
    ("rounds-differ", "## Intervals · 3 sets of 5 × 60 s on / 60 s off\n### Goblet squat\n3 × 10\n", []),
    ("figure-zero", "## For time · 21-15-0\n### Goblet squat\n", ["error"]),
    ("figure-zero", "## Intervals · 8 × 0 s on / 10 s off\n### Goblet squat\n", ["error"]),
    ("figure-zero", "## Intervals · 8 × 20 s on / 0 s off\n### Goblet squat\n", []),
    ("figure-absurd", "## For time · 210-150-90\n### Goblet squat\n", ["error"]),
    ("figure-absurd", "## For time · cap 180 min\n### Goblet squat\n9 reps\n", ["error"]),
    # The repetitions of a scheme count as if they stood in the line: 150 are many.
    ("reps-many", "## For time · 50-40-30-20-10\n### Push-up\n", ["warning"]),
    # Under a minute, warn over 45 s: our choice; form after Oliver-López et al. 2025, PeerJ 13:e19265.
    ("minute-full", EVERY_MINUTE.format(line="45 s"), []),
    ("minute-full", EVERY_MINUTE.format(line="46 s"), ["warning"]),
    ("minute-full", EVERY_MINUTE.format(line="60 s"), ["error"]),
    ("minute-full", EVERY_MINUTE.format(line="30 s per side"), ["error"]),
    ("minute-full", EVERY_MINUTE.format(line="15 reps, tempo 2-0-1-0"), []),
    ("minute-full", EVERY_MINUTE.format(line="20 reps, tempo 2-0-1-0"), ["error"]),
    ("minute-full", EVERY_MINUTE.format(line="10–20 reps, tempo 2-0-1-0"), ["error"]),
    ("minute-full", EVERY_MINUTE.format(line="30 reps"), ["warning"]),  # an estimate is never an error
    # Exactly two, three, at least four: NSCA; Weakley et al. 2017; giant set and circuit common practice.
    ("block-size", PAIR.format(first="10 reps", second="10 reps"), []),
    ("block-size", PAIR.format(first="10 reps", second="10 reps") + "### Plank\n30 s\n", ["error"]),
    ("block-size", "## Tri-set A · 3 rounds · rest 90 s\n### Push-up\n10 reps\n### Plank\n30 s\n", ["error"]),
    ("block-size", "## Giant set A · 3 rounds · rest 90 s\n### Push-up\n10 reps\n### Plank\n30 s\n", ["error"]),
    ("block-size", "## Circuit · 3 rounds · rest 90 s\n### Push-up\n10 reps\n### Plank\n30 s\n", ["warning"]),
    ("block-size", CIRCUIT.format(rest="15 s"), []),
    # Fewer seconds between stations than after the round are right (NSCA and ACSM teaching texts, from memory).
    ("rest-contradicts", CIRCUIT.format(rest="15 s"), []),
    ("rest-contradicts", CIRCUIT.format(rest="60–90 s"), []),
    ("rest-contradicts", CIRCUIT.format(rest="61 s"), ["warning"] * 4),
    ("rest-contradicts", PAIR.format(first="10 reps, rest 15 s", second="10 reps"), []),
    ("rest-contradicts", PAIR.format(first="10 reps", second="10 reps, rest 60–90 s"), []),
    ("rest-contradicts", PAIR.format(first="10 reps", second="10 reps, rest 60 s"), ["error"]),
    ("rest-contradicts", "## Straight sets · rest 60–90 s\n### Push-up\n3 × 10, rest 90 s\n", []),
    ("rest-contradicts", "## Straight sets · rest 60–90 s\n### Push-up\n3 × 10, rest 2 min\n", ["error"]),
    ("rest-missing", STRAIGHT.format(line="1 × 10"), []),
    ("rest-missing", STRAIGHT.format(line="1–2 × 10"), ["warning"]),
    ("rest-missing", STRAIGHT.format(line="12/10/8"), ["warning"]),
    ("rest-missing", "## Superset A · 1 round\n### Push-up\n10 reps\n### Plank\n30 s\n", []),
    ("rest-missing", "## Superset A · 3 rounds\n### Push-up\n10 reps\n### Plank\n30 s, rest 60 s\n", []),
    ("rest-missing", "## Warm-up · 2 rounds\n### Push-up\n10 reps\n", []),
    ("rest-missing", "## Finisher · 4 rounds\n### Push-up\n10 reps\n", []),
    ("rest-missing", "## Superset A\n### Push-up\n1 × 10\n### Plank\n3 × 30 s\n", ["warning"]),
    # "1 × 5" in a block of three rounds is one set each round, three in all: common practice, no source.
    ("rest-missing", "## Superset A · 3 rounds\n### Push-up\n1 × 10\n### Plank\n1 × 30 s\n", ["warning"]),
    ("sets-unusual", GOAL + PAIR.format(first="1 × 5 @ 24 kg", second="1 × 5"), []),
    ("sets-unusual", GOAL + STRAIGHT.format(line="1 × 5 @ 24 kg, rest 3 min"), ["note"]),
    ("sets-unusual", GOAL + EVERY_MINUTE.format(line="3 reps @ 24 kg"), []),
    # Warm-up, work, cool-down: NSCA and ACSM teaching texts, from memory.
    ("block-order", UP + WORK + DOWN, []),
    ("block-order", WORK + UP + WORK + DOWN, []),
    ("block-order", UP + DOWN, []),
    ("block-order", DOWN + UP + WORK, ["warning"]),
    ("block-order", UP + WORK + DOWN + "## Finisher\n### Push-up\n20 reps\n", ["warning"]),
    ("block-order", WORK + DOWN + UP, ["warning"]),
    ("long-stretch-first", GOAL + DOWN + WORK, []),  # it stands in the cool-down; that has to move
    ("long-stretch-first", GOAL + UP + DOWN.replace("Cool-down", "Warm-up") + WORK, ["warning"]),
    ("sets-missing", STRAIGHT.format(line="12/10/8, rest 90 s"), []),
    ("sets-missing", STRAIGHT.format(line="10 reps, rest 90 s"), ["warning"]),
    ("sets-missing", "## Superset A · rest 90 s\n### Push-up\n10 reps\n### Plank\n30 s\n", ["warning"]),
    ("sets-missing", "## Superset A · rest 90 s\n### Push-up\n3 × 10\n### Plank\n30 s\n", ["warning"]),
    ("sets-missing", STRAIGHT.format(line="10 reps, rest 90 s\n### Push-up\n8 reps, rest 90 s"), ["warning"] * 2),
    ("sets-missing", "## Finisher\n### Push-up\n10 reps\n", []),
    # What the text says in other words, and what it may say of something else.
    (
        "words-contradict",
        STRAIGHT.format(line="3 × 10, tempo 3-0-1-0, rest 90 s\n\nOne second down, one up."),
        ["warning"],
    ),
    ("words-contradict", STRAIGHT.format(line="3 × 10, tempo 3-0-1-0, rest 90 s\n\nThree seconds down."), []),
    ("words-contradict", STRAIGHT.format(line="3 × 10, rest 90 s\n\nTwelve clean squats, and no more."), ["warning"]),
    ("words-contradict", STRAIGHT.format(line="3 × 10, rest 90 s\n\nTen clean squats; thirty squats in all."), []),
    ("words-contradict", STRAIGHT.format(line="3 × 10, rest 90 s\n\nForty squats in all."), ["warning"]),
    ("words-contradict", STRAIGHT.format(line="3 × 10 @ 20 kg, rest 90 s\n\nThen drop to 24 kg."), ["warning"]),
    ("words-contradict", STRAIGHT.format(line="3 × 10 @ 20 kg, rest 90 s\n\nThen drop to 16 kg."), []),
    ("words-contradict", STRAIGHT.format(line="3 × 10 @ 20 kg, rest 90 s\n\nTake 10 kg off the bar."), []),
    ("promise-broken", "One circuit of seven exercises.\n\n" + CIRCUIT.format(rest="15 s"), ["warning"]),
    ("promise-broken", "One circuit of four exercises.\n\n" + CIRCUIT.format(rest="15 s"), []),
    ("promise-broken", "Planks come first.\n\n" + STRAIGHT.format(line="3 × 5\n### Plank\n30 s"), []),
    (
        "versions-swapped",
        STRAIGHT.format(line="3 × 10, rest 90 s\n\nEasier: Pause low.\nHarder: On your knees."),
        ["warning"],
    ),
    ("versions-swapped", STRAIGHT.format(line="3 × 10, rest 90 s\n\nEasier: On your knees.\nHarder: Pause low."), []),
    (
        "units-differ",
        "A bell of 16 kg (35 lb) or 24 kg (35 lb).\n\n" + STRAIGHT.format(line="3 × 10, rest 90 s"),
        ["warning"],
    ),
    ("rounds-differ", "## Warm-up · 2 rounds\n### Push-up\n1 × 6\n", []),
    ("rounds-differ", PAIR.format(first="3 × 10", second="10 reps"), []),
    ("rounds-differ", PAIR.format(first="4 × 10", second="10 reps"), ["error"]),
    ("figure-zero", STRAIGHT.format(line="3 × 0–10, rest 90 s"), ["error"]),
    ("figure-zero", STRAIGHT.format(line="3 × 10, leave 0 in reserve, rest 0 s"), []),  # failure; go straight on
    ("figure-zero", STRAIGHT.format(line="3 × 10 @ 0 kg, rest 90 s"), ["error"]),
    ("figure-zero", STRAIGHT.format(line="3 × 10, tempo 0-0-0-0, rest 90 s"), ["error"]),
    ("figure-zero", STRAIGHT.format(line="3 × 10 + 0 partials, rest 90 s"), ["error"]),
    ("figure-zero", STRAIGHT.format(line="3 × (1 + 0), rest 90 s"), ["error"]),
    ("figure-zero", STRAIGHT.format(line="3 × 0 cal, rest 90 s"), ["error"]),
    ("figure-zero", STRAIGHT.format(line="3 × 10 @ 0/16 kg, rest 90 s"), ["error"]),
    ("rest-missing", STRAIGHT.format(line="3 × 10, rest as needed"), []),
    ("sets-missing", STRAIGHT.format(line="myo-reps 15 + 4 × 5"), []),
    ("drop-size", STRAIGHT.format(line="3 × 10, 2 drops, rest 90 s"), []),
    ("tempo-slow", STRAIGHT.format(line="3 × 10, 7 s down, rest 90 s"), []),  # and one up
    ("tempo-slow", STRAIGHT.format(line="3 × 10, tempo 5-2-2, rest 90 s"), ["warning"]),
    ("minute-full", "## Every minute for 10 min\n### Push-up\n5 reps, 6 s hold each\n", []),  # 5 × (3 + 6) s
    ("minute-full", "## Every minute for 10 min\n### Push-up\n6 reps, 6 s hold each\n", ["warning"]),
    ("beginner-hazard", front("beginner", "3 × 3 @ 95 % TM, rest 3 min", "Back squat"), []),  # 85.5 % 1RM
    ("beginner-hazard", front("beginner", "3 × 3 @ 100 % TM, rest 3 min", "Back squat"), ["warning"]),
    ("beginner-hazard", front("beginner", "3 × 3 @ 5RM, rest 3 min", "Back squat"), []),  # 87 % 1RM
    ("beginner-hazard", front("beginner", "3 × 3 @ 3RM, rest 3 min", "Back squat"), ["warning", "warning"]),  # 93 % 1RM
    # Far beyond what is filmed: common practice, no source.
    ("figure-absurd", STRAIGHT.format(line="2 × 500 cal, rest 2 min"), []),
    ("figure-absurd", STRAIGHT.format(line="2 × 501 cal, rest 2 min"), ["error"]),
    ("figure-absurd", STRAIGHT.format(line="2 × 101 breaths, rest 2 min"), ["error"]),
    ("figure-absurd", STRAIGHT.format(line="2 × 5, 2 min hold each, rest 2 min"), []),
    ("figure-absurd", STRAIGHT.format(line="2 × 5, 121 s hold each, rest 2 min"), ["error"]),
    ("figure-absurd", STRAIGHT.format(line="2 × 5 @ 151 % TM, rest 2 min"), ["error"]),
    ("figure-absurd", STRAIGHT.format(line="2 × 5 @ 300 % of bodyweight, rest 2 min"), []),
    ("figure-absurd", STRAIGHT.format(line="2 × 5 @ 501 % of snatch, rest 2 min"), ["error"]),
    ("figure-absurd", STRAIGHT.format(line="3 × 5 @ 62/40 kg, rest 2 min"), ["warning"]),
    ("figure-absurd", STRAIGHT.format(line="20 × 200, rest 20 min"), []),
    ("figure-absurd", STRAIGHT.format(line="21 × 201, rest 21 min"), ["error"] * 3),
    ("figure-absurd", STRAIGHT.format(line="3 × 10 @ 1103 lb, rest 2 min"), ["error"]),
    ("figure-absurd", "## Straight sets\n### Back squat\n3 × 10 @ 1102 lb, rest 2 min\n", []),  # 499.9 kg
    ("figure-absurd", STRAIGHT.format(line="20 × 60 min, 6 drops of 20 %, leave 10 in reserve, rest 20 min"), []),
    ("figure-absurd", STRAIGHT.format(line="2 × 61 min, rest 2 min"), ["error"]),
    ("figure-absurd", STRAIGHT.format(line="2 × 50000 m @ 150 % 1RM, rest 2 min"), []),
    ("figure-absurd", STRAIGHT.format(line="2 × 50001 m @ 151 % 1RM, rest 2 min"), ["error"] * 2),
    ("figure-absurd", STRAIGHT.format(line="2 × 9, leave 11 in reserve, 7 drops of 20 %, rest 2 min"), ["error"] * 2),
    # One dumbbell or kettlebell up to 60 kg: common practice, no source; two of them count one by one, a bar does not.
    ("figure-absurd", STRAIGHT.format(line="3 × 5 @ 60 kg, rest 2 min"), []),
    ("figure-absurd", STRAIGHT.format(line="3 × 5 @ 61 kg, rest 2 min"), ["warning"]),
    ("figure-absurd", STRAIGHT.format(line="3 × 5 @ 140 lb, rest 2 min"), ["warning"]),  # 63.5 kg
    ("figure-absurd", STRAIGHT.format(line="3 × 5 @ 132 lb, rest 2 min"), []),  # 59.9 kg
    ("figure-absurd", STRAIGHT.format(line="3 × 5 @ 80 kg, rest 2 min\n\nEquipment: barbell"), []),
    ("figure-absurd", STRAIGHT.format(line="3 × 5 @ 501 kg, rest 2 min"), ["error"]),  # said once
    ("figure-absurd", "## Straight sets\n### Dumbbell bench press\n3 × 5 @ 2 × 60 kg, rest 2 min\n", []),
    ("figure-absurd", "## Straight sets\n### Dumbbell bench press\n3 × 5 @ 2 × 62.5 kg, rest 2 min\n", ["warning"]),
    ("figure-absurd", "## Straight sets\n### Back squat\n3 × 5 @ 180 kg, rest 2 min\n", []),
    ("figure-absurd", "## Straight sets\n### Leg press\n3 × 5 @ 180 kg, rest 2 min\n", []),
    # Foot contacts of a session, NSCA, from memory: up to 100, 120 and 140 by level; written repetitions only.
    ("contacts-many", front("beginner", "5 × 20, rest 2 min", "Box jump"), []),
    ("contacts-many", front("beginner", "5 × 21, rest 2 min", "Box jump"), ["warning"]),
    ("contacts-many", front("intermediate", "5 × 24, rest 2 min", "Box jump"), []),
    ("contacts-many", front("intermediate", "5 × 25, rest 2 min", "Box jump"), ["warning"]),
    ("contacts-many", front("advanced", "5 × 28, rest 2 min", "Box jump"), []),
    ("contacts-many", front("advanced", "5 × 29, rest 2 min", "Box jump"), ["warning"]),
    ("contacts-many", "## Straight sets\n### Box jump\n5 × 24, rest 2 min\n", []),  # no level here is intermediate
    ("contacts-many", front("beginner", "3 × 10–40, rest 2 min", "Box jump"), []),  # the low end counts
    ("contacts-many", front("beginner", "5 × 11 per side, rest 2 min", "Single-leg hop"), ["warning"]),
    (
        "contacts-many",
        front("beginner", "3 × 20, rest 2 min\n### Tuck jump\n3 × 20, rest 2 min", "Box jump"),
        ["warning"],
    ),
    ("contacts-many", front("beginner", "60/50, rest 2 min", "Box jump"), ["warning"]),
    ("contacts-many", front("beginner", "9 × 60 s, rest 2 min", "Squat jump"), []),
    ("contacts-many", front("beginner", "10 × 20, rest 2 min", "Burpee"), []),
    ("contacts-many", "## Every minute for 20 min\n### Box jump\n6 reps\n", []),  # 120
    ("contacts-many", "## Every minute for 20 min\n### Box jump\n7 reps\n", ["warning"]),
    ("contacts-many", "## Every minute for 20 min\n### Box jump\n10 reps\n### Plank\n30 s\n", []),  # ten times
    ("contacts-many", "## Warm-up\n### Pogo jump\n1 × 150\n", []),
    # Very many repetitions: our policy after Rider et al. 2019; beginners have their own rule.
    ("reps-many", STRAIGHT.format(line="7 × 21, rest 60 s"), []),  # 147
    ("reps-many", STRAIGHT.format(line="10 × 15, rest 60 s"), ["warning"]),
    ("reps-many", STRAIGHT.format(line="10 × 10–15, rest 60 s"), ["warning"]),
    ("reps-many", front("advanced", "10 × 15, rest 60 s"), ["warning"]),
    ("reps-many", front("beginner", "10 × 15, rest 60 s"), []),
    ("reps-many", STRAIGHT.format(line="10 × 14 per side, rest 60 s"), []),
    (
        "reps-many",
        STRAIGHT.format(line="10 × 15, rest 60 s\n\nCaution (pace): New to this? Do fewer, then build up."),
        [],
    ),
    ("reps-many", front("advanced", "10 × 15, rest 60 s", "Box jump"), []),  # contacts-many says it
    # A warm-up climbs, and a heavy set may be followed by lighter ones.
    ("exercise-twice", "## Warm-up\n### Goblet squat\n1 × 5\n### Goblet squat\n1 × 5\n", []),
    ("exercise-twice", STRAIGHT.format(line="1 × 5 @ 24 kg\n### Goblet squat\n2 × 8 @ 20 kg, rest 2 min"), []),
    ("exercise-twice", STRAIGHT.format(line="1 × 5 @ 24 kg\n### Goblet squat\n2 × 8 @ 24 kg, rest 2 min"), ["warning"]),
    ("exercise-twice", STRAIGHT.format(line="1 × 5\n### Goblet squat\n2 × 8, rest 2 min"), ["warning"]),
    ("figure-absurd", "## AMRAP 120 min\n### Push-up\n10 reps\n", []),
    ("figure-absurd", "## AMRAP 121 min\n### Push-up\n10 reps\n", ["error"]),
    ("figure-absurd", "## Circuit · 30 rounds · rest 90 s\n### Push-up\n30 s\n", []),
    # Zourdos et al. 2016: the scale by repetitions in reserve runs from 1 to 10 (from memory).
    ("effort-off-scale", STRAIGHT.format(line="3 × 10, RPE 1, rest 90 s"), []),
    ("effort-off-scale", STRAIGHT.format(line="3 × 10, RPE 8.5–10, rest 90 s"), []),
    ("effort-off-scale", STRAIGHT.format(line="3 × 10, RPE 10.5, rest 90 s"), ["error"]),
    ("effort-off-scale", STRAIGHT.format(line="3 × 10, RPE 15, rest 90 s"), ["error"]),
    ("effort-off-scale", STRAIGHT.format(line="3 × 10, RPE 25, rest 90 s"), ["error"]),
    ("effort-off-scale", STRAIGHT.format(line="3 × 10, RPE 0, rest 90 s"), ["error"]),
    ("figure-zero", STRAIGHT.format(line="3 × 10, RPE 0, rest 90 s"), []),  # the scale's business
    ("figure-absurd", "## Circuit · 31 rounds · rest 90 s\n### Push-up\n30 s\n", ["error"]),
    ("nothing-to-do", "## Warm-up\n### Push-up\nA few easy ones.\n", ["warning"]),
    ("nothing-to-do", "## Straight sets\n### Goblet squat\n3 x ten, rest 60\n", []),  # unreadable is told once
    # NSCA, ACSM 2009, Singer et al. 2024, Behenck et al. 2022: the ranges themselves are our choice.
    ("rest-unusual", front("advanced", "3 × 3, rest 30 s", extra="goal: strength\n"), ["warning"]),
    ("rest-unusual", front("advanced", "3 × 3, rest 90–120 s", extra="goal: strength\n"), []),
    ("rest-unusual", front("advanced", "3 × 20, rest 90 s", extra="goal: endurance\n"), ["note"]),
    ("rest-unusual", front("advanced", "3 × 20, rest 20 s", extra="goal: conditioning\n"), []),
    ("rest-unusual", PAIR.format(first="10 reps, rest 15 s", second="10 reps"), []),
    ("rest-unusual", PAIR.format(first="10 reps, rest 2 min", second="10 reps"), ["note"]),
    # Kay & Blazevich 2012, Med Sci Sports Exerc 44(1):154–164: from 60 s per muscle a likely loss of strength.
    ("long-stretch-first", stretch("1 × 59 s per side", "strength"), []),
    ("long-stretch-first", stretch("1 × 30–60 s per side", "strength"), ["warning"]),
    ("long-stretch-first", stretch("2 × 30 s per side", "power"), ["warning"]),
    ("long-stretch-first", stretch("1 × 60 s per side", "mobility"), []),
    ("title-missing", '---\nformat: 1\ntitle: ""\n---\n## Straight sets\n### Push-up\n1 × 5\n', ["error"]),
    ("side-missing", "## Straight sets\n### Split squat\n3 × 10, rest 90 s\n\nAlternate legs.\n", []),
    ("side-missing", "## Straight sets\n### Alternating split squat\n3 × 10, rest 90 s\n", []),
    # NSCA and ACSM: 90 % 1RM and more is near-maximal work; Refalo et al. 2023: nothing in reserve is failure.
    ("beginner-hazard", front("beginner", "3 × 5 @ 89 % 1RM, rest 2 min"), []),
    ("beginner-hazard", front("beginner", "3 × 3 @ 90 % 1RM, rest 2 min"), ["warning"]),
    ("beginner-hazard", front("beginner", "3 × 3, leave 0 in reserve, rest 2 min"), ["warning"]),
    ("beginner-hazard", front("beginner", "3 × 3, leave 0–1 in reserve, rest 2 min"), ["warning"]),
    ("beginner-hazard", front("beginner", "3 × 3, RPE 10, rest 2 min"), ["warning"]),
    ("beginner-hazard", front("beginner", "3 × 3, RPE 9, rest 2 min"), []),
    ("beginner-hazard", front("beginner", "3 × max, rest 2 min"), []),
    ("beginner-hazard", front("beginner", "3 × 3, rest 2 min", name="Power clean"), ["warning"]),
    ("beginner-hazard", front("advanced", "3 × 3 @ 90 % 1RM, rest 2 min"), []),
    # What a chapter list must be: common practice on video hosts, no standard.
    ("chapters-start", film(0, 10, 20), []),
    ("chapters-start", film(1, 20, 40), ["error"]),
    ("chapter-short", film(0, 10, 20, length="0:30"), []),
    ("chapter-short", film(0, 9, 20), ["warning"]),
    ("chapter-short", film(0, 20, 40, length="0:45"), ["warning"]),
    ("chapters-few", film(0, 20), ["warning"]),
    ("chapters-order", film(0, 40, 20), ["error"]),
    ("chapters-order", film(0, 20, 20), []),  # the reader says that two start in one second
    ("chapter-past-end", film(0, 20, 40, length="0:40"), ["error"]),
    ("chapter-past-end", film(0, 20, 40, length="0:41"), []),
    ("chapter-past-end", film(0, 20, 40, 60, 80, 100, length="0:15"), ["error"]),  # one cause, one finding
    ("exercise-without-chapter", "## Warm-up\n### Push-up\n1 × 5\nchapters.txt:\n0:00 Warm-up\n", []),
    ("exercise-without-chapter", "## Straight sets\n### Push-up\n1 × 5\nchapters.txt:\n0:00 Welcome\n", ["warning"]),
    ("exercise-without-chapter", "## Straight sets\n### Push-up\n1 × 5\n", []),
    ("words-contradict", STRAIGHT.format(line="3 × 8–12, rest 90 s\n\nDo 8 to 10."), []),
    ("words-contradict", STRAIGHT.format(line="3 × 8–12, rest 90 s\n\nDo 10 to 15."), ["error"]),
    ("words-contradict", STRAIGHT.format(line="3 × 8 per side, rest 90 s\n\n16 reps in all."), []),
    ("words-contradict", STRAIGHT.format(line="3 × 8–10 per side, rest 90 s\n\n16 to 20 reps in all."), []),
    ("words-contradict", STRAIGHT.format(line="3–4 × 8, rest 90 s\n\nThree to four sets."), []),
    ("words-contradict", STRAIGHT.format(line="12/10/8, rest 90 s\n\nThree sets."), []),
    ("words-contradict", STRAIGHT.format(line="8–10/6–8, rest 90 s\n\nDo 6 to 10."), []),
    ("words-contradict", STRAIGHT.format(line="3 × max, rest 90 s\n\nDo 15."), []),
    ("words-contradict", STRAIGHT.format(line="3 × 8, rest 90 s\n\nEasier: Do 5 reps."), []),
    ("words-contradict", STRAIGHT.format(line="3 × 8, rest 90 s\n\nCues:\n- Rest two minutes"), ["error"]),
    ("words-contradict", "## Circuit · 3 rounds · rest 90 s\nFour rounds of fun.\n### Push-up\n30 s\n", ["error"]),
    ("words-contradict", STRAIGHT.format(line="3 × 10–12, rest 90 s\n\nDo 3 sets of 15."), ["error"]),
    ("words-contradict", STRAIGHT.format(line="3 × 10–12, rest 90 s\n\nDo 3 sets of 12 with a slow start."), []),
    # One load beside another: a warning, for a text may know better ways to say that it is another person's.
    ("words-contradict", STRAIGHT.format(line="3 × 10 @ 16 kg, rest 90 s\n\nUse a 24 kg kettlebell."), ["warning"]),
    (
        "words-contradict",
        STRAIGHT.format(line="3 × 10 @ 16 kg, rest 90 s\n\nCues:\n- Take the 24-kilo bell"),
        ["warning"],
    ),
    ("words-contradict", STRAIGHT.format(line="3 × 10 @ 16 kg, rest 90 s\n\nUse a 35 lb kettlebell."), []),  # 15.9 kg
    ("words-contradict", STRAIGHT.format(line="3 × 10 @ 16 kg, rest 90 s\n\nUse a 40 lb kettlebell."), ["warning"]),
    ("words-contradict", STRAIGHT.format(line="3 × 10 @ 16–20 kg, rest 90 s\n\nWith an 18 kg bell."), []),
    ("words-contradict", STRAIGHT.format(line="3 × 10 @ 2 × 16 kg, rest 90 s\n\nHold both 16 kg bells."), []),
    ("words-contradict", STRAIGHT.format(line="3 × 10 @ 2 × 16 kg, rest 90 s\n\nThat is done with 32 kg."), []),
    ("words-contradict", STRAIGHT.format(line="3 × 10 @ 16 kg, rest 90 s\n\nStart with 12 kg."), []),
    ("words-contradict", STRAIGHT.format(line="3 × 10 @ 16 kg, rest 90 s\n\nUse a lighter one, with 8 kg."), []),
    ("words-contradict", STRAIGHT.format(line="3 × 10 @ 16 kg, rest 90 s\n\nEasier: Use a 12 kg bell."), []),
    ("words-contradict", STRAIGHT.format(line="3 × 10, rest 90 s\n\nUse a 24 kg kettlebell."), []),
    (
        "words-contradict",
        STRAIGHT.format(line="3 × 10 @ bodyweight + 10 kg, rest 90 s\n\nTake a 20 kg plate."),
        ["warning"],
    ),
    ("sponsor-hidden", "Thanks to you all.\n\n" + STRAIGHT.format(line="3 × 8, rest 90 s"), []),
    ("sponsor-hidden", "This is an ad for chalk.\n\n" + STRAIGHT.format(line="3 × 8, rest 90 s"), ["warning"]),
    ("picture-outside", STRAIGHT.format(line="3 × 8, rest 90 s\n\n![x](https://site.example/a.jpg)"), ["error"]),
    ("picture-outside", STRAIGHT.format(line="3 × 8, rest 90 s\n\n![x](pictures/../../a.jpg)"), ["error"]),
    ("picture-outside", STRAIGHT.format(line="3 × 8, rest 90 s\n\n![x](pictures/a..b.jpg)"), []),
    ("picture-outside", STRAIGHT.format(line="3 × 8, rest 90 s\n\n![x](pictures/../a.jpg)"), []),
    ("picture-missing", STRAIGHT.format(line="3 × 8, rest 90 s\n\n![x]()"), ["error"]),
    # A chapter whose title is near an exercise is asked about, any other may stay as it is.
    ("chapter-unmatched", STRAIGHT.format(line="1 × 5") + "chapters.txt:\n0:00 Goblet of fire\n", ["warning"]),
    ("chapter-unmatched", STRAIGHT.format(line="1 × 5") + "chapters.txt:\n0:00 Bench press\n", ["warning"]),
    ("chapter-unmatched", STRAIGHT.format(line="1 × 5") + "chapters.txt:\n0:00 Goblet\n", []),
    ("chapter-unmatched", STRAIGHT.format(line="1 × 5") + "chapters.txt:\n0:00 Hi\n0:20 My story\n", ["note"] * 2),
    (
        "chapter-unmatched",
        STRAIGHT.format(line="1 × 5") + "chapters.txt:\n0:00 Stretching\n0:20 はじめに\n",
        ["note"] * 2,
    ),
    ("picture-undescribed", STRAIGHT.format(line="3 × 8, rest 90 s") + "pictures/goblet-squat.jpg:\n", ["warning"]),
]


@pytest.mark.parametrize(("name", "fragment", "severities"), CASES, ids=lambda value: str(value)[:60])
def test_line_is_drawn_here(name: str, fragment: str, severities: list[str], read_fragment: ReadFragment) -> None:
    facts, findings = read_fragment(fragment)
    assert facts is not None
    found, _ = run(facts, read=findings)
    assert [finding.severity.value for finding in found if finding.check == name] == severities


def test_an_unknown_exercise_is_told_that_nobody_checked_its_hazards(read_fragment: ReadFragment) -> None:
    _, findings = read_fragment("## Straight sets\n### Zwibbel lift\n3 × 5, rest 90 s\n")
    (found,) = (one for one in findings if one.check == "exercise-unknown")
    assert "nobody has checked what may hurt" in found.message
    assert "“Caution: …”" in found.help


def test_reader_errors_are_never_quieted(read_fragment: ReadFragment) -> None:
    facts, findings = read_fragment(STRAIGHT.format(line="3 × 12–10\n\nQuiet (notation-range): because"))
    assert facts is not None
    kept, quieted = run(facts, read=findings)
    assert {"notation-range", "quiet-unused"} <= {finding.check for finding in kept}
    assert quieted == ()


def test_reader_warnings_can_be_quieted(read_fragment: ReadFragment) -> None:
    text = "## Straight sets\n### Zwibbel lift\n3 × 5, rest 90 s\n\nQuiet (exercise-unknown): our own invention\n"
    facts, findings = read_fragment(text)
    assert facts is not None
    kept, quieted = run(facts, read=findings)
    assert "exercise-unknown" not in {finding.check for finding in kept}
    assert [(finding.check, reason) for finding, reason in quieted] == [("exercise-unknown", "our own invention")]


@pytest.mark.parametrize(
    ("path", "proposed"), [("pictures\\\\Push-Up.JPG", "pictures/push-up.jpg"), ("zebra.png", "put the")]
)
def test_missing_picture_gets_the_nearest_name(path: str, proposed: str, read_fragment: ReadFragment) -> None:
    text = f"## Straight sets\n### Push-up\n1 × 5\n\n![x]({path})\npictures/push-up.jpg:\n"
    facts, findings = read_fragment(text)
    assert facts is not None
    found = [one for one in run(facts, read=findings)[0] if one.check == "picture-missing"]
    assert [proposed in one.help for one in found] == [True]


def test_a_link_out_of_the_folder_is_called_one(read_fragment: ReadFragment, tmp_path: Path) -> None:
    (tmp_path / "episode" / "pictures").mkdir(parents=True)
    (tmp_path / "q.jpg").write_bytes(b"")
    (tmp_path / "episode" / "pictures" / "q.jpg").symlink_to(tmp_path / "q.jpg")
    facts, findings = read_fragment("## Straight sets\n### Push-up\n1 × 5\n\n![x](pictures/q.jpg)\n")
    assert facts is not None
    found = [one for one in run(facts, read=findings)[0] if one.check.startswith("picture-")]
    assert [one.check for one in found] == ["picture-outside"]
    assert "is a link that leads out" in found[0].message


BOMB = b"\x89PNG\r\n\x1a\n" + b"".join(
    len(data).to_bytes(4, "big") + kind + data + crc32(kind + data).to_bytes(4, "big")
    for kind, data in ((b"IHDR", (30_000).to_bytes(4, "big") * 2 + b"\x08\x02\0\0\0"), (b"IDAT", b""), (b"IEND", b""))
)


@pytest.mark.parametrize("name", ["squat.jpg", "squat.txt", "squat.svg", "squat.gif"])
@pytest.mark.parametrize("content", [b"", b"words", b"<svg/>", b"GIF89a\x01", PICTURE.read_bytes()[:9000], BOMB])
def test_what_no_page_can_show_is_said_by_the_check(
    name: str, content: bytes, read: Callable[[Path], tuple[Facts, tuple[Finding, ...]]], tmp_path: Path
) -> None:
    text = f"## Straight sets\n### Goblet squat\n1 × 5\n\n![x](pictures/{name})\n"
    (tmp_path / "workout.md").write_text(f"---\nformat: 1\ntitle: T\n---\n{text}", "utf-8")
    (tmp_path / "pictures").mkdir()
    (tmp_path / "pictures" / name).write_bytes(content)
    facts, findings = read(tmp_path)
    assert "picture-unreadable" in {one.check for one in run(facts, read=findings)[0]}


def test_reason_of_an_absurd_load_is_not_that_of_absurd_volume(read_fragment: ReadFragment) -> None:
    facts, _ = read_fragment(STRAIGHT.format(line="21 × 5 @ 9999 kg, leave 50 in reserve, rest 2 min"))
    assert facts is not None
    found = {one.message.partition(", expected ")[2]: "muscle" in one.because for one in figure_absurd.find(facts)}
    assert found == {"20 sets at most": True, "500 kg at most": False, "10 in reserve at most": False}


def test_the_page_names_the_limits_that_hold() -> None:
    asked = figure_absurd.__doc__ or ""
    assert all(figure_absurd.LIMITS[what][1] in asked for what in ("sets", "reps", "rest"))
