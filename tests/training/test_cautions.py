"""Which written cautions speak of a topic and which only use its words, in sentences as trainers write them."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from repslate.model.caution_topics import caution_topics
from repslate.model.episode import Caution, Words
from repslate.model.library import load
from repslate.source.span import Span
from repslate.training.cautions import asks_for_spotter, mentions, speaks_of

HERE = Span("workout.md", 9, 1)
WRITTEN = {slug for slug, topic in caution_topics().items() if topic.written}

SPEAKS = [
    ("spotter", "Use a spotter or safety arms."),
    ("spotter", "Set the safeties just below the chest."),
    ("spotter", "Always be spotted when it gets heavy."),
    ("spotter", "Have someone spot you."),
    ("spotter", "Squat inside a power rack."),
    ("spotter", "Never bench without a spotter."),
    ("spotter", "Do not lift heavy with no spotter."),
    ("spotter", "No pressing unless a spotter is there."),
    ("spotter", "If you have no spotter, take dumbbells."),
    ("spotter", "Don’t lift alone: someone stands behind the bar."),
    ("spotter", "Use a spotter, there is no need for a rack."),
    ("spotter", "Do not drop the bar on the safeties."),
    ("spotter", "If you train alone, set the safeties."),
    ("spotter", "Training alone? Use the safeties."),
    ("spotter", "Never lift alone, always with a spotter and never with a thumbless grip."),
    ("clear area", "Nobody stands near while you lift."),
    ("clear area", "Lift without a spotter and know how to bail."),
    ("clear area", "Learn to let the bar drop in front of you."),
    ("back", "Stop when your back rounds."),
    ("back", "Keep a long, neutral spine."),
    ("back", "Do not round your back."),
    ("back", "Fold at the hips."),
    ("back", "Your lower back should feel nothing."),
    ("shoulders", "Leave it out if the shoulder pinches."),
    ("shoulders", "Stop when the upper arms are parallel to the floor."),
    ("knees", "A kneecap that hurts wants a smaller squat."),
    ("breath", "Never hold your breath."),
    ("landing", "Hop low and come down on a dry floor."),
    ("landing", "Land like a cat."),
    ("landing", "No hop if the knees complain."),
    ("band", "Check the anchor first."),
    ("band", "Look for cracks."),
    ("band", "Throw a torn band away."),
    ("chair", "Use one without wheels."),
    ("chair", "Put its back against a wall."),
    ("chair", "Make sure that it cannot slide."),
    ("balance", "Stay near a wall if you sway."),
    ("balance", "Hold on to something firm."),
    ("dizziness", "Stand up slowly."),
    ("dizziness", "Feeling light-headed? Sit down."),
    ("dizziness", "Not with glaucoma."),
    ("space", "Keep two metres free in front."),
    ("space", "Dry your hands, so the bell cannot fly."),
    ("grip", "Step down on to a box."),
    ("wrists", "Use your fists or handles."),
    ("neck", "Do not pull on your head."),
    ("experience", "For experienced lifters, after a full warm-up."),
    ("failure", "Leave one or two in reserve."),
    ("pace", "New to this? Do fewer."),
]
DOES_NOT = [
    ("spotter", "No need for a spotter."),
    ("spotter", "There is no need for a spotter or safeties."),
    ("spotter", "You don't need a spotter here."),
    ("spotter", "You need no spotter for this."),
    ("spotter", "A spotter is not needed."),
    ("spotter", "Safeties are optional."),
    ("spotter", "Lift without a spotter."),
    ("spotter", "Nobody acts as a spotter."),
    ("spotter", "A spotter is for beginners only."),
    ("spotter", "Train alone, thumbless grip, safeties or not."),
    ("spotter", "Pick a spot on the wall."),
    ("spotter", "Put the bar back in the rack."),
    ("spotter", "Keep the elbows half way in."),
    ("clear area", "Use a spotter."),
    ("back", "Step back and lie on your back."),
    ("back", "Put the bell back on the floor."),
    ("shoulders", "Stand with the feet at shoulder-width."),
    ("knees", "Land with bent knees."),
    ("band", "Wear closed shoes."),
    ("band", "Snap the hips."),
    ("chair", "Tip forward from the hips."),
    ("balance", "Do not bounce."),
    ("dizziness", "Lift slowly."),
    ("breath", "Forget about the breath."),
    ("landing", "No need for soft knees."),
    ("neck", "Keep your back flat."),
]


def caution(words: str, topic: str | None = None) -> Caution:
    return Caution(topic, Words(words, HERE))


@pytest.mark.parametrize(("topic", "words"), SPEAKS)
def test_speaks_of_its_topic(topic: str, words: str) -> None:
    assert speaks_of(caution(words), topic)
    assert mentions(words, topic)


@pytest.mark.parametrize(("topic", "words"), DOES_NOT)
def test_does_not_speak_of_it(topic: str, words: str) -> None:
    assert not speaks_of(caution(words), topic)


@pytest.mark.parametrize(
    ("named", "words", "topic", "speaks"),
    [
        ("knees", "Stop above any depth that hurts.", "knees", True),
        ("Lower back", "Stay long and still.", "back", True),
        ("falls", "The seat stands at the wall.", "balance", True),
        ("spotter", "Ask for one from 80 % on.", "spotter", True),
        ("spotter", "None needed.", "spotter", False),
        ("spotter", "Lift without a spotter.", "spotter", False),
        ("knees", " ", "knees", False),
        ("knees", "Stop above any depth that hurts.", "spotter", False),
    ],
)
def test_brackets_count_unless_the_words_dismiss_them(named: str, words: str, topic: str, speaks: bool) -> None:
    assert speaks_of(caution(words, named), topic) is speaks


@pytest.mark.parametrize(
    ("named", "words", "topic", "speaks"),
    [
        ("spotter", "Use one.", "spotter", True),
        ("spotter", "Spotter.", "spotter", True),
        ("spotter", "Drop in front.", "spotter", False),
        ("space", "Same rules.", "clear area", False),
        ("space", "Nobody near the platform.", "clear area", True),
        ("landing", "Enjoy it.", "landing", False),
    ],
)
def test_where_the_sentence_counts_brackets_are_not_enough(named: str, words: str, topic: str, speaks: bool) -> None:
    assert speaks_of(caution(words, named), topic, in_words=True) is speaks


@pytest.mark.parametrize(
    ("words", "asks"),
    [
        ("Use a spotter.", True),
        ("Be spotted when it is heavy.", True),
        ("Never lift without a spotter.", True),
        ("Lift without a spotter.", False),
        ("Do not let anyone be a spotter.", False),
        ("No spotter: nobody catches a bar.", False),
        ("Nobody may stand in as a spotter.", False),
        ("Lift inside a rack.", False),
        ("Look at one spot.", False),
    ],
)
def test_who_asks_for_a_spotter(words: str, asks: bool) -> None:
    assert asks_for_spotter(words) is asks


def test_the_caution_one_could_write_speaks_of_its_hazard() -> None:
    for trait in load().traits.values():
        for topic in trait.topics:
            assert mentions(trait.example, topic), (trait.slug, topic)
        assert (
            not asks_for_spotter(trait.example) or "spotter" in trait.topics or trait.slug in {"max-load", "to-failure"}
        )


def test_every_topic_that_is_written_of_is_a_hazards() -> None:
    assert {topic for trait in load().traits.values() for topic in trait.topics} == WRITTEN


@settings(deadline=None)  # the first of them compiles all patterns
@given(st.text(max_size=80), st.text(max_size=10) | st.none())
def test_any_words_are_survived(words: str, named: str | None) -> None:
    for topic in WRITTEN:
        speaks_of(caution(words, named), topic)
    assert not (asks_for_spotter(words) and "spot" not in words.casefold())
