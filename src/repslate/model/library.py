"""The exercise library: what each movement is called, what it trains, what it needs and what may hurt in it.

Kept in exercises/*.yaml, muscles.yaml and traits.yaml, one entry each; adding one takes no Python.
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from functools import cache, cached_property

from repslate.model.library_files import FOLDER, Node, mapping, read, read_exercises, text, texts
from repslate.model.names import KIT, MANNER, Index, bag, name_key, plain, singulars, words

# What gyms mean first by one word such as "press" or "row", the likeliest first (common practice, no source).
_STAPLES = (
    "Back squat", "Overhead press", "Bench press", "Deadlift", "Bent-over row", "Goblet squat", "Push-up", "Pull-up",
    "Hip thrust", "Lunge", "Lat pulldown", "Kettlebell swing", "Dumbbell bench press", "Seated cable row",
    "Biceps curl", "Lateral raise", "Leg press", "Power clean",
)  # fmt: skip
_ASIDE = re.compile(r"\s*\([^()]*\)\s*$|\s+[LR]$")
# In brackets these make another movement of it.
_CHANGES = re.compile(
    r"(?i)\b(?:jump\w*|hop\w*|plyo\w*|explosive|one|single|behind|overhead|deficit|or|no|without|assisted)\b"
)
_WORDS_OF_A_NAME = 24  # the longest name of an entry has nine
_NEAR = 60  # of 100: the least likeness of a name that is suggested, tried on the names of the tests


@dataclass(frozen=True, slots=True)
class Entry:
    """One movement of the library.

    `muscles` (primary) and `secondary` are names of muscles or of their heads, `traits` slugs of hazards. `equipment`
    is everything needed; of "kettlebell or dumbbell" one will do, and "bodyweight" is no piece of kit. `unit` is how
    work is usually counted ("reps", "seconds", "metres"). `pace` is typical seconds per repetition, per metre where the
    unit is metres; where it is seconds, per repetition should someone count them. `metre_pace` is seconds per metre of
    what is counted otherwise and covers ground all the same (None: it does not, or nobody knows). `met` is
    "edition:code" of the Compendium of Physical Activities (Herrmann et al. 2024, J Sport Health Sci 13(1):6–12).
    """

    name: str
    aliases: tuple[str, ...]
    family: str
    pattern: str
    equipment: tuple[str, ...]
    muscles: tuple[str, ...]
    secondary: tuple[str, ...]
    one_sided: bool
    unit: str
    pace: Fraction
    traits: tuple[str, ...]
    met: str
    source: str
    metre_pace: Fraction | None = None

    @property
    def names(self) -> tuple[str, ...]:
        """Its own name and its aliases."""
        return (self.name, *self.aliases)


@dataclass(frozen=True, slots=True)
class Match:
    """What a written name was taken for.

    `how` is "" for the entry's own name, else what was done: "alias" (short forms too), "plural", "word order",
    "equipment" (the name says with which piece), "left out" (a word such as "slow" or "alternating"), "spelling".
    `kit` is the piece that the name says where the entry leaves a choice, else "".
    """

    entry: Entry
    how: str = ""
    kit: str = ""

    @property
    def equipment(self) -> tuple[str, ...]:
        """What is needed: of a choice what the name says, else the choice in words; nothing where the body will do."""
        return tuple(filter(None, (_needed(item, {self.kit}) for item in self.entry.equipment)))


@dataclass(frozen=True, slots=True)
class Trait:
    """A hazard of a movement.

    A caution about it speaks of `topics`, the chief one first (keys of topics.yaml). Where
    `required`, a published workout always says something; if `only_with` is not "", only with that equipment.
    `example` is a caution one could write.
    """

    slug: str
    topics: tuple[str, ...]
    required: bool
    reason: str
    source: str
    only_with: str
    example: str


@dataclass(frozen=True, slots=True)
class Muscle:
    """A muscle, or a head or part of one.

    `shown` is what a viewer understands, `anatomy` its code or part in Terminologia Anatomica (1998), `whole` the
    muscle it is part of ("" if none). `counts_as` is the muscle whose sets it adds to: the outermost whole, but itself
    where parts are trained apart (the three of the deltoid, the three of the trapezius).
    """

    name: str
    shown: str
    anatomy: str
    whole: str
    counts_as: str
    also: tuple[str, ...]


@dataclass(frozen=True)  # without slots: cached_property needs __dict__
class Library:
    """Every entry by its name, every trait by its slug, every muscle by its name, and groups of muscles ("core").

    The index of names is made as names need it: most of a workout are found as they are written.
    """

    entries: dict[str, Entry]
    traits: dict[str, Trait]
    muscles: dict[str, Muscle]
    groups: dict[str, tuple[str, ...]]
    _muscle_names: dict[str, tuple[str, ...]]

    @cached_property
    def names(self) -> Index:
        """The index of every name, by the entries' own names."""
        return Index((entry.name, name) for entry in self.entries.values() for name in entry.names)

    @cached_property
    def _known(self) -> frozenset[str]:
        """Every single word of a name."""
        return frozenset(KIT).union(*(name.words for name in self.names.names))

    def find(self, name: str) -> Match | None:
        """Return what a written name means, or None where it means nothing or more than one thing."""
        said = words(name)
        if keys := self.names.written.get(name.lower()):
            entry = self.entries[next(iter(keys))]
            return Match(entry, "" if plain(entry.name) == plain(name) else "alias", _said_kit(said, entry))
        found = self._same_words(plain(name), said) or self._fewer_words(said)
        return found or self._without_aside(name) or self._respelt(said)

    def _without_aside(self, name: str) -> Match | None:
        """Return what a name means without what stands in brackets behind it, or the letter of a side."""
        shorter = _ASIDE.sub("", name).strip()
        if not shorter or shorter == name.strip() or any(map(_CHANGES.search, _ASIDE.findall(name))):
            return None
        match = self.find(shorter)
        return match and (match if match.how == "spelling" else replace(match, how="left out"))

    def suggest(self, name: str) -> tuple[str, ...]:
        """Return up to three entries' names that are nearest to a written name, the nearest first.

        Where the name says less than a whole one, the lift that most people mean comes before a likelier spelling.
        """
        from rapidfuzz import fuzz, process

        sought = " ".join(words(name))
        spoken = {" ".join(one.words): one.key for one in self.names.names}
        # In one call for all names each: one by one it takes ten times as long.
        whole, parts = (
            {at: score for _, score, at in process.extract(sought, list(spoken), scorer=scorer, limit=None)}
            for scorer in (fuzz.ratio, fuzz.token_set_ratio)
        )
        likeness: dict[str, float] = {}
        for at, known in enumerate(spoken.values()):
            alike = (parts.get(at, 0) + whole.get(at, 0)) / 2
            likeness[known] = max(alike, likeness.get(known, 0))
        wanted = {word for word in sought.split() if word not in MANNER}
        staples = [one for one in _STAPLES if wanted and one in likeness and wanted <= set(words(one))]
        near = sorted(likeness, key=lambda one: -likeness[one])
        others = [one for one in near[:3] if likeness[one] >= _NEAR and one not in staples]
        return (*staples, *others)[:3]

    def muscle(self, name: str) -> tuple[str, ...]:
        """Return the muscles that a common name means ("quads", "rear delts", "core"), () where it means none."""
        return self._muscle_names.get("".join(word for word in words(name) if word != "muscle"), ())

    def required(self, match: Match, kit: Collection[str] = ()) -> tuple[Trait, ...]:
        """Return the hazards that a caution must speak of; `kit`, the workout's equipment, settles an open choice."""
        needed = {_needed(item, {match.kit, *kit}) for item in match.entry.equipment}
        traits = (self.traits[slug] for slug in match.entry.traits)
        return tuple(t for t in traits if t.required and (not t.only_with or t.only_with in needed))

    def with_own(self, own: Collection[Entry]) -> Library:
        """Return the library with a series' own entries added, whose names win over the same names here.

        An own entry that has the name of an entry here stands in its place and takes over its other names.
        """
        taken = {name_key(name): entry.name for entry in own for name in entry.names}
        entries: dict[str, Entry] = {}
        taken_over: dict[str, tuple[str, ...]] = {}
        for entry in self.entries.values():
            left = tuple(alias for alias in entry.aliases if name_key(alias) not in taken)
            if heir := taken.get(name_key(entry.name)):
                taken_over[heir] = (*taken_over.get(heir, ()), *left)
            else:
                entries[entry.name] = replace(entry, aliases=left)
        for entry in own:
            entries[entry.name] = replace(entry, aliases=(*entry.aliases, *taken_over.get(entry.name, ())))
        return replace(self, entries=entries)

    def _same_words(self, written: str, said: tuple[str, ...]) -> Match | None:
        if keys := self.names.whole.get("".join(said)):
            entry = self.entries[next(iter(keys))]
            first, *others = map(plain, entry.names)
            one = singulars(written)
            plural = written not in others and any(singulars(each) == one for each in (first, *others))
            how = "" if written == first else "plural" if plural else "alias"
            return Match(entry, how, _said_kit(said, entry))
        able = [*self.names.bags.get(" ".join(bag(said)), ())] if said else []
        entry_ = self.entries[able[0]] if len(able) == 1 else None
        return Match(entry_, "word order", _said_kit(said, entry_)) if entry_ else None

    def _fewer_words(self, said: tuple[str, ...]) -> Match | None:
        """Leave out words that change nothing, then the word that says with which equipment."""
        left = tuple(word for word in said if word not in MANNER)
        if left != said and (match := self._same_words(" ".join(left), left)):
            return replace(match, how="left out")
        if len(pieces := [word for word in left if word in KIT]) != 1:
            return None
        rest = " ".join(word for word in bag(left) if word not in KIT)
        alike = (self.entries[key] for key in self.names.without_kit.get(rest, ()))
        able = [entry for entry in alike if _said_kit(left, entry)]
        return Match(able[0], "equipment", _said_kit(tuple(pieces), able[0])) if len(able) == 1 else None

    def _fixed(self, word: str) -> str:
        """Return the one word over four letters of any name that is a single slip away, else the word itself."""
        from rapidfuzz import process
        from rapidfuzz.distance import OSA

        if word in self._known or len(word) < 5:
            return word
        if word not in self._slips:
            near = process.extract(word, self._known, scorer=OSA.distance, score_cutoff=1, limit=None)
            known = [one for one, _, _ in near if len(one) > 4]
            self._slips[word] = known[0] if len(known) == 1 else word
        return self._slips[word]

    @cached_property
    def _slips(self) -> dict[str, str]:
        """What words have been taken for so far; the same one is asked for by every exercise of an episode."""
        return {}

    def _respelt(self, said: tuple[str, ...]) -> Match | None:
        """Take a word over four letters that no name has for the one word that is a single slip away."""
        if len(said) > _WORDS_OF_A_NAME:
            return None
        best = tuple(self._fixed(word) for word in said)
        if best == said:
            return None
        match = self._same_words(" ".join(best), best) or self._fewer_words(best)
        return replace(match, how="spelling") if match else None


