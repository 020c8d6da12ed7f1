"""The loads of a typed line: masses, shares of a maximum, two levels, shares of the body, paces, and loads in words."""

from __future__ import annotations

from decimal import Decimal

from repslate.model.notes.amounts import Amount, Figures, Typed
from repslate.model.notes.dose import Dose, TypedLoad
from repslate.model.quantity import Range
from repslate.model.tokens import Kind

Loaded = tuple[TypedLoad, int, dict[str, object]]
_MASS = ("kg", "lb")
_WITH = ("with", "w", "using", "con", "mit", "med", "avec", "com", "à", "c", "a")
_LARGEST_RPE = 10


def massive(amount: Amount, *, bare: bool = False) -> TypedLoad | None:
    """Return an amount as a load; with `bare`, one without a unit too."""
    if amount.unit in _MASS:
        return TypedLoad(amount.unit, amount.figures)
    if amount.unit == "percent":
        return TypedLoad("percent_1rm", amount.figures)
    return TypedLoad("mass", amount.figures) if bare and not amount.unit else None


def levels(listed: Figures) -> TypedLoad | None:
    """Return a list as a load: two unequal masses are two levels, equal ones one in each hand, shares are set by set."""
    kind = {"kg": "kg", "lb": "lb", "": "mass", "percent": "percent_1rm", "cm": "height_cm"}.get(listed.unit)
    if kind is None:
        return None
    values = listed.values
    if len(values) == 2 and values[0] == values[1] and kind != "percent_1rm":
        return TypedLoad(kind, Range(values[0], values[0]), words="each hand")
    if len(values) == 2 and kind != "percent_1rm":
        return TypedLoad(kind, two_levels=values)
    return TypedLoad(kind, by_set=values)


def behind_at(typed: Typed, at: int, given: Dose) -> Loaded | None:
    """Read a load behind "@", "at", "with" or "+"."""
    if typed.sees(at, "at") and typed[at].word in ("@", "at"):
        found = _named_load(typed, at + 1, given, is_sure=True)
        if found:
            return found
        return _load_in_words(typed, at + 1) if typed[at].text == "@" else None
    step = at
    while typed[step].word in _WITH or typed[step].text == "/":
        step += 1
        if step - at > 2:
            return None
    if step > at:
        found = _named_load(typed, step, given, is_sure=False)
        is_number = found and typed[step].is_number
        if found and (is_number or found[0].kind in ("band", "bodyweight", "words")):
            return found
    if typed.is_mark(at, "+") and typed[at + 1].glued and (amount := typed.amount(at + 1)) and amount.unit in _MASS:
        return TypedLoad(amount.unit, amount.figures, words="added"), amount.end, {}
    return None


def plain_load(typed: Typed, at: int, given: Dose) -> Loaded | None:
    """Read a load that says by its unit that it is one: "24 kg", "75 % 1RM", "24/16", "0.75 BW"."""
    found = _named_load(typed, at, given, is_sure=False)
    if found is None:
        return None
    load, end, more = found
    if load.kind == "mass" and not (
        load.two_levels and (given.has_work or at > 0) and load.two_levels[0] > load.two_levels[1]
    ):
        return None
    if load.kind == "mass" and typed.unit(end)[0] in ("cal", "m", "km", "s"):
        return None
    if load.kind == "words" and not load.value:
        return None
    if typed[end].is_times and typed.amount(end + 1):
        return None  # "75 % x 5" is read with what stands behind it
    if (
        load.kind == "bodyweight"
        and typed[end].kind is Kind.WORD
        and typed[at - 1].text not in ("@", "(", ",", "-", "–")
    ):
        return None  # "Body weight lunges" is a name
    return load, end, more


def bracketed_levels(typed: Typed, at: int) -> Loaded | None:
    """Read "m-53lbs/f-35lbs" and "men 24 kg / women 16 kg" as two levels."""
    people = {"m": 0, "men": 0, "male": 0, "guys": 0, "f": 1, "w": 1, "women": 1, "female": 1, "ladies": 1, "rx": 0}
    if typed[at].word not in people:
        return None
    step = at + 1 + (typed[at + 1].is_dash or typed[at + 1].text == ":")
    first = typed.amount(step)
    if not first or not first.is_single:
        return None
    step = first.end + (typed[first.end].text in ("/", ","))
    if typed[step].word not in people or people[typed[step].word] == people[typed[at].word]:
        return None
    step += 1 + (typed[step + 1].is_dash or typed[step + 1].text == ":")
    second = typed.amount(step)
    unit = (second and second.unit) or first.unit
    if not second or unit not in (*_MASS, ""):
        return None
    return TypedLoad(unit or "mass", two_levels=(first.low, second.low)), second.end, {}


