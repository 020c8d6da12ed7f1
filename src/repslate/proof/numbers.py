"""What a file says of the time that the workout takes and of the sets that each muscle gets, in words and drawings."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from itertools import pairwise
from typing import Any

from repslate.model.quantity import Range, write_range
from repslate.proof.differences import FIGURE, Claim, Disagreement, quoted
from repslate.proof.expected import Expected, minutes
from repslate.proof.reading import Document, Piece, Role
from repslate.proof.wording import decimal, figures, integer, named, normal, number
from repslate.training.load import LoadRow

_RANGE = r"(\d+)(?:\s*(?:-|to)\s*(\d+))?"
_LENGTH = re.compile(rf"{_RANGE}\s*(min(?:ute)?s?|s|sec(?:ond)?s?|h|hours?)\b(\s+of\s+(?:work|rest))?")
_VALUE = re.compile(r"(?P<low>\d+½?|½)(?:\s*[-–]\s*(?P<high>\d+½?|½))?")
_NAMED_VALUE = re.compile(
    rf"(?P<name>[^:.]+(?::[^:.]+)?):\s*(?P<value>{_VALUE.pattern})(?:\s*(?P<unit>[a-z]+))?(?=\.|$)"
)
_SCALE = 1  # numbers alone in drawings, beyond which they must be a scale
_TICK = re.compile(r"(\d+)( min)?")
_ENERGY = re.compile(rf"{_RANGE}\s*kcal\b")
_MASS = re.compile(r"(\d+(?:\.\d+)?)(?:\s*[-–]\s*(\d+(?:\.\d+)?))?\s*(kg|lb)")


def compare_times(pieces: Sequence[Piece], expected: Expected) -> Iterator[Disagreement]:
    """Yield minutes of the session, its work and its rest, and kilocalories, that are not those that were computed."""
    time, energy = expected.numbers.time, expected.numbers.energy
    wanted = {
        "": ("the duration", time.total),
        "work": ("the time of work", time.work),
        "rest": ("the time of rest", time.rest),
    }
    for piece in pieces:
        text = normal(piece.text)
        for found in _LENGTH.finditer(text):
            what, seconds = wanted[(found[4] or "").strip().removeprefix("of ")]
            if _pair(found) != minutes(seconds) or not found[3].startswith("min"):
                claim = Claim(what, piece.text, piece.place)
                yield Disagreement(FIGURE, claim, quoted(write_range(minutes(seconds), "min")), expected.episode.span)
        for found in _ENERGY.finditer(text):
            said = _pair(found)
            tens = (
                Range(int(energy.low / 10 + Fraction(1, 2)) * 10, int(energy.high / 10 + Fraction(1, 2)) * 10)
                if energy
                else None
            )
            if said != tens:
                shown = quoted(write_range(tens, "kcal")) if tens else "no energy"
                yield Disagreement(FIGURE, Claim("the energy", piece.text, piece.place), shown, expected.episode.span)


def compare_drawings(document: Document, expected: Expected) -> Iterator[Disagreement]:
    """Yield figures in drawings that are not those that were computed, and scales whose steps are uneven."""
    drawn = [piece for piece in document.pieces if piece.role is Role.DRAWING]
    sets = muscle_sets(expected)
    for piece in drawn:
        times = block_minutes(expected)
        for found in _NAMED_VALUE.finditer(piece.text):
            name = named(found["name"])
            is_time = name in times
            wanted = next(times[name], None) if is_time else sets.get(name)
            unit = "min" if is_time else None
            if wanted is not None and (_value(found["value"]) != wanted or found["unit"] != unit):
                yield _unlike(found["name"].strip(), piece, wanted, expected)
    yield from compare_times([piece for piece in drawn if normal(piece.text).startswith("the session:")], expected)
    yield from _beside(drawn, sets, expected)
    yield from compare_scale([piece for piece in drawn if not _follows_muscle(drawn, piece, sets)], expected)


def compare_scale(pieces: Sequence[Piece], expected: Expected) -> Iterator[Disagreement]:
    """Yield a figure of the time bar's scale that is not the next step: "0 min", 5, 10 and so on to the end."""
    step, due = 0, None
    bare = [piece for piece in pieces if _TICK.fullmatch(piece.text.strip())]
    if len(bare) > _SCALE and not any(piece.text.strip().endswith("min") for piece in bare):
        yield _tick(bare[0], 0, expected)
        return
    for piece in pieces:
        found = _TICK.fullmatch(piece.text.strip())
        if found is None:
            due = None
            continue
        value = integer(found[1])
        if found[2]:
            due, step = value, 0
            if value:
                yield _tick(piece, 0, expected)
                return
            continue
        if due is None:
            continue
        step = step or value
        due += step
        if value != due:
            yield _tick(piece, due, expected)
            return


def muscle_sets(expected: Expected) -> Mapping[str, Range[Fraction]]:
    """Return the sets that each muscle gets, to the nearest half, by the name that a reader sees."""
    return {named(row.shown): Range(_half(row.total.low), _half(row.total.high)) for row in expected.numbers.muscles}