@cache
def load() -> Library:
    """Read the library that comes with the package (once)."""
    entries = {entry.name: entry for family in read_exercises() for entry in _entries(family)}
    table = read(FOLDER / "muscles.yaml")
    muscles = _muscles(mapping(table["muscles"]))
    groups = mapping(table["groups"])
    return Library(
        entries,
        {slug: _trait(slug, mapping(row)) for slug, row in read(FOLDER / "traits.yaml").items()},
        muscles,
        {name: texts(mapping(row)["muscles"]) for name, row in groups.items()},
        _muscle_index(muscles.values(), groups),
    )


def _needed(item: str, said: Collection[str]) -> str:
    """Return what one item of an entry's equipment asks for, "" for nothing; `said` are the pieces known to be used."""
    choices = item.split(" or ")
    used = [choice for choice in choices if choice in said]
    if used:
        choices = used
    return "" if "bodyweight" in choices else " or ".join(choices)


def _said_kit(said: tuple[str, ...], entry: Entry) -> str:
    """Return the one piece of the entry's equipment that the words name, "" if they name none."""
    named = [KIT[word] for word in said if word in KIT]
    choices = [choice for item in entry.equipment for choice in item.split(" or ")]
    able = [choice for piece in named for choice in choices if _is_kit(choice, piece)]
    return able[0] if len(able) == 1 else ""