def _named_load(typed: Typed, at: int, given: Dose, *, is_sure: bool) -> Loaded | None:
    upto = 0
    words = ""
    if typed.sees(at, "upto") and (is_sure or typed.sees(at, "upto") > at + 1 or typed[at].word == "upto"):
        upto = typed.sees(at, "upto")
        words, at = "up to", upto
    elif typed.is_mark(at, "(") and (bound := typed.sees(at + 1, "upto")) and typed.is_mark(bound, ")"):
        words, at = "up to", bound + 1
    if two := bracketed_levels(typed, at):
        return two
    if found := _of_the_body(typed, at):
        return found
    if found := _off_top(typed, at, is_sure=is_sure):
        return found
    if found := _pieces(typed, at):
        return found
    if found := _by_set(typed, at, given, is_sure=is_sure):
        load, end, more = found
        if load.kind.startswith("percent"):
            load, end = percent_of(typed, end, load)
        return load, end, more
    amount = typed.amount(at)
    if amount is None:
        return None
    return _measured(typed, amount, given, words=words, is_sure=is_sure)


def _measured(typed: Typed, amount: Amount, given: Dose, *, words: str, is_sure: bool) -> Loaded | None:
    end = amount.end
    if amount.unit in _MASS:
        if (
            typed.is_mark(end, "/")
            and (other := typed.amount(end + 1))
            and other.unit in _MASS
            and other.unit != amount.unit
        ):
            end = other.end  # the same load in the other unit
        behind = typed.sees(end, "eachhand")
        words = words or (typed.typed(end, behind) if behind else "")
        return TypedLoad(amount.unit, amount.figures, words=words), behind or end, {}
    if amount.unit == "percent":
        load, end = percent_of(typed, end, TypedLoad("percent_1rm", amount.figures, words=words))
        return load, end, {}
    if amount.unit in ("spm", "rpm"):
        return TypedLoad(f"rate_{amount.unit}", amount.figures), end, {}
    if amount.unit == "" and amount.is_open and (behind := typed.sees(end, "rpm", "spm")):
        kind = "rate_rpm" if typed.sees(end, "rpm") else "rate_spm"
        return TypedLoad(kind, amount.figures, words="or more"), behind, {}
    if not is_sure:
        return None
    if amount.is_clock or (amount.unit == "s" and (given.metres or given.seconds)):
        behind = end
        if typed.is_mark(end, "/"):
            behind = end + 1
            while typed[behind].kind in (Kind.FIGURE, Kind.WORD) and behind < end + 4:
                behind += 1
        return TypedLoad("pace", words=typed.typed(amount.start, behind)), behind, {}
    is_pair = (
        typed[amount.start + 1].word == "s"
        and typed[amount.start + 1].glued
        and amount.unit == "s"
        and bool(given.reps or given.steps or given.is_max)
    )
    if is_pair:
        return TypedLoad("mass", amount.figures, words="each hand"), end, {}
    if amount.unit or not amount.is_single or given.seconds or given.metres:
        return None
    if amount.is_plural or (typed[end].word == "s" and typed[end].glued):
        return TypedLoad("mass", amount.figures, words="each hand"), end + (not amount.is_plural), {}
    if amount.low <= _LARGEST_RPE or typed[end].kind is Kind.WORD or typed[end].is_times or typed[end].text == ":":
        return None  # of a load and an effort neither is certain
    return TypedLoad("mass", amount.figures, words=words), end, {}


