"""The card: what is printed is read cell by cell, and one thing changed on it is found with its place on the page."""

from __future__ import annotations

import io
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pikepdf
import pytest

from proof.sampled import NAMES, Sample
from repslate import api
from repslate.proof.card import card_document
from repslate.proof.differences import Disagreement
from repslate.proof.pdf import Page, Unreadable, read_own_pdf
from repslate.proof.workout import CARD, compare_workout

SAMPLES = Path(__file__).parents[2] / "samples"
CARDS = ("card-a4.pdf", "card-letter.pdf")
CHANGES = [
    ("10–12 reps", "10–13 reps", "audit-figure", "A1 Goblet squat, work"),
    ("(35 lb)", "(36 lb)", "audit-figure", "load in brackets"),
    ("per side", "", "audit-missing", "“per side”"),
    ("tempo 3-0-1-0", "tempo 3-0-0-0", "audit-figure", "B1 Romanian deadlift, tempo"),
    ("· 4 rounds", "· 3 rounds", "audit-figure", "Finisher, rounds"),
    ("Do not drop it.", "", "audit-caution", "“not”"),
    ("two metres", "two feet", "audit-caution", "the caution on space"),
    ("about 42–47 min", "about 24–47 min", "audit-figure", "the duration"),
    ("14 April 2026", "15 April 2026", "audit-time", "the date of recording"),
    ("two kettlebells", "three kettlebells", "audit-figure", "the equipment"),
    ("Velloway", "Valloway", "audit-disclosure", "the disclosure"),
    ("wipe the floor and", "wipe", "audit-notice", "“floor”"),
    ("heronwick.example/workouts/12", "heronwick.example/workouts/21", "audit-link", "the address on the card"),
]  # fmt: skip


def pages_of(sample: Sample, card: str) -> tuple[Page, ...]:
    pages = read_own_pdf(sample.files[card])
    assert not isinstance(pages, Unreadable)
    return pages


def changed(data: bytes, change: Callable[[pikepdf.Pdf], None]) -> tuple[Page, ...]:
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(data)) as pdf:
        change(pdf)
        pdf.save(out)
    pages = read_own_pdf(out.getvalue())
    assert not isinstance(pages, Unreadable)
    return pages


def untold(sample: Sample, card: str) -> tuple[Page, ...]:
    """The card as many programs save it: without what says which texts are one cell."""

    def plain(pdf: pikepdf.Pdf) -> None:
        del pdf.Root.StructTreeRoot

    pages = changed(sample.files[card], plain)
    assert not any(line.within for page in pages for line in page.lines)
    return pages


def compare(sample: Sample, card: str, pages: tuple[Page, ...]) -> list[Disagreement]:
    return list(compare_workout(card_document(card, pages), sample.expected, CARD))


@pytest.mark.parametrize("card", CARDS)
@pytest.mark.parametrize("told", [True, False], ids=["as built", "saved anew without its structure"])
@pytest.mark.parametrize(("old", "new", "check", "says"), CHANGES)
def test_a_change_is_found(boathouse: Sample, card: str, told: bool, old: str, new: str, check: str, says: str) -> None:
    (page,) = pages_of(boathouse, card) if told else untold(boathouse, card)
    assert compare(boathouse, card, (page,)) == []
    at = next(at for at, line in enumerate(page.lines) if old in line.text)
    lines = [*page.lines]
    lines[at] = replace(lines[at], text=lines[at].text.replace(old, new, 1))
    found = [one.finding() for one in compare(boathouse, card, (replace(page, lines=tuple(lines)),))]
    assert any(one.check == check and says in one.message for one in found), found


@pytest.mark.parametrize("card", CARDS)
@pytest.mark.parametrize("field", ["links", "codes"])
def test_a_link_or_code_that_leads_elsewhere_is_found(boathouse: Sample, card: str, field: str) -> None:
    (page,) = pages_of(boathouse, card)
    for wrong in (("https://heronwick.example/workouts/13",), ()) if field == "codes" else (("https://x.example",),):
        other = replace(page, links=wrong) if field == "links" else replace(page, codes=wrong)
        assert {one.check for one in compare(boathouse, card, (other,))} <= {"audit-link", "audit-missing"}
        assert compare(boathouse, card, (other,))


def test_a_finding_says_where_on_the_page(boathouse: Sample) -> None:
    (page,) = pages_of(boathouse, "card-a4.pdf")
    at = next(at for at, line in enumerate(page.lines) if line.text == "15 reps" or line.text.startswith("15 reps @"))
    lines = [*page.lines]
    lines[at] = replace(lines[at], text=lines[at].text.replace("15", "51"))
    (one,) = compare(boathouse, "card-a4.pdf", (replace(page, lines=tuple(lines)),))
    down = round(page.lines[at].y * 25.4 / 72)
    assert one.finding().message.startswith(f"page 1, 12 mm from the left, {down} mm from the top: D1 Kettlebell swing")


