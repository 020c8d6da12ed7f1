"""The words that cautions are made of: parts of the body, how they make themselves felt, cases, orders."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from repslate.speech.words import Word

# ---- what is spoken of

#: What a caution is about: topics of written cautions where there is one ("back", "knees"), else the part's own name.
_BODY = {
    "knees": "knee, knees, kneecap, kneecaps, knee cap, knee caps, knee joint",
    "back": (
        "backs, lower back, low back, lower backs, lumbar, spine, small of your back, small of the back, base of "
        "your back, base of your spine, tailbone, sciatica, disc, discs, upper back, middle back, mid back, "
        "bottom of your back"
    ),
    "neck": "neck, necks, back of your neck",
    "shoulders": "shoulder, shoulders, rotator cuff, cuff, shoulder blade, shoulder blades, collarbone",
    "wrists": "wrist, wrists",
    "elbows": "elbow, elbows, forearm, forearms",
    "hips": "hip, hips, hip joint, hip flexor, hip flexors, front of the hip, front of your hip",
    "groin": (
        "groin, adductor, adductors, inner thigh, inner thighs, inside of your thigh, inside of the thigh, inside "
        "of your leg, inside of the leg, inside of your thighs"
    ),
    "hamstrings": (
        "hamstring, hamstrings, hammy, hammies, hammie, back of the leg, back of your leg, back of the legs, back "
        "of your legs, back of the thigh, back of your thigh, back of the knee, back of your knee"
    ),
    "thighs": "quad, quads, thigh, thighs, glute, glutes",
    "calves": "calf, calves, shin, shins",
    "achilles": "achilles, achilles tendon, achilles tendons, heel cord",
    "ankles": "ankle, ankles",
    "feet": "foot, feet, toe, toes, heel, heels, plantar, sole, soles, arches of your feet",
    "arms": "arm, arms, bicep, biceps, tricep, triceps",
    "hands": (
        "hand, hands, callus, calluses, callous, blister, blisters, finger, fingers, thumb, thumbs, palm, palms, "
        "knuckles"
    ),
    "chest": "chest, breastbone, ribs, rib, heart, pec, pecs",
    "face": "face, teeth, nose, jaw, eye, eyes",
    "abdomen": "belly, bellies, tummy, stomach, abdomen, midline, scar",
    "head": "head",
    "legs": "leg, legs",
}

#: Parts of which anything strange that they do is a reason to ease off; hands and feet are named in every cue.
JOINTS = frozenset("""knees back neck shoulders wrists elbows hips groin hamstrings calves achilles ankles""".split())

#: Where training should not be felt: in a muscle it is praise.
NOT_TO_BE_FELT = frozenset("back neck knees wrists elbows shoulders ankles achilles".split())

#: What a bell or a plate hits.
AT_RISK = frozenset("face head hands feet".split())
#: "Mind your hips" asks for good form.
NOT_MINDED = frozenset({"hips", "legs", "arms", "thighs"})

#: Felt without a part being named.
_PAIN = (
    "hard on it, hard on them, hard on you, hurt, hurts, hurting, pain, pains, painful, pinch, pinches, pinching, "
    "pinchy, sharp, ache, aches, aching, achy, sting, stings, stinging, stab, stabs, stabbing, stabby, twinge, "
    "twinges, twingy, niggle, niggles, niggling, niggly, sore, ouch, tweak, tweaks, tweaky, shooting, something "
    "pulling, uncomfortable, cramp, cramps, cramping, crampy, feels wrong, feels off, doesn't feel right, not "
    "feeling right, don't feel right, jab, jabs, jabbing, nips, nipping, nippy, bugs you, bothers you, annoys "
    "you, irritates you, doesn't agree with you, doesn't suit you, isn't comfortable, isn't comfy, not "
    "comfortable, too much for you, bites"
)

#: Felt in a part: an everyday word for being unhappy, worn or unreliable.
_MOANS = (
    "grips, gripping, tear, tears, tearing, dome, domes, doming, coning, bulges, bulging, raw, grumble, grumbles, "
    "grumbling, grumbly, grumpy, complain, complains, complaining, moan, moans, moaning, bark, barks, barking, "
    "bark at you, cranky, crabby, shirty, cross with you, angry, mad, upset, unhappy, not happy, isn't happy, "
    "aren't happy, aren't keen, isn't keen, not keen, doesn't like, don't like, doesn't love, don't love, hates, "
    "hate, dodgy, iffy, ropey, ropy, bad, bum, gammy, crook, wonky, clicky, creaky, creak, creaks, creaking, "
    "crunchy, rusty, stiff, tight, tighten, tightens, tightening, tightens up, clicks, clunks, grinds, catches, "
    "catching, seize, seizes, seizing, ordinary, funny, weird, odd, twisty, strain, strained, straining, tender, "
    "touchy, sensitive, fussy, delicate, fragile, wobbly, unstable, loose, injured, injury, injuries, old injury, "
    "history, operation, surgery, problem, problems, issue, issues, trouble, troubles, troublesome, bother, "
    "bothers, bothering, bothered, bug, bugs, bugging, annoy, annoys, annoying, annoyed, irritate, irritates, "
    "irritated, irritating, the irrits, playing up, plays up, play up, acting up, acts up, act up, kicking off, "
    "kicks off, kick off, talking back, talking to you, talks to you, talk to you, talks back, shouting, shouts, "
    "shout, shouting at you, yelling, yells, yell, screaming, screams, scream, hollering, hollers, whinge, "
    "whinges, whingeing, whining, whines, squeak, squeaks, at you, giving out, gives out, give out, giving you "
    "grief, gives you grief, giving you gip, gives you gip, giving you jip, gives you bother, giving you bother, "
    "swollen, flared up, flaring up, flares up, protest, protests, protesting, objects, object, argue, argues, "
    "sulk, sulks, sulking, nag, nags, nagging, throb, throbs, throbbing, jammed, jams, pull, pulls, pulling, "
    "taking over, takes over, take over, doing all the work, doing the work, does the work, does all the work, "
    "doing most of the work, worse, sorry for itself, sorry for themselves, not what they were, temperamental, "
    "misbehave, misbehaves, misbehaving, grouchy, sulky, unsure, worried, arthritic, arthritis, won't have it, "
    "aggravate, aggravates, not great, isn't great, aren't great, not brilliant, not good, aren't brilliant, op, "
    "ops, replacement, hernia, isn't having it, aren't having it, not having it"
)

#: Felt where it should not be.
_FELT = "feeling it, feel it, feels it, feel this, feel that"

#: Only the joints rest for this; tired legs are the point of the workout.
_TIRED = "tired, fried, cooked, burning, weak, knackered, exhausted"

#: Felt as something of its own: the topic needs no part.
_NAMED = {
    "dizziness": (
        "dizzy, dizziness, light headed, lightheaded, giddy, woozy, faint, fainting, seeing stars, see stars, "
        "head rush, room spins, room spinning, room starts spinning, queasy, nauseous, feel sick, feeling sick, "
        "unwell, head spins, head starts spinning, swimmy, vertigo"
    ),
    "numbness": (
        "tingle, tingles, tingling, tingly, pins and needles, numb, numbness, zing, zingy, zings, electric, goes "
        "dead, go dead, goes to sleep, go to sleep, dead leg"
    ),
    "breath": "short of breath, breathless, high blood pressure, blood pressure",
    "pregnancy": (
        "pregnant, expecting, postnatal, post natal, postpartum, had a baby, given birth, after birth, c section, "
        "trimester"
    ),
    "balance": (
        "balance isn't, balance is rubbish, balance is off, balance is dodgy, balance is iffy, lose your balance, "
        "losing your balance, unsteady, balance goes, going to fall, about to fall, might fall, balance isn't "
        "great"
    ),
    "pelvic floor": "pelvic floor, heaviness, pressure down low, pressure down below, cleared to exercise, leaking",
}

#: What a lower back does when the set has gone on too long.
_BACK_SLIPS = (
    "pop, pops, popping, lets go, comes away, arch, arches, arching, arched, sag, sags, sagging, round, rounds, "
    "rounding, comes up, come up, lifts, lift, peels, peel, peeling, lifting, coming up, collapses, dips, leaves, "
    "gives"
)

# ---- how it is put

#: What opens a case; "before" only with pain ("stop before it pinches"), "any" only close to it ("any pinch").
_OPENS = {
    "if": (
        "if, when, whenever, where, wherever, unless, the second, the moment, the minute, as soon as, in case, "
        "once, should your, should the, should that, should it, should you, anybody with, anyone with, anybody "
        "who, anyone who, those with, people with, folks with, anybody whose, anyone whose, any of you with, some "
        "of you with, everyone with, anybody got, anyone got, anyone nursing, anybody nursing, those of you with, "
        "those of you who, got a, got an, got any, at the first sign of, the first sign of"
    ),
    "any": "any",
    "before": "before, short of, away from, clear of, until, to the point of, that doesn't, that don't, without",
}

#: These do not end the case that another word has opened.
MAY_BE_INSIDE = frozenset("got when where whenever once before until away clear any that without".split())

#: After these "if" asks, and "got a" tells of somebody.
ASKS = frozenset("see even as like what wonder know tell ask check asks asked wondering only".split())
HAS = frozenset("i you we he she they it i've you've we've he's they've has have who and only".split())

#: "If it hurts": the part was named before.
STANDS_FOR = frozenset("it that they this those them".split())

#: What one is told to do; read where an order can stand.
ORDERS = frozenset(
    """stop shorten cut drop lower sit stand use take swap switch leave skip bend keep put pop pad grab go come
    back do make step bring reduce rest ease slow lighten try hold stay move raise prop roll fold shift turn
    widen narrow choose pick lift slide set wedge stick support lean lie lay place start finish press pull
    push hinge change get rack scale regress tuck soften straighten breathe open close hover walk return
    build throw shove add see speak talk ask don't never avoid work perform limit halve end pause chuck wrap
    save wait loosen have run play quit bail drag tip hang""".split()
)

#: After one of these the same word is no order: "to drop", "you're sitting", "when you stand up".
NO_ORDER = frozenset(
    """to you're we're they're that i they we the a an your my this who which will would could can't cannot
    i'll we'll it'll he'll gonna i'm wanna didn't is are was were of for these those his her some every each
    more less no with not doesn't into you don't never when by""".split()
)
YOU_MAY = frozenset("stop rest skip leave just go come drop".split())

#: A new thought begins with one of these, for want of a full stop.
TURNS = frozenset("okay ok righto alright now next lovely great brilliant nice anyway beauty".split())

ENDS_ADVICE = TURNS | frozenset(
    """right then because cause cos honestly there's that's it's i'm i my he's she's he she we we're we'll
    you'll you're  nobody no-one but i'd i've they're again which mind don't who what if when so let's
    here's everybody ten three four five six seven eight nine twelve fifteen""".split()
)

