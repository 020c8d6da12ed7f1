"""One thing changed in one published file is found, under its check, with what was found and what was expected.

Each row: file, the text that is changed, what it becomes, the check, and a piece of the message.
"""

from __future__ import annotations

import re

import pytest

from proof.sampled import NAMES, Sample
from repslate.source.finding import Severity

BOATHOUSE = [
    # the list of the workout
    ("article.md", "10–12 reps @ 16 kg", "10–13 reps @ 16 kg", "audit-figure", "A1 Goblet squat, work"),
    ("article.md", "16 kg (35 lb), tempo", "16 lb (35 lb), tempo", "audit-figure", "A1 Goblet squat, load"),
    ("article.md", "(35 lb)", "(37 lb)", "audit-figure", "load in brackets"),
    ("article.md", "(35 lb)", "(35 kg)", "audit-figure", "load in brackets"),
    ("article.md", "2 × 16 kg", "16 kg", "audit-figure", "B1 Romanian deadlift, load"),
    ("article.md", "tempo 3-1-1-0", "tempo 3-1-1-1", "audit-figure", "tempo 3-1-1-0"),
    ("article.md", ", tempo 3-1-1-0", "", "audit-missing", "tempo"),
    ("article.md", "leave 2 in reserve", "leave 3 in reserve", "audit-figure", "effort"),
    ("article.md", "8–10 reps per side", "8–10 reps", "audit-missing", "A2 One-arm row, “per side”"),
    ("article.md", "40 m", "40 s", "audit-figure", "D2 Farmer's carry, work"),
    ("article.md", "1 × 45 s", "1 × 45 min", "audit-figure", "CD2 Child's pose"),
    ("article.md", "· 3 rounds · rest", "· 4 rounds · rest", "audit-figure", "Superset A: squat and row, rounds"),
    ("article.md", "rest 75–90 s", "rest 75–95 s", "audit-figure", "Superset A: squat and row, rest"),
    ("article.md", "90 s after each round", "90 s after each set", "audit-figure", "squat and row, rest: found"),
    ("article.md", "- A2 One-arm row", "- A3 One-arm row", "audit-name", "the label of One-arm row"),
    ("article.md", "- A2 One-arm row", "- A2 Two-arm row", "audit-name", "“A2 One-arm row”"),
    ("article.md", "**Finisher** ·", "**Finale** ·", "audit-missing", "Finisher"),
    # what stands under an exercise's heading
    ("article.md", "**15 reps @", "**16 reps @", "audit-figure", "D1 Kettlebell swing, work"),
    ("article.md", "### B2 Push-up", "### B2 Pull-up", "audit-name", "“B2 Push-up”"),
    ("article.md", "#t=330>", "#t=331>", "audit-time", "the link of A1 Goblet squat into the film"),
    ("article.md", "Watch from 5:30", "Watch from 5:40", "audit-time", "the time of A1 Goblet squat in the film"),
    ("article.md", "[Watch from 5:30](<https://video.example", "[Page](<https://heronwick.example", "audit-link", "A1"),
    ("article.md", "Wait\nfor one second", "Wait\nfor two seconds", "audit-prose", "A1 Goblet squat"),
    ("article.md", "Keep two metres free", "Keep two feet free", "audit-caution", "“metres”"),
    # head and foot
    ("article.md", "# Boathouse Kettlebells", "# Boathouse Kettlebell", "audit-name", "the title"),
    ("article.md", "Episode 12", "Episode 13", "audit-figure", "the number of the episode"),
    ("article.md", "with Maren", "with Marek", "audit-name", "the presenter"),
    ("article.md", "about 42–47 min", "about 42–48 min", "audit-figure", "the duration"),
    ("article.md", "12 exercises", "11 exercises", "audit-figure", "the number of exercises"),
    ("article.md", "47:30 video", "47:31 video", "audit-figure", "the length of the film"),
    ("article.md", "Intermediate", "Beginner", "audit-name", "the level"),
    ("article.md", "Equipment: two kettlebells", "Equipment: three kettlebells", "audit-figure", "the equipment"),
    ("article.md", "Muscles: glutes,", "Muscles: calves,", "audit-figure", "the muscles"),
    # safety
    ("article.md", "**Advertisement: Velloway", "**Advertisement: Valloway", "audit-disclosure", "the disclosure"),
    ("article.md", " A smaller squat still counts.", "", "audit-caution", "the caution on knees"),
    ("article.md", "Do not drop it.", "Do drop it.", "audit-caution", "“not”"),
    ("article.md", "Stop above any depth", "Do not stop above any depth", "audit-caution", "the caution on knees"),
    ("article.md", "**Caution (space):** Look up", "**Caution (back):** Look up", "audit-caution", "“space”"),
    ("article.md", " Children train with a qualified adult.", "", "audit-notice", "“Children”"),
    ("article.md", ", or a joint hurts sharply. If it", ". If it", "audit-notice", "“joint”"),
    ("article.md", "The swing is a fast lift. ", "", "audit-notice", "the safety words of the episode"),
    # the page
    ("article.html", 'class="label">A1</td>', 'class="label">A9</td>', "audit-name", "the label of Goblet squat"),
    ("article.html", ">Caution (pregnancy)", " hidden>Caution (pregnancy)", "audit-caution", "on pregnancy"),
    ("article.html", 'href="card-a4.pdf"', 'href="card-a3.pdf"', "audit-link", "the link “A4 paper” to"),
    ("article.html", 'href="card-letter.pdf"', 'href="card-a4.pdf"', "audit-link", "the link “US Letter”"),
    ("article.html", 'href="#goblet-squat"', 'href="#one-arm-row"', "audit-link", "the link “Goblet squat”"),
    ("article.html", "Next: A1 Goblet squat", "Next: A2 Goblet squat", "audit-link", "the link to the next exercise"),
    ("article.html", "20–24 min</span> of work", "20–25 min</span> of work", "audit-figure", "the time of work"),
    ("article.html", "glutes: 15.", "glutes: 16.", "audit-figure", "the figure of glutes"),
    ("article.html", ">8½</text>", ">8</text>", "audit-figure", "the figure of hamstrings"),
    ("article.html", 'text-anchor="middle">20</text>', 'text-anchor="middle">25</text>', "audit-figure", "the scale"),
    ("article.html", "Published 4 May 2026", "Published 5 May 2026", "audit-time", "4 May 2026"),
    ("article.html", "3 s a repetition", "4 s a repetition", "audit-prose", "what the figures rest on"),
    ("article.html", '"canonical" href="https://heron', '"canonical" href="https://her', "audit-link", "canonical"),
    ("article.html", '"startOffset": 330', '"startOffset": 331', "audit-time", "startOffset of the clip"),
    ("article.html", '"workload": "15 reps', '"workload": "16 reps', "audit-figure", "the workload of D1"),
    ("article.html", '"duration": "PT47M30S"', '"duration": "PT47M31S"', "audit-time", "2850 seconds"),
    ("article.html", '"name": "Maren"', '"name": "Marek"', "audit-name", "author/name"),
    ("article.html", '"@type": "Article",', '"@type": "Article"', "audit-unreadable", "the JSON-LD"),
    # posts
    ("description.txt", "16:20 Romanian", "16:21 Romanian", "audit-time", "the start of “Romanian deadlift”"),
    ("description.txt", "16:20 Romanian deadlift\n", "", "audit-missing", "the chapter “Romanian deadlift”"),
    ("description.txt", "You need: two kettlebells", "You need: one kettlebell", "audit-figure", "the equipment"),
    ("description.txt", "Caution, Push-up (wrists)", "Caution, Split squat (wrists)", "audit-caution", "“Push”"),
    ("description.txt", "leave 2 in reserve\nA2", "leave 1 in reserve\nA2", "audit-figure", "A1 Goblet squat, effort"),
    ("description.txt", "workouts/12-boathouse", "workouts/21-boathouse", "audit-link", "the address of the article"),
    ("caption.txt", "A1 Goblet squat: 10–12 reps\n", "", "audit-missing", "A1 Goblet squat"),
    ("caption.txt", "press: 6–8 reps per side", "press: 6–8 reps", "audit-missing", "C2 One-arm kettlebell press"),
    ("caption.txt", "Advertisement", "New film!\n\nAdvertisement", "audit-disclosure", "in the first line"),
    ("caption.txt", ": ask a licensed professional first if in doubt", "", "audit-notice", "“licensed”"),
    # chapters
    ("chapters.txt", "6:50 One-arm row", "6:51 One-arm row", "audit-time", "“6:50”"),
    ("chapters.txt", "6:50 One-arm row", "6:5x One-arm row", "audit-unreadable", "a line such as"),
    ("chapters.txt", "One-arm row", "One-arm rows", "audit-name", "the title of chapter 6"),
    ("chapters.vtt", "00:06:50.000 -->", "00:06:50.001 -->", "audit-time", "the start of “One-arm row”"),
    ("chapters.vtt", "--> 00:06:50.000", "--> 00:06:51.000", "audit-time", "the end of “Goblet squat”"),
    ("chapters.vtt", "WEBVTT", "WEBVT", "audit-unreadable", "WEBVTT"),
    ("chapters.ffmeta", "END=410000", "END=410001", "audit-time", "the end of “Goblet squat”"),
    ("chapters.ffmeta", "TIMEBASE=1/1000", "TIMEBASE=1/100", "audit-time", "the end of"),
]  # fmt: skip
HARBOUR = [
    ("cut.html", "0:14.800", "0:14.801", "audit-time", "a subtitle near"),
    ("cut.html", "named 0.4 s later", "named 0.5 s later", "audit-figure", "a distance under"),
    ("cut.html", 'data-at="14.400"', 'data-at="14.440"', "audit-time", "data-at"),
    ("cut.html", "01:00:14:10", "01:00:14:11", "audit-time", "the timecode"),
    ("cut.html", 'On the cut">2</a>', 'On the cut">03</a>', "audit-figure", "the chapters' numbers"),
    ("cut.html", "7 in place", "6 in place", "audit-figure", "the counts of chapters"),
    ("cut.html", "25 frames a second", "24 frames a second", "audit-figure", "the frame rate"),
    ("cut.html", "spot for sixty seconds", "spot for fifty seconds", "audit-name", "spot for sixty seconds"),
    ("cut.html", ">March on the spot</h3>", ">March</h3>", "audit-name", "the title of chapter 2"),
]


