"""The loads of a typed line: masses, shares of a maximum, two levels, shares of the body, paces, and loads in words."""

from __future__ import annotations

from repslate.model.notes.amounts import Amount, Figures, Typed
from repslate.model.notes.dose import LIGHTEST, Dose, Fields, Found, TypedLoad, exactly
from repslate.model.notes.lexicon import listed
from repslate.model.notes.load_words import behind_pace, in_words, load_words
from repslate.model.notes.rests import BELLS
from repslate.model.notes.shares import of_the_body, percent_of
from repslate.model.tokens import DASHES, Kind

Loaded = tuple[TypedLoad, int]
"""A load, and the piece behind it."""

_MASS = ("kg", "lb")
_WITH = listed("goes before a load")
_PEOPLE = (listed("the first of two levels"), listed("the second of two levels"))
_LARGEST_EFFORT = 10  # of both scales; of a bare figure behind "@" up to it, load and effort are both possible
#: All that a load can begin by, beside a number.
LOADED = (
    frozenset("at upto bodyweight zone ahap adding emptybar band buildto heavy effortwords pace / + (".split())
    | frozenset(DASHES)
    | frozenset({"in", "at", "en", "em", "på", "half", "quarter", "rate", "rating", "r", "ut"})
    | listed("a pair of bells")
    | _WITH.union(*_PEOPLE)
)