ENDS_CASE = TURNS | frozenset("that's there's my i'm because cause".split())

#: What no quotation ends with, and what may follow a case that ends one.
HANGING = frozenset("the a an of to and so or at with your you if that for it's is as but just like".split())
TAGS = frozenset("you there today itself in".split())

#: A part that behaves is no trouble, and what a heel or a hip does in a good cue is none either.
FINE = frozenset(
    """allow allows let lets fine good okay ok happy strong warm ready great free will comfortable easy used
    can permit lift lifts rise rises sag sags drop drops cave caves reach reaches touch touches come comes
    coming slide slides bend bends drift drifts shake shakes shaking open opens close straight parallel
    flare flares tip tips swing swings kick level high low wide forward forwards sideways square stay stays
    turn turns move moves travel travels down up out meet meets hit hits go goes rotate rotates twist twists
    leave leaves fall falls pop pops over away touching starts pulled""".split()
)

#: A case that is answered with one of these is a welcome or praise.
PRAISE = frozenset(
    """this welcome good great normal love perfect congratulations enjoy lovely fine same join alone friends
    going done me too""".split()
)

#: What not to do to a joint, and to some parts only.
FORCE = frozenset(
    """force forcing crank cranking yank yanking jerk jerking wrench wrenching strain straining jam jamming tug
    tugging overstretch muscle heave hyperextend""".split()
)
FORCE_IN = {"pull": "neck head", "pulling": "neck head", "lock": "knees elbows", "locking": "knees elbows"}
FORBIDS = frozenset("don't never no without avoid stop".split())

