"""How figures are said: reads rules.txt and phrases.txt, which anyone who knows how trainers talk can extend."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache

from repslate.model.library import Library
from repslate.model.names import plain
from repslate.speech.numbers import Amount
from repslate.speech.pattern import Pattern, compile_pattern, fits
from repslate.speech.phrases import FOLDER, listed, phrases

_RULE = re.compile(r"(?P<field>\w+): (?P<pattern>.*?)(?:  \{(?P<options>.*)\})?")
_EXAMPLE = re.compile(r'  "(?P<talk>[^"]*)" ?(?P<figures>.*)')
_BOUNDS = (Fraction(0), Fraction(10_000))


@dataclass(frozen=True, slots=True)
class Rule:
    """A way of saying a figure, as rules.txt explains it; `field` is "" where it is no prescription.

    `within` bounds the amount, times in seconds. `examples` are (talk, figures) pairs: the figures as "field low-high"
    that are heard in the talk, in order.
    """

    field: str
    pattern: str
    sure: bool
    anyone: bool
    within: tuple[Fraction, Fraction]
    examples: tuple[tuple[str, str], ...] = ()


class Grammar:
    """The rules in their order, compiled, and the phrases that name a side by their first word."""

    def __init__(self, rules_: Iterable[tuple[Rule, Pattern]], sides: Iterable[str]) -> None:
        """Keep compiled rules; `sides` are phrases such as "each side"."""
        self._rules = tuple(rules_)
        self._fitting: dict[tuple[str, str], tuple[tuple[Rule, Pattern], ...]] = {}
        self.sides: dict[str, list[tuple[str, ...]]] = {}
        for side in sides:
            self.sides.setdefault(side.split()[0], []).append(tuple(side.split()))

    def rules_for(self, amount: Amount) -> tuple[tuple[Rule, Pattern], ...]:
        """Return the rules that are about amounts of this kind, in their order."""
        kind = amount.unit, amount.form
        if kind not in self._fitting:
            self._fitting[kind] = tuple(pair for pair in self._rules if fits(pair[1].unit, amount))
        return self._fitting[kind]


@cache
def rules() -> tuple[Rule, ...]:
    """Return the rules in their order. Raises ValueError on a line that is neither a rule nor an example."""
    found: list[Rule] = []
    for line in (FOLDER / "rules.txt").read_text("utf-8").splitlines():
        if not line or line.startswith("#"):
            continue
        if example := _EXAMPLE.fullmatch(line):
            examples = (*found[-1].examples, (example["talk"], example["figures"]))
            found[-1] = replace(found[-1], examples=examples)
        elif rule := _RULE.fullmatch(line):
            found.append(_rule(rule["field"], rule["pattern"], rule["options"] or ""))
        else:
            raise ValueError(f"rules.txt: expected a rule or an example, found {line!r}")
    return tuple(found)


def grammar(library: Library) -> Grammar:
    """Compile the rules for a library, whose names of movements some of them need ("ten press ups")."""
    classes = phrases("phrases.txt") | {"moves": tuple(sorted(set(_moves(library))))}
    compiled = tuple((rule, compile_pattern(rule.pattern, classes)) for rule in rules())
    return Grammar(compiled, classes["side"])


def _rule(field: str, pattern: str, options: str) -> Rule:
    low, high = _BOUNDS
    said = [option.strip() for option in options.split(",")]
    for option in said:
        if option.startswith("from "):
            low = Fraction(option.removeprefix("from "))
        elif option.startswith("to "):
            high = Fraction(option.removeprefix("to "))
    return Rule("" if field == "no" else field, pattern, "unsure" not in said, "of anyone" in said, (low, high))


# ---- names of movements, in the plural

_HALVES = frozenset({"up", "down", "out", "over", "apart"})
_NO_MOVES = listed("grammar no moves")


def _moves(library: Library) -> Iterator[str]:
    """Yield the last words of the library's names in the plural: "squats", "press ups", "raises"."""
    for entry in library.entries.values():
        for name in entry.names:
            *before, last = plain(name).split() or [""]
            if last in _HALVES:
                yield from (f"{before[-1]}{blank}{last}s" for blank in (" ", "")) if before else ()
            elif last:
                yield from sorted(_plurals(last) - _NO_MOVES)


def _plurals(word: str) -> set[str]:
    if word.endswith("s"):
        return {word, word + "es"} if word.endswith("ss") else {word}
    if word.endswith(("ch", "sh", "x")):
        return {word + "es"}
    return {word[:-1] + "ies", word + "s"} if word.endswith("y") else {word + "s"}