def percent_of(typed: Typed, at: int, load: TypedLoad) -> tuple[TypedLoad, int]:
    """Read on behind a share: of what. Without a word it is taken of the one-repetition maximum."""

    def of(kind: str, end: int, words: str = "") -> tuple[TypedLoad, int]:
        return TypedLoad(kind, load.value, load.by_set, load.two_levels, words or load.words), end

    has_of = typed.sees(at, "of")
    step = has_of or at
    step += typed[step].word in ("your", "my", "the")
    number = typed.number(step)
    if number and number[0] != 1 and typed[number[1]].glued and (end := typed.sees(number[1], "repmax")):
        return of(f"percent_of_{int(number[0])}rm", end)
    if number and number[0] != 1 and (end := typed.sees(number[1] + typed[number[1]].is_dash, "repmax")):
        return of(f"percent_of_{int(number[0])}rm", end)
    for meaning, kind in (
        ("onerm", "percent_1rm"), ("tm", "percent_tm"), ("hrmax", "percent_hrmax"), ("ftp", "percent_ftp"),
        ("topset", "percent_of_top"),
    ):  # fmt: skip
        if (end := typed.sees(step, meaning)) and (has_of or meaning != "topset"):
            return of(kind, end)
    if end := typed.sees(step, "bodyweight"):
        share = load.value and Range(load.value.low / 100, load.value.high / 100)
        return TypedLoad("fraction_bodyweight", share, words=load.words), end
    if typed[step].word in ("effort", "intensity"):
        return of("words", step + 1, f"{typed.typed(at - 2, step + 1)}")
    if has_of:
        end = step
        while end < typed.end and typed[end].text not in (",", ";", ")", "(", ".") and not typed[end].is_number:
            end += 1
        name = typed.typed(step, end)
        is_lift = 0 < len(name.split()) <= 3 and "'" not in name and "work" not in name
        words = f"{load.words}, of {name}".strip(", ")
        return of("percent_of_other_lift" if is_lift else "words", end, words)
    return of("percent_1rm", at)


def _of_the_body(typed: Typed, at: int) -> Loaded | None:
    """Read "bodyweight", "3/4 BW", "0.85 x bodyweight", "1.5xBW"."""
    if end := typed.sees(at, "bodyweight"):
        return TypedLoad("bodyweight"), end, {}
    number = typed.number(at)
    if number is None or number[2]:
        return None
    value, step, _ = number
    is_share = typed[at - 1].text == "@" or "." in typed[at].text or typed[step].is_times or typed.is_mark(step, "/")
    if not is_share:
        return None  # "5 x 5 BW"
    if typed.is_mark(step, "/") and (other := typed.number(step + 1)) and other[0]:
        value, step = value / other[0], other[1]
    step += typed[step].is_times
    end = typed.sees(step, "bodyweight")
    if not end or value > 5:
        return None
    return TypedLoad("fraction_bodyweight", Range(value, value)), end, {}


def _off_top(typed: Typed, at: int, *, is_sure: bool) -> Loaded | None:
    """Read "-12 %" behind "@" or a set as so much less than the top set."""
    if not typed[at].is_dash or not typed[at + 1].glued or (typed[at].glued and not is_sure):
        return None
    amount = typed.amount(at + 1)
    if not amount or amount.unit != "percent":
        return None
    return TypedLoad("percent_off_top", amount.figures), amount.end, {}


def _pieces(typed: Typed, at: int) -> Loaded | None:
    """Read "2 x 24 kg" and "16 + 16 kg": one in each hand."""
    count = typed.number(at)
    if count is None or count[2]:
        return None
    step = count[1]
    if count[0] == 2 and typed[step].is_times:
        amount = typed.amount(step + 1)
        if amount and amount.unit in _MASS:
            return TypedLoad(amount.unit, amount.figures, words="each hand"), amount.end, {}
    if typed.is_mark(step, "+") and (other := typed.amount(step + 1)) and other.low == count[0] and other.unit in _MASS:
        return TypedLoad(other.unit, other.figures, words="each hand"), other.end, {}
    return None


def _by_set(typed: Typed, at: int, given: Dose, *, is_sure: bool) -> Loaded | None:
    listed = typed.figures(at, "/") or (typed.figures(at, "-") if is_sure else None)
    if listed and listed.sign == "-" and len(listed.ranges) < 3:
        return None
    if listed and (typed[at - 1].text == "/" or typed[listed.end].text == "/"):
        return None
    if not listed or listed.unit not in (*_MASS, "percent", "", "cm"):
        return None
    if listed.unit == "" and not is_sure and len(listed.ranges) != 2:
        return None
    load = levels(listed)
    if load is None or (listed.unit == "" and load.words):
        return None
    if len(listed.ranges) > 2 and listed.unit == "" and not is_sure:
        return None
    more: dict[str, object] = {}
    if load.by_set and given.sets is None:
        count = Decimal(len(load.by_set))
        more = {"sets": Range(count, count), "adds": True}
    return load, listed.end, more


