"""Amounts to figures: what each number is for, or that it is no prescription at all.

The rules are in grammar.py; here they are put to every amount, with what single words cannot tell: who speaks of whom,
what is counted aloud, what was said just before.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from repslate.speech.grammar import Grammar, Rule
from repslate.speech.numbers import Amount
from repslate.speech.pattern import Item, compile_pattern, items_of, matches
from repslate.speech.phrases import phrases
from repslate.speech.ranges import amounts
from repslate.speech.speakers import counted_aloud, of_another_day, of_others
from repslate.speech.words import Word

_ALTERNATIVE = 16  # words within which a bare figure with a condition of its own follows the one it varies
_CORRECTION = 12  # items within which what was taken back is said anew, whoever is spoken of
_NO_THING = compile_pattern("@* ~", phrases("phrases.txt"))


@dataclass(frozen=True, slots=True)
class Figure:
    """A prescription figure as said: times in seconds, lengths in metres, loads as named.

    `field` is one of plan.FIELDS, or "" for a number that may be a figure: only a plan can tell. `first` and `last` are
    the words of the amount, `end` the last word that says what it is for. `sure` is False where only the way of talking
    tells that the number is a prescription.
    """

    field: str
    low: Fraction
    high: Fraction
    per_side: bool
    first: int
    last: int
    end: int
    sure: bool = True


@dataclass(frozen=True, slots=True)
class _Case:
    """An amount to decide about: `at` is its index among all items, `before` what was heard so far."""

    amount: Amount
    items: Sequence[Item]
    at: int
    before: Sequence[Figure]


def hear(words: Sequence[Word], rules: Grammar, taken: frozenset[int] = frozenset()) -> tuple[Figure, ...]:
    """Return every prescription figure said, in order; `taken` are indexes of words that belong to names."""
    found = amounts(words)
    items = items_of(words, found)
    counted = counted_aloud(words, found)
    figures: list[Figure] = []
    for at, item in enumerate(items):
        amount = item.amount
        if amount is None or amount.void or not taken.isdisjoint(range(amount.first, amount.last + 1)):
            continue
        figure = _decided(rules, _Case(amount, items, at, figures), counted=amount in counted)
        if figure:
            figures.append(figure)
    return tuple(_halves_joined(figures, words))


def _decided(rules: Grammar, case: _Case, *, counted: bool) -> Figure | None:
    """Return what an amount is for; one that stands in for another is the viewer's, whatever its sentence is about."""
    earlier = case.items[max(0, case.at - _CORRECTION) : case.at]
    corrects = any(item.amount and item.amount.void for item in earlier)
    others = not corrects and of_others(case.items, case.at)
    if not corrects and of_another_day(case.items, case.at):
        return None
    figure = _claimed(rules, case, counted=counted, others=others)
    if others or (figure and figure.sure):
        return figure
    return _taken_over(rules, case) or figure


def _claimed(rules: Grammar, case: _Case, *, counted: bool = False, others: bool = False) -> Figure | None:
    """Return what the first rule that holds makes of an amount; few hold for what is said of `others`."""
    for rule, end in _holding(rules, case, counted=counted, others=others):
        if not rule.field:
            return None
        if field := _settled(rule.field, case):
            figure = _figure(rules, case, end, field, sure=rule.sure)
            if rule.field == "percent_off":
                return replace(figure, low=100 - figure.high, high=100 - figure.low)
            return figure
    return None if counted or others else _unruled(rules, case)


def _holding(rules: Grammar, case: _Case, *, counted: bool, others: bool) -> Iterator[tuple[Rule, int]]:
    """Yield the rules that hold for an amount, each with the index of the last item that it takes in."""
    for rule, pattern in rules.rules_for(case.amount):
        if (counted and not rule.sure) or (others and not rule.anyone):
            continue
        end = matches(pattern, case.items, case.at)
        if end is not None and rule.within[0] <= case.amount.high <= rule.within[1]:
            yield rule, end


def _unruled(rules: Grammar, case: _Case) -> Figure | None:
    """Return what an amount may be for that no rule knows: two plain numbers of which no thing is counted are reps."""
    amount = case.amount
    if amount.unit or amount.low <= 1 or matches(_NO_THING, case.items, case.at) is None:
        return None
    whole = amount.low % 1 == amount.high % 1 == 0
    reps = whole and 3 <= amount.low < amount.high <= 60 and amount.form not in ("plural", "list")
    return _figure(rules, case, case.at, "reps" if reps else "", sure=False)


def _taken_over(rules: Grammar, case: _Case) -> Figure | None:
    """Return the figure that stands in for one taken back ("rest two minutes, no, three"): it means what that meant."""
    earlier = range(case.at - 1, max(-1, case.at - 14), -1)
    at = next((k for k in earlier if case.items[k].amount), case.at)
    old, new = case.items[at].amount, case.amount
    meant = _claimed(rules, replace(case, amount=old, at=at)) if old and old.void else None
    if meant is None or not meant.field:
        return None
    return replace(meant, low=new.low, high=new.high, first=new.first, last=new.last, end=new.last)


