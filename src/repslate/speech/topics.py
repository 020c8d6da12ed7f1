"""Which mentions turn the talk: how much speaks for each that now an exercise is come to.

Trainers come to an exercise after a pause, with a word that turns to it, name it and say how it is done and how
often; asides name exercises too, with none of that.
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import fsum

from repslate.model.quantity import UNITS
from repslate.speech.mentions import Mention
from repslate.speech.phrases import listed
from repslate.speech.words import Word

# All of these are common practice, no source, gathered from talk.
_TURNS = listed("topics turns")
_ASIDES = listed("topics asides")
_DOING = listed("topics doing")
_NUMBERS = frozenset([*UNITS][:5]) | frozenset("12345")
_DENIES = frozenset("not isn't than never aren't".split())
_CASES = frozenset("if when unless whenever once".split())
_BACK = frozenset("back again round over".split())
_TO = frozenset("to with from at on".split())
_COUNTS = frozenset("first next last second third finally number lastly".split())
_LEADS = frozenset("it's for into these we've called a the these're with onto do got".split())
_ARTICLES = frozenset("a an the these those our some let's".split())
_SUBJECTS = frozenset("to you we can don't i not they".split())
_SOMEBODY = (["he"], ["she"], ["it"], ["that"], ["who"], ["which"], ["this"])
_MOVERS = frozenset("dumbbells bells arms hands legs elbows heels knees hips shoulders weights".split())
_PARTICLES = frozenset({"up", "down", "out", "over", "through", "back", "in"})
_VERBS = listed("topics verbs")
_CLOSE = 13  # words between a pause and a name in one sentence with it
_NEAR = 25  # words between a pause and the name it leads to
_FAR = 30  # … where no word turns to it
_GREETING = 45  # seconds
_HELLO = 40  # words: a stretch that begins among them belongs to the greeting
_END = 0.95  # of all words: from there on leave is taken
_TOLD = (("told", 3), ("told more", 6))  # words that tell how a movement is done
_LIKELY = 0.8  # likeness from which a name was likely misheard
_SILENCE = 1.4  # seconds beyond the speaking time of a cue that are a pause
_WORD = 0.36  # seconds that a word takes to say, on the average of labelled talk
_STOPS = 1 / 30  # sentences that end in a word, where people put stops into the subtitles

#: What speaks for and against a turn, fitted to labelled talk and rounded.
WEIGHTS = {
    "always": -2.3, "first after a pause": 1.9, "led in": -0.3, "led far": -0.7, "led farther": -0.6, "no pause": -0.4,
    "turning word": 0.9, "counted": 0.7, "presented": 0.2, "new": 0.6, "dosed": 1.9, "told": 1.1, "told more": 0.2,
    "whole name": 0.7, "spoken": 0.3, "misheard": 0.4, "misheard, one word": 0.4, "maybe misheard": -1.2,
    "one word": -1.4, "one word, plural": -1.4, "verb": -2.7, "aside": -0.8, "denied": -1.5, "case": -1.4,
    "back to": -3.0, "named twice": 0.6, "corrected": -2.0, "object": -0.4, "past": -2.5, "greeting": -2.1,
    "at the end": -1.7,
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Turn:
    """A mention that may turn the talk: the word where its sentence begins and how much speaks for it.

    `told` is how many words after it say how a movement is done.
    """

    mention: Mention
    start: int
    score: float
    told: int = 0
    reasons: frozenset[str] = frozenset()


class Turns:
    """Weighs mentions by what is said around them."""

    def __init__(self, words: Sequence[Word], doses: Sequence[int], frames: Sequence[int]) -> None:
        """`doses` are the words at which figures of work begin, `frames` those of rounds and rests, in order."""
        self.words = words
        self.texts = [word.text for word in words]
        self.ends = [start - 1 for start in self._starts()]
        self.doses, self.frames = doses, frames

    def _starts(self) -> Iterator[int]:
        """Yield the words that follow a pause: a cue lasts longer than it takes to say, or there is no other stop."""
        punctuated = sum(word.ends for word in self.words) > _STOPS * len(self.words)
        before = 0
        for at in range(1, len(self.words)):
            word, ended = self.words[at], self.words[at - 1].ends
            if word.cue == self.words[at - 1].cue:
                continue
            silence = float(word.start - self.words[before].start) - (at - before) * _WORD
            if silence > _SILENCE or (ended and not punctuated):
                yield at
            before = at

    def weigh(self, mentions: Sequence[Mention]) -> list[Turn]:
        """Return every mention with its weight, in order."""
        turns = []
        seen: set[str] = set()
        before = -1
        for index, (mention, after) in enumerate(zip(mentions, self._named_next(mentions), strict=True)):
            reasons = {*self._reasons(mention, after), *self._repeated(mention, mentions[index + 1 : index + 3])}
            if seen.isdisjoint(mention.names):
                reasons.add("new")
            if before < self.after_pause(mention.first):
                reasons.add("first after a pause")
            if "verb" not in reasons:
                before = mention.first
            if reasons.isdisjoint({"verb", "greeting", "another soon", "aside"}):
                seen.add(mention.names[0])
            # Rounded, so that weights which come to the same do so in whatever order they are added.
            score = round(fsum(WEIGHTS.get(reason, 0.0) for reason in reasons), 6)
            told = self.told(mention.last + 1, after)
            turns.append(Turn(mention, self.sentence(mention.first), score, told, frozenset(reasons)))
        return turns

    def _named_next(self, mentions: Sequence[Mention]) -> list[int]:
        """Return for each mention where the next exercise is clearly named after it."""
        after, found = len(self.words), []
        for mention in reversed(mentions):
            found.append(after)
            if self._is_clear(mention):
                after = mention.first
        return found[::-1]

    def _repeated(self, mention: Mention, later: Sequence[Mention]) -> Iterator[str]:
        """Yield whether a name is said again at once, or another takes the place of a slip."""
        if any(one.first - mention.last < 9 and set(mention.names) & set(one.names) for one in later):
            yield "named twice"
        if later and self._is_corrected(mention, later[0]):
            yield "corrected"

    def _is_corrected(self, mention: Mention, after: Mention) -> bool:
        """Tell whether another name takes the place of a slip: "the double press, devil press, sorry"."""
        said = self.texts[mention.last + 1 : after.first] + self.texts[after.last + 1 : after.last + 2]
        return after.first - mention.last <= 4 and not {"sorry", "mean", "rather"}.isdisjoint(said)

    def told(self, word: int, until: int) -> int:
        """Return how many words from one on and before another, 25 at most, tell how a movement is done."""
        return sum(text in _DOING for text in self.texts[word : min(until, word + 25)])

    def is_dosed(self, word: int, within: int) -> bool:
        """Tell whether a figure of work is said within so many words after a word."""
        place = bisect_right(self.doses, word)
        return place < len(self.doses) and self.doses[place] <= word + within

    def is_framed(self, first: int, until: int) -> bool:
        """Tell whether a figure of rounds or rest is said from one word on, before another."""
        place = bisect_left(self.frames, first)
        return place < len(self.frames) and self.frames[place] < until

    def _is_verb(self, mention: Mention) -> bool:
        """Tell a plain verb ("walk back", "roll up") from the name of a movement: no dose and no plural follows."""
        said = self.texts[mention.first : mention.last + 1]
        plural = said[-1].endswith("s") and not said[-1].endswith("ss")
        if plural and len(said) == 1 and self.texts[mention.first - 1 : mention.first] in _SOMEBODY:
            return True
        if plural or mention.how or len(said) > 2 or (len(said) == 2 and said[-1] not in _PARTICLES):
            return False
        before = self.texts[mention.first - 1] if mention.first else ""
        if before in _ARTICLES:
            return False
        if before in _SUBJECTS or before in _MOVERS:
            return True
        return said[0] in _VERBS and not self.is_dosed(mention.last, 8)

    def sentence(self, word: int) -> int:
        """Return where the sentence begins that leads to a name: after the last pause, else at a word that turns."""
        pause = self.after_pause(word)
        if word - pause <= _CLOSE:
            return pause
        back = next((k for k in range(1, _CLOSE + 2) if self.texts[word - k] in _TURNS), 0)
        led = not back and word - pause <= _FAR and not self.is_framed(pause, word)
        return pause if led else word - back

    def after_pause(self, word: int) -> int:
        """Return the first word after the last pause before a word."""
        place = bisect_right(self.ends, word - 1)
        return self.ends[place - 1] + 1 if place else 0

    def _is_clear(self, mention: Mention) -> bool:
        several = mention.last > mention.first and (mention.how != "sound" or mention.likeness >= _LIKELY)
        return several and not self.is_aside(mention) and not self._is_verb(mention)

    def is_aside(self, mention: Mention) -> bool:
        """Tell whether a mention is made in passing, by the words before it."""
        return not _ASIDES.isdisjoint(self.texts[max(0, mention.first - 4) : mention.first])

    def _reasons(self, mention: Mention, after: int) -> Iterator[str]:
        """Yield what speaks for or against a mention; `after` is where the next exercise is named."""
        first, last = mention.first, mention.last
        yield "always"
        pause = first - self.after_pause(first)
        yield "led in" if pause <= 3 else "led far" if pause <= 12 else "led farther" if pause <= _NEAR else "no pause"
        yield from self._named_how(mention)
        yield from self._led_by(self.texts[first - min(pause, 7) : first])
        if self.is_aside(mention):
            yield "aside"
        following = self.texts[last + 1 : last + 2]
        if following in (["it"], ["them"], ["him"]):
            yield "object"
        if following in (["were"], ["was"]):
            yield "past"
        if self.is_dosed(last - 12, min(after, last + 60) - last + 12):
            yield "dosed"
        yield from [reason for reason, least in _TOLD if self.told(last + 1, after) >= least]
        if after - last < 8:
            yield "another soon"
        if last > len(self.texts) * _END:
            yield "at the end"
        if first - pause < _HELLO and self.words[first].start < _GREETING:
            yield "greeting"

    def _led_by(self, before: Sequence[str]) -> Iterator[str]:
        """Yield what the words of the same stretch before a name say, up to seven."""
        if not _TURNS.isdisjoint(before):
            yield "turning word"
        numbered = before[-1:] if before[-1:] != ["is"] else before[-2:]
        if not _COUNTS.isdisjoint(before[-4:]) or not _NUMBERS.isdisjoint(numbered):
            yield "counted"
        if not _LEADS.isdisjoint(before[-3:]):
            yield "presented"
        if not _DENIES.isdisjoint(before[-3:]):
            yield "denied"
        if not _CASES.isdisjoint(before):
            yield "case"
        if any(before[-k] in _TO and not _BACK.isdisjoint(before[-k - 2 : -k]) for k in (1, 2) if len(before) > k):
            yield "back to"

    def _named_how(self, mention: Mention) -> Iterator[str]:
        several = mention.last > mention.first
        if mention.how == "sound":
            sure = mention.likeness >= _LIKELY
            yield ("misheard" if sure else "maybe misheard") + ("" if several else ", one word")
        elif several:
            yield "whole name" if not mention.how else "spoken"
        else:
            plural = self.texts[mention.last].endswith("s")
            yield "one word, plural" if plural else "one word"
        if self._is_verb(mention):
            yield "verb"