def _is_kit(choice: str, piece: str) -> bool:
    """Tell whether a piece of equipment is meant; a cable machine is never called just a machine."""
    return choice == piece or (piece == "machine" and choice.endswith(" machine") and choice != "cable machine")


def _entries(family: dict[str, Node]) -> Iterator[Entry]:
    for name, row in mapping(family["exercises"]).items():
        said = {"source": family["source"], **mapping(family["defaults"]), **mapping(row)}
        yield Entry(
            name=name,
            aliases=texts(said.get("also", [])),
            family=text(family["family"]),
            pattern=text(said["pattern"]),
            equipment=texts(said["equipment"]),
            muscles=texts(said["primary"]),
            secondary=texts(said.get("secondary", [])),
            one_sided=said.get("one-sided") == "yes",
            unit=text(said["unit"]),
            pace=Fraction(text(said["pace"])),
            traits=texts(said.get("traits", [])),
            met=text(said["met"]),
            source=text(said["source"]),
            metre_pace=Fraction(text(said["metre-pace"])) if "metre-pace" in said else None,
        )


def _trait(slug: str, row: dict[str, Node]) -> Trait:
    required, reason, source, example = (text(row[key]) for key in ("required", "reason", "source", "example"))
    only_with = "" if required in {"yes", "no"} else required
    return Trait(slug, texts(row["topics"]), required != "no", reason, source, only_with, example)


def _muscles(table: dict[str, Node]) -> dict[str, Muscle]:
    rows = {name: mapping(row) for name, row in table.items()}

    def counted(name: str) -> str:
        whole = rows[name].get("whole")
        return name if whole is None or rows[name].get("alone") == "yes" else counted(text(whole))

    def muscle(name: str, row: dict[str, Node]) -> Muscle:
        shown, anatomy, whole = (text(row.get(key, "")) for key in ("shown", "anatomy", "whole"))
        return Muscle(name, shown or name, anatomy, whole, counted(name), texts(row.get("also", [])))

    return {name: muscle(name, row) for name, row in rows.items()}


def _muscle_index(muscles: Iterable[Muscle], groups: dict[str, Node]) -> dict[str, tuple[str, ...]]:
    known: dict[str, tuple[str, ...]] = {name: (m.name,) for m in muscles for name in (m.name, m.shown, *m.also)}
    for group, row in groups.items():
        for name in (group, *texts(mapping(row).get("also", []))):
            known[name] = texts(mapping(row)["muscles"])
    return {name_key(name): meant for name, meant in known.items()}
