"""What a person reads on a PDF comes back: the cards of every sample whole, and the ways that type hides its words."""

from __future__ import annotations

import io
import random
from collections.abc import Callable
from itertools import pairwise

import pikepdf
import pytest

from proof.sampled import NAMES, Sample
from repslate.proof.pdf import Line, Page, Unreadable, read_own_pdf
from repslate.publish.markdown import to_plain
from repslate.publish.view import CautionView, View, view

PAPERS = {"card-a4.pdf": (595.28, 841.89), "card-letter.pdf": (612, 792)}

every_card = pytest.mark.parametrize("name", NAMES)
both_papers = pytest.mark.parametrize("card", PAPERS)


def read(data: bytes) -> tuple[Page, ...]:
    pages = read_own_pdf(data)
    assert not isinstance(pages, Unreadable), pages
    return pages


def one_page(sample: Sample, card: str) -> Page:
    (page,) = read(sample.files[card])
    return page


def column(page: Page, head: str) -> str:
    """The text that stands under the head of a column, and begins where it begins."""
    (top,) = (line for line in page.lines if line.text == head)
    return " ".join(line.text for line in page.lines if line.y > top.y and abs(line.x - top.x) < 0.5)


def notes(cautions: tuple[CautionView, ...]) -> list[str]:
    return [f"Caution ({one.topic}): {' '.join(to_plain(one.words).split())}" for one in cautions]


# ---- the cards of the samples, against the words that were handed to the printer


@every_card
@both_papers
def test_names_and_cautions_come_back_to_the_letter(samples: dict[str, Sample], name: str, card: str) -> None:
    wanted: list[str] = []
    for block in view(samples[name].expected.facts).blocks:
        for exercise in block.exercises:
            wanted += [exercise.name, *notes(exercise.cautions)]
        wanted += notes(block.cautions)
    assert column(one_page(samples[name], card), "Exercise") == " ".join(wanted)


@every_card
@both_papers
def test_prescriptions_and_rests_come_back_to_the_letter(samples: dict[str, Sample], name: str, card: str) -> None:
    exercises = [one for block in view(samples[name].expected.facts).blocks for one in block.exercises]
    wanted = [part for one in exercises for part in (one.main, ", ".join(one.details)) if part]
    assert column(one_page(samples[name], card), "What to do") == " ".join(wanted)


@every_card
@both_papers
def test_head_blocks_labels_and_foot_come_back_in_order(samples: dict[str, Sample], name: str, card: str) -> None:
    shown: View = view(samples[name].expected.facts)
    page = one_page(samples[name], card)
    left = " ".join(line.text for line in page.lines if abs(line.x - page.lines[0].x) < 0.5)
    head = [shown.disclosure] if shown.disclosure else []
    wanted = [*head, f"{shown.title} {' · '.join(shown.facts)}"]
    for block in shown.blocks:
        labels = " ".join(one.label for one in block.exercises)
        wanted.append(f"{' · '.join((block.name, *block.facts))} {labels}")
    safety = (to_plain(text).replace("\n", " ") for text in shown.safety)
    foot = " ".join((shown.notice_short, *safety))
    address = (shown.address or "").removeprefix("https://")
    wanted.append(f"Before you train {foot} Page with the film: {address}")
    places = [left.find(words) for words in wanted]
    assert -1 not in places, wanted[places.index(-1)]
    assert places == sorted(places)


@every_card
@both_papers
def test_the_drawn_code_leads_to_the_article(samples: dict[str, Sample], name: str, card: str) -> None:
    page = one_page(samples[name], card)
    assert page.codes == (samples[name].expected.address,)
    assert (page.width, page.height) == pytest.approx(PAPERS[card], abs=0.1)


@every_card
def test_lines_side_by_side_have_one_height_and_go_from_left_to_right(samples: dict[str, Sample], name: str) -> None:
    page = one_page(samples[name], "card-a4.pdf")
    places = [(line.y, line.x) for line in page.lines]
    assert places == sorted(places)
    heights = sorted({line.y for line in page.lines})
    assert min(after - before for before, after in pairwise(heights)) > 1
    label = next(line for line in page.lines if line.text == "A1")
    assert len([line for line in page.lines if line.y == label.y]) >= 3


# ---- what type does to words. Each row: style, markup, the lines as a person reads them

