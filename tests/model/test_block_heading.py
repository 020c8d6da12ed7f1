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
from repslate.model.block_parts import Interval, Scheme
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
        ("For time · 12 min", "write “For time · cap 12 min”"),
        ("For time, time cap 12", "write “For time, cap 12 min”"),
        ("Tabata", "write “Intervals · 8 × 20 s on / 10 s off”"),
        ("Circuit: 40/20", "write “Circuit: 40 s/20”"),
        ("8 × 20 s on / 10 s off", "write “Intervals · 8 × 20 s on / 10 s off”"),
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
    [
        "",
        "Safety",
        "Notes",
        "What you need",
        "Set-up",
        "Finish strong",
        "Superb form",
        "3 rounds of fun",
        "A plan",
        "Everything you need",
        "For beginners",
        "Test your set-up",
        "Skill notes",
        "Strength for climbers",
        "Partner stretches",
        "Next week: legs",
        "Complex carbs",
        "Interval timers",
    ],
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

FIGURES = st.integers(0, 200)
SCHEMES = st.builds(Scheme, st.lists(FIGURES, min_size=3, max_size=6).map(tuple), st.booleans()) | st.builds(
    Scheme, st.lists(FIGURES, min_size=2, max_size=3).map(tuple), st.just(True)
)
INTERVALS = st.builds(Interval, SECONDS, SECONDS, st.none() | st.integers(0, 99))


@st.composite
def headings(draw: st.DrawFn) -> BlockHeading:
    """Number letters of blocks against the clock need the clock: "EMOM 10" is ten minutes."""
    kind = draw(st.sampled_from(BlockKind))
    form = form_of(kind)
    clock = None if form.for_time else draw(st.none() | SECONDS)
    turn = draw(st.none() | SECONDS.filter(lambda seconds: seconds != 60)) if form.names_turn else None
    is_clock_open = form.on_the_clock and clock is None
    letters = ["", "A", "b", "one"] if is_clock_open else ["", "A", "b", "one", "2"]
    return BlockHeading(
        kind,
        draw(st.sampled_from(letters)),
        " ".join(draw(TITLES)).strip(" ·,"),
        rounds=None if form.with_rounds else draw(st.none() | ROUNDS),
        rest=draw(st.none() | RESTS),
        clock=clock,
        turn=turn,
        cap=draw(st.none() | SECONDS),
        scheme=draw(st.none() | SCHEMES),
        interval=draw(st.none() | INTERVALS),
        sharing=draw(st.sampled_from((None, "alternating", "each"))),
        people=draw(st.none() | st.integers(1, 30)),
    )


@given(headings())
def test_what_is_written_reads_back(heading: BlockHeading) -> None:
    written = write_heading(heading)
    read, findings = parse_heading(written, HERE)
    assert (read, findings) == (heading, ()), written
    assert write_heading(heading) == written


PIECES = st.sampled_from(
    """Superset Circuit EMOM AMRAP warm up - A one 3 x 3x rounds round rest 60 s min · , : ( ) . / for time in of – Rows
    ten Tabata E2MOM sets Block Every every cap TC 21-15-9 20/10 … on off in pairs teams alternating each exercise RFT
    Ladder Flow Strength Partner""".split()
)


@given(st.lists(PIECES, max_size=12).map(" ".join) | st.text(max_size=40))
def test_any_text_gives_a_result_or_findings(text: str) -> None:
    read, findings = parse_heading(text, HERE)
    assert_advice_holds(text)
    if read is not None and not findings:
        again, left = parse_heading(write_heading(read), HERE)
        assert (again, left) == (read, ()), write_heading(read)
