"""workout.md to an Episode: cases that carry their findings, the whole of one sample, and that nothing gets lost."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass, replace
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from repslate.model.build import build
from repslate.model.episode import Episode, Quiet
from repslate.model.forms import BlockKind
from repslate.model.library import load
from repslate.model.prescription import Prescription, write
from repslate.model.series import Series
from repslate.model.slug import slug
from repslate.source.finding import Finding
from repslate.source.outline import read_outline
from repslate.source.span import Span
from repslate.source.text import read_text

CASES = Path(__file__).parents[1] / "cases" / "reading"
EXPECT = re.compile(r"^(?:<!--|#) expect: (?P<check>[a-z-]+)(?: at (?P<line>\d+))?(?:, (?P<words>.*?))?(?: -->)?$")


def read(text: str) -> tuple[Episode, tuple[Finding, ...]]:
    outline, findings = read_outline(text, "workout.md")
    episode, more = build(outline, Series(), load(), folder_name="a-folder", file="workout.md")
    return episode, findings + more


def marks(lines: list[str]) -> Iterator[tuple[str, int, str]]:
    """Yield (check, line, words of its message or help) for each marker; it means the next line without a marker."""
    for number, line in enumerate(lines, 1):
        if found := EXPECT.match(line):
            below = next((at for at in range(number, len(lines)) if not EXPECT.match(lines[at])), number)
            yield found["check"], int(found["line"] or below + 1), found["words"] or ""


@pytest.mark.parametrize("path", sorted(CASES.glob("*.md")), ids=lambda path: path.stem)
def test_a_case_has_the_findings_it_is_marked_with(path: Path) -> None:
    text = path.read_text("utf-8")
    expected = sorted(marks(text.split("\n")))
    found = sorted(
        (finding.check, finding.span.line, f"{finding.message}; {finding.help}") for finding in read(text)[1]
    )
    assert [(check, line) for check, line, _ in found] == [(check, line) for check, line, _ in expected]
    for (_, _, message), (_, _, words) in zip(found, expected, strict=True):
        assert words in message


def test_every_finding_says_what_to_do() -> None:
    for path in CASES.glob("*.md"):
        for finding in read(path.read_text("utf-8"))[1]:
            assert finding.help, finding
            assert not finding.message.endswith("."), finding


@pytest.mark.parametrize("start", [b"", b"\xef\xbb\xbf"], ids=["plain", "BOM"])
@pytest.mark.parametrize("end", [b"\n", b"\r\n"], ids=["LF", "CRLF"])
@pytest.mark.parametrize("name", ["clean", "headings", "labels", "exercises"])
def test_byte_order_mark_and_line_endings_change_nothing(name: str, start: bytes, end: bytes, tmp_path: Path) -> None:
    data = (CASES / f"{name}.md").read_bytes()
    path = tmp_path / "workout.md"
    path.write_bytes(start + data.replace(b"\n", end))
    text, findings = read_text(path, "workout.md")
    assert text is not None
    assert findings == ()
    assert read(text) == read(data.decode())


def test_the_clean_case_field_by_field() -> None:
    episode, _ = read((CASES / "clean.md").read_text("utf-8"))
    assert (episode.slug, episode.title, episode.number) == ("7-hinge-squat-carry", "Hinge, squat, carry", 7)
    assert [prose.markdown for prose in episode.lead] == ["For anyone with one kettlebell: half an hour, no jumping."]
    assert [(block.kind, block.letter) for block in episode.blocks] == [
        (BlockKind.WARM_UP, "WU"),
        (BlockKind.SUPERSET, "A"),
        (BlockKind.STRAIGHT, "B"),
    ]
    assert [(one.label, one.id, one.name) for _, one in episode.exercises()] == [
        ("WU1", "hip-airplane", "Hip airplane"),
        ("A1", "goblet", "Goblet squat"),
        ("A2", "goblet-squat", "Goblet squat"),
        ("B1", "sandbag-shrug-walk", "Sandbag shrug walk"),
    ]
    superset = episode.blocks[1]
    assert [prose.markdown for prose in superset.prose] == ["Two moves, one bell."]
    assert [caution.words.text for caution in superset.cautions] == ["Leave a metre around you."]
    goblet, _ = superset.exercises
    assert goblet.prescription_span == Span("workout.md", 26, 1, 45)
    assert [(prose.markdown, prose.span.line) for prose in goblet.prose] == [
        ("Sit between the heels, then stand.", 28),
        ("Note: the heels stay down.", 30),
    ]
    assert [(one.path, one.description) for one in goblet.pictures] == [
        ("pictures/goblet.jpg", "The bell held at the chest")
    ]
    assert [one.text for one in goblet.cues] == ["Ribs down", "Elbows inside the knees"]
    assert [(one.text, one.span) for one in goblet.easier] == [("Box squat to a bench", Span("workout.md", 36, 9, 20))]
    assert [one.text for one in goblet.harder] == ["Heels raised, two-second pause"]
    assert [(one.topic, one.words.text) for one in goblet.cautions] == [
        ("knees", "Stop above the depth where it hurts.")
    ]
    assert episode.quiets == (
        Quiet("tempo-slow", "the slow way down is the point here", Span("workout.md", 39, 1, 19), 25, 40),
    )
    walk = episode.blocks[2].exercises[0]
    assert walk.match is None
    assert [(one.text, one.span.column) for one in walk.muscles] == [("trapezius", 10), ("forearms", 21)]
    assert [one.text for one in walk.equipment] == ["sandbag"]
    assert [(heading.text, [one.markdown for one in prose]) for heading, prose in episode.notes] == [
        ("What comes next", ["Nothing heavy for two days."])
    ]
    assert [prose.markdown for prose in episode.safety] == ["Stop when you feel dizzy."]
    assert episode.has_safety


def test_a_forgotten_blank_line_changes_nothing() -> None:
    text = (CASES / "forgotten-blank-lines.md").read_text("utf-8")
    spaced = re.sub(r"\n(?=#|Cues|Easier|Harder|Cautions|Sit)", "\n\n", text)

    def bare(episode: Episode) -> list[tuple[object, ...]]:
        return [
            (
                *(block.kind, one.label, one.prescription, [x.markdown for x in one.prose]),
                *([x.text for x in words] for words in (one.cues, one.easier, one.harder)),
                *(x.words.text for x in one.cautions),
            )
            for block, one in episode.exercises()
        ]

    assert bare(read(text)[0]) == bare(read(spaced)[0])
    assert [len(one.cues) for _, one in read(text)[0].exercises()] == [1, 0]


def test_every_caution_is_read_wherever_it_stands() -> None:
    episode, _ = read((CASES / "cautions.md").read_text("utf-8"))
    squat, push_up, _ = [one for _, one in episode.exercises()]
    assert [(one.topic, one.words.text) for one in squat.cautions] == [
        ("knees", "stop if it hurts"),
        ("lower back", "stop if it pulls"),
        ("knees and hips", "go no deeper"),
        (None, "stop when dizzy and sit down"),
        (None, "no shoes"),
        (None, "breathe on"),
    ]
    assert [(one.topic, one.words.text) for one in push_up.cautions] == [
        (None, "stop when it hurts in the wrist"),
        ("wrists", "use handles"),
        (None, "leave room"),
    ]
    assert [one.text for one in push_up.cues] == ["Hands under the shoulders", "Ribs down", "Look ahead"]
    assert [one.markdown for one in push_up.prose] == ["1. Lie down.", "2. Press.", "Then rest."]


def test_pictures_in_and_after_labels_are_pictures() -> None:
    episode, _ = read((CASES / "pictures.md").read_text("utf-8"))
    ((_, exercise),) = episode.exercises()
    assert [(one.path, one.span.line) for one in exercise.pictures] == [
        ("pictures/low.jpg", 9), ("pictures/high.jpg", 12), ("pictures/end.jpg", 13), ("pictures/no.jpg", 14),
    ]  # fmt: skip
    said = [*exercise.cues, *exercise.harder, *(one.words for one in exercise.cautions)]
    assert [one.text for one in said] == ["Ribs down", "Chin in", "feet up", "stop when it hurts"]
    assert exercise.prose == ()


@pytest.mark.parametrize(
    ("text", "prose"),
    [
        ("Sit <!-- a --> back<!-- b -->\n<!-- c --> and stand.", "Sit back\nand stand."),
        ("One.\n\n<!-- a\nb -->\n\nTwo.", "One.\n\nTwo."),
        ("One.  \nTwo.\n\n\nThree.", "One.  \nTwo.\n\n\nThree."),
    ],
)
def test_comments_leave_no_run_of_blanks(text: str, prose: str) -> None:
    episode, _ = read(f"---\nformat: 1\n---\n{text}\n## Straight sets\n### Push-up\n3 × 10\n\n{text}\n")
    assert [one.markdown for one in episode.lead] == [prose]
    assert [one.markdown for one in episode.blocks[0].exercises[0].prose] == [prose]


@pytest.mark.parametrize("line", ["3 × 10", "- 3 × 10", "**3 × 10**"])
def test_a_prescription_below_other_lines_is_read_and_told(line: str) -> None:
    episode, findings = read(f"---\nformat: 1\ntitle: A\n---\n## Straight sets\n### Push-up\nSit.\n{line}\n")
    exercise = episode.blocks[0].exercises[0]
    assert write(exercise.prescription) == "3 × 10"
    assert [(one.check, one.span) for one in findings] == [("prescription-elsewhere", exercise.prescription_span)]
    assert [one.markdown for one in exercise.prose] == ["Sit."]


def test_what_a_block_is_called() -> None:
    episode, _ = read((CASES / "blocks.md").read_text("utf-8"))
    named = [(block.kind.value, block.letter, block.name) for block in episode.blocks]
    assert named == [
        ("Straight sets", "A", "Straight sets"),
        ("Straight sets", "B", "Supreset · 3 rounds"),
        ("Straight sets", "C", "Legs"),
        ("Superset", "D", "Superset D"),
        ("Superset", "D", "Superset D"),
        ("Finisher", "E", "Finisher"),
        ("Cool-down", "CD", "Cool-down"),
    ]


@pytest.mark.parametrize(
    ("under", "column", "prose"),
    [
        ("3 × 10", 1, []),
        ("  3 × 10  ", 3, []),
        ("**3 × 10**\nSit back.", 3, ["Sit back."]),
        ("\n\n3 × 10\n\nSit back.", 1, ["Sit back."]),
        ("<!-- later -->\n<!-- 4 × 8 --> 3 × 10\n<!-- and -->", 16, []),
        ("3 × 10\nSit back,\nthen stand.\n\n- one\n  - two", 1, ["Sit back,\nthen stand.\n\n- one\n  - two"]),
        ("Three times ten is plenty.", None, ["Three times ten is plenty."]),
        ("Cues: 3 × 10", None, []),
    ],
)
def test_the_prescription_is_the_first_line(under: str, column: int | None, prose: list[str]) -> None:
    episode, _ = read(f"## Straight sets\n### Push-up\n{under}\n")
    exercise = episode.blocks[0].exercises[0]
    assert (exercise.prescription_span and exercise.prescription_span.column) == column
    assert (exercise.prescription != Prescription()) == bool(column)
    assert [one.markdown for one in exercise.prose] == prose


def test_a_silenced_check_holds_under_its_heading() -> None:
    episode, _ = read((CASES / "quiet.md").read_text("utf-8"))
    ranges = {quiet.check: (quiet.first, quiet.last) for quiet in episode.quiets}
    assert ranges == {"lead-short": (1, 6), "rest-missing": (7, 16), "safety-short": (17, 20)}


@pytest.mark.parametrize(
    ("headings", "labels"),
    [
        (["Warm-up", "Warm-up", "Superset", "Circuit", "Cool-down"], ["WU1", "WU2", "A1", "B1", "CD1"]),
        (["Superset C", "Superset", "Superset A", "Finisher"], ["C1", "D1", "A1", "B1"]),
        (["Superset", "Superset a"], ["B1", "A1"]),
        (["Superset 1", "Superset two", "Superset 3: Rows"], ["A1", "B1", "C1"]),
        (["Warm-up A", "Superset A"], ["WU1", "A1"]),
        (["Superset A", "Superset A"], ["A1", "A2"]),
        (["Finisher"] * 27, [*(f"{chr(65 + n)}1" for n in range(26)), "AA1"]),
    ],
)
def test_letters_and_labels(headings: list[str], labels: list[str]) -> None:
    episode, _ = read("\n".join(f"## {heading}\n### Plank" for heading in headings))
    assert [one.label for _, one in episode.exercises()] == labels


@pytest.mark.parametrize(
    ("front", "expected"),
    [
        ("title: Über Größe & Łódź", "uber-grosse-lodz"),
        ("title: ½ Farmer’s carry", "1-2-farmers-carry"),
        ("title: Hinge\nepisode: 7", "7-hinge"),
        ("title: Hinge\nepisode: 7\nslug: the-hinge", "the-hinge"),
        ("title: ../../etc", "etc"),
        ("title: Присед\nepisode: 7", "a-folder"),
        ("episode: 7", "a-folder"),
    ],
)
def test_the_name_of_the_output_folder(front: str, expected: str) -> None:
    assert read(f"---\n{front}\n---\n")[0].slug == expected


@given(st.text())
def test_a_slug_is_plain_and_stays_itself(text: str) -> None:
    assert re.fullmatch(r"(?:[a-z0-9]+(?:-[a-z0-9]+)*)?", slug(text))
    assert slug(slug(text)) == slug(text)
    assert len(slug(text)) <= 80


LINES = (
    "", "", "@ sits back", "  @ wrapped", "    @ code", "- @", "  - @ @", "1. @", "> @", "```", "| @ |", "[@]: /@",
    "## Superset", "## Warm-up · 2 rounds", "## @", "## Safety", "## Superset C: @", "##@", "# @", "#### @", "@\n---",
    "### @ squat", "### A1 @", "### @ {@}", "### @ {goblet}", "### Goblet squat", "### Goblt squat", "3 × 10", "3 × @",
    "10 reps, rest 60 s", "Cues: @", "Cues:", "Cues: @\n- @", "Easier (@): @", "Harder: @\n@", "Caution (@): @",
    "Cautions:\n- @\n- @", "Muscles: @, @ and @", "Equipment: @", "Quiet (@): @", "Quiet (@):", "Quiet: @",
    "***", "Cuation: @", "  Caution @: @", "- @\n  Caution: @\n- @", "> Caution - @ @: @", "- Harder: @", "\tCues: @",
    "Caution @ @ @ @: @", "1. Warning: @", "**Caution: @** @", "Equipment: @\n@ @", "Easier: ![@](@.jpg) @", "Note: @",
    "Harder - @", "![@](@.jpg)", "@ ![@ @](<pictures/@ @.jpg>) @", "**@**", "<b>@</b>", "Cues",
)  # fmt: skip
HEADS = ("", "---\nformat: 1\ntitle: @\npresenter: @\n---", "---\ntitle: @\nwhat: @\n\n## Superset", "---\n@\n---")


@st.composite
def documents(draw: st.DrawFn) -> str:
    """Documents in which every word of the trainer's stands once."""
    chosen = [draw(st.sampled_from(HEADS)), *draw(st.lists(st.sampled_from(LINES), max_size=25))]
    numbers = iter(range(10_000))
    return re.sub("@", lambda _: f"word{next(numbers)}z", "\n".join(chosen))


