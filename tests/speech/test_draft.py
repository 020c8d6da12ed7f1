"""The draft: which of several figures counts, how it is written, and that whatever is said gives a workout that reads.

In the cases the talk is marked by hand, so that they do not hang on what is heard: `[reps 10 12]ten to twelve[]` is a
figure, `[reps side 8]…[]` one per side, `[max]…[]` asks for as many as possible; a line begins a cue ten seconds after
the one before it. `## Superset` begins a block, `# Goblet squat` an exercise, both with the words of the line.
"""

from __future__ import annotations

import re
from collections import Counter
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from labelled import DATA, truth_of
from repslate import api
from repslate.cut.cue import Cue
from repslate.cut.formats.subtitles_srt import write as write_srt
from repslate.model.block_heading import write_heading
from repslate.model.forms import BlockKind
from repslate.model.library import load
from repslate.model.prescription import Distance, Reps, Timed, Work, write
from repslate.source.finding import Severity
from repslate.source.span import Span
from repslate.speech.coaching import coaching, presenter
from repslate.speech.draft import draft
from repslate.speech.heard import Heard, HeardFigure, OpenEnded
from repslate.speech.plan import Part, Subject, Topic
from repslate.speech.prescribe import dose
from repslate.speech.words import Word, quote, read_words

LIBRARY = load()
SPAN = Span("subtitles.srt")
_MARK = re.compile(r"\[(?P<mark>[^\]]*)\]")
_HEADING = re.compile(r"(?P<marks>#{1,2}) (?P<name>[^:]+)(?:: ?(?P<words>.*))?")


def marked(talk: str, *, coarse: bool = False) -> Heard:
    """Return what was heard of a talk that is marked by hand."""
    words: list[Word] = []
    parts: list[tuple[str, BlockKind, list[Subject]]] = []
    topics: list[Topic] = [Topic(0, Fraction(0), None, None)]
    figures: list[HeardFigure] = []
    opened: list[OpenEnded] = []
    for number, line in enumerate(talk.strip().splitlines()):
        time = Fraction(10 * number)
        heading = _HEADING.fullmatch(line.strip())
        said = (heading["words"] or heading["name"]) if heading else line
        if heading and heading["marks"] == "##":
            kind = next(kind for kind in BlockKind if heading["name"].startswith(kind.value))
            parts.append((heading["name"], kind, []))
            topics.append(Topic(len(words), time, len(parts) - 1, None, heading["name"]))
        elif heading:
            subjects = parts[-1][2]
            found = LIBRARY.find(heading["name"])
            name = f"{heading['name'].lower().replace(' ', '-')}-{len(parts)}"
            subjects.append(Subject(name, heading["name"], found.entry if found else None))
            topics.append(Topic(len(words), time, len(parts) - 1, len(subjects) - 1, heading["name"]))
        mark = first = None
        for piece in re.split(r"(\[[^\]]*\])", said):
            if not (sign := _MARK.fullmatch(piece)):
                words += read_words([Cue(time, time + 10, piece, SPAN)])
                continue
            if sign["mark"]:
                mark, first = sign["mark"].split(), len(words)
                continue
            assert mark and first is not None
            topic = topics[-1]
            subject = (
                parts[topic.part][2][topic.subject] if topic.part is not None and topic.subject is not None else None
            )
            if mark[0] == "max":
                opened.append(OpenEnded(time, subject, topic.part, quote(words, first, len(words) - 1)))
                continue
            field, *ends = [each for each in mark if each not in ("side", "block", "unsure")]
            owner = None if "block" in mark else subject
            confidence = Fraction(6 if "unsure" in mark else 9, 10)
            low, high, last = Fraction(ends[0]), Fraction(ends[-1]), len(words) - 1
            said_words = (quote(words, first, last), confidence, first, last)
            figures.append(HeardFigure(time, field, low, high, "side" in mark, owner, topic.part, *said_words))
    plan = tuple(Part(name, kind, tuple(subjects)) for name, kind, subjects in parts)
    return Heard(tuple(words), plan, tuple(topics), tuple(figures), (), tuple(opened), (), coarse)


