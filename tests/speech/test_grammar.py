"""Every rule of the grammar is heard in its own examples, and without it at least one example is lost."""

from __future__ import annotations

from fractions import Fraction

import pytest

from repslate.cut.cue import Cue
from repslate.model.library import load
from repslate.model.quantity import write_number
from repslate.source.span import Span
from repslate.speech.figures import hear
from repslate.speech.grammar import Rule, grammar, rules
from repslate.speech.words import read_words

GRAMMAR = grammar(load())
EXAMPLES = [(rule, talk, figures) for rule in rules() for talk, figures in rule.examples]


def heard(talk: str) -> str:
    """Return what is heard as a rule's example writes it: "sets 3-3, reps 10-12"."""
    cue = Cue(Fraction(0), Fraction(5), talk, Span("subtitles.srt"))
    figures = [one for one in hear(read_words([cue]), GRAMMAR) if one.field]
    return ", ".join(f"{one.field} {write_number(one.low)}-{write_number(one.high)}" for one in figures)


@pytest.mark.parametrize(("rule", "talk", "figures"), EXAMPLES, ids=[talk for _, talk, _ in EXAMPLES])
def test_an_example_is_heard_as_it_says(rule: Rule, talk: str, figures: str) -> None:
    assert heard(talk) == figures


def test_every_rule_has_an_example() -> None:
    assert [rule.pattern for rule in rules() if not rule.examples] == []
