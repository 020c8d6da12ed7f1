"""What a drafted exercise is called: of the library's variants of a movement the one with the kit in hand, as said."""

from __future__ import annotations

import re
from collections.abc import Sequence

from repslate.model.library import Entry, Library
from repslate.model.names import KIT
from repslate.model.names import words as name_words
from repslate.speech.mentions import Mention
from repslate.speech.phrases import phrases

_KIT_WORDS = {
    "kettlebell": "kettlebell", "kettlebells": "kettlebell", "kettle": "kettlebell", "dumbbell": "dumbbell",
    "dumbbells": "dumbbell", "dumb": "dumbbell", "barbell": "barbell", "bar": "barbell", "cable": "cable",
    "cables": "cable", "band": "band", "bands": "band", "machine": "machine", "landmine": "landmine",
    "sandbag": "sandbag",
    "rope": "cable", "pulley": "cable", "pulleys": "cable", "stack": "cable",
}  # fmt: skip
_OTHER_BARS = frozenset("bent easy ez straight chin pull lat trap".split())
_INTRO = 260  # words of a greeting that may say what is used all through
_SAME = frozenset({"", "alias", "word order"})  # how a name must match to be an entry's own
_POSTURE = 60  # words for which one sits or stands
_SITTING = frozenset("sit seat seated sitting".split())
_STANDING = frozenset("stand standing behind".split())
_CHAIR = frozenset("seated chair holding supported hold with on standing".split())


def nicknames(name: str) -> tuple[str, ...]:
    """Return what an entry of the library is called on camera besides its names."""
    return phrases("nicknames.txt").get(name, ())


