"""The forms that a block may have, one row each: all that the other rooms need to know to read, judge and word it.

No other room names a form: each asks a column. So a form more is a member of BlockKind and its row here.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from types import MappingProxyType
from typing import Literal

from repslate.model.slug import slug


class BlockKind(StrEnum):
    """How the exercises of a block are done together. The value is the word a heading begins with."""

    WARM_UP = "Warm-up"
    STRAIGHT = "Straight sets"
    SUPERSET = "Superset"
    TRI_SET = "Tri-set"
    GIANT_SET = "Giant set"
    CIRCUIT = "Circuit"
    EVERY_MINUTE = "Every minute"
    EVERY = "Every"
    AS_MANY_ROUNDS = "As many rounds as possible"
    AS_MANY_REPS = "As many repetitions as possible"
    INTERVALS = "Intervals"
    FOR_TIME = "For time"
    ROUNDS_FOR_TIME = "Rounds for time"
    CHIPPER = "Chipper"
    LADDER = "Ladder"
    COMPLEX = "Complex"
    PARTNER = "Partner"
    FLOW = "Flow"
    STRENGTH = "Strength"
    ACCESSORIES = "Accessories"
    SKILL = "Skill"
    TEST = "Test"
    FINISHER = "Finisher"
    COOL_DOWN = "Cool-down"


@dataclass(frozen=True, slots=True)
class Form:
    """What a form of block means.

    How it is called:
        typed: what a heading may begin with; hyphens and blanks between the words do not matter.
        titled: what titles of chapters call it (common practice, no source); they may count and letter it.
        is_sole: mostly one of it in a workout, so its name among other words of a title is enough.
        announced: what the talk calls it (common practice, no source); where phrases begin alike, the longest counts.
        noted: what notes call it, where that is not its own name in small letters.
        letter: of all its blocks ("WU"); "" where they are lettered in turn.
        is_everyday: its name is a word of everyday language too, so nothing but a letter, a colon or a part may follow.
        yields: where another form is named behind its colon, that is how it is done, and this is the title.
        clipped: what stands before and behind the minutes where a turn is written as one word ("E2MOM").
        counts: what a bare number before or behind its name is; None where it may be anything.
        with_rounds: the form it becomes where its heading says rounds.

    How it is done:
        rests_after: what it is counted in, and rested after: sets of each exercise, or rounds of all; None where it is
            done once, or by the clock, unless its heading says otherwise.
        back_to_back: its exercises follow each other without a rest, as one set.
        rest_open: rest is part of it or left to whoever trains, so none is asked for and none is assumed.
        sets_up_once: one sets up once a round: nothing is put down or changed between its exercises.
        is_once: done once where nothing says how often.
        joint: the word between the name and the time of one that the clock ends; None of all others.
        clock_optional: it may be done without a clock too.
        turn: seconds of the clock after which the next turn begins, as its name says; None of all others.
        names_turn: its heading says how long a turn is ("Every 2 min").
        by_interval: its heading may say how long to work and how long to rest in turn ("20 s on / 10 s off").
        each_words: how its heading says that every exercise has all the turns, not one in turn with the others.
        is_open: as many rounds as one can, so that nobody knows their number.
        for_time: as fast as one can, and the clock is stopped at the end; a time in its heading is the most that it
            may take.
        people: how many share it where the heading does not say.
        is_easy: stretches and easy moves: no working sets.
        stands: before the work or after it; None for the work itself.

    How many exercises it holds:
        fewest, most: as its name says; None for any number.
        heard: so many are told of in talk before the next block begins unannounced; None for as many as it holds.
    """

    kind: BlockKind
    typed: tuple[str, ...]
    titled: tuple[str, ...]
    announced: tuple[str, ...] = ()
    noted: str = ""
    letter: str = ""
    is_sole: bool = False
    is_everyday: bool = False
    yields: bool = False
    clipped: tuple[str, str] | None = None
    counts: Literal["minutes", "rounds"] | None = None
    with_rounds: BlockKind | None = None
    rests_after: Literal["set", "round"] | None = None
    back_to_back: bool = False
    rest_open: bool = False
    sets_up_once: bool = False
    is_once: bool = False
    joint: Literal["for", "in"] | None = None
    clock_optional: bool = False
    turn: Fraction | None = None
    names_turn: bool = False
    by_interval: bool = False
    each_words: str = "all every turn"
    is_open: bool = False
    for_time: bool = False
    people: int = 1
    is_easy: bool = False
    stands: Literal["before", "after"] | None = None
    fewest: int = 1
    most: int | None = None
    heard: int | None = None

    @property
    def in_sets(self) -> bool:
        """Whether each exercise has all its sets before the next begins, with a rest after each."""
        return self.rests_after == "set"

    @property
    def in_rounds(self) -> bool:
        """Whether one exercise is done after the other, then a rest, and all again."""
        return self.rests_after == "round"

    @property
    def has_stations(self) -> bool:
        """Whether it goes round with a way, and maybe a rest, from each exercise to the next."""
        return self.in_rounds and not self.back_to_back

    @property
    def asks_rest(self) -> bool:
        """Whether it says how long to rest after each set or round."""
        return self.rests_after is not None and not self.rest_open

    @property
    def on_the_clock(self) -> bool:
        """Whether the clock says how long it is."""
        return self.joint is not None and not self.clock_optional

    @property
    def by_turns(self) -> bool:
        """Whether the work begins anew at every turn of the clock, and what is left of the turn is the rest."""
        return self.turn is not None or self.names_turn

    @property
    def counts_exercises(self) -> bool:
        """Whether its name says exactly how many exercises it holds."""
        return self.fewest == self.most

    def holds(self, exercises: int) -> bool:
        """Tell whether so many exercises may go by this name."""
        return self.fewest <= exercises and (self.most is None or exercises <= self.most)


def _ways(ways: str) -> tuple[str, ...]:
    return tuple(ways.split("|"))


_ROWS = (
    Form(
        BlockKind.WARM_UP,
        typed=_ways("warm up|warmup|warm ups|warmups"),
        titled=_ways("warm-up|warming up"),
        announced=_ways(
            "warm up|warm-up|get warm|warming up|get the motor|loosen up|wake everything up|limber up|primer|get moving"
        ),
        letter="WU",
        is_sole=True,
        stands="before",
    ),
    Form(
        BlockKind.STRAIGHT,
        noted="straight",
        typed=_ways("straight sets|straight set|sets"),
        titled=_ways("straight sets|working sets"),
        announced=_ways(
            "straight sets|main lift|main event|main course|the big lift|money lift|proper work|ramp up|ramping up"
            "|building up|build up sets"
        ),
        rests_after="set",
    ),
    Form(
        BlockKind.SUPERSET,
        typed=_ways("superset|super set|supersets|super sets"),
        titled=_ways("superset"),
        announced=_ways(
            "superset|supersets|super set|super sets|superset time|pairing|pairing things up|pairing stuff up|next pair"
            "|last pair|first pair|second pair|pair things up|paired up|as a pair|is a pair|back to back"
        ),
        rests_after="round",
        back_to_back=True,
        fewest=2,
        most=2,
    ),
    Form(
        BlockKind.TRI_SET,
        typed=_ways("tri set|triset|tri sets|trisets"),
        titled=_ways("tri-set"),
        # A giant set of three is often said, so what is announced as one goes by the number of its exercises.
        announced=_ways("tri set|tri sets|triset|trisets|tri-set|tri-sets|giant set|giant sets"),
        rests_after="round",
        back_to_back=True,
        fewest=3,
        most=3,
    ),
    Form(
        BlockKind.GIANT_SET,
        typed=_ways("giant set|giantset|giant sets"),
        titled=_ways("giant set"),
        rests_after="round",
        back_to_back=True,
        fewest=4,
    ),
    Form(
        BlockKind.CIRCUIT,
        typed=_ways("circuit|circuits"),
        titled=_ways("circuit"),
        announced=_ways("circuit|round robin|complex|medley|flow part|flow|core round"),
        rests_after="round",
        by_interval=True,
        fewest=4,
    ),
    Form(
        BlockKind.EVERY_MINUTE,
        typed=_ways("every minute on the minute|every minute|emom"),
        titled=_ways("every minute|every minute on the minute|EMOM"),
        announced=_ways("every minute|emom|on the minute"),
        counts="minutes",
        joint="for",
        turn=Fraction(60),
    ),
    Form(
        BlockKind.EVERY,
        noted="every-n",
        typed=_ways("every"),
        titled=_ways("every"),
        is_everyday=True,
        clipped=("e", "mom"),
        joint="for",
        names_turn=True,
    ),
    Form(
        BlockKind.AS_MANY_ROUNDS,
        noted="amrap",
        typed=_ways("as many rounds as possible|amrap"),
        titled=_ways("as many rounds as possible|AMRAP"),
        counts="minutes",
        joint="in",
        is_open=True,
    ),
    Form(
        BlockKind.AS_MANY_REPS,
        typed=_ways("as many repetitions as possible|as many reps as possible"),
        titled=_ways("as many repetitions as possible|as many reps as possible"),
        counts="minutes",
        joint="in",
        is_open=True,
    ),
    Form(
        BlockKind.INTERVALS,
        typed=_ways("intervals|interval|tabata"),
        titled=_ways("intervals|tabata"),
        is_everyday=True,
        rests_after="round",
        rest_open=True,
        by_interval=True,
        each_words="each exercise",
    ),
    Form(
        BlockKind.FOR_TIME,
        typed=_ways("for time|for time of"),
        titled=_ways("for time"),
        is_everyday=True,
        with_rounds=BlockKind.ROUNDS_FOR_TIME,
        rests_after="round",
        rest_open=True,
        is_once=True,
        for_time=True,
    ),
    Form(
        BlockKind.ROUNDS_FOR_TIME,
        typed=_ways("rounds for time|rounds for time of|round for time|rft"),
        titled=_ways("rounds for time"),
        is_everyday=True,
        counts="rounds",
        rests_after="round",
        rest_open=True,
        for_time=True,
    ),
    Form(
        BlockKind.CHIPPER,
        typed=_ways("chipper"),
        titled=_ways("chipper"),
        rests_after="round",
        rest_open=True,
        is_once=True,
        for_time=True,
    ),
    Form(
        BlockKind.LADDER,
        typed=_ways("ladder"),
        titled=_ways("ladder"),
        is_everyday=True,
        rests_after="round",
        rest_open=True,
        joint="in",
        clock_optional=True,
    ),
    Form(
        BlockKind.COMPLEX,
        typed=_ways("complex"),
        titled=_ways("complex"),
        is_everyday=True,
        rests_after="round",
        back_to_back=True,
        sets_up_once=True,
    ),
    Form(
        BlockKind.PARTNER,
        typed=_ways("partner|partner workout"),
        titled=_ways("partner workout"),
        is_everyday=True,
        yields=True,
        rests_after="round",
        rest_open=True,
        people=2,
    ),
    Form(
        BlockKind.FLOW,
        typed=_ways("flow"),
        titled=_ways("flow"),
        is_everyday=True,
        rests_after="round",
        rest_open=True,
        sets_up_once=True,
        is_once=True,
        is_easy=True,
    ),
    Form(
        BlockKind.STRENGTH,
        typed=_ways("strength"),
        titled=_ways("strength"),
        is_everyday=True,
        yields=True,
        rests_after="set",
    ),
    Form(
        BlockKind.ACCESSORIES,
        typed=_ways("accessories|accessory|accessory work"),
        titled=_ways("accessories|accessory work"),
        is_everyday=True,
        yields=True,
        rests_after="set",
    ),
    Form(
        BlockKind.SKILL,
        typed=_ways("skill|skills|skill work"),
        titled=_ways("skill|skill work"),
        is_everyday=True,
        yields=True,
        rests_after="set",
    ),
    Form(
        BlockKind.TEST,
        typed=_ways("test|tests"),
        titled=_ways("test"),
        is_everyday=True,
        yields=True,
        rests_after="set",
        is_once=True,
    ),
    Form(
        BlockKind.FINISHER,
        typed=_ways("finisher|finishers"),
        titled=_ways("finisher"),
        announced=_ways("finisher|to finish we|burnout|last thing|one last thing|something nasty|burner"),
        is_sole=True,
        yields=True,
        heard=1,
    ),
    Form(
        BlockKind.COOL_DOWN,
        typed=_ways("cool down|cooldown"),
        titled=_ways("cool-down|cooling down|stretch|stretches|stretching"),
        announced=_ways(
            "cool down|cool it down|cool-down|stretch time|finish with a stretch|to stretch it out|stretch it out"
            "|let's stretch|quick stretch|long holds|wind down|winding down|cooling down"
        ),
        letter="CD",
        is_sole=True,
        stands="after",
    ),
)
FORMS: Mapping[BlockKind, Form] = MappingProxyType({form.kind: form for form in _ROWS})

#: What a block is where nobody says its form, and what a single exercise is.
PLAIN = BlockKind.STRAIGHT
#: What "3 rounds" is, where nothing more is said of the form.
ROUNDS_ONLY = BlockKind.CIRCUIT
#: What "8 × 20 s on / 10 s off" is, likewise.
INTERVALS_ONLY = BlockKind.INTERVALS
#: What is written where exercises prove to stand before the work, and after it.
BEFORE_WORK, AFTER_WORK = BlockKind.WARM_UP, BlockKind.COOL_DOWN
_MANY = BlockKind.GIANT_SET


@dataclass(frozen=True, slots=True)
class Protocol:
    """Seconds of work and of rest in turn, and how often, that a name alone stands for."""

    on: Fraction
    off: Fraction
    times: int


#: 20 s all out and 10 s of rest, seven to eight times: Tabata et al. 1996, Med Sci Sports Exerc 28(10):1327–1330.
PROTOCOLS = MappingProxyType({"tabata": Protocol(Fraction(20), Fraction(10), 8)})


def noted(name: str) -> Form:
    """Return the row of a form by what notes call it ("every-n"); that of straight sets for any other name."""
    return next((form for form in FORMS.values() if name == (form.noted or slug(form.kind.value))), FORMS[PLAIN])


def form_of(kind: BlockKind) -> Form:
    """Return the row of a kind of block."""
    return FORMS[kind]


def by_size(exercises: int, more: BlockKind = _MANY) -> BlockKind:
    """Return what so many exercises done together are called; `more` where no name counts as far."""
    if exercises < 2:
        return PLAIN
    return next((kind for kind, form in FORMS.items() if form.counts_exercises and form.holds(exercises)), more)


def resized(kind: BlockKind, exercises: int) -> BlockKind:
    """Return the kind itself, but by their number where its name says another number of exercises."""
    return by_size(exercises) if form_of(kind).counts_exercises else kind