#: Whose knees are sore is no case to provide for, and "your knees hurt" is told, not foreseen.
WHOSE = frozenset("""my his her their your the that a was were got had get those both with and of on in""".split())

MAY = frozenset("might may could can".split())

#: What asks for care without a case.
_PROTECT = {
    "watch": "watch your",
    "mind": (
        "mind your, protect your, look after your, careful with your, careful with that, careful of your, go easy "
        "on your, go easy on the, go easy on that, take it easy on your, take it easy on the, take it easy on "
        "that, be kind to your, be nice to your, gentle with your, gentle with that, careful with the, look after "
        "that"
    ),
    "keep": "keep your, keep the, keep yer, keep his",
    "breath": "don't hold your breath, never hold your breath, not holding your breath, no holding your breath",
    "ask": (
        "see a, see your, speak to a, speak to your, talk to a, talk to your, check with your, check with a, "
        "check in with your, ask your, ask a"
    ),
}

CLEAR = frozenset({("out", "of"), ("well", "clear"), ("clear", "of"), ("well", "away"), ("away", "from")})
EXPERTS = frozenset("doctor gp physio physiotherapist midwife therapist doc consultant".split())

# ---- finding them


@dataclass(frozen=True, slots=True)
class Sign:
    """Words `first` to `last` that mean `value`."""

    first: int
    last: int
    value: str


