"""The notation, both ways. The cases stand in tests/cases/notation/*.txt, one a line, each with its expectation."""

from __future__ import annotations

import re
import time
from collections import Counter
from dataclasses import replace
from decimal import Decimal
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from repslate.model.prescription import (
    Band,
    Bodyweight,
    BodyweightShare,
    Complex,
    Counted,
    Distance,
    Drops,
    EmptyBar,
    Exertion,
    Maximum,
    MyoReps,
    OneRepMaxShare,
    Prescription,
    RepMaxShare,
    Reps,
    Reserve,
    Tally,
    Tempo,
    Timed,
    TopSetShare,
    TrainingMaxShare,
    TwentyOnes,
    TwoLevels,
    Unsaid,
    Weight,
    WordedLoad,
    WordedShare,
    WorkingShare,
    looks_like,
    parse,
    write,
)
from repslate.model.quantity import Mass, Range
from repslate.source.bounds import DOSE
from repslate.source.finding import Severity
from repslate.source.span import Span

CASES = Path(__file__).parent.parent / "cases" / "notation"
HERE = Span("workout.md", 7, 1, 1)


def cases(name: str, fields: int) -> list[tuple[str, ...]]:
    lines = (CASES / name).read_text("utf-8").splitlines()
    rows = [tuple(line.split("  =>  ")) for line in lines if line.strip() and not line.startswith("# ")]
    assert all(len(row) == fields for row in rows)
    assert len(set(rows)) == len(rows)
    return rows


ACCEPTED = cases("accepted.txt", 2)
REFUSED = cases("refused.txt", 3)
MENDED = cases("mended.txt", 2)


def test_there_are_enough_cases() -> None:
    assert len(ACCEPTED) >= 120
    assert len(REFUSED) >= 40


@pytest.mark.parametrize(("typed", "canonical"), ACCEPTED)
def test_accepted(typed: str, canonical: str) -> None:
    has_note = typed.startswith("~")
    typed = typed.removeprefix("~")
    read, findings = parse(typed, HERE)
    assert read is not None, findings
    assert write(read) == canonical
    assert [found.severity for found in findings] == [Severity.NOTE] * has_note
    assert looks_like(typed)
    again, _ = parse(canonical, HERE)
    assert again == read


@pytest.mark.parametrize(("typed", "column", "fragment"), REFUSED)
def test_refused(typed: str, column: str, fragment: str) -> None:
    read, findings = parse(typed, HERE)
    assert read is None
    assert (findings[0].span.line, findings[0].span.column) == (7, int(column)), findings[0]
    assert fragment in findings[0].message
    assert findings[0].severity is Severity.ERROR
    assert findings[0].help
    assert looks_like(typed)


@pytest.mark.parametrize(("typed", "advice"), MENDED)
def test_advice(typed: str, advice: str) -> None:
    read, findings = parse(typed, HERE)
    assert read is None
    assert findings[0].help == advice
    assert looks_like(typed)
    assert_advice_holds(typed)


@pytest.mark.parametrize("typed", [row[0] for row in REFUSED] + [row[0].removeprefix("~") for row in ACCEPTED])
def test_every_advised_line_reads_and_keeps_the_figures(typed: str) -> None:
    assert_advice_holds(typed)


def figures(text: str) -> Counter[str]:
    digits = re.sub("(?<=[0-9])[Oo](?![A-Za-z])", "0", re.sub(r"\b[Il](?=[0-9])", "1", text))
    return Counter(re.findall(r"[0-9]+|[¼½¾]", digits))


def assert_advice_holds(typed: str) -> None:
    """Whatever is quoted as a line to write reads, and no figure is lost on the way to it."""
    for found in parse(typed, HERE)[1]:
        for quoted in re.findall("as in “([^”]*)”", found.help):
            assert parse(quoted, HERE)[0] is not None, (typed, found)
        for advised in re.findall("write “([^”]*)”(?! instead)", found.help):
            read, left = parse(advised, HERE)
            assert read is not None, (typed, found, left)
            assert read != Prescription()
            is_other = "expected metres" in found.message
            if not is_other and "per side" not in advised:  # takes figures together
                assert not figures(typed) - figures(advised), (typed, found)
        for piece, instead in re.findall("write “([^”]*)” instead of “([^”]*)”", found.help):
            if not {"metres", "side"} & set(re.findall("[a-z]+", found.message)):
                assert not figures(instead) - figures(piece), (typed, found)
        for beside in re.findall("and “([^”]*)” on a line of its own below", found.help):
            assert not figures(beside), (typed, found)
            assert beside not in UNITS_OF_LOAD, (typed, found)
        before, after = typed[: found.span.column - 1], typed[found.span.column - 1 + found.span.length :]
        for others in re.findall("write “[^”]*”(?! instead), or ([^“”]*) if that is meant", found.help):
            for other in re.split(", | or ", others):
                assert parse(f"{before}{other}{after}", HERE)[0] is not None, (typed, found)


UNITS_OF_LOAD = ("kg", "kgs", "kilo", "kilos", "lb", "lbs", "pounds")
WEIGHT = st.integers(1, 9999) | st.sampled_from(["22.5", "7,5", "24-32"])