def load(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read a load in figures or in words, with or without "@"."""
    found = behind_at(typed, at, given) or plain_load(typed, at, given) or load_words(typed, at, given)
    if found is None or (found[0].kind == "percent_1rm" and _is_slope(typed, at, found[1])):
        return None
    fields: Fields = {"load": found[0]}
    if given.load and given.has_work and typed[at - 1].word == "then" and typed[found[1] + 1].is_times:
        fields["part"] = True  # "…, then 140 kg 2x1"
    if found[0].by_set and given.sets is None:
        fields |= {"sets": exactly(len(found[0].by_set)), "adds": True}
    return Found(found[1], fields)


def massive(amount: Amount, *, bare: bool = False) -> TypedLoad | None:
    """Return an amount as a load; with `bare`, one without a unit too."""
    if amount.unit in _MASS:
        return TypedLoad(amount.unit, amount.figures)
    if amount.unit == "percent":
        return TypedLoad("percent_1rm", amount.figures)
    return TypedLoad("mass", amount.figures) if bare and not amount.unit else None


def levels(found: Figures) -> TypedLoad | None:
    """Return a list as a load: unequal masses are two levels, equal ones one in each hand, shares set by set."""
    kind = {"kg": "kg", "lb": "lb", "": "mass", "percent": "percent_1rm", "cm": "height_cm"}.get(found.unit)
    if kind is None:
        return None
    values = found.values
    if len(values) != 2 or kind == "percent_1rm":
        return TypedLoad(kind, by_set=values)
    if values[0] == values[1]:
        return TypedLoad(kind, exactly(values[0]), words="each hand")
    return TypedLoad(kind, two_levels=values)


def behind_at(typed: Typed, at: int, given: Dose) -> Loaded | None:
    """Read a load behind "@", "at", "with" or "+"."""
    if typed.sees(at, "at") and typed[at].word in ("@", "at"):
        found = _named_load(typed, at + 1, given, is_sure=True)
        return found or (in_words(typed, at + 1) if typed[at].text == "@" else None)
    step = at
    while step - at < 3 and (typed[step].word in _WITH or typed[step].text == "/"):
        step += 1
    if step - at > 2:
        return None
    if step > at and (bare := _told_mass(typed, step, given)):
        return bare
    found = _named_load(typed, step, given, is_sure=False) if step > at else None
    if found and (typed[step].is_number or found[0].kind in ("band", "bodyweight", "words")):
        return found
    amount = typed.amount(at + 1) if typed.is_mark(at, "+") and typed[at + 1].glued else None
    if amount and amount.unit in _MASS:
        return TypedLoad(amount.unit, amount.figures, words="added"), amount.end
    return None


def _told_mass(typed: Typed, at: int, given: Dose) -> Loaded | None:
    """Read "w 140" and "with 140" behind sets and repetitions as a mass without its unit."""
    amount = typed.amount(at) if given.sets and given.reps and typed[at - 1].word in ("w", "with", "using") else None
    if not amount or amount.unit or not amount.is_single or amount.low < LIGHTEST or typed[amount.end].is_times:
        return None
    return TypedLoad("mass", amount.figures), amount.end


def plain_load(typed: Typed, at: int, given: Dose) -> Loaded | None:
    """Read a load that says by its unit that it is one: "24 kg", "75 % 1RM", "24/16", "0.75 BW"."""
    found = _named_load(typed, at, given, is_sure=False)
    if found is None:
        return None
    load, end = found
    if load.kind == "mass" and load.words != "each hand":
        is_two = load.two_levels and (given.has_work or at > 0) and load.two_levels[0] > load.two_levels[1]
        if not is_two or typed.unit(end)[0] in ("cal", "m", "km", "s"):
            return None
    is_product = typed[end].is_times and typed.amount(end + 1)  # "75 % x 5" is read with what stands behind it
    is_name = typed[end].kind is Kind.WORD and typed[at - 1].text not in ("@", "(", ",", "-", "–")
    if is_product or (load.kind == "words" and not load.value) or (load.kind == "bodyweight" and is_name):
        return None  # "Body weight lunges" is a name
    return found


def _is_slope(typed: Typed, at: int, end: int) -> bool:
    """Tell whether a share is of a slope: "5 % incline", "pendiente del 5 %"."""
    near = [typed[step].word for step in range(max(at - 3, 0), at)]
    return typed[end].word in listed("slopes") or not listed("slopes").isdisjoint(near)


def _for_people(typed: Typed, at: int) -> Loaded | None:
    """Read "m-53lbs/f-35lbs" and "men 24 kg / women 16 kg" as two levels."""
    who = _level(typed[at].word)
    if who is None:
        return None
    first = _amount_of(typed, at)
    if not first or not first.is_single:
        return None
    step = first.end + (typed[first.end].text in ("/", ","))
    other = _level(typed[step].word)
    second = _amount_of(typed, step) if other is not None and other != who else None
    unit = (second and second.unit) or first.unit
    if not second or unit not in (*_MASS, ""):
        return None
    return TypedLoad(unit or "mass", two_levels=(first.low, second.low)), second.end


def _level(word: str) -> int | None:
    return next((level for level, words in enumerate(_PEOPLE) if word in words), None)


def _amount_of(typed: Typed, at: int) -> Amount | None:
    return typed.amount(at + 1 + (typed[at + 1].is_dash or typed[at + 1].text == ":"))


def _named_load(typed: Typed, at: int, given: Dose, *, is_sure: bool) -> Loaded | None:
    """Read a load in figures, behind "up to" too; with `is_sure` something says that it is one."""
    words = ""
    bound = typed.sees(at, "upto")
    if bound and (is_sure or bound > at + 1 or typed[at].word == "upto"):
        words, at = "up to", bound
    elif typed.is_mark(at, "(") and (bound := typed.sees(at + 1, "upto")) and typed.is_mark(bound, ")"):
        words, at = "up to", bound + 1
    found = _for_people(typed, at) or of_the_body(typed, at) or _off_top(typed, at, is_sure=is_sure)
    found = found or _in_each_hand(typed, at) or _by_set(typed, at, is_sure=is_sure)
    amount = None if found else typed.amount(at)
    return _measured(typed, amount, given, words=words, is_sure=is_sure) if amount else found


def _measured(typed: Typed, amount: Amount, given: Dose, *, words: str, is_sure: bool) -> Loaded | None:
    end = amount.end
    if amount.unit in _MASS:
        return _mass(typed, amount, words)
    if amount.unit == "percent":
        return percent_of(typed, end, TypedLoad("percent_1rm", amount.figures, words=words))
    if _is_bell(typed, amount, given):
        return TypedLoad("mass", amount.figures, words="each hand"), end
    if amount.unit in ("spm", "rpm"):
        return TypedLoad(f"rate_{amount.unit}", amount.figures), end
    rate = typed.sees(end, "rpm", "spm") if amount.unit == "" and amount.is_open else 0
    if rate:
        kind = "rate_rpm" if typed.sees(end, "rpm") else "rate_spm"
        return TypedLoad(kind, amount.figures, words="or more"), rate
    return _bare_load(typed, amount, given, words) if is_sure else None


def _is_bell(typed: Typed, amount: Amount, given: Dose) -> bool:
    """Tell whether "24s" behind a comma is a pair of bells: no rest has a figure like that."""
    is_plural = amount.unit == "s" and typed[amount.start + 1].word == "s" and typed[amount.start + 1].glued
    is_apart = typed[amount.start - 1].text in (",", ";", "–", "-") and typed[amount.end].text in ("", ",", ";")
    is_counted = bool(given.reps or given.steps or given.metres)
    return is_plural and is_apart and is_counted and not given.load and amount.low in BELLS and bool(amount.low % 5)


def _mass(typed: Typed, amount: Amount, words: str) -> Loaded:
    end = amount.end
    other = typed.amount(end + 1) if typed.is_mark(end, "/") else None
    if other and other.unit in _MASS and other.unit != amount.unit:
        end = other.end  # the same load in the other unit
    behind = typed.sees(end, "eachhand")
    return TypedLoad(amount.unit, amount.figures, words=words or typed.typed(end, behind)), behind or end


def _bare_load(typed: Typed, amount: Amount, given: Dose, words: str) -> Loaded | None:
    """Read a figure behind "@" that has no unit of a load: a pace, a pair of bells, or a mass."""
    end = amount.end
    if amount.is_clock or (amount.unit == "s" and (given.metres or given.seconds)):
        behind = behind_pace(typed, end)
        return TypedLoad("pace", words=typed.typed(amount.start, behind)), behind
    is_glued_s = typed[amount.start + 1].word == "s" and typed[amount.start + 1].glued
    if is_glued_s and amount.unit == "s" and (given.reps or given.steps or given.is_max):
        return TypedLoad("mass", amount.figures, words="each hand"), end
    if amount.unit or not amount.is_single or given.seconds or given.metres:
        return None
    return _bare_mass(typed, amount, words)


def _bare_mass(typed: Typed, amount: Amount, words: str) -> Loaded | None:
    end = amount.end
    if amount.is_plural or (typed[end].word == "s" and typed[end].glued):
        return TypedLoad("mass", amount.figures, words="each hand"), end + (not amount.is_plural)
    goes_on = typed[end].kind is Kind.WORD or typed[end].is_times or typed[end].text == ":"
    if goes_on:
        return None
    if amount.low <= _LARGEST_EFFORT:  # an effort or a mass, as the exercise tells
        return (TypedLoad("rpe_or_mass", amount.figures), end) if typed[amount.start - 1].text == "@" else None
    return TypedLoad("mass", amount.figures, words=words), end


def _off_top(typed: Typed, at: int, *, is_sure: bool) -> Loaded | None:
    """Read "-12 %" behind "@" or a set as so much less than the top set."""
    if not typed[at].is_dash or not typed[at + 1].glued or (typed[at].glued and not is_sure):
        return None
    amount = typed.amount(at + 1)
    is_share = amount and amount.unit == "percent"
    return (TypedLoad("percent_off_top", amount.figures), amount.end) if amount and is_share else None


def _in_each_hand(typed: Typed, at: int) -> Loaded | None:
    """Read "2 x 24 kg", "16 + 16 kg", "double 24s" and "pair of 16 kg": one in each hand."""
    if typed[at].word in listed("a pair of bells"):
        return _pair_of(typed, at + 1 + (typed[at + 1].word == "of"))
    count = typed.number(at)
    if count is None or count[2]:
        return None
    step = count[1]
    amount = typed.amount(step + 1) if typed[step].is_times or typed.is_mark(step, "+") else None
    is_pair = count[0] == 2 if typed[step].is_times else amount and amount.low == count[0]
    if not amount or amount.unit not in _MASS or not is_pair:
        return None
    return TypedLoad(amount.unit, amount.figures, words="each hand"), amount.end


def _pair_of(typed: Typed, at: int) -> Loaded | None:
    amount = typed.amount(at)
    if amount is None or not amount.is_single:
        return None
    is_plural = amount.is_plural or (amount.unit == "s" and typed[at + 1].word == "s" and typed[at + 1].glued)
    unit = amount.unit if amount.unit in _MASS else "mass" if is_plural else ""
    return (TypedLoad(unit, amount.figures, words="each hand"), amount.end) if unit else None


def _by_set(typed: Typed, at: int, *, is_sure: bool) -> Loaded | None:
    """Read "24/16 kg" and "70/75/80 %", and behind "@" "60-65-70" too."""
    found = typed.figures(at, "/") or (typed.figures(at, "-") if is_sure else None)
    if not found or (found.sign == "-" and len(found.ranges) < 3) or found.unit not in (*_MASS, "percent", "", "cm"):
        return None
    if "/" in (typed[at - 1].text, typed[found.end].text) or (
        not found.unit and not is_sure and len(found.ranges) != 2
    ):
        return None
    if typed[at - 1].text == "," and typed[at - 2].is_number and typed[at - 3].text == found.sign:
        return None  # "80/85/90, 82/87/92 %": of two lists nobody knows which sets each is of
    load = levels(found)
    if load is None or (found.unit == "" and load.words):
        return None
    return percent_of(typed, found.end, load) if load.kind.startswith("percent") else (load, found.end)