def _figure(rules: Grammar, case: _Case, end: int, field: str, *, sure: bool) -> Figure:
    """Return the figure of an amount; `end` is the index of the last item that says what it is for."""
    amount, per_side = case.amount, _is_per_side(rules, case, end)
    return Figure(field, amount.low, amount.high, per_side, amount.first, amount.last, case.items[end].last, sure)


def _is_per_side(rules: Grammar, case: _Case, end: int) -> bool:
    """Tell whether a side is named from four words before the amount to four after the rule's words.

    A single word for it ("each") is only sure right behind the amount.
    """
    if any(item.text in ("each", "apiece") for item in case.items[case.at + 1 : case.at + 2]):
        return True
    texts = tuple(item.text for item in case.items[max(0, case.at - 4) : end + 5])
    return any(
        texts[k : k + len(side)] == side
        for k, text in enumerate(texts)
        for side in rules.sides.get(text, ())
        if len(side) > 1
    )


# ---- fields that a rule leaves to what was said before


def _settled(field: str, case: _Case) -> str:
    """Return the field that a rule's own stands for, "" where what was said before does not bear it out."""
    settle = _SETTLED.get(field)
    return settle(case) if settle else field


def _last_field(case: _Case, within: int) -> str:
    """Return the field of the last figure that has one, "" if it ended more than so many words ago."""
    last = next((one for one in reversed(case.before) if one.field), None)
    return last.field if last and case.amount.first - last.end <= within else ""


def _rest_again(case: _Case) -> str:
    named = {"rest", "breather", "break"} & {item.text for item in case.items[max(0, case.at - 6) : case.at]}
    return "rest_s" if named or _last_field(case, _ALTERNATIVE) == "rest_s" else ""


def _percent_again(case: _Case) -> str:
    recent = next((one for one in reversed(case.before[-3:]) if one.field.startswith("percent")), None)
    return recent.field if recent and case.amount.first - recent.end <= 30 else ""


def _percent_of(case: _Case) -> str:
    """Tell percentages without a name apart: of the working load while building up to it, else of the maximum."""
    if case.amount.form == "half":
        return ""
    earlier = next((one for one in reversed(case.before[-6:]) if one.field.startswith("percent")), None)
    if earlier and case.amount.first - earlier.end <= 60:
        return "percent_working" if earlier.field == "percent_working" else "percent_1rm"
    said = {item.text for item in case.items[max(0, case.at - 25) : case.at + 8]}
    builds = not said.isdisjoint(("ramp", "ramping", "build", "building", "warmup", "feeder")) or {"warm", "up"} <= said
    return "percent_working" if builds else "percent_1rm"


_MASS_UNITS = {"kilos": "kg", "kilo": "kg", "kg": "kg", "pounds": "lb", "pound": "lb", "lbs": "lb"}


def _mass_unit(case: _Case) -> str:
    """Return the unit of loads that are named by their number: that said nearest to them, kilograms if none ever is."""
    named = [
        (abs(k - case.at), item.amount.unit if item.amount else _MASS_UNITS[item.text])
        for k, item in enumerate(case.items)
        if (item.amount.unit in ("kg", "lb") if item.amount else item.text in _MASS_UNITS)
    ]
    return min(named)[1] if named else "kg"


_SETTLED: dict[str, Callable[[_Case], str]] = {
    "same": lambda case: _last_field(case, _ALTERNATIVE),
    "laps": lambda _: "rounds",
    "load": _mass_unit,
    "tempo_more": lambda case: "tempo_s" if _last_field(case, 14) == "tempo_s" else "",
    "rest_more": _rest_again,
    "percent_max": _percent_of,
    "percent_more": _percent_again,
    "percent_off": lambda _: "percent_working",
    "reps_of_percent": lambda case: "reps" if _last_field(case, 5).startswith("percent") else "",
}


# ---- two halves

_HALVED = frozenset({"reps", "seconds", "metres", ""})


def _halves_joined(figures: Sequence[Figure], words: Sequence[Word]) -> Iterator[Figure]:
    """Yield "eight on the left, eight on the right" as one figure per side."""
    kept: Figure | None = None
    for figure in figures:
        if kept and _is_other_half(kept, figure, words):
            kept = replace(kept, per_side=True)
            continue
        if kept:
            yield kept
        kept = figure
    if kept:
        yield kept


def _is_other_half(one: Figure, two: Figure, words: Sequence[Word]) -> bool:
    if (two.low, two.high) != (one.low, one.high) or two.field not in ("", one.field) or two.first - one.end > 8:
        return False
    said = {word.text for word in words[one.last + 1 : two.end + 5]}
    swaps = not said.isdisjoint(("swap", "switch", "other", "back")) or {"left", "right"} <= said
    return swaps and {one.field, two.field} <= _HALVED