TWO_COLUMNS = "<b style='float: left; width: 10em'>push-up<br>slowly</b><i>light-<br>headed</i>"
CELL = "display: inline-block; vertical-align: top; padding-right: .8em; overflow-wrap: anywhere"
CELLS = f"<b style='{CELL}; width: {{}}'>{{}}</b><i>3 × 8</i>"
TOO_LONG = CELLS.format("10em", "schulterblattstabilisierung")
TWO_WORDS = CELLS.format("auto", "Romanian<br>deadlift")
ROOM_LEFT = CELLS.format("13em", "schulterblattübung<br>leicht")
TYPE = [
    ("", "If you feel light-<br>headed, stop", ["If you feel light-headed,", "stop"]),
    ("width: 1em", "extra&shy;ordinary move&shy;ments", ["extraordinary", "movements"]),
    ("width: 1em", "co&shy;op, warm-up", ["coop,", "warm-up"]),
    ("", "two- or three-<br>arm, or two-<br>and four-arm", ["two- or three-arm,", "or two-", "and four-arm"]),
    ("", "rest 60–<br>90 s, tempo 3-1-<br>1-0 each", ["rest 60–90", "s, tempo 3-1-1-0", "each"]),
    ("", "stop –<br>and breathe", ["stop –", "and breathe"]),
    ("", "efficient fluffy waffles", ["efficient fluffy waffles"]),
    ("", "e\ufb03cient \ufb01gures", ["efficient figures"]),
    ("", "strong \U0001f4aa back", ["strong \U0001f4aa back"]),
    ("letter-spacing: .3em", "Finisher round 75–90 s", ["Finisher round 75–90 s"]),
    ("letter-spacing: -.02em", "Finisher 3 × 10", ["Finisher 3 × 10"]),
    ("", "2&nbsp;×&nbsp;16&#8239;kg", ["2 × 16 kg"]),
    ("text-align: justify; text-align-last: justify; width: 10em", "hold for a minute", ["hold for a minute"]),
    ("", "<b>8–10</b><i style='margin-left: .5em'>rest 20 s</i>", ["8–10 rest 20 s"]),
    ("", "<b>10 reps</b><i style='margin-left: 1em'>15 reps</i>", ["10 reps", "15 reps"]),
    ("white-space: pre", "2 × 10     3 × 8", ["2 × 10", "3 × 8"]),
    ("", "10<b style='position: relative; top: -.5pt'>th</b> round", ["10th round"]),
    ("", "kettle&#8203;bell&#8288;s", ["kettlebells"]),
    ("", "Finisher-<br><small style='font-size: 8pt'>rest</small>", ["Finisher-", "rest"]),
    ("", TWO_COLUMNS, ["push-up", "light-headed", "slowly"]),
    ("", TOO_LONG, ["schulterblattstabilisierung", "3 × 8"]),
    ("", TWO_WORDS, ["Romanian", "3 × 8", "deadlift"]),
    ("", ROOM_LEFT, ["schulterblattübung", "3 × 8", "leicht"]),
    ("", "<b>Cau</b>tion", ["Caution"]),
    ("margin-left: -60em", "beside the paper", []),
    ("position: relative; top: -10em", "above the paper", []),
]


def printed(*bodies: str) -> bytes:
    """A PDF with one page for each body."""
    from weasyprint import HTML

    style = "@page { size: A5; margin: 10mm } p { margin: 0; font: 12pt sans-serif; break-after: page }"
    data: bytes = HTML(string=f"<style>{style}</style>{''.join(bodies)}").write_pdf()
    return data


@pytest.fixture(scope="module")
def typeset() -> tuple[Page, ...]:
    return read(printed(*(f'<p style="{style}">{markup}</p>' for style, markup, _ in TYPE)))


@pytest.mark.parametrize("at", range(len(TYPE)), ids=lambda at: TYPE[at][1][:30])
def test_type_is_read_as_a_person_reads_it(typeset: tuple[Page, ...], at: int) -> None:
    assert [line.text for line in typeset[at].lines] == TYPE[at][2]
    assert typeset[at].number == at + 1


def test_places_and_sizes_are_points_from_the_top_left() -> None:
    (page,) = read(printed('<p style="position: absolute; left: 100pt; top: 200pt; line-height: 1">Here</p>'))
    margin = 10 / 25.4 * 72
    (line,) = page.lines
    assert line == Line("Here", line.x, line.y, 12, right=line.right)
    assert line.x == pytest.approx(100 + margin, abs=0.5)
    assert line.x + 20 < line.right < line.x + 30
    assert 200 + margin + 6 < line.y < 200 + margin + 12  # the foot of its letters


def test_links_are_read() -> None:
    (page,) = read(printed('<p><a href="https://heronwick.example/a?b=1&amp;c=2">here</a> and <a href="#x">there</a>'))
    assert page.links == ("https://heronwick.example/a?b=1&c=2",)


