"""Which mentions turn the talk: how much speaks for each that now an exercise is come to.

Trainers come to an exercise after a pause, with a word that turns to it, name it and say how it is done and how often;
asides name exercises too, with none of that. Stands before discover.py, which makes turns of them.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from repslate.speech.mentions import Mention
from repslate.speech.words import Word

# All of these are common practice, no source, gathered from talk.
_TURNS = frozenset(
    "next then now first second third fourth last lastly finally onto into number okay ok right alright righto straight"
    " down up over so moving start starting finish finishing end ending let's lets grab lovely brilliant beautiful back"
    " get today's two three four here's and".split()
)
_SURE_TURNS = frozenset("okay ok right alright righto now next so then first last finally number moving let's".split())
_ASIDES = frozenset(
    "not don't like instead than ask asked asks called about did harder easier version remember video ever never"
    " hate loved used american people doing because before after unless without when which basically cousin".split()
)
_DOING = frozenset(
    "feet foot hands hand elbows elbow knees knee back chest heels heel hips hip hold sit stand lie lying grab palms toes"
    " shoulders shoulder thumbs arms arm legs leg squeeze push pull press drive lower lift bend hinge reach step chin floor"
    " ribs belly glutes bum butt backside tall wide straight soft slow tuck keep head bench bar bell handle rope band mat"
    " wall ground forward forwards weight grip core".split()
)
_STARTS = frozenset("start starting first open opening begin beginning kick number".split())
_COUNTS = frozenset("first next last second third finally number lastly".split())
_ARTICLES = frozenset("a an these those our some".split())
_SUBJECTS = frozenset("to you we can don't i not they".split())
_PARTICLES = frozenset({"up", "down", "out", "over", "through", "back", "in"})
_VERBS = frozenset(
    "hang walk run swing clean plank bridge twist step breath breathe press row curl lunge squat dip jump march hop skip"
    " reach raise lift fly carry hold plow plough shrug crunch sprint jog walking running marching breathing stretch roll"
    " windmill halo crawl thrust kick crab bear sit pull push".split()
)
_CLOSE = 13  # words between a pause and a name in one sentence with it
_NEAR = 25  # words between a pause and the name it leads to


@dataclass(frozen=True, slots=True)
class Turn:
    """A mention that may turn the talk: the word where its sentence begins and how much speaks for it.

    `told` is how many words after it say how a movement is done.
    """

    mention: Mention
    start: int
    score: float
    told: int = 0


class Turns:
    """Weighs mentions by what is said around them."""

    def __init__(self, words: Sequence[Word], doses: Sequence[int]) -> None:
        """`doses` are the words at which figures of work begin, in order."""
        self.words = words
        self.texts = [word.text for word in words]
        self.ends = [index for index, word in enumerate(words) if word.ends]
        self.doses = doses

    def weigh(self, mentions: Sequence[Mention]) -> list[Turn]:
        """Return every mention with its weight, in order."""
        named = [one for one in mentions if not self._is_verb(one)]
        turns = []
        for index, mention in enumerate(named):
            later = next((one for one in named[index + 1 :] if one.last > one.first and not self._is_aside(one)), None)
            after = later.first if later else len(self.words)
            told = sum(text in _DOING for text in self.texts[mention.last + 1 : mention.last + 26])
            turns.append(Turn(mention, self.sentence(mention.first), self._score(mention, after, told), told))
        return turns

    def is_dosed(self, word: int, within: int) -> bool:
        """Tell whether a figure of work is said within so many words after a word."""
        place = bisect_right(self.doses, word)
        return place < len(self.doses) and self.doses[place] <= word + within

    def _is_verb(self, mention: Mention) -> bool:
        """Tell a plain verb ("walk back", "roll up") from the name of a movement: no dose and no plural follows."""
        said = self.texts[mention.first : mention.last + 1]
        plural = said[-1].endswith("s") and not said[-1].endswith("ss")
        if plural or mention.how or len(said) > 2 or (len(said) == 2 and said[-1] not in _PARTICLES):
            return False
        before = self.texts[mention.first - 1] if mention.first else ""
        if before in _ARTICLES:
            return False
        if before in _SUBJECTS:
            return True
        return said[0] in _VERBS and not self.is_dosed(mention.last, 8)

    def sentence(self, word: int) -> int:
        """Return where the sentence begins that leads to a name: after the last pause, else at a word that turns."""
        pause = self.after_pause(word)
        if word - pause <= _CLOSE:
            return pause
        back = next((k for k in range(1, _CLOSE + 2) if self.texts[word - k] in _SURE_TURNS), 0)
        return pause if not back and word - pause <= _NEAR else word - back

    def after_pause(self, word: int) -> int:
        """Return the first word after the last pause before a word."""
        place = bisect_right(self.ends, word - 1)
        return self.ends[place - 1] + 1 if place else 0

    def _is_aside(self, mention: Mention) -> bool:
        return not _ASIDES.isdisjoint(self.texts[max(0, mention.first - 4) : mention.first])

    def _score(self, mention: Mention, after: int, told: int) -> float:
        first, last = mention.first, mention.last
        before = self.texts[max(0, first - 7) : first]
        following = self.texts[last + 1 : last + 26]
        pause = first - self.after_pause(first)
        dose = self.is_dosed(last - 12, max(min(after, last + 60), last + 25) - last + 12)
        soon = self.is_dosed(last, 12)
        score = 1.7 * (pause <= _NEAR) + 0.5 * (pause <= 10)
        score += 1.0 * bool(_TURNS & set(before))
        score += {"": 2.0, "sound": 1.5, "end": 0.5}[mention.how] if last > first else 0.3
        score += 1.3 * dose + 0.7 * soon + 0.8 * (told >= 3) + 0.5 * (told >= 6)
        score -= 2.0 * self._is_aside(mention)
        score += 0.8 * bool(_COUNTS & set(before[-4:]))
        score -= 2.0 * (following[:1] in (["it"], ["them"], ["him"])) + 4.0 * (following[:1] in (["were"], ["was"]))
        score -= 1.0 * (after - last < 8 and not _STARTS & set(before))
        return score