class Naming:
    """Names the exercises of one talk."""

    def __init__(self, texts: Sequence[str], library: Library) -> None:
        """`texts` are the words as said, in small letters."""
        self.texts, self.library = texts, library
        intro = texts[:_INTRO]
        kit = {_KIT_WORDS[text] for text in intro if text in _KIT_WORDS}
        self.intro = next(iter(kit)) if len(kit) == 1 and kit != {"barbell"} else ""  # a barbell is meant anyway
        self.seated = sum(text in ("chair", "chairs") for text in intro) > 1

    def entry(self, mention: Mention) -> Entry:
        """Return the library's entry for a mention: the one with the kit in hand, or with none, where there is one."""
        able = [self.library.entries[name] for name in mention.names]
        if self.seated and (entry := self._on_a_chair(mention, able)):
            return entry
        return self._simpler(mention) or self._with_kit(mention) or self._able(mention, able)

    def _able(self, mention: Mention, able: Sequence[Entry]) -> Entry:
        kit = self._kit(mention) or self.intro
        return next((one for one in able if any(kit in item.split(" or ") for item in one.equipment)), able[0])

    def _with_kit(self, mention: Mention) -> Entry | None:
        """Return the entry whose own name tells of the kit in hand, or that it needs none, None where none does."""
        kit = self._kit(mention) or self.intro
        shown, said = mention.said.split(), name_words(mention.said)
        tried = [(piece, f"{piece} {mention.said}") for piece in (kit, self._is_unloaded(mention) and "bodyweight")]
        if kit and len(shown) > 1:
            tried.append((kit, " ".join([*shown[:-1], kit, shown[-1]])))  # "half-kneeling landmine press"
        for piece, name in tried:
            match = self.library.find(name) if piece and piece not in said else None
            if match and match.how in _SAME and piece in name_words(match.entry.name):
                return match.entry
        return None

    def name(self, entry: Entry, mention: Mention) -> str:
        """Return the name to write: the fullest name of the entry that fits what was said and the kit in hand.

        A full name of the trade that was said stays ("cable curl", "press-up"); short forms, nicknames and what was
        misheard get the library's name, with the kit in front where the library leaves the choice and a barbell would
        be meant without.
        """
        name = self._fullest(entry, mention)
        near = self._kit(mention)
        kit = near or self.intro
        choices = [choice for item in entry.equipment for choice in item.split(" or ")]
        bare = not set(name_words(name)) & KIT.keys()
        if (
            bare
            and kit in choices
            and (self._is_held(mention, kit) or (choices[:1] == ["barbell"] and kit != "barbell"))
        ):
            name = f"{kit} {name[:1].lower()}{name[1:]}"
        if "pressup" in "".join(self.texts[mention.first : mention.last + 1]):
            name = re.sub("push-up", "press-up", name, flags=re.IGNORECASE)
        if self._alternates(mention):
            name = f"alternating {name[:1].lower()}{name[1:]}"
        return name[:1].upper() + name[1:]

    def _fullest(self, entry: Entry, mention: Mention) -> str:
        display = set(name_words(entry.name))
        said = set(name_words(mention.said))
        around = set(name_words(" ".join(self.texts[max(0, mention.first - 3) : mention.last + 4])))
        spoken = mention.how == "sound" or mention.said in nicknames(entry.name) or self._simpler(mention) is not None
        if spoken or (display <= said | around and not said > display):
            return entry.name
        kit = self._kit(mention) or self.intro or next((piece for piece in KIT if piece in display), "")
        wider = said | {kit} if kit and not said & KIT.keys() else said
        if wider != said and (same := [one for one in entry.aliases if set(name_words(one)) == wider]):
            return same[0]
        if said > display or (said & KIT.keys() and len(said) >= len(display)):
            return mention.said
        return entry.name

    def _simpler(self, mention: Mention) -> Entry | None:
        """Return the entry without a choice that is left to the viewer: "side plank from the knees or the feet"."""
        bare, *from_where = re.split(" (?:from|on) ", mention.said)
        chosen = from_where and self.texts[mention.last + 1 : mention.last + 2] == ["or"]
        match = self.library.find(bare) if chosen else None
        return match.entry if match else None

    def _on_a_chair(self, mention: Mention, able: Sequence[Entry]) -> Entry | None:
        """Return the entry for a chair whose name is what was said but for the words that tell of one."""
        said = set(name_words(mention.said)) - _CHAIR
        if fit := [one for one in able if "chair" in one.equipment]:
            return fit[0]
        fit = [
            entry
            for entry in self.library.entries.values()
            if "chair" in entry.equipment and any(set(name_words(name)) - _CHAIR == said for name in entry.names)
        ]
        before = self.texts[max(0, mention.first - _POSTURE) : mention.first]
        posture = next((text for text in reversed(before) if text in _SITTING | _STANDING), "sit")
        sitting = [entry for entry in fit if ("Seated" in entry.name) == (posture in _SITTING)]
        return next(iter(sitting or fit), None)

    def _is_unloaded(self, mention: Mention) -> bool:
        after = " ".join(self.texts[mention.last + 1 : mention.last + 12])
        return any(
            phrase in after
            for phrase in ("hands on your hips", "hands on hips", "no weight", "body weight", "bodyweight")
        )

    def _is_held(self, mention: Mention, kit: str) -> bool:
        """Tell whether the kit is named in one breath with the movement: "goblet squats with the kettlebell"."""
        before = self.texts[max(0, mention.first - 4) : mention.first]
        after = self.texts[mention.last + 1 : mention.last + 5]
        breath = [*before, *(after if {"with", "holding", "using"} & set(after[:2]) else [])]
        return any(_KIT_WORDS.get(text) == kit for text in breath)

    def _alternates(self, mention: Mention) -> bool:
        """Tell whether sides are to alternate, not whether they can."""
        after = self.texts[mention.last + 1 : mention.last + 8]
        return next(
            (after[k - 1 : k] != ["can"] for k, text in enumerate(after) if text in ("alternate", "alternating")), False
        )

    def _kit(self, mention: Mention) -> str:
        """Return the piece of kit that is named near a mention, "" where none is."""
        after = self.texts[mention.last + 1 : mention.last + 14]
        held = {"with", "holding", "using"} & set(after[:2])
        start = mention.first if held else max(0, mention.first - 12)
        around = [*self.texts[start : mention.last + 1], *(after[:6] if held else after)]
        return next(
            (
                _KIT_WORDS[text]
                for before, text in zip(["", *around], around, strict=False)
                if text in _KIT_WORDS and not (text == "bar" and before in _OTHER_BARS)
            ),
            "",
        )
