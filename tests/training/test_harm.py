"""Which sentences urge people on to harm and which warn of it, as trainers write them."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from repslate.training.harm import harms, known_harms

URGES = [
    "Push through the pain.",
    "Work through your knee pain, it will go.",
    "Go on through knee pain.",
    "Keep going through the pain.",
    "Ignore knee pain.",
    "Ignore the pain in your shoulder.",
    "Ignore any discomfort.",
    "No pain, no gain.",
    "“No pain no gain” is our motto.",
    "Hold your breath for the whole set.",
    "Hold your breath throughout.",
    "Hold one big breath from the first step to the last.",
    "Let the back round at the bottom for a longer swing.",
    "Let the head sink, then pull hard with your hand and bounce.",
    "Let go of the band while it is stretched.",
    "It guarantees a shorter labour.",
    "It heals back pain.",
    "Hold\nyour breath through the entire round.",
    "Round your back at the bottom.",
    "Let go and round your lower back.",
    "Bounce the stretch.",
    "Bounce into the stretch.",
    "Bounce the bar off your chest.",
    "Lock your knees at the top.",
    "Snap your knees straight.",
    "Real lifters round their backs.",
    "Land with locked knees.",
    "Go until you throw up.",
    "Do not rest, push through the pain.",
    "Stay tight, but round your back.",
    "Don’t be shy: push through the pain.",
]
WARNS = [
    "Do not push through the pain.",
    "Never push through knee pain.",
    "Don’t push through pain.",
    "Press through the range without pain.",
    "Press through a pain-free range.",
    "Work through the full range, pain or not.",
    "Stop when you feel pain.",
    "Do not ignore knee pain.",
    "No pain, no gain is nonsense.",
    "Do not hold your breath for the whole set.",
    "Avoid holding your breath throughout.",
    "Breathe out instead of holding your breath through the set.",
    "Hold your breath for four seconds.",
    "Take a breath, brace, and stand up.",
    "Never round your back.",
    "If you round your back, the bell is too heavy.",
    "Do not round your back, bounce the stretch or lock your knees.",
    "Do not round your back and do not bounce.",
    "Keep the back from rounding.",
    "Lock the elbows.",
    "Never land on straight legs.",
    "Straighten the knee without snapping it.",
    "Walk through the hall.",
]


@pytest.mark.parametrize("sentence", URGES)
def test_urges_on(sentence: str) -> None:
    assert len(list(harms(sentence))) == 1


@pytest.mark.parametrize("sentence", WARNS)
def test_warns_of_it_or_speaks_of_something_else(sentence: str) -> None:
    assert list(harms(sentence)) == []


def test_a_rounded_back_is_the_movement_itself_in_a_stretch_and_locked_knees_in_a_hinge() -> None:
    assert list(harms("Round your back.", "mobility")) == []
    assert len(list(harms("Round your back.", "hinge"))) == 1
    assert list(harms("Lock your knees at the top.", "hinge")) == []
    assert len(list(harms("Lock your knees at the top.", "squat"))) == 1


def test_the_place_is_that_of_the_words() -> None:
    (urged,) = harms("Breathe.\nThen rest.\nPush *through*\nthe pain.")
    assert (urged.line, urged.words) == (2, "push through the pain")


def test_every_instruction_is_found_by_an_example() -> None:
    assert {urged.harm for sentence in URGES for urged in harms(sentence)} == set(known_harms())


@settings(deadline=None)  # the first of them compiles all patterns
@given(st.text(max_size=80))
def test_any_words_are_survived(words: str) -> None:
    assert all(urged.line <= words.count("\n") for urged in harms(words))
