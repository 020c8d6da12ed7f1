"""What turns the talk and what is said in passing; which blocks and exercises talk tells, and what they are called.

Each talk is written as subtitles would show it: one cue a line, an empty line for a pause of six seconds.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

import pytest

from repslate.cut.chapters import Chapter
from repslate.cut.cue import Cue
from repslate.model.library import load
from repslate.source.span import Span
from repslate.speech.discover import discover, follow
from repslate.speech.figures import hear
from repslate.speech.grammar import grammar
from repslate.speech.plan import Part, Topic
from repslate.speech.words import Word, read_words

LIBRARY = load()
GRAMMAR = grammar(LIBRARY)
SPAN = Span("subtitles.srt")

HELLO = """
hello and welcome back to the shed my name's Petra and the kettle is
on for afterwards so today we're going to get through a fair bit of
work and there'll be swings and a few lunges and some talking
too and I'll be here all the way through with you so grab a drink
"""
BYE = """

so that's everything for today thank you for
watching and mind the step on your way out bye now
"""


def talk(text: str) -> tuple[Word, ...]:
    """Return the words of a talk: 0.37 s a word, six seconds more before a line that follows an empty one."""
    cues: list[Cue] = []
    at, pause = Fraction(0), False
    for line in text.strip().splitlines():
        if not line.strip():
            pause = True
            continue
        at += 6 if pause else 0
        length = Fraction(37, 100) * len(line.split())
        cues.append(Cue(at, at + length, line, SPAN))
        at, pause = at + length, False
    return read_words(cues)


def gathered(text: str) -> tuple[tuple[Part, ...], tuple[Topic, ...], tuple[Word, ...]]:
    words = talk(HELLO + "\n" + text + BYE)
    parts, topics = discover(words, LIBRARY, hear(words, GRAMMAR))
    return parts, topics, words


def names(parts: Iterable[Part]) -> list[str]:
    return [subject.name for part in parts for subject in part.subjects]


def begins(topic: Topic, words: tuple[Word, ...]) -> str:
    """Return the first three words that a topic begins with."""
    return " ".join(word.text for word in words[topic.word : topic.word + 3])


SWINGS = """
then kettlebell swings feet wide hinge at the hips and snap
the bell up to your chest that's fifteen to twenty reps and keep your back flat
"""
LUNGES = """
next up reverse lunges step back and drop the knee to the floor
hands on your hips chest tall ten reps on each leg
"""


def test_each_exercise_is_turned_to_at_the_pause_before_its_name() -> None:
    parts, topics, words = gathered(SWINGS + LUNGES)
    assert names(parts) == ["Kettlebell swing", "Reverse lunge"]
    assert [begins(one, words) for one in topics] == [
        "hello and welcome", "then kettlebell swings", "next up reverse", "so that's everything",
    ]  # fmt: skip
    assert [one.part for one in topics] == [None, 0, 0, None]
    assert topics[1].time == words[topics[1].word].start


@pytest.mark.parametrize(
    "aside",
    [
        "people always ask me about the goblet squats and no not today",
        "last week the goblet squats were far too long weren't they",
        "if that hurts do goblet squats instead and nobody will mind",
        "okay so back to the goblet squats elbows in and keep your chest tall",
        "it's not a goblet squat so don't sit down into it",
    ],
)
def test_names_in_passing_turn_nothing(aside: str) -> None:
    parts, topics, _ = gathered(SWINGS + f"\n{aside}\nand I mean that\n" + LUNGES)
    assert names(parts) == ["Kettlebell swing", "Reverse lunge"]
    assert len(topics) == 4


def test_one_word_is_short_for_a_name_said_a_little_before() -> None:
    again = "\nand the lunges want twelve reps of that chest tall elbows in and knees out over the toes all the way\n"
    assert names(gathered(SWINGS + LUNGES + again)[0]) == ["Kettlebell swing", "Reverse lunge"]


def test_the_last_stretch_takes_leave_even_in_words_that_nobody_knows() -> None:
    words = talk(HELLO + "\n" + SWINGS + "\n" + "cheerio then and give my love to everybody at your house " * 3)
    _, topics = discover(words, LIBRARY, hear(words, GRAMMAR))
    assert (begins(topics[-1], words), topics[-1].part) == ("cheerio then and", None)


def test_names_listed_ahead_begin_nothing_and_one_word_is_short_for_the_name_before() -> None:
    ahead = "\nokay circuit time it's swings and reverse lunges three rounds of that with a minute of rest\n"
    parts, topics, words = gathered(ahead + SWINGS + "\nand the swings again nice and crisp\n" + LUNGES)
    assert names(parts) == ["Kettlebell swing", "Reverse lunge"]
    assert [part.kind.value for part in parts] == ["Circuit"]
    assert [begins(one, words) for one in topics[1:3]] == ["okay circuit time", "then kettlebell swings"]
    assert (topics[1].part, topics[1].subject) == (0, None)


def test_other_sets_of_an_exercise_are_a_block_of_their_own() -> None:
    ramp = (
        """
