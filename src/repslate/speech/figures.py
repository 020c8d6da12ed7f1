"""Amounts to figures: what each number is for, or that it is no prescription at all.

The rules are in grammar.py; here they are put to every amount, with what single words cannot tell: who speaks of whom,
what is counted aloud, what was said just before.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from repslate.speech.grammar import Grammar, Rule, phrases
from repslate.speech.numbers import Amount, amounts
from repslate.speech.pattern import Item, Pattern, compile_pattern, matches
from repslate.speech.words import Word

_LOOK_BACK = 6  # items
_ALTERNATIVE = 16  # words within which a bare figure with a condition of its own follows the one it varies


@dataclass(frozen=True, slots=True)
class Figure:
    """A prescription figure as said: `field` is one of plan.FIELDS; times in seconds, lengths in metres, loads as named.

    "" is a number that may be one: only a plan can tell. `first` and `last` are the words of the amount, `end` the last word that says what it is for. `sure` is False where
    only the way of talking tells that the number is a prescription.
    """

    field: str
    low: Fraction
    high: Fraction
    per_side: bool
    first: int
    last: int
    end: int
    sure: bool = True


def hear(words: Sequence[Word], rules: Grammar, taken: frozenset[int] = frozenset()) -> tuple[Figure, ...]:
    """Return every prescription figure said, in order; `taken` are indexes of words that belong to names."""
    found = amounts(words)
    items = _items(words, found)
    counted = _counted_aloud(found, words)
    figures: list[Figure] = []
    for at, item in enumerate(items):
        amount = item.amount
        if amount is None or amount.void or not taken.isdisjoint(range(amount.first, amount.last + 1)):
            continue
        corrects = at > 0 and any(item.amount and item.amount.void for item in items[max(0, at - 12) : at])
        others = not corrects and _of_others(items, at)
        if not corrects and _of_another_day(items, at):
            continue
        figure = _claimed(rules, items, at, amount in counted, figures, others=others)
        if others and figure is None:
            continue
        if (figure is None or not figure.sure) and not others and (meant := _taken_over(rules, items, at, figures)):
            figure = meant
        if figure:
            figures.append(figure)
    return tuple(_halves_joined(figures, words))


def _claimed(
    rules: Grammar, items: Sequence[Item], at: int, counted: bool, before: Sequence[Figure], *, others: bool = False
) -> Figure | None:
    """Return what the first rule that holds makes of an amount; few hold for what is said of `others`."""
    amount = items[at].amount
    assert amount is not None
    for rule, pattern in rules.rules:
        if (counted and not rule.sure) or (others and not rule.anyone):
            continue
        end = _holds(rule, pattern, items, at)
        if end is None:
            continue
        if not rule.field:
            return None
        field = _settled(rule.field, items, at, before)
        if not field:
            continue
        if rule.field == "percent_off":
            amount = replace(amount, low=100 - amount.high, high=100 - amount.low)
        per_side = _is_per_side(rules, items, at, end)
        return Figure(field, amount.low, amount.high, per_side, amount.first, amount.last, items[end].last, rule.sure)
    if counted or others:
        return None
    if _is_bare_range(items, at):
        per_side = _is_per_side(rules, items, at, at)
        return Figure("reps", amount.low, amount.high, per_side, amount.first, amount.last, amount.last, sure=False)
    if not amount.unit and matches(_NO_THING, items, at) is not None and amount.low > 1:
        return Figure(
            "",
            amount.low,
            amount.high,
            _is_per_side(rules, items, at, at),
            amount.first,
            amount.last,
            amount.last,
            sure=False,
        )
    return None


def _taken_over(rules: Grammar, items: Sequence[Item], at: int, before: Sequence[Figure]) -> Figure | None:
    """Return the figure that stands in for one taken back ("rest two minutes, no, three"): it means what that meant."""
    earlier = next((k for k in range(at - 1, max(-1, at - 14), -1) if items[k].amount is not None), None)
    old, amount = items[earlier].amount if earlier is not None else None, items[at].amount
    if old is None or amount is None or earlier is None or not old.void:
        return None
    meant = _claimed(rules, items, earlier, counted=False, before=before)
    if meant is None or not meant.field:
        return None
    return replace(meant, low=amount.low, high=amount.high, first=amount.first, last=amount.last, end=amount.last)


def _is_bare_range(items: Sequence[Item], at: int) -> bool:
    """Tell whether an amount is two plain numbers of which no thing is counted: mostly repetitions."""
    amount = items[at].amount
    if (
        amount is None
        or amount.unit
        or amount.form in ("plural", "list")
        or not 3 <= amount.low < amount.high <= 60
        or amount.low % 1
        or amount.high % 1
    ):
        return False
    return matches(_NO_THING, items, at) is not None


def _holds(rule: Rule, pattern: Pattern, items: Sequence[Item], at: int) -> int | None:
    amount = items[at].amount
    if amount is None or not rule.within[0] <= amount.high <= rule.within[1]:
        return None
    return matches(pattern, items, at)


def _settled(field: str, items: Sequence[Item], at: int, before: Sequence[Figure]) -> str:
    """Return the field where a rule leaves it to what was said before."""
    last = next((one for one in reversed(before) if one.field), None)
    near = last is not None and items[at].first - last.end <= _ALTERNATIVE
    if field == "same":
        return last.field if last is not None and near else ""
    if field == "tempo_more":
        return "tempo_s" if last is not None and last.field == "tempo_s" and items[at].first - last.end <= 14 else ""
    if field == "reps_of_percent":
        return (
            "reps" if last is not None and last.field.startswith("percent") and items[at].first - last.end <= 5 else ""
        )
    if field == "rest_more":
        named = {item.text for item in items[max(0, at - 6) : at]} & {"rest", "breather", "break"}
        return "rest_s" if named or (last is not None and near and last.field == "rest_s") else ""
    if field == "percent_more":
        recent = [one for one in before[-3:] if one.field.startswith("percent")]
        return recent[-1].field if recent and items[at].first - recent[-1].end <= 30 else ""
    if field == "laps":
        return "rounds"
    if field == "percent_off":
        return "percent_working"
    if field == "load":
        return _mass_unit(items, at)
    if field == "percent_max" and getattr(items[at].amount, "form", "") == "half":
        return ""
    if field == "percent_max":
        return "percent_working" if _is_building_up(items, at, before) else "percent_1rm"
    return field


def _mass_unit(items: Sequence[Item], at: int) -> str:
    """Return the unit of loads that are named by their number: that said nearest to them, kilograms if none ever is."""
    units = {"kilos": "kg", "kilo": "kg", "kg": "kg", "pounds": "lb", "pound": "lb", "lbs": "lb"}
    named = [
        (abs(k - at), item.amount.unit if item.amount else units.get(item.text, ""))
        for k, item in enumerate(items)
        if (item.amount and item.amount.unit in ("kg", "lb")) or item.text in units
    ]
    return min(named)[1] if named else "kg"


def _is_building_up(items: Sequence[Item], at: int, before: Sequence[Figure]) -> bool:
    """Tell whether a percentage without a name follows others of the working load, or is said of sets before it."""
    earlier = [one for one in before[-6:] if one.field.startswith("percent")]
    if earlier and items[at].first - earlier[-1].end <= 60:
        return earlier[-1].field == "percent_working"
    said = {item.text for item in items[max(0, at - 25) : at + 8]}
    return bool(said & {"ramp", "ramping", "build", "building", "warmup", "feeder"} or {"warm", "up"} <= said)


def _items(words: Sequence[Word], found: Sequence[Amount]) -> list[Item]:
    """Return the words with each amount in place of its own."""
    items: list[Item] = []
    at = 0
    for amount in found:
        items += [Item(words[k].text, None, k, k, words[k].ends) for k in range(at, amount.first)]
        alone = words[amount.first].text if amount.first == amount.last else ""
        items.append(Item(alone, amount, amount.first, amount.last, words[amount.last].ends and not amount.noun))
        if amount.noun:
            items.append(Item(amount.noun, None, amount.last, amount.last, words[amount.last].ends))
        at = amount.last + 1
    items += [Item(words[k].text, None, k, k, words[k].ends) for k in range(at, len(words))]
    return items


def _is_per_side(rules: Grammar, items: Sequence[Item], at: int, end: int) -> bool:
    """Tell whether a side is named within the rule's words, up to four after them or two before them."""
    texts = [item.text for item in items[max(0, at - 4) : min(len(items), end + 5)]]
    stretch = tuple(texts)
    return any(
        stretch[k : k + len(side)] == side for side in rules.sides if len(side) > 1 for k in range(len(stretch))
    ) or (at + 1 < len(items) and items[at + 1].text in ("each", "apiece"))