def outline(heard: Heard) -> list[str]:
    """Return the headings and lines of a draft, gaps behind them in angle brackets."""
    lines = []
    for block in dose(heard):
        lines.append(" ".join([write_heading(block.heading), *(f"<{gap}>" for gap in block.gaps)]))
        for one in block.exercises:
            line = " ".join(
                filter(None, [f"{one.subject.name}:", write(one.prescription), *(f"<{g}>" for g in one.gaps)])
            )
            lines.append(f"  {line}")
    return lines


CASES = {
    "sets and reps in one breath": (
        """
        ## Straight sets
        # Goblet squat: goblet squats [sets 3]three sets[] of [reps 10 12]ten to twelve[] [rest_s 90]ninety seconds[]
        """,
        ["Straight sets", "  Goblet squat: 3 × 10–12, rest 90 s"],
    ),
    "a repeat that is narrower changes nothing": (
        """
        ## Superset: three moves [rounds 3]three times[] through and rest [rest_s block 60 90]sixty to ninety[]
        # Goblet squat: goblet squats [reps 10 12]ten to twelve[]
        just [reps 10]ten[] is fine and [rest_s block 60]a minute's plenty[]
        # Push-up: push ups [reps 8]eight[]
        """,
        ["Superset · 3 rounds · rest 60–90 s", "  Goblet squat: 10–12 reps", "  Push-up: 8 reps"],
    ),
    "a range around a number said in the same breath is what is meant": (
        """
        ## Superset: [rounds 3]three times[] through and rest [rest_s block 60]a minute[]
        # Goblet squat: goblet squats [reps 12]twelve[] of them say anything [reps unsure 12 14]twelve up to fourteen[]
        # Push-up: push ups [reps 8]eight[] with your elbows in and your eyes down and nice and slow all the way
        in my first year they told me it is [reps unsure 8 10]eight to ten[] and I did not believe it
        """,
        ["Superset · 3 rounds · rest 60 s", "  Goblet squat: 12–14 reps", "  Push-up: 8 reps"],
    ),
    "a walk is as long as was said first": (
        """
        ## Finisher
        # Treadmill walk: walk it off [metres 400]four hundred metres[] then [seconds unsure 30]thirty seconds[] of calm
        """,
        ["Finisher", "  Treadmill walk: 400 m"],
    ),
    "a correction counts, however late": (
        """
        ## Straight sets: [sets 3]three sets[]
        # Goblet squat: goblet squats for [reps 12]twelve[]
        no sorry it says [reps 10]ten[] on my sheet
        """,
        ["Straight sets", "  Goblet squat: 3 × 10 <the rest between sets>"],
    ),
    "a sure figure before an unsure one": (
        """
        ## Finisher
        # Goblet squat: goblet squats [reps unsure 4]four[] of us did [reps 15]fifteen reps[]
        """,
        ["Finisher", "  Goblet squat: 15 reps"],
    ),
    "others do one round more": (
        """
        ## Superset: [rounds 2]two rounds[] if this is new [rounds 3]three[] if you are keen
        # Goblet squat: [reps 10]ten[] squats
        # Push-up: [reps 8]eight[] push ups
        """,
        ["Superset · 2–3 rounds <the rest after a round>", "  Goblet squat: 10 reps", "  Push-up: 8 reps"],
    ),
    "a dose for the whole block": (
        """
        ## Circuit: [rounds 3]three rounds[] [seconds block 40]forty[] on [rest_s block 20]twenty[] off
        and [rest_s block 60]a minute[] after each round
        # Goblet squat: squats
        # Push-up: push ups
        # Plank: planks for [seconds 30]thirty[]
        # Glute bridge: bridges
        """,
        [
            "Circuit · 3 rounds · rest 60 s",
            "  Goblet squat: 40 s, rest 20 s",
            "  Push-up: 40 s, rest 20 s",
            "  Plank: 30 s, rest 20 s",
            "  Glute bridge: 40 s, rest 20 s",
        ],
    ),
    "a count for the block is none for a hold": (
        """
        ## Superset: [rounds 3]three rounds[] of [reps block 10]ten[]
        # Goblet squat: squats
        # Plank: planks
        """,
        [
            "Superset · 3 rounds <the rest after a round>",
            "  Goblet squat: 10 reps",
            "  Plank: <reps, a time or a distance>",
        ],
    ),
    "exercises in rounds are no straight sets": (
        """
        ## Straight sets: these two go together [rounds block 3]three times[] round
        # Face pull: [reps 15]fifteen[]
        # Lateral raise: [reps 12]twelve[]
        """,
        ["Superset · 3 rounds <the rest after a round>", "  Face pull: 15 reps", "  Lateral raise: 12 reps"],
    ),
    "sets on which a superset agrees are its rounds": (
        """
        ## Superset
        # Goblet squat: [sets 4]four sets[] of [reps 10]ten[]
        # Push-up: [sets 4]four sets[] of [reps 8]eight[]
        """,
        ["Superset · 4 rounds <the rest after a round>", "  Goblet squat: 10 reps", "  Push-up: 8 reps"],
    ),
    "sets that differ stay with their exercise": (
        """
        ## Superset
        # Goblet squat: [sets 4]four sets[] of [reps 10]ten[]
        # Push-up: [sets 3]three sets[] of [reps 8]eight[]
        """,
        ["Superset <how many rounds> <the rest after a round>", "  Goblet squat: 4 × 10", "  Push-up: 3 × 8"],
    ),
    "a ramp and then the work": (
        """
        ## Straight sets
        # Back squat: [percent_1rm 40]forty per cent[] for [reps 5]five[] [percent_1rm 60]sixty[] for [reps 3]three[]
        now the real thing [sets 4]four sets[] of [reps 6]six[] at [percent_1rm 80]eighty[] [rest_s 180]three minutes[]
        """,
        ["Straight sets", "  Back squat: 4 × 6 @ 80 % 1RM, rest 3 min"],
    ),
    "a ramp alone": (
        """
        ## Warm-up
        # Back squat: [percent_working 40]forty[] for [reps 5]five[] [percent_working 60]sixty[] for [reps 3]three[]
        """,
        ["Warm-up", "  Back squat: 5/3 @ 40–60 % of working load"],
    ),
    "per side is said once": (
        """
        ## Finisher
        # Split squat: [reps 8]eight[] split squats
        so that is [reps side 8]eight a side[]
        """,
        ["Finisher", "  Split squat: 8 reps per side"],
    ),
    "as many as you can": (
        """
        ## Finisher
        # Push-up: [sets 2]two sets[] of [max]as many as you can[]
        I got to [reps 9]nine[] last time
        # Burpee: [seconds 60]one minute[] [max]as many as you can[]
        """,
        ["Finisher", "  Push-up: 2 × max", "  Burpee: 60 s"],
    ),
    "a short pause is no dose": (
        """
        ## Finisher
        # Goblet squat: wait [seconds 2]two seconds[] at the bottom [reps 10]ten[] of those
        """,
        ["Finisher", "  Goblet squat: 10 reps"],
    ),
    "load, effort, tempo": (
        """
        ## Straight sets: [rest_s 60]a minute[]
        # Goblet squat: [sets 3]three[] by [reps 8]eight[] with [kg 24]twenty four kilos[] leave [rir 2]two[] in there
        [tempo_s 3]three[] down [tempo_s 1]one[] below [tempo_s 1]one[] up [tempo_s 2]two[] on top
        """,
        ["Straight sets", "  Goblet squat: 3 × 8 @ 24 kg, tempo 3-1-1-2, leave 2 in reserve, rest 60 s"],
    ),
    "half a tempo is none": (
        """
        ## Finisher
        # Goblet squat: [reps 8]eight[] and [tempo_s 3]three seconds[] down
        """,
        ["Finisher", "  Goblet squat: 8 reps"],
    ),
    "drops whose size nobody said": (
        """
        ## Finisher
        # Cable curl: [sets 1]one set[] of [reps 12]twelve[] with [drop_sets 2]two drops[]
        """,
        ["Finisher", "  Cable curl: 1 × 12 <how much each drop takes off, such as 2 drops of 20 %>"],
    ),
    "every minute on the minute": (
        """
        ## Every minute: [rounds 10]ten rounds[]
        # Kettlebell swing: [reps 12]twelve[] swings
        """,
        ["Every minute for 10 min", "  Kettlebell swing: 12 reps"],
    ),
    "a clock nobody set": (
        """
        ## As many rounds as possible
        # Kettlebell swing: [reps 12]twelve[] swings
        # Push-up: [reps 8]eight[]
        """,
        [
            "As many rounds as possible <how long the clock runs>",
            "  Kettlebell swing: 12 reps",
            "  Push-up: 8 reps",
        ],
    ),
    "a recap is no exercise": (
        """
        ## Straight sets: [rest_s 90]ninety seconds[]
        # Chest press: [sets 4]four sets[] of [reps 8]eight[]
        ## Cool-down
        # Dead hang: [seconds 30]thirty seconds[]
        # Chest press: so the chest press was [sets 4]four sets[]
        """,
        ["Straight sets", "  Chest press: 4 × 8, rest 90 s", "Cool-down", "  Dead hang: 30 s"],
    ),
    "a hold is not counted": (
        """
        ## Finisher
        # Dead hang: [reps 12]twelve[] rows were plenty now hang for [seconds unsure 20 30]twenty to thirty[]
        """,
        ["Finisher", "  Dead hang: 20–30 s"],
    ),
    "stretches around the work": (
        """
        ## Straight sets
        # Rowing machine: row for [seconds 180]three minutes[]
        # Goblet squat: [sets 3]three sets[] of [reps 10]ten[] [rest_s 60]a minute[] off
        # Couch stretch: [seconds side 30]half a minute[]
        """,
        [
            "Warm-up",
            "  Rowing machine: 3 min",
            "Straight sets",
            "  Goblet squat: 3 × 10, rest 60 s",
            "Cool-down",
            "  Couch stretch: 30 s per side",
        ],
    ),
    "stretches that are the work": (
        """
        ## Straight sets
        # Cat-cow: [sets 2]two sets[] of [reps 10]ten[] [rest_s 60]a minute[] off
        # Couch stretch: [seconds side 30]half a minute[]
        """,
        ["Straight sets", "  Cat-cow: 2 × 10, rest 60 s", "Cool-down", "  Couch stretch: 30 s per side"],
    ),
    "nothing said of it": (
        """
        ## Straight sets
        # Goblet squat: and goblet squats
        """,
        ["Straight sets", "  Goblet squat: <reps, a time or a distance>"],
    ),
}