def texts(value: object) -> Iterator[str]:
    """Yield every text in the fields of a model."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple):
        for one in value:
            yield from texts(one)
    elif is_dataclass(value):
        for field in fields(value):
            yield from texts(getattr(value, field.name))


def spans(value: object) -> Iterator[Span]:
    """Yield every place in the fields of a model."""
    if isinstance(value, Span):
        yield value
    elif isinstance(value, tuple | dict):
        for one in value.values() if isinstance(value, dict) else value:
            yield from spans(one)
    elif is_dataclass(value):
        for field in fields(value):
            yield from spans(getattr(value, field.name))


@settings(max_examples=200, deadline=None)
@given(documents())
def test_nothing_a_trainer_wrote_vanishes(text: str) -> None:
    episode, findings = read(text)
    kept = set(re.findall(r"word\d+z", " ".join(texts(replace(episode, places={})))))
    told = {finding.span.line for finding in findings} | {span.line for span in episode.places.values()}
    for number, line in enumerate(text.split("\n"), 1):
        missing = set(re.findall(r"word\d+z", line)) - kept
        assert not missing or number in told, (number, line)
    ids = [one.id for _, one in episode.exercises()]
    labels = [one.label for _, one in episode.exercises()]
    assert len(set(ids)) == len(ids)
    assert len(set(labels)) == len(labels)
    lines = text.split("\n")
    for span in spans(episode):
        assert 1 <= span.column <= span.column - 1 + span.length <= max(1, len(lines[span.line - 1])), span


def test_a_share_of_who_knows_what_gives_no_load() -> None:
    episode, _ = read((CASES / "training-max.md").read_text("utf-8"))
    loads = [exercise.prescription.load is not None for _, exercise in episode.exercises()]
    assert loads == [False, True, True, False, True]