@given(
    st.sampled_from(["40 m", "4 x 40 m", "3 x 10", "30 s", "10/8/6", "max"]),
    st.sampled_from([" @ ", " @", " ", ", ", " with ", " at ", ", load "]),
    st.integers(1, 40),
    st.sampled_from(["x", " x ", "x ", "×", "X", "*"]),
    WEIGHT,
    st.sampled_from(["", " "]),
    st.sampled_from(UNITS_OF_LOAD),
    st.sampled_from(["", ", tempo 31X0", " 31X0", ", rest 60 s", ", 2 RIR"]),
)
def test_pieces_of_a_load_are_never_a_tempo(
    work: str, joint: str, pieces: int, times: str, each: object, blank: str, unit: str, more: str
) -> None:
    line = f"{work}{joint}{pieces}{times}{each}{blank}{unit}{more}"
    read, findings = parse(line, HERE)
    assert read is not None, (line, findings)
    assert isinstance(read.load, Weight)
    assert read.load.pieces == pieces
    assert (read.tempo is not None) == ("31X0" in more)


def test_columns_count_from_the_span_in_code_points() -> None:
    _, findings = parse("3 × 10, 🏋 rest", Span("workout.md", 3, 5, 40))
    assert findings[0].span == Span("workout.md", 3, 13, 1)


def test_one_run_shows_every_finding() -> None:
    _, findings = parse("3 × ten, rest 2, tempo 3-1, @ 24 kg", HERE)
    assert [found.check for found in findings] == ["notation-unread", "notation-unclear", "notation-unread"]


def test_what_a_line_says() -> None:
    read, findings = parse("3 x 8-10 each leg @ 2x22,5kg, tempo 31X0, 2 RIR, rest 1:30", HERE)
    assert findings == ()
    assert read == Prescription(
        sets=Range(3, 3),
        work=Reps((Range(8, 10),)),
        per_side=True,
        load=Weight(Mass(Range(Decimal("22.5"), Decimal("22.5")), "kg"), pieces=2),
        effort=Reserve(Range(2, 2)),
        tempo=Tempo((3, 1, None, 0)),
        rest=Range(Fraction(90), Fraction(90)),
    )


@pytest.mark.parametrize(
    "prose",
    [
        "", "   ", "Ten slow ones", "3 things to remember about this lift", "1. Stand tall and breathe",
        "Leave your ego at the door", "Rest your hand on the bench", "Tempo matters here", "2 feet apart, toes out",
        "Sit back between your hips, knees over toes.", "10 minutes of easy walking gets you there",
        "Use a 24 kg bell if you have one", "Hold the band with both hands",
    ],
)  # fmt: skip
def test_prose_is_left_alone(prose: str) -> None:
    assert not looks_like(prose)


@pytest.mark.parametrize(
    "attempt",
    ["3 x ten", "three sets of ten", "x 10", "10 reps slow", "@ heavy", "3 sets to the limit of what you can do"],
)
def test_attempts_are_not_taken_for_prose(attempt: str) -> None:
    assert looks_like(attempt)


# ── properties ─────────────────────────────────────────────────────────────────────────────────────────────────────

WHOLE = st.integers(min_value=0, max_value=999_999)
DECIMAL = st.decimals(min_value=0, max_value=999_999, places=2)
TIME = st.one_of(DECIMAL, st.integers(min_value=0, max_value=60).map(lambda halves: halves * 30)).map(Fraction)


def ranges(ends: st.SearchStrategy[Any]) -> st.SearchStrategy[Range[Any]]:
    return st.tuples(ends, ends).map(lambda pair: Range(min(pair), max(pair)))


MASS = st.builds(Mass, ranges(DECIMAL), st.sampled_from(["kg", "lb"]))
LOAD = st.one_of(
    st.builds(OneRepMaxShare, ranges(DECIMAL)),
    st.builds(WorkingShare, ranges(DECIMAL)),
    st.builds(Weight, MASS, WHOLE),
    st.builds(Bodyweight, st.none() | MASS),
    st.just(Band()),
    st.sampled_from([Band("red"), EmptyBar(), WordedLoad("as heavy as possible"), WordedLoad("light")]),
    st.builds(TrainingMaxShare, ranges(DECIMAL)),
    st.builds(RepMaxShare, ranges(st.integers(2, 999_999)), ranges(DECIMAL)),
    st.builds(TopSetShare, ranges(DECIMAL)),
    st.builds(BodyweightShare, ranges(DECIMAL)),
    st.builds(WordedShare, ranges(DECIMAL), st.sampled_from(["snatch", "clean and jerk", "back-squat max"])),
    st.builds(TwoLevels, DECIMAL, DECIMAL, st.sampled_from(["kg", "lb"]), WHOLE),
)
PRINTABLE = st.characters(exclude_characters="“”„").filter(str.isprintable)
WORDS = st.text(PRINTABLE, min_size=1, max_size=DOSE).map(lambda text: " ".join(text.split())).filter(bool)
PHASE = st.none() | st.just(Unsaid.UNSAID) | st.integers(min_value=0, max_value=99)
PHASES = st.tuples(PHASE, PHASE, PHASE, PHASE).filter(lambda phases: set(phases) != {Unsaid.UNSAID})
OTHERS: dict[str, st.SearchStrategy[Any]] = {
    "per_side": st.booleans(),
    "load": st.none() | LOAD,
    "effort": st.none() | st.builds(Exertion, ranges(DECIMAL)) | st.builds(Reserve, ranges(WHOLE)),
    "tempo": st.none() | st.builds(Tempo, PHASES),
    "rest": st.none() | ranges(TIME),
    "drops": st.none() | st.builds(Drops, WHOLE, st.none() | ranges(DECIMAL)),
    "rest_pause": st.booleans(),
    "partials": st.none() | ranges(WHOLE),
    "open_last": st.booleans(),
    "words": st.lists(WORDS, max_size=3).map(tuple),
}
SMALL = st.integers(min_value=0, max_value=30)
CLUSTER = st.just(()) | st.lists(SMALL, min_size=2, max_size=5).map(tuple)