@pytest.mark.parametrize(("talk", "drafted"), CASES.values(), ids=CASES)
def test_of_several_figures_the_right_one_counts(talk: str, drafted: list[str]) -> None:
    assert outline(marked(talk)) == drafted


TALK = """
hello I'm Robin and today is legs
## Superset: a superset [rounds 3]three rounds[] and rest [rest_s block 60]a minute[] after it
# Goblet squat: goblet squats [reps 10 12]ten to twelve[] elbows inside your knees and [tempo_s 3]three seconds[] down
push the floor away now
# Push-up: push ups
"""
WORKOUT = """---
format: 1
title: "Leg day"  # gap: a working title, from the name of the folder
presenter: "Robin"  # 0:00 “I'm Robin”
# gap: goal, one of strength, hypertrophy, endurance, power, conditioning, mobility
# gap: level, one of beginner, intermediate, advanced
---
<!-- A draft of what was said in talk.srt.
Each remark gives the time in the cut and the words. A gap is what was not said.
Look at every line, fill the gaps, delete the remarks when you are done: no output shows them. -->

## Superset · 3 rounds · rest 60 s
<!-- 0:10 rounds: “three rounds” -->
<!-- 0:10 rest: “a minute” -->

### Goblet squat
10–12 reps
<!-- 0:20 reps: “ten to twelve” -->
<!-- 0:20 also said, tempo: “three seconds” -->

Cues:
- Three seconds down. <!-- 0:20 -->
- Elbows inside your knees. <!-- 0:20 -->
- Push the floor away. <!-- 0:30 -->

### Push-up
<!-- gap: reps, a time or a distance -->
"""
CHAPTERS = "0:00 Welcome\n0:10 Superset\n0:20 Goblet squat\n0:40 Push-up\n"


