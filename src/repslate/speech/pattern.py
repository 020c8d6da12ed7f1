"""A small grammar over spoken words: patterns with one amount in their middle, matched outwards from it.

    "@ <adj>? sets|goes"      the amount in question, perhaps an adjective of the class, then one of two words
    "rest .. @s"              up to three words between; @s is an amount of time
    "for @ ~"                 no thing follows that could be counted; "." is one word of content, "!x" asks for no x

Stands before the rules, which are written in it and nothing else, so that a trainer's way of talking can be added as
one line with an example.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache

from repslate.speech.numbers import Amount
from repslate.speech.words import Word

_GAPS = {"..": 3, "...": 5, "....": 8}
_SHORT = 4  # letters: "is", "this" and "yes" are no plurals


@dataclass(frozen=True, slots=True)
class Item:
    """One step of what is said: a word, or an amount in place of all its words.

    `text` is the word, that of a one-word amount too, "" for a longer one; `first` and `last` are indexes of words,
    `ends` is as in Word.
    """

    text: str
    amount: Amount | None
    first: int
    last: int
    ends: bool


@dataclass(frozen=True, slots=True)
class Element:
    """One step of a pattern, one of whose choices is met: a phrase, an amount ("*" any, "" bare), a sentence's edge.

    `gap` is how many words may stand here, whatever they are. `absent` asks that no choice is met, and takes nothing.
    `other` is a word that is not in `phrases`: one of content. `plain` asks that no thing is named here ("ten squats"
    but for what `phrases` has), and takes nothing either.
    """

    phrases: Mapping[str, tuple[tuple[str, ...], ...]] = field(default_factory=dict)
    amounts: tuple[str, ...] = ()
    edge: bool = False
    gap: int = 0
    optional: bool = False
    absent: bool = False
    other: bool = False
    plain: bool = False


@dataclass(frozen=True, slots=True)
class Pattern:
    """What stands before the amount (nearest first), what kind of amount it is, and what stands after it."""

    before: tuple[Element, ...]
    unit: str
    after: tuple[Element, ...]


def items_of(words: Sequence[Word], found: Sequence[Amount]) -> list[Item]:
    """Return the words with each amount in place of its own; one that holds a noun is followed by that noun."""
    items: list[Item] = []
    at = 0
    for amount in found:
        items += _words_alone(words, at, amount.first)
        alone = words[amount.first].text if amount.first == amount.last else ""
        ends = words[amount.last].ends
        items.append(Item(alone, amount, amount.first, amount.last, ends and not amount.noun))
        if amount.noun:
            items.append(Item(amount.noun, None, amount.last, amount.last, ends))
        at = amount.last + 1
    return items + _words_alone(words, at, len(words))


def _words_alone(words: Sequence[Word], start: int, stop: int) -> list[Item]:
    return [Item(words[k].text, None, k, k, words[k].ends) for k in range(start, stop)]


def matches(pattern: Pattern, items: Sequence[Item], at: int) -> int | None:
    """Return the index of the last item that the pattern takes in around the amount at `at`; None where it fails."""
    amount = items[at].amount
    if amount is None or not fits(pattern.unit, amount):
        return None
    if _walk(pattern.before, items, at - 1, -1) is None:
        return None
    end = _walk(pattern.after, items, at + 1, 1)
    return None if end is None else end - 1


def fits(unit: str, amount: Amount) -> bool:
    """Tell whether an amount is of the kind that a pattern asks for: "@" a bare one, "@*" any, "@s" a time."""
    if unit == "*":
        return True
    if unit in ("times", "several", "plural", "pair"):
        return amount.form == unit
    return amount.unit == unit and amount.form not in ("times", "plural")


def _walk(elements: Sequence[Element], items: Sequence[Item], at: int, step: int) -> int | None:
    """Match elements one way from `at`; return the index after the last item taken (in that direction)."""
    if not elements:
        return at
    element, rest = elements[0], elements[1:]
    if element.gap:
        for skip in range(element.gap + 1):
            end = _walk(rest, items, at + step * skip, step)
            if end is not None:
                return end
            if not _is_word(items, at + step * skip, step):
                return None
        return None
    for taken in _takes(element, items, at, step):
        end = _walk(rest, items, at + step * taken, step)
        if end is not None:
            return end
    return _walk(rest, items, at, step) if element.optional else None


def _takes(element: Element, items: Sequence[Item], at: int, step: int) -> list[int]:
    """Return how many items each way of meeting the element takes in from `at`, the longest first."""
    here = _item(items, at, step)
    if element.plain:
        return [0] if here is None or not _is_thing(here) or here.text in element.phrases else []
    if element.other:
        is_other = here is not None and here.amount is None and here.text not in element.phrases
        return [1] if is_other else []
    near = element.phrases.get(here.text, ()) if here is not None else ()
    found = {len(phrase) for phrase in near if len(phrase) == 1 or _says(phrase, items, at, step)}
    if here is None and element.edge:
        found.add(0)
    if here is not None and here.amount is not None and any(fits(unit, here.amount) for unit in element.amounts):
        found.add(1)
    if element.absent:
        return [] if found else [0]
    return sorted(found, reverse=True)


def _is_thing(item: Item) -> bool:
    """Tell whether a word looks like the plural of a thing."""
    return item.amount is None and len(item.text) > _SHORT and item.text.endswith("s") and not item.text.endswith("ss")


def _says(phrase: tuple[str, ...], items: Sequence[Item], at: int, step: int) -> bool:
    words = phrase if step > 0 else tuple(reversed(phrase))
    for offset, word in enumerate(words):
        here = _item(items, at + step * offset, step)
        if here is None or here.text != word:
            return False
    return True


def _item(items: Sequence[Item], at: int, step: int) -> Item | None:
    """Return the item at an index unless a sentence ends on the way to it."""
    if not 0 <= at < len(items):
        return None
    crossed = items[at - 1].ends if step > 0 and at else step < 0 and items[at].ends
    return None if crossed else items[at]


def _is_word(items: Sequence[Item], at: int, step: int) -> bool:
    here = _item(items, at, step)
    return here is not None and here.amount is None


# ---- reading patterns as they are written


def compile_pattern(text: str, classes: Mapping[str, tuple[str, ...]]) -> Pattern:
    """Read a pattern; raises ValueError where it has not exactly one "@" or names no known class."""
    parts = text.split()
    centres = [index for index, part in enumerate(parts) if part.startswith("@")]
    if len(centres) != 1:
        raise ValueError(f"{text!r}: expected one amount to decide about, marked @")
    centre = centres[0]
    before = tuple(_element(part, classes, text, -1) for part in reversed(parts[:centre]))
    after = tuple(_element(part, classes, text, 0) for part in parts[centre + 1 :])
    return Pattern(before, parts[centre][1:], after)


def _element(part: str, classes: Mapping[str, tuple[str, ...]], text: str, met: int) -> Element:
    """Read one step; `met` is the place of the word in a phrase that is met first on the way from the amount."""
    if part in _GAPS:
        return Element(gap=_GAPS[part])
    if part in (".", ".?"):
        return Element(_by_word(map(_phrase, classes["small"]), met), other=True, optional=part == ".?")
    if part == "~":
        return Element(_by_word(map(_phrase, classes["cues"]), met), plain=True)
    absent, part = part.startswith("!"), part.removeprefix("!")
    optional = part.endswith("?")
    choices = part.removesuffix("?").split("|")
    phrases: list[tuple[str, ...]] = []
    for choice in choices:
        if choice.startswith("<"):
            name = choice.strip("<>")
            if name not in classes:
                raise ValueError(f"{text!r}: no words are kept under {choice}")
            phrases += [_phrase(one) for one in classes[name]]
        elif choice != "$" and not choice.startswith("#"):
            phrases.append(_phrase(choice.replace("_", " ")))
    amounts = tuple(choice[1:] for choice in choices if choice.startswith("#"))
    return Element(_by_word(phrases, met), amounts, "$" in choices, optional=optional, absent=absent)


def _by_word(phrases: Iterable[tuple[str, ...]], met: int) -> dict[str, tuple[tuple[str, ...], ...]]:
    """Return phrases by the word that is met first."""
    found: dict[str, tuple[tuple[str, ...], ...]] = {}
    for phrase in phrases:
        found[phrase[met]] = (*found.get(phrase[met], ()), phrase)
    return found


@cache
def _phrase(text: str) -> tuple[str, ...]:
    return tuple(text.split())
