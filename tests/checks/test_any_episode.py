"""Every check survives every episode, changes nothing, and says the same twice."""

from __future__ import annotations

from copy import deepcopy
from decimal import Decimal
from fractions import Fraction

from hypothesis import given, settings
from hypothesis import strategies as st

from repslate.checks import CHECKS, name_of, run
from repslate.cut.chapters import Chapter
from repslate.facts import Facts
from repslate.model.block_parts import Interval, Scheme
from repslate.model.episode import (
    Block,
    Caution,
    Episode,
    Exercise,
    Goal,
    Level,
    Picture,
    Prose,
    Quiet,
    Words,
)
from repslate.model.forms import BlockKind
from repslate.model.library import Entry, Match
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
)
from repslate.model.quantity import Mass, Range
from repslate.model.series import Series
from repslate.source.span import Span

spans = st.builds(Span, st.just("workout.md"), st.integers(1, 40), st.integers(1, 40))
texts = st.one_of(
    st.text(max_size=30),
    st.sampled_from(["Do 15 reps.", "three sets\n\nrest a minute", "Thanks to Velloway Chalk", "hold 30 s", ""]),
)
paths = st.sampled_from(["pictures/a.jpg", "../a.jpg", "C:\\a.jpg", "https://site.example/a.jpg", "", "/a", ".."])
clocks = st.one_of(st.none(), st.integers(0, 4000).map(Fraction))
words = st.builds(Words, texts, spans)
prose = st.builds(Prose, texts, spans)
cautions = st.builds(Caution, st.one_of(st.none(), texts), words)
pictures = st.builds(Picture, paths, texts, spans)
counts = st.tuples(st.integers(0, 70), st.integers(0, 5)).map(lambda pair: Range(pair[0], pair[0] + pair[1]))
seconds = counts.map(lambda c: Range(Fraction(10 * c.low, 2), Fraction(10 * c.high, 2)))
decimals = counts.map(lambda c: Range(Decimal(c.low) * 2, Decimal(c.high) * 2))
masses = st.builds(Mass, decimals, st.sampled_from(["kg", "lb"]))
phases = st.one_of(st.none(), st.just(Unsaid.UNSAID), st.integers(0, 6))
prescriptions = st.one_of(
    st.just(Prescription()),
    st.builds(
        Prescription,
        sets=st.none() | counts,
        work=st.none()
        | st.builds(Reps, st.lists(counts, min_size=1, max_size=3).map(tuple))
        | st.builds(Complex, st.lists(st.integers(0, 99), min_size=2, max_size=4).map(tuple))
        | st.builds(TwentyOnes)
        | st.builds(MyoReps, counts, counts, counts)
        | st.builds(Counted, st.lists(counts, min_size=1, max_size=3).map(tuple), st.sampled_from(Tally))
        | st.builds(Timed, seconds)
        | st.builds(Distance, decimals)
        | st.builds(Maximum),
        per_side=st.booleans(),
        load=st.none()
        | st.builds(OneRepMaxShare, decimals)
        | st.builds(WorkingShare, decimals)
        | st.builds(Weight, masses)
        | st.builds(Bodyweight, st.none() | masses)
        | st.builds(Band)
        | st.builds(EmptyBar)
        | st.builds(WordedLoad, st.just("as heavy as possible"))
        | st.builds(TrainingMaxShare, decimals)
        | st.builds(RepMaxShare, counts, decimals)
        | st.builds(TopSetShare, decimals)
        | st.builds(BodyweightShare, decimals)
        | st.builds(WordedShare, decimals, st.just("snatch"))
        | st.builds(
            TwoLevels, st.decimals(0, 99, places=1), st.decimals(0, 99, places=1), st.just("kg"), st.integers(0, 3)
        ),
        effort=st.none() | st.builds(Exertion, decimals) | st.builds(Reserve, counts),
        tempo=st.none() | st.builds(Tempo, st.tuples(phases, phases, phases, phases)),
        rest=st.none() | seconds,
        drops=st.none() | st.builds(Drops, st.integers(0, 9), st.none() | decimals),
        rest_pause=st.booleans(),
        cluster=st.lists(st.integers(0, 5), max_size=3).map(tuple),
        partials=st.none() | counts,
        hold=st.none() | seconds,
        open_last=st.booleans(),
        rest_as_needed=st.booleans(),
    ),
)
TRAITS = ("power-lift", "high-five", "bar-over-face", "overhead-load", "supine", "to-failure")
entries = st.builds(
    Entry,
    name=st.just("Press"),
    aliases=st.just(()),
    family=st.just("press"),
    pattern=st.just("push"),
    equipment=st.sampled_from([(), ("barbell",)]),
    muscles=st.just(()),
    secondary=st.just(()),
    one_sided=st.booleans(),
    unit=st.just("reps"),
    pace=st.integers(0, 9).map(Fraction),
    traits=st.lists(st.sampled_from(TRAITS), unique=True).map(tuple),
    met=st.just(""),
    source=st.just(""),
)
exercises = st.builds(
    Exercise,
    id=st.sampled_from(["squat", "row", "press"]),
    name=st.sampled_from(["Squat", "Row", "Walking lunge", ""]),
    span=spans,
    label=st.just("A1"),
    prescription=prescriptions,
    prescription_span=st.none() | spans,
    match=st.none() | st.builds(Match, entries),
    prose=st.lists(prose, max_size=2).map(tuple),
    cues=st.lists(words, max_size=2).map(tuple),
    cautions=st.lists(cautions, max_size=1).map(tuple),
    pictures=st.lists(pictures, max_size=1).map(tuple),
)
blocks = st.builds(
    Block,
    kind=st.sampled_from(BlockKind),
    letter=st.just("A"),
    title=st.just(""),
    span=spans,
    exercises=st.lists(exercises, max_size=4).map(tuple),
    rounds=st.none() | counts,
    rest=st.none() | seconds,
    clock=clocks,
    turn=clocks,
    cap=clocks,
    scheme=st.none()
    | st.builds(Scheme, st.lists(st.integers(0, 300), min_size=2, max_size=9).map(tuple), st.booleans()),
    interval=st.none()
    | st.builds(
        Interval, st.integers(0, 400).map(Fraction), st.integers(0, 400).map(Fraction), st.none() | st.integers(0, 99)
    ),
    sharing=st.sampled_from((None, "alternating", "each")),
    people=st.none() | st.integers(0, 9),
    prose=st.lists(prose, max_size=1).map(tuple),
    cautions=st.lists(cautions, max_size=1).map(tuple),
)
quiets = st.builds(
    Quiet,
    check=st.sampled_from([*map(name_of, CHECKS), "no-such-check"]),
    reason=st.sampled_from(["", "on purpose"]),
    span=spans,
    first=st.integers(1, 40),
    last=st.integers(1, 40),
)
series = st.builds(Series, disclosure=texts, safety=st.lists(texts, max_size=1).map(tuple))
episodes = st.builds(
    Episode,
    slug=st.just("sample"),
    title=texts,
    span=st.just(Span("workout.md")),
    series=series,
    presenter=st.none() | texts,
    goal=st.none() | st.sampled_from(Goal),
    level=st.none() | st.sampled_from(Level),
    length=clocks,
    sponsor=st.none() | texts,
    hashtags=st.lists(texts, max_size=2).map(tuple),
    picture=st.none() | pictures,
    lead=st.lists(prose, max_size=1).map(tuple),
    blocks=st.lists(blocks, max_size=3).map(tuple),
    safety=st.lists(prose, max_size=1).map(tuple),
    has_safety=st.booleans(),
    notes=st.lists(st.tuples(words, st.lists(prose, max_size=1).map(tuple)), max_size=1).map(tuple),
    quiets=st.lists(quiets, max_size=3).map(tuple),
)
chapters = st.builds(
    Chapter,
    start=st.fractions(0, 5000, max_denominator=100),
    title=texts,
    span=spans,
    exercise=st.none() | st.sampled_from(["squat", "row"]),
    block=st.none() | st.integers(0, 3),
)
all_facts = st.builds(
    Facts,
    episodes,
    st.lists(chapters, max_size=4).map(tuple),
    has_markers=st.booleans(),
    files=st.frozensets(st.sampled_from(["pictures/a.jpg", "workout.md"])),
)
NAMES = {*map(name_of, CHECKS), "quiet-unknown", "quiet-unused"}


@settings(max_examples=60, deadline=None)
@given(all_facts)
def test_every_check_survives_and_changes_nothing(facts: Facts) -> None:
    before = deepcopy(facts)
    findings, quieted = run(facts)
    assert facts == before
    assert run(facts) == (findings, quieted)
    assert {finding.check for finding in findings} <= NAMES
    places = [(finding.span.file, finding.span.line, finding.span.column) for finding in findings]
    assert places == sorted(places)


@settings(max_examples=60, deadline=None)
@given(all_facts)
def test_nothing_vanishes_but_what_is_quieted(facts: Facts) -> None:
    findings, quieted = run(facts)
    said = [finding for check in CHECKS for finding in check.find(facts)]
    kept = [finding for finding in findings if not finding.check.startswith("quiet-")]
    assert len(kept) + len(quieted) == len(said)