def said(pdf: pikepdf.Pdf, words: str) -> pikepdf.Object:
    """The element of a PDF that says of a text what it is."""
    return next(
        one for one in pdf.objects if isinstance(one, pikepdf.Dictionary) and str(one.get("/ActualText", "")) == words
    )


@pytest.mark.parametrize(
    ("words", "other"), [("8–10 reps per side", "8–10 reps"), ("15 reps", "51 reps"), ("A1", "A2")]
)
def test_what_a_card_says_of_a_text_is_not_believed_where_something_else_is_drawn(
    boathouse: Sample, words: str, other: str
) -> None:
    def lied(pdf: pikepdf.Pdf) -> None:
        said(pdf, words).ActualText = pikepdf.String(other)

    read = [[line.text for line in page.lines] for page in changed(boathouse.files["card-a4.pdf"], lied)]
    assert read == [[line.text for line in page.lines] for page in pages_of(boathouse, "card-a4.pdf")]


def test_text_that_the_card_says_nothing_of_is_read_where_it_stands(boathouse: Sample) -> None:
    (page,) = pages_of(boathouse, "card-a4.pdf")
    dose = next(line for line in page.lines if line.text.startswith("15 reps"))
    added = replace(dose, text="or 50 reps", y=dose.y + 12, within=())
    lines = tuple(sorted((*page.lines, added), key=lambda line: (line.y, line.x)))
    document = card_document("card-a4.pdf", (replace(page, lines=lines),))
    assert any("or 50 reps" in piece.text for piece in document.pieces)


@pytest.mark.parametrize("name", NAMES)
def test_the_card_of_an_altered_episode_is_found(samples: dict[str, Sample], name: str, tmp_path: Path) -> None:
    sample = samples[name]
    text = (SAMPLES / name / "workout.md").read_text("utf-8")
    source = sample.expected.exercises[1].exercise.prescription_span
    assert source is not None
    lines = text.split("\n")
    digit = next(at for at, letter in enumerate(lines[source.line - 1]) if letter.isdigit())
    line = lines[source.line - 1]
    lines[source.line - 1] = line[:digit] + str((int(line[digit]) + 1) % 10) + line[digit + 1 :]
    other = _built(SAMPLES / name, tmp_path, "\n".join(lines))
    found = compare(sample, "card-a4.pdf", other)
    assert any(sample.expected.exercises[1].called in one.claim.subject for one in found)


def _built(folder: Path, tmp_path: Path, text: str) -> tuple[Page, ...]:
    """Render the card of a changed episode, whatever the checks say of it."""
    import shutil

    from repslate.publish import OUTPUTS
    from repslate.publish.render import Desk, render
    from repslate.publish.templates import find

    copy = tmp_path / "samples" / folder.name
    shutil.copytree(folder, copy)
    shutil.copy(folder.parent / "series.yaml", copy.parent)
    (copy / "workout.md").write_text(text, "utf-8")
    facts = api.read(copy).value
    assert facts is not None
    card = [output for output in OUTPUTS if output.name == "card-a4.pdf"]
    rendered = render(facts, copy, find(), desk=Desk((), tmp_path), outputs=card)
    pages = read_own_pdf(rendered.files["card-a4.pdf"])
    assert not isinstance(pages, Unreadable)
    return pages


@pytest.mark.parametrize(
    ("words", "other", "line"),
    [
        ("2 rounds", "\U0001f1eb\U0001f1ee", "Warm-up · \U0001f1eb\U0001f1ee"),
        ("Warm-up", "3\ufe0f\u20e3", "3\ufe0f\u20e3 · 2 rounds"),
        ("2 rounds", "99", "Warm-up ·"),
    ],
)
def test_emoji_are_read_though_they_are_drawn_as_pictures(boathouse: Sample, words: str, other: str, line: str) -> None:
    def undrawn(pdf: pikepdf.Pdf) -> None:
        element = said(pdf, words)
        element.ActualText = pikepdf.String(other)
        drawn = list(pikepdf.parse_content_stream(pdf.pages[0]))
        mark = element.K[0]
        begin = next(at for at, one in enumerate(drawn) if str(one.operator) == "BDC" and mark == one.operands[1].MCID)
        end = next(at for at in range(begin, len(drawn)) if str(drawn[at].operator) == "EMC")
        kept = [one for at, one in enumerate(drawn) if not (begin < at < end and str(one.operator) in {"Tj", "TJ"})]
        pdf.pages[0].Contents = pdf.make_stream(pikepdf.unparse_content_stream(kept))

    (page,) = changed(boathouse.files["card-a4.pdf"], undrawn)
    assert line in [line.text.strip() for line in page.lines]