# ---- who speaks of whom

_STOPS = frozenset("so then okay ok right now anyway alright righto but because cause cos".split())
_VIEWER = frozenset(
    "you we you're we're you'll we'll you've we've you'd we'd your it's that's let's lets gonna there's here's they're".split()
)
_NO_THING = compile_pattern("@* ~", phrases())
_OTHERS = frozenset(
    "he she he's she's guy bloke mate lad fella somebody someone friend man woman granny nan dad mum mom daughter son kid mine mine's gentleman lady chap who girl boy neighbour dude buddy pal cousin brother sister wife husband client everybody's".split()
)
_OLD = frozenset("week month year time cycle session season summer winter january february march april may june july "
                 "august september october november december monday tuesday wednesday thursday friday saturday sunday "
                 "weekend night".split())  # fmt: skip
_ASKS = frozenset("want need say give like rather recommend suggest reckon promise mean think prefer ask wanna would"
                  " expect hope love only".split())  # fmt: skip
_I = {"i": _ASKS, "i'd": None, "i'll": frozenset({"give", "say", "take", "ask", "settle", "accept"}),
      "i'm": frozenset({"after", "looking", "asking", "giving", "gonna", "going", "happy", "aiming", "thinking", "saying"}),
      "i've": frozenset({"given", "put", "written", "set"})}  # fmt: skip