def test_texts() -> None:
    made = draft(marked(TALK), title="Leg day", source="talk.srt")
    assert made.workout == WORKOUT
    assert made.chapters == CHAPTERS
    assert made.gaps == (
        ("the workout", "goal"),
        ("the workout", "level"),
        ("Push-up", "reps, a time or a distance"),
    )


def test_a_phase_of_a_tempo_is_a_cue_only_where_it_tells_what_to_do() -> None:
    talk = "## Finisher\n# Goblet squat: [reps 8]eight[] squats\n[tempo_s 3]three seconds[] down. [tempo_s 2]Two[]."
    text = draft(marked(talk), title="Phases", source="subtitles.srt").workout
    assert [line for line in text.splitlines() if line.startswith("- ")] == ["- Three seconds down. <!-- 0:20 -->"]
    assert "also said, tempo: “Two”" in text


def test_a_transcript_s_times_are_told_as_coarse() -> None:
    made = draft(marked(TALK, coarse=True), title="x", source="transcript.txt")
    assert "they are coarse" in made.workout
    assert made.chapters.startswith("# coarse times")


def test_an_exercise_that_stands_twice_has_an_id() -> None:
    talk = (
        "## Warm-up\n# Back squat: [reps 8]eight[]\n## Straight sets\n# Back squat: [sets 3]three[] of [reps 5]five[]"
    )
    made = draft(marked(talk), title="x", source="x.srt")
    assert "### Back squat {back-squat-1}" in made.workout
    assert "0:30 Back squat {back-squat-2}" in made.chapters