Table = Mapping[str, tuple[tuple[tuple[str, ...], str], ...]]


def table(phrases: Mapping[str, str]) -> Table:
    """Return phrases, given as {value: "one, another of several words"}, by their first word, the longest first."""
    found: dict[str, list[tuple[tuple[str, ...], str]]] = {}
    for value, listed in phrases.items():
        for phrase in listed.split(","):
            said = tuple(phrase.split())
            found.setdefault(said[0], []).append((said, value))
    return {first: tuple(sorted(every, key=lambda one: -len(one[0]))) for first, every in found.items()}


BODY = table(_BODY)
TROUBLE = table({"pain": _PAIN, "moan": _MOANS, "slip": _BACK_SLIPS, "felt": _FELT, "tired": _TIRED, **_NAMED})
OPENS = table(_OPENS)
PROTECT = table(_PROTECT)
NAMED = frozenset(_NAMED)
_BACK_OF = frozenset(
    """of foot leg knee hip heel hand arm pocket pockets door wall side row rack seat toe toes to in on at into
    onto and out round off for over with again down where then squat squats pad cover half end bit the""".split()
)
_OWN = frozenset("""your my that bad sore dodgy tired tight stiff long flat whose yer ye their his her""".split())


def signs(said: Sequence[str], phrases: Table) -> tuple[Sign, ...]:
    """Return every phrase of a table that is said, the longest where several begin with the same word."""
    found: list[Sign] = []
    at = 0
    while at < len(said):
        sign = next(
            (
                Sign(at, at + len(phrase) - 1, value)
                for phrase, value in phrases.get(said[at], ())
                if tuple(said[at : at + len(phrase)]) == phrase
            ),
            None,
        )
        if sign:
            found.append(sign)
        at = sign.last + 1 if sign else at + 1
    return tuple(found)


def parts_said(said: Sequence[str]) -> tuple[Sign, ...]:
    """Return every part of the body that is named; "your back" is one, "the back knee" and "step back" are none."""
    backs = [
        Sign(at, at, "back")
        for at, word in enumerate(said)
        if word == "back" and at and said[at - 1] in _OWN and "".join(said[at + 1 : at + 2]) not in _BACK_OF
    ]
    named = signs(said, BODY)
    taken = {at for one in named for at in range(one.first, one.last + 1)}
    return tuple(sorted([*named, *(one for one in backs if one.first not in taken)], key=lambda one: one.first))


def bare(words: Iterable[Word]) -> list[str]:
    """Return the words without the ends that only bind them ("knee's" is "knee")."""
    return [word.text.removesuffix("'s").removesuffix("'re") for word in words]


def topics_in(text: str) -> frozenset[str]:
    """Return every part and feeling that a written text names; a back is meant wherever the word stands."""
    said = [
        word.removesuffix("'s") for word in re.findall(r"[^\W\d_]+(?:'[^\W\d_]+)*", text.casefold().replace("’", "'"))
    ]
    felt = {one.value for one in signs(said, TROUBLE) if one.value in NAMED}
    return frozenset({one.value for one in signs(said, BODY)} | felt | ({"back"} if "back" in said else set()))