def _load_in_words(typed: Typed, at: int) -> Loaded | None:
    """Carry what stands behind "@" up to the next sign as a load in words."""
    end = at
    while end < typed.end and typed[end].text not in (",", ";", "(", ")", "·", "|") and not _is_break(typed, end):
        end += 1
    if end == at:
        return None
    text = typed.typed(at, end)
    if any(typed[step].kind is Kind.FIGURE for step in range(at, end)) and not any(
        typed.sees(step, "pace", "zone") for step in range(at, end)
    ):
        return None
    for meaning, kind in (("pace", "pace"), ("zone", "zone")):
        if any(typed.sees(step, meaning) for step in range(at, end)):
            return TypedLoad(kind, words=text), end, {}
    return TypedLoad("words", words=text), end, {}


def _is_break(typed: Typed, at: int) -> bool:
    token = typed[at]
    return (token.is_dash and not token.glued and not typed[at + 1].glued) or bool(
        typed.sees(at, "rest", "tempo", "rpe")
    )


def load_words(typed: Typed, at: int, given: Dose) -> Loaded | None:
    """Read loads that are words: heavy, band, empty bar, as heavy as possible, add weight, zones and paces."""
    step = at + (typed[at].word in ("in", "at"))
    if (end := typed.sees(step, "zone")) and (zone := typed.amount(end)) and zone.high <= 7 and not zone.unit:
        return TypedLoad("zone", zone.figures), zone.end, {}
    if typed[at].word in ("in", "at", "en") and given.metres and (amount := typed.amount(at + 1)) and amount.is_clock:
        return TypedLoad("pace", words=typed.typed(at + 1, amount.end)), amount.end, {}
    if typed[at].word == "at" and (end := typed.sees(at + 1, "ftp")):
        hundred = Range(Decimal(100), Decimal(100))
        return TypedLoad("percent_ftp", hundred), end, {}
    for meaning, kind in (("ahap", "words"), ("adding", "words"), ("emptybar", "words"), ("band", "band")):
        end = typed.sees(at, meaning)
        is_apart = typed[at - 1].text == "," and typed[end].text in (",", "")
        if not end or (meaning == "band" and not (given.has_work or given.sets or is_apart)):
            continue
        if meaning == "emptybar" and not (typed[end].is_times or typed[at - 1].text == "@" or given.has_work):
            continue
        if meaning == "emptybar" and typed[at].word == "bar" and given.has_work:
            continue
        return TypedLoad(kind, words="empty bar" if meaning == "emptybar" else typed.typed(at, end)), end, {}
    if end := typed.sees(at, "buildto"):
        stop = end
        while stop < typed.end and typed[stop].text not in (",", ";", "(", ")"):
            stop += 1
        return TypedLoad("words", words=typed.typed(at, stop)), stop, {}
    if (end := typed.sees(at, "heavy")) and (typed.amount(end) or given.has_work or given.sets):
        return TypedLoad("words", words=typed.typed(at, end)), end, {}
    if (
        (end := typed.sees(at, "effortwords"))
        and given.has_work
        and not given.load
        and typed[end].text in ("", ",", ")", "(", ";", ".")
    ):
        return TypedLoad("words", words=typed.typed(at, end)), end, {}
    if (end := typed.sees(at, "pace")) and given.has_work and not given.load:
        return TypedLoad("pace", words=typed.typed(at, end)), end, {}
    amount = typed.amount(at)
    if (
        amount
        and not given.load
        and given.has_work
        and amount.unit in ("m", "")
        and (end := typed.sees(amount.end, "pace"))
    ):
        return TypedLoad("pace", words=typed.typed(at, end)), end, {}
    if amount and amount.unit == "" and (end := typed.sees(amount.end, "plates")) and given.has_work:
        stop = typed.sees(end, "eachside") or end
        return TypedLoad("words", words=typed.typed(at, end) + (" per side" if stop > end else "")), stop, {}
    return None