# ---- the trainer's own words

SPOKEN = [
    ("then push the floor away and breathe out", ["push the floor away"]),
    ("you push the door open", []),  # told, not ordered
    ("twelve of those, push the floor away", ["push the floor away"]),
    ("chest up eyes on the wall because it helps", ["chest up", "eyes on the wall"]),
    ("don't lean back into it okay", ["don't lean back into it"]),
    ("squeeze your glutes at the top one two three four", ["squeeze your glutes at the top"]),
    ("keep it going", []),  # of nothing
    ("hold that for me mate and then I went to the shops with my nan", []),
]


@pytest.mark.parametrize(("talk", "cues"), SPOKEN, ids=[talk for talk, _ in SPOKEN])
def test_cues_are_what_people_are_told_to_do(talk: str, cues: list[str]) -> None:
    words = read_words([Cue(Fraction(0), Fraction(9), talk, SPAN)])
    assert [quote(words, one.first, one.last) for one in coaching(words, ())] == cues


NAMED = [("hi I'm Noreen and", "Noreen"), ("my name's Odette", "Odette"), ("it's Robin here", "Robin")]
UNNAMED = ["I'm fifty six", "it's Monday", "ask my mate Bryony", "I'm. Right then"]


def test_who_presents_is_heard_or_left_open() -> None:
    def heard(talk: str) -> str | None:
        found = presenter(read_words([Cue(Fraction(0), Fraction(9), talk, SPAN)]))
        return found.name if found else None

    assert [heard(talk) for talk, _ in NAMED] == [name for _, name in NAMED]
    assert [heard(talk) for talk in UNNAMED] == [None] * len(UNNAMED)


