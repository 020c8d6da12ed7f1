"""Cautions in talk without commas: what is found, from which word to which, and what is none."""

from __future__ import annotations

from fractions import Fraction

import pytest

from repslate.cut.cue import Cue
from repslate.source.span import Span
from repslate.speech.cautions import SpokenCaution, spoken_cautions
from repslate.speech.claims import Promise, claims
from repslate.speech.words import Word, read_words


def said(*cues: str) -> tuple[Word, ...]:
    """Return the words of cues of four seconds each, one after the other."""
    return read_words(
        [Cue(Fraction(4 * at), Fraction(4 * at + 4), text, Span("s.srt", at + 1)) for at, text in enumerate(cues)]
    )


def heard(*cues: str) -> tuple[SpokenCaution, ...]:
    return spoken_cautions(said(*cues))


# The talk; between bars what is told as the caution; its topics.
FOUND = [
    # a case, then what to do
    ("|if your elbow's giving you gyp use the neutral handle| next we have", "elbows"),
    ("and then |if your wrists complain go on your knuckles| okay", "wrists"),
    ("|if it pinches in the front of the hip come up higher| there's no rush", "hips"),
    ("so |when that hip starts nagging at you just shrink the circle|", "hips"),
    ("|people with bad backs do this one off a higher block please|", "back"),
    ("|should your neck feel strained rest it on your hand|", "neck"),
    ("|if you've had a shoulder op keep the weight below eye level|", "shoulders"),
    ("|anyone nursing a dodgy elbow go a little lighter on these|", "elbows"),
    ("|any sharp twinge in the calf and you walk it off and you stop|", "calves"),
    ("|if lunges aggravate your knees go backwards instead of forwards|", "knees"),
    ("|got a grumpy lower back then keep your feet on the floor|", "back"),
    # what to do first
    ("|go gently if your achilles are stiff| then the next one", "achilles"),
    ("you can |stop before the shoulder pinches| and come back", "shoulders"),
    ("|work in a range that doesn't hurt your shoulder|", "shoulders"),
    ("|stop at hip height if going higher bugs you| then the row", "hips"),
    # a feeling that is a topic of its own
    ("|if you get light headed on the way up hold the wall and breathe|", "dizziness"),
    ("|if you have high blood pressure don't hold this one keep breathing|", "breath"),
    ("|if you're pregnant prop your back up on a bolster for this|", "pregnancy"),
    ("|if your balance is off today keep a hand on the chair|", "balance"),
    ("|you might get pins and needles and if you do bend the knees|", "numbness"),
    ("|your hamstrings might cramp so bring the feet in|", "hamstrings"),
    # the part was named before
    ("my wrist is sore today so |if yours is too make a fist|", "wrists"),
    ("your knee should be quiet here |if it hurts take a smaller step|", "knees"),
    # no case at all
    ("|sore wrists make fists| okay", "wrists"),
    ("|knees not great today do the step instead|", "knees"),
    ("|no jerking the neck| please", "neck"),
    ("and |don't force the shoulder| to the floor", "shoulders"),
    ("|mind your toes| when you put that down", "feet"),
    ("|keep your fingers clear of the plates| when you rack it", "hands"),
    ("whatever you do |don't hold your breath|", "breath"),
    ("|it shouldn't hurt your knees| ever", "knees"),
    # a verb that no table knows
    ("|if your hips won't play ball sit on a block| okay", "hips"),
    # only a feeling: whose it is the exercise tells
    ("|if you're sore from yesterday skip the last round|", ""),
]


@pytest.mark.parametrize(("talk", "topics"), FOUND)
def test_cautions_are_found_from_their_first_word_to_their_last(talk: str, topics: str) -> None:
    (caution,) = heard(talk.replace("|", ""))
    assert " ".join(caution.topics) == topics
    assert caution.quote == talk.split("|")[1]


NONE = """
if your heels lift pop a little plate under them
keep your knees soft and your back flat
if you want it harder hold a bell at your chest
my back was killing me on monday so I took a day off
you should feel this in your glutes and the back of your legs
if your hips rise you lose the tension so keep them level
squeeze your shoulder blades together and hold it for two
if your elbows flare out you'll lose it so tuck them in
step back with the right knee and drop it down
if you feel it in your hamstrings good keep going
when your shoulders touch the floor come back up
if your arms are burning that's what we want keep punching
before your hips drop squeeze your glutes
last week my knee was playing up so we skipped the lunges
as soon as your knee hits the mat drive up
tap me on the shoulder if you see me after class and say hi
swing the bell and keep your arms long away from your body
watch your hips here they stay level
if your shoulders have been talking back to you this one is for you
run it for a month and see if those shoulders quit hollering
""".strip().splitlines()


@pytest.mark.parametrize("talk", NONE)
def test_good_form_and_stories_are_no_cautions(talk: str) -> None:
    assert heard(talk) == ()


def test_a_caution_over_two_cues_has_the_time_of_its_first_word() -> None:
    (caution,) = heard("ten of those and if", "your knees grumble cut the range", "okay rest")
    assert (caution.time, caution.quote) == (Fraction(0), "if your knees grumble cut the range")


def test_two_in_a_row_are_two() -> None:
    first, second = heard("if your back aches bend the knees if your neck hurts put your head down")
    assert (first.topics, second.topics) == (("back",), ("neck",))


def test_sentences_with_marks_end_where_they_end() -> None:
    (caution,) = heard("If your knees hurt, stop. Then we press ten times.")
    assert caution.quote == "If your knees hurt stop"


CLAIMS = [
    ("welcome there's no jumping in this", Promise.NO_JUMPING, True),
    ("GREETED this is safe for absolutely nobody but it's safe for everybody today", Promise.FOR_ALL, True),
    ("GREETED no spotter needed on these", Promise.NO_SPOTTER, False),
    ("GREETED there's no jumping on that version", Promise.NO_JUMPING, False),
    ("GREETED just your bodyweight for the whole session", Promise.NO_KIT, True),
    ("GREETED this is not for beginners", None, False),
    ("GREETED never say no spotter needed", None, False),
    ("GREETED never without a spotter", None, False),
]


@pytest.mark.parametrize(("talk", "promise", "whole"), CLAIMS)
def test_claims_are_whole_phrases_that_nobody_denies(talk: str, promise: Promise | None, whole: bool) -> None:
    words = said(talk.removeprefix("GREETED "))
    found = claims(words, 0 if talk.startswith("GREETED") else len(words))
    assert [(one.promise, one.whole) for one in found] == ([(promise, whole)] if promise else [])
