"""Where exercises are named: whole names, what a machine misheard for them, and what only sounds a little like one."""

from __future__ import annotations

from fractions import Fraction

import pytest

from repslate.model.forms import BlockKind
from repslate.model.library import load
from repslate.speech.discover import names_in, names_of
from repslate.speech.mentions import Names
from repslate.speech.naming import nicknames
from repslate.speech.plan import Part, Subject
from repslate.speech.sounds import key, keys
from repslate.speech.words import Word

LIBRARY = load()
NAMES = names_of(LIBRARY)


def said(text: str) -> tuple[Word, ...]:
    """Return the words of one breath; "|" ends a thought."""
    words: list[Word] = []
    for text_of in text.split():
        if text_of == "|":
            words[-1] = Word(words[-1].text, words[-1].shown, 0, Fraction(0), ends=True)
        else:
            words.append(Word(text_of, text_of, 0, Fraction(0)))
    return tuple(words)


def heard(text: str, names: Names = NAMES) -> list[str]:
    """Return the names that a text mentions, with how, the likeliest meaning of each."""
    return [f"{one.names[0]}{f' ({one.how})' if one.how else ''}" for one in names.find(said(text))]


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("then goblet squats", ["Goblet squat"]),
        ("body weight squats", ["Bodyweight squat"]),  # split
        ("kettle bell swings", ["Kettlebell swing"]),
        ("one arm dumbbell row", ["Single-arm dumbbell row"]),
        ("press ups now", ["Push-up"]),
        ("march on the spot", ["March on the spot"]),
        ("side plank from the knees", ["Side plank from knees"]),  # the longest name counts, small words or not
        ("an rdl and a deadlift", ["Romanian deadlift", "Deadlift"]),
        ("push the sled", ["Sled push (spoken)"]),  # told to do
        ("roll your shoulders", ["Shoulder rolls (spoken)"]),
        ("some side laterals", ["Lateral raise (spoken)"]),  # a nickname
        ("goblet squats hold it high", ["Goblet squat"]),  # not a goblet squat hold
        ("bird | dog", []),  # no name runs over the end of a thought
    ],
)
def test_names_are_found_as_said(text: str, expected: list[str]) -> None:
    assert heard(text) == expected


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        ("gobbler squats", "Goblet squat"),
        ("ham a curls", "Hammer curl"),  # an r that half of the voices do not say
        ("flaw presses", "Dumbbell floor press"),
        ("pull up arts", "Band pull-apart"),  # more than the whole name in it
        ("back's quats", "Back squat"),  # the s of the next word
        ("kettle bells wings", "Kettlebell swing"),
        ("sitter stand", "Sit-to-stand"),
        ("a doctor rock backs", "Adductor rock-back"),
        ("sue pine twist", "Supine twist"),
        ("palo of press", "Pallof press"),
        ("good mourning", "Good morning"),
        ("burp ease", "Burpee"),
        ("row mainly and dead lift", "Romanian deadlift"),
        ("in verted rose", "Inverted row"),
        ("chess supported rows", "Chest-supported row"),  # not the "supported row" in it
    ],
)
def test_mis_hearings_are_found_by_sound(text: str, expected: str) -> None:
    assert heard(text) == [f"{expected} (sound)"]


@pytest.mark.parametrize(
    "text",
    [
        "keep your chest up and your hips back",  # not a chest dip
        "step back and stand tall",  # not a step jack
        "sit down between your knees",
        "after the carry we rest",
        "your shoulder goes first",
        "one drop on the last set",
        "a touch wider than your hips",
        "grab the rope and turn round",
        "welcome back to the shed",
        "rest a minute and go again",
    ],
)
def test_common_words_are_not_misheard_for_a_name(text: str) -> None:
    assert heard(text) == []


def test_a_plan_is_named_by_the_ends_of_its_names_too() -> None:
    entry = LIBRARY.entries["Kettlebell swing"]
    plan = (Part("Circuit", BlockKind.CIRCUIT, (Subject("swing", "Two-hand kettlebell swing", entry),)),)
    assert heard("the swings were five sets", names_in(plan)) == ["swing"]
    assert heard("two hand kettlebell swings", names_in(plan)) == ["swing"]


def test_every_nickname_is_of_an_entry_and_new() -> None:
    meant_twice = {"standing on one leg"}  # with a chair or without: only the talk around it tells
    known = {name.lower() for entry in LIBRARY.entries.values() for name in (entry.name, *entry.aliases)}
    for entry in LIBRARY.entries.values():
        assert known.isdisjoint({name.lower() for name in nicknames(entry.name)} - meant_twice)
        for name in nicknames(entry.name):
            assert any(entry.name in one.names for one in NAMES.find(said(name))), name


@pytest.mark.parametrize(
    ("one", "two"),
    [("hammer", "hama"), ("floor", "flaw"), ("squat", "skwot"), ("dumb bell", "dumbbell"), ("pec deck", "pecked eck")],
)
def test_what_sounds_the_same_has_one_key(one: str, two: str) -> None:
    assert set(keys(one.split())) & set(keys(two.split()))


@pytest.mark.parametrize(("one", "two"), [("row", "raise"), ("lunge", "plank"), ("curl", "crunch")])
def test_what_sounds_different_has_not(one: str, two: str) -> None:
    assert key([one]) != key([two])
