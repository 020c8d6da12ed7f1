"""Block headings, both ways. The cases stand in tests/cases/notation/headings*.txt, one a line."""

from __future__ import annotations

import re
from collections import Counter
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.model.block_heading import BlockHeading, parse_heading, write_heading
from repslate.model.forms import BlockKind, form_of
from repslate.model.quantity import Range
from repslate.source.finding import Severity
from repslate.source.span import Span

CASES = Path(__file__).parent.parent / "cases" / "notation"
HERE = Span("workout.md", 9, 4, 1)


def cases(name: str) -> list[tuple[str, ...]]:
    lines = (CASES / name).read_text("utf-8").splitlines()
    return [tuple(line.split("  =>  ")) for line in lines if line.strip() and not line.startswith("# ")]


@pytest.mark.parametrize(("typed", "canonical"), cases("headings.txt"))
def test_accepted(typed: str, canonical: str) -> None:
    has_note = typed.startswith("~")
    read, findings = parse_heading(typed.removeprefix("~"), HERE)
    assert read is not None
    assert write_heading(read) == canonical
    assert [found.severity for found in findings] == [Severity.NOTE] * has_note
    again, _ = parse_heading(canonical, HERE)
    assert again == read


@pytest.mark.parametrize(("typed", "column", "fragment"), cases("headings_refused.txt"))
def test_refused(typed: str, column: str, fragment: str) -> None:
    _, findings = parse_heading(typed, HERE)
    assert len(findings) == 1
    assert findings[0].span.column == int(column) + 3, findings[0]  # the heading's text begins in column 4
    assert fragment in findings[0].message
    assert findings[0].severity is Severity.ERROR
    assert_advice_holds(typed)


@pytest.mark.parametrize(
    ("typed", "advice"),
    [
        ("5 rounds for time", "write “Circuit · 5 rounds”, and in a line below that the clock is stopped at the end"),
        ("Tabata 20/10 x 8", "write “Circuit · 8 rounds”, and “20 s, rest 10 s” under each exercise"),
        ("E2MOM", "write the rounds and a rest that fills each turn, as in “Circuit · 5 rounds · rest 60 s”"),
        ("3 rounds: Legs", "write “Circuit: Legs · 3 rounds”"),
        ("Superset A · three rounds", "write “Superset A · 3 rounds”"),
        ("Superset A: Rows x 3", "write “Superset A: Rows · x 3”"),
        ("AMRAP 12", "write “AMRAP 12 min”"),
    ],
)
def test_advice(typed: str, advice: str) -> None:
    assert parse_heading(typed, HERE)[1][0].help == advice
    assert_advice_holds(typed)


def figures(text: str) -> Counter[str]:
    return Counter(re.findall("[0-9]+", text))


def assert_advice_holds(typed: str) -> None:
    """Whatever is quoted as a heading to write reads, and no figure is lost on the way to it."""
    for found in parse_heading(typed, HERE)[1]:
        for heading in re.findall("as in “([^”]*)”", found.help):
            is_line = heading.startswith(("rest", "20 s"))  # of the notation
            assert is_line or parse_heading(heading, HERE)[0] is not None, (typed, found)
        for heading in re.findall("write “([^”]*)”(?! instead)", found.help):
            read, left = parse_heading(heading, HERE)
            assert read is not None, (typed, found)
            assert all(one.severity is Severity.NOTE for one in left), (typed, found)
            if "metres" not in found.message:
                assert not figures(typed) - figures(found.help), (typed, found)


def test_what_a_heading_says() -> None:
    read, _ = parse_heading("AMRAP B: Swings, squats · 12 min · rest 1-2 min", HERE)
    assert read == BlockHeading(
        BlockKind.AS_MANY_ROUNDS,
        letter="B",
        title="Swings, squats",
        rest=Range(Fraction(60), Fraction(120)),
        clock=Fraction(720),
    )


@pytest.mark.parametrize(
    "other",
    ["", "Safety", "Notes", "What you need", "Set-up", "Finish strong", "Superb form", "3 rounds of fun", "A plan"],
)
def test_other_headings_are_left_alone(other: str) -> None:
    assert parse_heading(other, HERE) == (None, ())


def test_a_part_that_cannot_be_read_leaves_the_rest_of_the_heading() -> None:
    read, findings = parse_heading("Superset A · three rounds · rest 60 s", HERE)
    assert findings
    assert read == BlockHeading(BlockKind.SUPERSET, letter="A", rest=Range(Fraction(60), Fraction(60)))


SECONDS = st.integers(min_value=0, max_value=40).map(lambda halves: Fraction(halves * 15))
RESTS = st.tuples(SECONDS, SECONDS).filter(lambda pair: pair[1] > 0).map(lambda pair: Range(min(pair), max(pair)))
ROUNDS = st.tuples(st.integers(0, 99), st.integers(0, 99)).map(lambda pair: Range(min(pair), max(pair)))
TITLES = st.lists(
    st.sampled_from(["Rows", "and", "a", "chins,", "one", "(heavy)", "·", "hip-hinge", "Top"]), max_size=5
)


@st.composite
def headings(draw: st.DrawFn) -> BlockHeading:
    """Number letters of blocks against the clock need the clock: "EMOM 10" is ten minutes."""
    kind = draw(st.sampled_from(BlockKind))
    clock = draw(st.none() | SECONDS)
    is_clocked = form_of(kind).on_the_clock
    letters = ["", "A", "b", "one"] if is_clocked and clock is None else ["", "A", "b", "one", "2"]
    title = " ".join(draw(TITLES)).strip(" ·,")
    return BlockHeading(
        kind, draw(st.sampled_from(letters)), title, draw(st.none() | ROUNDS), draw(st.none() | RESTS), clock
    )


@given(headings())
def test_what_is_written_reads_back(heading: BlockHeading) -> None:
    written = write_heading(heading)
    read, findings = parse_heading(written, HERE)
    assert (read, findings) == (heading, ()), written
    assert write_heading(heading) == written


PIECES = st.sampled_from(
    """Superset Circuit EMOM AMRAP warm up - A one 3 x 3x rounds round rest 60 s min · , : ( ) . / for time in of – Rows
    ten Tabata E2MOM sets Block""".split()
)


@given(st.lists(PIECES, max_size=12).map(" ".join) | st.text(max_size=40))
def test_any_text_gives_a_result_or_findings(text: str) -> None:
    read, findings = parse_heading(text, HERE)
    assert_advice_holds(text)
    if read is not None and not findings:
        again, left = parse_heading(write_heading(read), HERE)
        assert (again, left) == (read, ()), write_heading(read)