@st.composite
def prescriptions(draw: st.DrawFn) -> Prescription:
    """Everything that does not contradict itself."""
    cluster = draw(CLUSTER)
    total = sum(cluster)
    reps = st.tuples(st.integers(0, total), st.integers(total, 999_999)).map(lambda pair: Range(*pair))
    each = draw(st.lists(reps if cluster else ranges(WHOLE), min_size=1, max_size=4))
    work = draw(
        st.sampled_from([None, Maximum(), Reps(tuple(each))])
        | st.builds(Complex, st.lists(WHOLE, min_size=2, max_size=4).map(tuple))
        | st.just(TwentyOnes())
        | st.builds(MyoReps, ranges(WHOLE), ranges(WHOLE), ranges(WHOLE))
        | st.builds(Counted, st.just(tuple(each)), st.sampled_from(Tally))
        | st.builds(Timed, ranges(TIME))
        | st.builds(Distance, ranges(DECIMAL))
    )
    is_list = isinstance(work, Reps | Counted) and len(each) > 1
    sets = draw(st.none() | (st.just(Range(len(each), len(each))) if is_list else ranges(WHOLE)))
    others = {name: draw(strategy) for name, strategy in OTHERS.items()}
    given = Prescription(sets=sets, work=work, cluster=cluster, **others)
    if isinstance(work, Counted) and len(work.each) == 2:
        given = replace(given, sets=Range(2, 2))
    if not given.rest:
        given = replace(given, rest_as_needed=draw(st.booleans()))
    if isinstance(given.load, TwoLevels) and (given.sets == Range(2, 2) or len(given.each) == 2):
        given = replace(given, load=None)
    return replace(given, hold=draw(st.none() | ranges(TIME))) if given.is_in_reps else given


@given(prescriptions())
def test_what_is_written_reads_back(prescription: Prescription) -> None:
    written = write(prescription)
    read, findings = parse(written, HERE)
    assert read == prescription, (written, findings)
    assert write(read) == written
    assert all(found.severity is Severity.NOTE for found in findings)
    assert looks_like(written) == (0 < len(written) <= DOSE)


PIECES = st.sampled_from(
    """3 10 12 1:30 22,5 × x - – / + , ; ( ) @ % . " ½ s min m km kg lb yd h cal breaths steps reps sets of per
    each side e leg rest pause tempo 31X0 3-1-1-0 10-8-6 RPE RIR leave in reserve max to failure cluster
    drop drops bodyweight band working load 1RM at with and no ten by on off work L R red Sets: Reps: Load:
    Time: ** * _ ` > 1O l0 1234567 hold last set partials myo-reps down 21s (1 3-?-?-? 24/16 8RM TM -12 top
    light bar snatch # :30 as needed""".split()
)
LINES = st.lists(st.tuples(PIECES, st.sampled_from(["", " "])).map("".join), max_size=14).map("".join)


@given(LINES | st.text(max_size=60))
@example("Load:3")  # an effort stands behind "@" alone
@example("bodyweight + 3")  # what is added is no share
def test_any_text_gives_a_result_or_a_finding(text: str) -> None:
    read, findings = parse(text, HERE)
    assert (read is None) == any(found.severity is Severity.ERROR for found in findings)
    assert_advice_holds(text)
    for found in findings:
        assert 1 <= found.span.column <= len(text) + 1
        assert found.span.column + found.span.length <= len(text) + 2
        assert found.help
    if read is not None:
        again, _ = parse(write(read), HERE)
        assert again == read
    assert read is None or looks_like(text) == (read != Prescription())


@pytest.mark.parametrize(
    "piece", ["3 x 10, ", "1/", "2+", "1:1", "9", "restt ", "tempo 3", "x", "a,", "ten ", "rest 2,", "- "]
)
def test_long_lines_take_linear_time_and_room(piece: str) -> None:
    """Well under a second when linear; findings that each quote the whole line would fill hundreds of megabytes."""
    begin = time.perf_counter()
    _, findings = parse(piece * 5_000, HERE)
    assert time.perf_counter() - begin < 10
    assert sum(len(found.message) + len(found.help) for found in findings) < 500 * 5_000
