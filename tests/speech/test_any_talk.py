"""Whatever is said: hearing gives figures in order, with both ends and their words, and never more than was said."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from repslate.cut.cue import Cue
from repslate.model.library import load
from repslate.source.span import Span
from repslate.speech.heard import listen
from repslate.speech.plan import FIELDS

LIBRARY = load()
WORDS = (
    "one two three five eight ten twelve fifteen twenty thirty forty ninety hundred dozen couple once twice half"
    " quarter a and to or maybe no sorry between of the per each side leg reps sets rounds rest hold down up for by x"
    " out squats swings bridges plank lunges next then okay warm superset if your knees hurt stop 10 12 1:30 45s 24kg"
    " 85% - / seconds minute minutes kilos pounds metres percent"
).split()
cues = st.lists(st.tuples(st.lists(st.sampled_from(WORDS), max_size=12).map(" ".join), st.integers(1, 9)), max_size=12)


@given(cues)
def test_figures_stand_in_order_with_their_own_words(said: list[tuple[str, int]]) -> None:
    start, shown = 0, []
    for text, length in said:
        shown.append(Cue(Fraction(start), Fraction(start + length), text, Span("subtitles.srt")))
        start += length + (3 if length > 6 else 0)
    heard = listen(shown, LIBRARY)
    assert [one.first for one in heard.figures] == sorted({one.first for one in heard.figures})
    for one in heard.figures:
        assert one.field in FIELDS
        assert one.low <= one.high
        assert 0 <= one.first <= one.last < len(heard.words)
        assert one.time == heard.words[one.first].start
        assert one.quote.split()[0] in " ".join(text for text, _ in said)
    assert [topic.word for topic in heard.topics] == sorted({topic.word for topic in heard.topics})
    for topic in heard.topics:
        if topic.part is not None:
            part = heard.plan[topic.part]
            assert topic.subject is None or part.subjects[topic.subject]