first up back squats the bar sits on your shoulders feet a bit wider than the hips we ramp up
with two sets of five reps chest tall knees out and drive up through the floor
"""
        + "and I'll talk about my dog for a good while here because he is lovely and so on and so forth\n" * 4
    )
    parts, topics, words = gathered(ramp + "\nokay working sets now four sets of six reps keep your back tight\n")
    assert names(parts) == ["Back squat", "Back squat"]
    assert len(parts) == 2
    assert begins(topics[2], words) == "okay working sets"


@pytest.mark.parametrize(
    ("said", "expected"),
    [
        ("then romanian deadlifts with the kettlebell", "Kettlebell romanian deadlift"),  # a barbell would be meant
        ("on the cable machine it's curls straight bar", "Cable curl"),
        ("then press ups", "Press-up"),  # a dialect's full name
        ("then front planks", "Front plank"),  # a full name that was said stays
        ("then gobbler squats", "Goblet squat"),  # what was misheard gets the library's name
        ("the main event lap pull down", "Lat pulldown"),  # … not the name it was misheard for
        ("grab small weights for side laterals", "Lateral raise"),  # a nickname is no name to write
        ("good mornings hands on your hips", "Bodyweight good morning"),
        ("side plank from the knees or the feet", "Side plank"),  # what is left to the viewer
        ("reverse lunges and alternate left and right", "Alternating reverse lunge"),
    ],
)
def test_the_variant_is_told_by_the_kit_and_the_words(said: str, expected: str) -> None:
    dose = "\nkeep your back flat and your knees soft hips square ten reps of that on each side please\n"
    assert names(gathered(f"\n{said}{dose}")[0]) == [expected]


def test_a_session_on_a_chair_uses_the_movements_for_one() -> None:
    chair = HELLO + "you need a chair and put the chair against a wall\n"
    text = "\nsit tall and roll your shoulders up and back down ten reps of that arms and hands soft on your knees\n"
    words = talk(chair + text + BYE)
    assert names(discover(words, LIBRARY, hear(words, GRAMMAR))[0]) == ["Seated shoulder roll"]


def test_a_written_plan_is_followed_in_its_order() -> None:
    parts, found, words = gathered(SWINGS + LUNGES)
    said = hear(words, GRAMMAR)
    assert [(one.part, one.subject) for one in follow(words, parts, (), said)] == [(0, 0), (0, 1), (None, None)]
    chapters = [Chapter(Fraction(25), "Swings", SPAN, "kettlebell-swing"), Chapter(Fraction(60), "Wrap-up", SPAN)]
    topics = follow(words, parts, chapters, said)
    assert [(int(one.time), one.part, one.subject) for one in topics] == [(25, 0, 0), (60, None, None)]
    assert all(words[one.word].start >= one.time for one in topics)
    assert topics[0].word == found[1].word  # a chapter may begin a little before the cue


def test_an_exercise_that_nobody_names_begins_at_the_pause_before_it_is_told() -> None:
    parts, _, _ = gathered(
        SWINGS + "\nokay goblet squats sit tall between the knees ten reps elbows in chest up\n" + LUNGES
    )
    described = """

now hold it under your chin feet wide and sit down between your knees
elbows in chest up heels on the floor and we want twelve reps of that
"""
    filler = "I have nothing much to say about that but I will say it for a while and then some more\n" * 2
    words = talk(HELLO + "\n" + SWINGS + filler + described + filler + LUNGES + BYE)
    topics = follow(words, parts, (), hear(words, GRAMMAR))
    assert [(one.subject, begins(one, words)) for one in topics[:3]] == [
        (0, "then kettlebell swings"), (1, "now hold it"), (2, "next up reverse"),
    ]  # fmt: skip


def test_silence_turns_nothing() -> None:
    assert discover((), LIBRARY, ()) == ((), ())
    assert follow((), (), (), ()) == ()