# ---- whatever is said

#: What a draft may leave to the trainer though it weighs as an error: a figure nobody said, a caution nobody gave.
LEFT_OPEN = {"nothing-to-do", "sets-missing", "work-missing", "clock-missing", "caution-missing", "no-exercises"}


def errors_of(folder: Path) -> set[str]:
    return {one.check for one in api.check(folder).findings if one.severity is Severity.ERROR}


def lay(folder: Path, subtitles: str) -> None:
    folder.mkdir(parents=True, exist_ok=True)
    (folder / "subtitles.srt").write_text(subtitles, "utf-8")
    made = api.draft(folder / "subtitles.srt", "Any talk").value
    assert made is not None
    for name, data in made.files.items():
        (folder / name).write_bytes(data)


LABELLED = [path for kind in ("spoken", "talk") for path in sorted((DATA / kind).iterdir()) if path.is_dir()]


@pytest.mark.parametrize("episode", LABELLED, ids=lambda path: path.name)
def test_a_draft_is_valid_but_for_what_nobody_said(episode: Path, tmp_path: Path) -> None:
    lay(tmp_path, (episode / "subtitles.srt").read_text("utf-8"))
    assert errors_of(tmp_path) <= LEFT_OPEN


def dose_of(work: Work | None) -> tuple[str, float, float] | None:
    match work:
        case Reps(each):
            return "reps", min(one.low for one in each), max(one.high for one in each)
        case Timed(seconds):
            return "seconds", float(seconds.low), float(seconds.high)
        case Distance(metres):
            return "metres", float(metres.low), float(metres.high)
    return None


def doses_said(truth: dict[str, Any]) -> dict[str, tuple[str, float, float] | None]:
    """Return the dose of each exercise that stands once; where the talk differs from the plan, what was said counts."""
    every = [one for block in truth["blocks"] for one in block["exercises"]]
    count = Counter(one["name"] for one in every)
    differs = {(one["exercise"], one["field"]): one["spoken"] for one in truth["contradictions"]}
    doses = {}
    for one in every:
        field = next((field for field in ("reps", "seconds", "metres") if one[field]), "")
        if count[one["name"]] == 1:
            low, high = differs.get((one["name"], field)) or one.get(field) or (0, 0)
            doses[one["name"]] = (field, low, high) if field else None
    return doses


def test_doses_are_those_that_were_said(tmp_path: Path) -> None:
    """Measured on the exercises that are found by name."""
    right = found = 0
    for episode in LABELLED:
        lay(tmp_path / episode.name, (episode / "subtitles.srt").read_text("utf-8"))
        facts = api.read(tmp_path / episode.name).value
        assert facts is not None
        drafted = {exercise.name: dose_of(exercise.prescription.work) for _, exercise in facts.episode.exercises()}
        said = doses_said(truth_of(episode))
        found += len(said.keys() & drafted.keys())
        right += sum(said[name] == drafted[name] for name in said.keys() & drafted.keys())
    assert right / found >= 0.85


SAID = (
    "one two three five eight ten twelve twenty forty ninety a to or maybe no sorry of the per each side reps sets"
    " rounds rest seconds minute kilos percent squats goblet swings bridges plank then next okay warm up superset"
    " circuit every minute finisher if your knees hurt stop push elbows in # * _ <!-- --> {x} [y] | Caution: ## --- `"
    " & \" '"
).split()


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.lists(st.sampled_from(SAID), min_size=1, max_size=14).map(" ".join), min_size=1, max_size=14))
def test_whatever_is_said_gives_a_workout_that_reads(tmp_path: Path, said: list[str]) -> None:
    cues = [Cue(Fraction(7 * at), Fraction(7 * at + 6), text, SPAN) for at, text in enumerate(said)]
    for old in tmp_path.iterdir():
        old.unlink()
    lay(tmp_path, write_srt(cues))
    if (tmp_path / "workout.md").exists():
        assert errors_of(tmp_path) <= LEFT_OPEN