@pytest.mark.parametrize(("file", "old", "new", "check", "says"), BOATHOUSE, ids=lambda one: str(one)[:24])
def test_a_change_is_found(boathouse: Sample, file: str, old: str, new: str, check: str, says: str) -> None:
    _demand(boathouse, file, old, new, (check, says))


@pytest.mark.parametrize(("file", "old", "new", "check", "says"), HARBOUR, ids=lambda one: str(one)[:24])
def test_a_change_in_the_cut_is_found(harbour: Sample, file: str, old: str, new: str, check: str, says: str) -> None:
    _demand(harbour, file, old, new, (check, says))


def _demand(sample: Sample, file: str, old: str, new: str, wanted: tuple[str, str]) -> None:
    found = sample.changed(file, old, new)
    check, says = wanted
    assert any(one.check == check and says in one.message for one in found), [(o.check, o.message) for o in found]
    for one in found:
        assert one.severity is Severity.ERROR
        assert "expected" in one.message
        assert one.help
        assert one.span.file == file


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("file", ["article.md", "description.txt", "caption.txt"])
def test_two_exercises_that_change_places_are_found(samples: dict[str, Sample], name: str, file: str) -> None:
    text = samples[name].text(file)
    swapped = re.sub(r"^(\W*A1 .*)\n(\W*A2 .*)$", r"\2\n\1", text, count=1, flags=re.MULTILINE)
    assert swapped != text
    assert "audit-order" in {one.check for one in samples[name].read_back(file, swapped)}