def block_minutes(expected: Expected) -> Mapping[str, Iterator[Range[Fraction]]]:
    """Return the whole minutes of each block by its name, in order where several share it."""
    found: dict[str, list[Range[Fraction]]] = {}
    for block, spent in zip(expected.blocks, expected.numbers.time.blocks, strict=True):
        whole = minutes(spent.total)
        found.setdefault(named(block.block.name), []).append(Range(Fraction(whole.low), Fraction(whole.high)))
    return {name: iter(times) for name, times in found.items()}


def compare_loads(pieces: Sequence[Piece], expected: Expected) -> Iterator[Disagreement]:
    """Yield rows of a table of loads, "100 kg 75 kg", that are not the maximum and the load that were computed."""
    rows: dict[tuple[Fraction, str], list[tuple[Fraction, Fraction]]] = {}
    for loads in (one for each in expected.numbers.loads.values() for one in each):
        for row in loads.rows:
            rows.setdefault((row.maximum, loads.unit), []).append(_load(row))
    for piece in pieces:
        if piece.role is Role.CAPTION:
            yield from _share(piece, expected)
        if found := load_row(piece):
            (low, _, unit), load = found
            wanted = rows.get((decimal(low or ""), unit), [])
            if _ends(load) not in wanted:
                shown = quoted(write_range(Range(*wanted[0]), unit)) if wanted else "a maximum of the table"
                yield Disagreement(
                    FIGURE, Claim("a row of the loads", piece.text, piece.place), shown, expected.episode.span
                )


def load_row(piece: Piece) -> list[tuple[str | Any, ...]]:
    """Return the maximum and the load of a row such as "100 kg 75 kg", [] for any other piece."""
    found = [match.groups() for match in _MASS.finditer(piece.text)]
    return found if len(found) == 2 and not _MASS.sub("", piece.text).strip() else []


def _share(piece: Piece, expected: Expected) -> Iterator[Disagreement]:
    """Yield the share of the maximum over a table of loads where it is another."""
    for one in expected.exercises:
        loads = expected.numbers.loads.get(one.exercise.id, ())
        if not loads or not piece.text.startswith(f"{one.exercise.label} "):
            continue
        said = {figure.value for figure in figures(piece.text) if figure.unit == "%"}
        said |= {figure.value for figure in figures(piece.text)[:-1] if figure.unit == ""} if said else set()
        shares = [
            {Fraction(int(end * 10 + Fraction(1, 2)), 10) for end in (each.percent.low, each.percent.high)}
            for each in loads
        ]
        wanted = next((share for share in shares if share <= said), shares[0])  # of one of its parts
        if not wanted <= said:
            claim = Claim(f"the share of the maximum of {one.called}", piece.text, piece.place)
            yield Disagreement(
                FIGURE, claim, quoted(write_range(Range(min(wanted), max(wanted)), "%")), one.exercise.span
            )


def _load(row: LoadRow) -> tuple[Fraction, Fraction]:
    ends = (row.exact.low, row.exact.high) if row.loaded is None else (row.loaded[0].load, row.loaded[1].load)
    low, high = (Fraction(int(end * 4 + Fraction(1, 2)), 4) for end in ends)
    return low, high


def _ends(load: tuple[str | None, ...]) -> tuple[Fraction, Fraction]:
    return decimal(load[0] or ""), decimal(load[1] or load[0] or "")


def _beside(drawn: Sequence[Piece], sets: Mapping[str, Range[Fraction]], expected: Expected) -> Iterator[Disagreement]:
    """Yield the sets that stand beside a muscle's name as a text of their own."""
    for name, piece in pairwise(drawn):
        wanted = sets.get(named(name.text))
        if wanted is not None and _VALUE.fullmatch(piece.text.strip()) and _value(piece.text) != wanted:
            yield _unlike(name.text, piece, wanted, expected)


def _follows_muscle(drawn: Sequence[Piece], piece: Piece, sets: Mapping[str, Range[Fraction]]) -> bool:
    at = drawn.index(piece)
    return at > 0 and named(drawn[at - 1].text) in sets


def _unlike(name: str, piece: Piece, wanted: Range[Fraction], expected: Expected) -> Disagreement:
    claim = Claim(f"the figure of {name}", piece.text, piece.place)
    return Disagreement(FIGURE, claim, quoted(write_range(wanted)), expected.episode.span)


def _tick(piece: Piece, due: int, expected: Expected) -> Disagreement:
    return Disagreement(
        FIGURE, Claim("the scale of the session", piece.text, piece.place), quoted(str(due)), expected.episode.span
    )


def _half(sets: Fraction) -> Fraction:
    return Fraction(int(sets * 2 + Fraction(1, 2)), 2)


def _pair(found: re.Match[str]) -> Range[int]:
    return Range(integer(found[1]), integer(found[2] or found[1]))


def _value(text: str) -> Range[Fraction]:
    found = _VALUE.search(text)
    if found is None:
        return Range(Fraction(0), Fraction(0))
    return Range(number(found["low"]), number(found["high"] or found["low"]))
