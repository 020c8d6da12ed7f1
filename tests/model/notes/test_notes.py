"""Lines as coaches type them are read as they mean; of any text no word is lost, and none takes long."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from notes_notation import cases, meaning
from repslate.model.notes.gathered import TypedDay
from repslate.model.notes.lexicon import phrases
from repslate.model.notes.measured import figure
from repslate.model.notes.plan import read_notes
from repslate.source.bounds import DOSE, LINE, LINES

#: Words that mean nothing in any language of the readers.
MADE_UP = ("brellow", "quimbat", "snorveld", "Trundish", "wexle", "Öffling", "d'arvo", "half-plimm")
#: What coaches type, whole and in pieces.
PIECES = (
    *(
        "3x10",
        "4 x 8-10",
        "5×5",
        "12/10/8",
        "21-15-9",
        "10L",
        "5+",
        "3 sets of 8",
        "x 4",
        "2 rounds",
        "100",
        "½",
        "2 ½",
    ),
    *("@ 24 kg", "@ 70%", "@ RPE 8", "1:30", ":30", "90 s", "2 min", "0 s", "400 m", "12 cal", "2'30\"", "2h30", "21s"),
    *(
        "rest 60",
        "rest",
        "every 0 s",
        "every 90 s",
        "EMOM",
        "E2MOM",
        "AMRAP",
        "for time",
        "cap",
        "superset",
        "each side",
    ),
    *("max", "last set", "drop set", "myo-reps", "rest-pause", "1+1+1", "3010", "32X1", "3 s down", "tempo", "up to"),
    *(
        "bodyweight",
        "0.75 BW",
        "band",
        "heavy",
        "top set",
        "back-offs",
        "on",
        "off",
        "20/10",
        "of",
        "with",
        "w/",
        "per",
    ),
    *("(", ")", ",", ":", "-", "–", "+", "/", "@", "#", "*", "|", "…", "'", '"', "²", "٣", "1½", "e4s", "4,5rft", "0"),
    *("A1)", "B.", "2)", "- ", "Warm-up", "Circuit", "Day 2", "Part A:", "\n", "\n\n", "\t", "**", "##", "[x]"),
)


def _carried(found: object) -> Iterator[str]:
    """Yield every text that a reading holds."""
    if isinstance(found, str):
        yield found
    elif is_dataclass(found):
        for one in fields(found):
            yield from _carried(getattr(found, one.name))
    elif isinstance(found, (list, tuple)):
        for one in found:
            yield from _carried(one)


def _words(text: str) -> list[str]:
    return re.findall(r"[^\W_]+", text)


def _lost(text: str, days: list[TypedDay]) -> set[str]:
    """Return the words of a text that a reading does not hold."""
    return set(_words(text)) - set(_words(" ".join(_carried(days))))


@pytest.mark.parametrize(("typed", "means"), list(cases()))
def test_lines_are_read_as_they_mean(typed: str, means: str) -> None:
    assert meaning(typed) == means


@settings(max_examples=400, deadline=None)
@given(st.lists(st.sampled_from(PIECES + MADE_UP), max_size=24))
def test_no_word_that_means_nothing_is_lost(pieces: list[str]) -> None:
    text = " ".join(pieces)
    made_up = {word for one in MADE_UP for word in _words(one)} - {"d", "half"}
    assert not _lost(text, read_notes(text)) & made_up


@settings(max_examples=400, deadline=None)
@given(st.text(max_size=300))
def test_any_text_is_read_and_its_long_words_are_kept(text: str) -> None:
    known = set(phrases())
    lost = {word for word in _lost(text, read_notes(text)) if word.isalpha() and len(word) > 3}
    assert {word for word in lost if word.lower() not in known} == set()


@settings(max_examples=400, deadline=None)
@given(st.lists(st.sampled_from(PIECES), max_size=12).map("".join))
def test_pieces_without_blanks_are_read(text: str) -> None:
    assert read_notes(text)


def test_a_line_longer_than_a_prescription_is_carried() -> None:
    line = "Row 3x10, " * (DOSE // 10) + "done"
    [day] = read_notes(f"Squat 5x5\n{line}\nBench 3x5")
    assert day.unread == [(2, line)]
    assert [one.name for block in day.blocks for one in block.exercises] == ["Squat", "Bench"]


@pytest.mark.parametrize(
    "line",
    [
        "Squat 3x10 " * 9_000, "(" * 10_000, "Row " + "()" * 5_000, "[" + "1:00 " * 20_000, "1" * 100_000,
        *(sign.join(["12"] * 3_000) for sign in (",", "/", "-", "+", " x ")),
    ],
    ids=lambda line: f"{line[:8]}…{len(line)}",
)  # fmt: skip
def test_what_is_far_too_long_is_carried_whole(line: str) -> None:
    [day] = read_notes(f"Squat 5x5\n{line}")
    assert day.unread == [(2, line.strip())]


@pytest.mark.parametrize(
    "piece", ["(", "3x(", "1-", "1/", "1+", "3 x ", "8, ", "((8", "@ ", "12'", "x", "every 2 min ", "- "]
)
def test_the_longest_line_that_is_read(piece: str) -> None:
    assert len(read_notes((piece * DOSE)[:DOSE])) == 1


@pytest.mark.parametrize("line", ["heavy", "lunge", "A1 Row 3x10", "3 rounds:", "rest 60 s", "5 x 5"])
def test_as_many_lines_as_a_file_may_have(line: str) -> None:
    assert read_notes("Circuit:\n" + f"{line}\n" * (LINES // 4))


def test_a_figure_is_bounded() -> None:
    assert figure("9" * LINE) is None