@pytest.mark.parametrize("code", ["00ad", "200b", "200c", "200d", "2060", "feff"])
def test_letters_that_another_program_left_unseen_are_not_read(code: str) -> None:
    def relabelled(pdf: pikepdf.Pdf) -> None:
        (font,) = pdf.pages[0].Resources.Font.values()
        font.ToUnicode.write(font.ToUnicode.read_bytes().replace(b"<0078>", f"<{code}>".encode()))

    (page,) = read(changed(printed("<p>swingx"), relabelled))
    assert [line.text for line in page.lines] == ["swing"]


def test_an_address_that_is_not_encoded_is_read() -> None:
    def typed(pdf: pikepdf.Pdf) -> None:
        pdf.pages[0].Annots[0].A.URI = pikepdf.String("https://heronwick.example/é".encode())

    (page,) = read(changed(printed('<p><a href="https://heronwick.example/">here</a>'), typed))
    assert page.links == ("https://heronwick.example/é",)


# ---- a card that somebody changed, or that is none


def changed(data: bytes, change: Callable[[pikepdf.Pdf], None], encryption: pikepdf.Encryption | None = None) -> bytes:
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(data)) as pdf:
        change(pdf)
        pdf.save(out, encryption=encryption or False)
    return out.getvalue()


def laid_open(data: bytes) -> bytes:
    """The same PDF with nothing packed, so that a changed byte reaches text, fonts and drawings."""
    out = io.BytesIO()
    with pikepdf.open(io.BytesIO(data)) as pdf:
        pdf.save(out, compress_streams=False, stream_decode_level=pikepdf.StreamDecodeLevel.all)
    return out.getvalue()


def painted_over(pdf: pikepdf.Pdf) -> None:
    pdf.pages[0].contents_add(b"q 1 g 0 0 600 850 re f Q")


def drawn_unseen(pdf: pikepdf.Pdf) -> None:
    pdf.pages[0].contents_add(b"3 Tr", prepend=True)  # ISO 32000-1, table 106: neither fill nor stroke


def drawn_to_a_dot(pdf: pikepdf.Pdf) -> None:
    pdf.pages[0].contents_add(b"0 0 0 0 100 100 cm", prepend=True)


def poster(pdf: pikepdf.Pdf) -> None:
    pdf.pages[0].MediaBox = pikepdf.Array([0, 0, 14400, 14400])  # ISO 32000-1, annex C: the format's limit


def test_a_code_that_cannot_be_seen_is_none(boathouse: Sample) -> None:
    (page,) = read(changed(boathouse.files["card-a4.pdf"], painted_over))
    assert page.codes == ()


UNREADABLE: list[tuple[str, Callable[[bytes], bytes], str]] = [
    ("empty", lambda card: b"", "no PDF"),
    ("a page of HTML", lambda card: b"<!doctype html><p>card", "no PDF"),
    ("cut off", lambda card: card[: len(card) // 2], "damaged"),
    ("its end is gone", lambda card: card[:-200], "damaged"),
    ("locked", lambda card: changed(card, lambda pdf: None, pikepdf.Encryption(user="x", owner="y")), "password"),
    ("text that nobody sees", lambda card: changed(printed("<p>Words</p>"), drawn_unseen), "without any text"),
    ("text of no size", lambda card: changed(printed("<p>Words</p>"), drawn_to_a_dot), "without any text"),
    ("a poster", lambda card: changed(card, poster), "larger than A0"),
]


def test_damage_anywhere_is_told_or_read_past(boathouse: Sample) -> None:
    plain = laid_open(boathouse.files["card-a4.pdf"])
    dice = random.Random(6)  # noqa: S311 - the same damage every time, nothing secret
    for _ in range(60):
        damaged = bytearray(plain)
        for _ in range(dice.choice((1, 20, 400))):
            damaged[dice.randrange(len(damaged))] = dice.randrange(256)
        pages = read_own_pdf(bytes(damaged))
        assert isinstance(pages, Unreadable) or "\n".join(line.text for page in pages for line in page.lines).encode()


@pytest.mark.parametrize(("made", "says"), [one[1:] for one in UNREADABLE], ids=[one[0] for one in UNREADABLE])
def test_a_file_that_cannot_be_read_is_told(boathouse: Sample, made: Callable[[bytes], bytes], says: str) -> None:
    found = read_own_pdf(made(boathouse.files["card-a4.pdf"]))
    assert isinstance(found, Unreadable)
    assert says in found.found