def _of_another_day(items: Sequence[Item], at: int) -> bool:
    """Tell whether an amount is about another workout: last week's, the one on tuesday, what used to be done."""
    before, after = _around(items, at)
    clause, amount = before[_clause(before) :], items[at].amount
    for window in (clause, after[:2] if amount and amount.low == amount.high else []):
        for one, two in zip(window, window[1:], strict=False):
            if one in ("last", "another") and two.removesuffix("'s") in _OLD:
                return True
    if {"yesterday", "ago"} & {*clause, *after[:2]} or ("used", "to") in zip(clause, clause[1:], strict=False):
        return True
    return bool({"was", "were", "did"} & set(clause[-4:])) and any(text.removesuffix("'s") in _OLD for text in before)


def _of_others(items: Sequence[Item], at: int) -> bool:
    """Tell whether an amount is what the presenter or somebody else does, not what the viewer is asked to do."""
    before, _ = _around(items, at)
    for back, text in enumerate(reversed(before[-_LOOK_BACK:])):
        if text in _VIEWER or text in _STOPS:
            return False
        if text in _OTHERS:
            return True
        if text in _I:
            follows = before[len(before) - back : len(before) - back + 2]
            asks = _I[text]
            return asks is not None and not asks & set(follows)
    return False


def _around(items: Sequence[Item], at: int) -> tuple[list[str], list[str]]:
    """Return the words of the same sentence before an amount, up to fourteen, and five after it."""
    start = at
    while start > 0 and at - start < 14 and not items[start - 1].ends:
        start -= 1
    return [item.text for item in items[start:at]], [item.text for item in items[at + 1 : at + 6]]


def _clause(before: Sequence[str]) -> int:
    """Return where the clause begins that the words end with: after the last word that turns to the viewer."""
    turns = [index for index, text in enumerate(before) if (text in _VIEWER or text in _STOPS) and text not in _NO_TURN]
    return turns[-1] if turns else 0


_NAMED = frozenset("sets set reps rep rounds round of each a to per x by times".split())


def _word_after(words: Sequence[Word], amount: Amount) -> str:
    ends = words[amount.last].ends or amount.last + 1 >= len(words)
    return "" if ends else words[amount.last + 1].text


_NO_TURN = frozenset({"that's", "it's", "you", "we", "your"})


def _counted_aloud(found: Sequence[Amount], words: Sequence[Word]) -> set[Amount]:
    """Return bare numbers that go up or down by one from their neighbour: reps and seconds counted on camera."""
    bare = [
        one
        for one in found
        if not one.unit and not one.form and one.low == one.high and _word_after(words, one) not in _NAMED
    ]
    runs: list[list[Amount]] = []
    for amount in bare:
        before = runs[-1] if runs else []
        step = amount.low - before[-1].low if before else Fraction(0)
        goes_on = len(before) < 2 or step == before[1].low - before[0].low
        near = bool(before) and abs(step) == 1 and amount.first - before[-1].last <= 6
        if near and goes_on:
            before.append(amount)
        else:
            runs.append([before[-1], amount] if near else [amount])
    # "two down, one up" goes down by one too, so going down takes three.
    return {one for run in runs if len(run) > 2 or (len(run) > 1 and run[1].low > run[0].low) for one in run}


_HALVED = frozenset({"reps", "seconds", "metres", ""})


def _halves_joined(figures: Sequence[Figure], words: Sequence[Word]) -> Iterator[Figure]:
    """Yield "eight on the left, eight on the right" as one figure per side."""
    kept: Figure | None = None
    for figure in figures:
        if kept is not None and (figure.low, figure.high) == (kept.low, kept.high) and figure.field in ("", kept.field):
            said = {word.text for word in words[kept.last + 1 : figure.end + 5]}
            both = bool(said & {"swap", "switch", "other", "back"}) or {"left", "right"} <= said
            if figure.first - kept.end <= 8 and both and {figure.field, kept.field} <= _HALVED:
                kept = replace(kept, per_side=True)
                continue
        if kept is not None:
            yield kept
        kept = figure
    if kept is not None:
        yield kept