def test_a_finding_names_both_places_and_both_values(boathouse: Sample) -> None:
    found = boathouse.changed("caption.txt", "D1 Kettlebell swing: 15 reps", "D1 Kettlebell swing: 51 reps")
    line = boathouse.text("caption.txt").split("\n").index("D1 Kettlebell swing: 15 reps") + 1
    source = boathouse.expected.exercises[8].exercise.prescription_span
    assert source is not None
    (one,) = found
    assert (one.span.file, one.span.line) == ("caption.txt", line)
    assert one.message == (
        f"D1 Kettlebell swing, work: found “51 reps”, expected “15 reps” as workout.md, line {source.line}, has it"
    )


@pytest.mark.parametrize("file", ["article.md", "description.txt", "caption.txt"])
def test_a_disclosure_at_the_end_is_found(boathouse: Sample, file: str) -> None:
    first, _, rest = boathouse.text(file).partition("\n\n")
    found = boathouse.read_back(file, f"{rest}\n{first}\n")
    assert {one.check for one in found} == {"audit-disclosure"}


@pytest.mark.parametrize("file", ["article.html", "article.md", "description.txt", "caption.txt", "cut.html"])
@pytest.mark.parametrize("text", ["", "\x00\x01", "<<<", "A" * 3000, "[](", "{}"])
def test_any_bytes_are_read(harbour: Sample, file: str, text: str) -> None:
    assert harbour.read_back(file, text)
