"""Ways of doing a set: 21s, myo-reps, rest-pause, drops, clusters, partials, and ladders."""

from __future__ import annotations

from repslate.model.notes.amounts import Figures, Typed
from repslate.model.notes.dose import ONE, Dose, Fields, Found, TypedLoad, exactly
from repslate.model.notes.lexicon import listed

#: Thirds of a set of 21, one third of the way each but the last.
TWENTY_ONE: Fields = {"reps": (exactly(21),), "cluster": (7, 7, 7), "partials": True}


def technique(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read any way of doing a set."""
    for reader in (twentyone, _thirds, _myo, _rest_pause, _drops, _cluster, _partials, _ladder):
        if found := reader(typed, at, given):
            return found
    return None


def twentyone(typed: Typed, at: int, _given: Dose) -> Found | None:
    """Read "21s" and "21s (7/7/7)"."""
    end = typed.sees(at, "twentyone")
    if not end:
        return None
    if typed.is_mark(end, "(") and (inside := typed.figures(end + 1)) and inside.values == TWENTY_ONE["cluster"]:
        end = inside.end + 1
    elif typed[at - 1].is_times and typed[at + 1].text != "'":
        return None  # "3 x 21s" may be of seconds
    return Found(end, TWENTY_ONE)


def _thirds(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "7 bottom half, 7 top half, 7 full": repetitions of one part of the range after the other, one set."""
    counts: list[int] = []
    step = end = at
    while (amount := typed.amount(step)) and amount.unit in ("", "rep") and amount.is_single:
        behind = _part_of_range(typed, amount.end)
        if not behind:
            break
        counts.append(int(amount.low))
        step = end = behind
        while typed[step].text in (",", "+", "/", ";") or typed[step].word in ("then", "and"):
            step += 1
    if len(counts) < 2 or given.reps:
        return None
    sets: Fields = {} if given.sets else {"sets": ONE}
    return Found(end, {"cluster": tuple(counts), "reps": (exactly(sum(counts)),), "partials": True, **sets})


def _part_of_range(typed: Typed, at: int) -> int:
    """Return the piece behind "in the bottom half of the range" or "full reps"; 0 where none stands there."""
    step = at
    while typed[step].word in ("in", "the", "at", "from"):
        step += 1
    if typed[step].word == "full":
        end = typed.sees(step + 1, "rep") or step + 1
        return end + (typed[end].word in ("range", "rom"))
    if typed[step].word not in listed("ends of the range") or typed[step + 1].word not in ("half", "third", "part"):
        return 0
    end = step + 2
    return end + 3 if typed[end].word == "of" and typed[end + 2].word in ("range", "movement", "rep") else end


def _mini_sets(typed: Typed, at: int) -> tuple[Fields, int]:
    """Read "4 x 4": so many short sets of so many; nothing and `at` where it does not stand there."""
    first = typed.amount(at)
    joint = _mini_joint(typed, first.end) if first and first.unit in ("", "set") else 0
    second = typed.amount(joint) if joint else None
    if first and second and second.unit in ("", "rep"):
        return {"mini_sets": first.figures, "mini_reps": second.figures}, second.end
    return {}, at


def _mini_joint(typed: Typed, at: int) -> int:
    """Return the piece behind "×" or "mini sets of"; 0 where neither stands there."""
    if typed[at].is_times:
        return at + 1
    if typed[at].word not in ("mini", "minis"):
        return 0
    end = at + 1 + typed[at + 1].is_dash  # "mini-sets"
    end = typed.sees(end, "set") or end
    return end + 1 if typed[end].word == "of" else 0


def _and_mini_sets(typed: Typed, at: int) -> tuple[Fields, int]:
    """Read "12 + 4 x 4": a first set, and short ones behind it."""
    plus = typed.amount(at)
    if not plus or plus.unit or not typed.is_mark(plus.end, "+"):
        return {}, at
    mini, end = _mini_sets(typed, plus.end + 1)
    return ({"reps": (plus.figures,), "sets": ONE, **mini}, end) if mini else ({}, at)


def _summed(found: Figures) -> Fields:
    """Return "12+4+4" as one set with pauses in it."""
    return {"cluster": whole(found), "reps": (exactly(sum(found.values)),), "sets": ONE}


def whole(found: Figures) -> tuple[int, ...]:
    """Return the figures of a list as counts."""
    return tuple(map(int, found.values))


def _myo(typed: Typed, at: int, given: Dose) -> Found | None:
    count = typed.amount(at)
    if count and not count.unit and count.is_single and not given.has_work and typed.sees(count.end, "myo"):
        counted = _myo(typed, count.end, given)  # "1 myo-rep set: 15 then 4 mini sets of 4"
        return counted and Found(counted.end, {**counted.fields, "sets": count.figures})
    end = typed.sees(at + typed.is_mark(at, "+"), "myo")
    if not end:
        return None
    while typed[end].word in listed("behind myo") or (typed[end].text and typed[end].text in ":-–.,"):
        end += 1
    activation, behind = _and_mini_sets(typed, end)
    if activation:
        return Found(behind, {"myo": True, **activation})
    mini, behind = _mini_sets(typed, end) if given.reps else (Fields(), end)
    if mini:
        return Found(behind, {"myo": True, **mini, "adds": True})
    summed = typed.figures(end, "+")
    if summed and not summed.unit:
        return Found(summed.end, {"myo": True, **_summed(summed)})
    return _first_set(typed, end) or Found(
        end, {"myo": True, "sets": ONE} if given.has_work and given.sets is None else {"myo": True}
    )


def _first_set(typed: Typed, at: int) -> Found | None:
    """Read "15-20, then 4 x 5" behind "myo-reps"."""
    amount = typed.amount(at)
    if amount and amount.low == 1 and typed[amount.end].is_times:
        amount = typed.amount(amount.end + 1)  # "myo-reps: 1 x 15, then …"
    if not amount or amount.unit not in ("", "rep") or typed.is_mark(amount.end, "/"):
        return None
    fields: Fields = {"myo": True, "reps": (amount.figures,), "sets": ONE}
    step = amount.end + typed.is_mark(amount.end, ",")
    mini, end = _mini_sets(typed, step + (typed[step].word in ("then", "+")))
    return Found(end, {**fields, **mini}) if mini else Found(amount.end, fields)


def _rest_pause(typed: Typed, at: int, given: Dose) -> Found | None:
    end = typed.sees(at, "restpause")
    if not end:
        return None
    end = typed.sees(end, "set") or end
    end += typed.is_mark(end, ":")
    activation, behind = _and_mini_sets(typed, end)
    if activation:
        return Found(behind, {"rest_pause": True, **activation})
    summed = None if given.has_work else typed.figures(end, "/+")
    if summed and not summed.unit:
        return Found(summed.end, {"rest_pause": True, **_summed(summed)})
    is_set = not given.sets and not given.has_work and "set" in (typed[end - 1].word, typed[at + 1].word)
    return Found(end, {"rest_pause": True, "sets": ONE} if is_set else {"rest_pause": True})


# ---- drops


def _drops(typed: Typed, at: int, given: Dose) -> Found | None:
    begin, last = at, typed.sees(at, "last")
    if last:
        at = last + (typed[last].text in (":", "-", "–"))
    at += typed.is_mark(at, "+")
    fields, end = _named_drops(typed, at)
    if end == begin or not end:
        return None
    if "load" in fields:
        return Found(end, fields)
    if behind := typed.sees(end, "last"):
        last = end = behind
    if last:
        fields["drop_last"] = True
    elif typed.typed(at, end).lower() in ("drop", "drops") and not (given.has_work or given.sets):
        return None
    step = end + (typed[end].word in ("of", "by", "@"))
    size = typed.amount(step + (typed[step].word in ("about", "approx", "~")))
    if size and size.unit == "percent":
        fields["words"], end = [typed.typed(at, size.end)], size.end
    return Found(end, {"drop_set": True, **fields})


def _named_drops(typed: Typed, at: int) -> tuple[Fields, int]:
    """Read "run the rack", "double drop set", "2 drops", "1 dropset", "drop set x 2"; 0 where none stands there."""
    if end := typed.sees(at, "rack"):
        times = typed.amount(end + 1) if typed[end].is_times else None
        return ({"sets": times.figures}, times.end) if times and not times.unit else ({}, end)
    for count, meaning in enumerate(("double", "triple"), 2):
        if end := typed.sees(at, meaning):
            return {"drops": count}, end
    amount = typed.amount(at)
    end = typed.sees(amount.end, "drops") if amount and amount.unit == "" and amount.is_single else 0
    if amount and end:
        is_set = "set" in typed.typed(amount.end, end).lower().replace("-", "")
        return {"sets": amount.figures, "adds": True} if is_set else {"drops": int(amount.low)}, end
    return _drops_behind(typed, at)


def _drops_behind(typed: Typed, at: int) -> tuple[Fields, int]:
    """Read "drops 60-50-40" and "drop set x 2"."""
    end = typed.sees(at, "drops")
    if not end:
        return {}, 0
    loads = typed.figures(end, "-/")
    if loads and loads.unit in ("", "kg", "lb"):
        load = TypedLoad(loads.unit or "mass", by_set=loads.values)
        return {"drops": len(loads.values) - 1, "load": load}, loads.end
    count = typed.amount(end + 1) if typed[end].is_times else None
    return ({"drops": int(count.low)}, count.end) if count and count.unit == "" else ({}, end)


# ---- clusters, partials, ladders


def _cluster(typed: Typed, at: int, given: Dose) -> Found | None:
    end = typed.sees(at, "cluster")
    if not end:
        return None
    end += typed.is_mark(end, ":")
    summed = typed.figures(end, "+/")
    if summed and not summed.unit:
        return Found(summed.end, {"cluster": whole(summed), "adds": True})
    return Found(end, {} if given.cluster else {"cluster": (-1,)})


def _partials(typed: Typed, at: int, _given: Dose) -> Found | None:
    """Read "+ 5 partials" and "last set 5 partials"."""
    last = typed.sees(at, "last")
    step = last or at
    step += typed.is_mark(step, "+,:")
    amount = typed.amount(step) if step > at else None
    end = typed.sees(amount.end, "partials") if amount and amount.unit == "" else 0
    if not amount or not end:
        return None
    fields: Fields = {"partials": amount.figures}
    if last:
        fields["words"] = [typed.typed(at, end)]
    return Found(end, fields)


def _ladder(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read figures joined by dashes or behind "ladder" or "wave" as the repetitions of set after set."""
    if waves := _waves(typed, at, given):
        return waves
    end = typed.sees(at, "ladder", "wave")
    begin = (end + (typed[end].text in (":", "("))) if end else at
    found = typed.figures(begin, "-/," if end else "-")
    if not found or found.unit not in ("", "rep") or len(found.values) < 3 or given.reps:
        return None
    is_tempo = not end and len(found.values) == 4 and max(found.values) < 4
    is_product = end and typed[found.end].is_times and typed.amount(found.end + 1)
    if is_tempo or is_product:
        return None
    return Found(found.end + (typed.is_mark(found.end, ")") and begin > end), each_of(found))


def _waves(typed: Typed, at: int, given: Dose) -> Found | None:
    """Read "waves 3/2/1 x 2: 80/85/90, 82/87/92 %": the same repetitions again, with a load for each set."""
    end = typed.sees(at, "wave")
    reps = typed.figures(end + (typed[end].text == ":"), "/-") if end else None
    times = typed.amount(reps.end + 1) if reps and typed[reps.end].is_times else None
    if not reps or not times or times.unit or not times.is_single or given.has_work:
        return None
    loads: list[Figures] = []
    step = times.end + (typed[times.end].text in (":", "@", ","))
    while (found := typed.figures(step, "/")) and len(found.values) == len(reps.values):
        loads.append(found)
        step = found.end + (typed[found.end].text in (",", ";"))
    unit = {"percent": "percent_1rm", "kg": "kg", "lb": "lb"}.get(loads[-1].unit) if loads else None
    if len(loads) != times.low or unit is None:
        return None
    by_set = tuple(value for one in loads for value in one.values)
    ranges = reps.ranges * len(loads)
    return Found(loads[-1].end, {"reps": ranges, "sets": exactly(len(ranges)), "load": TypedLoad(unit, by_set=by_set)})


def each_of(found: Figures) -> Fields:
    """Return a list as the repetitions of one set each."""
    fields: Fields = {"reps": found.ranges, "sets": exactly(len(found.ranges))}
    return {**fields, "open_last": True} if found.is_open else fields
