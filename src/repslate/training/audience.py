"""Whom a workout names that needs more care, and which hazards then always want a word."""

from __future__ import annotations

import re
from dataclasses import dataclass

from repslate.model.episode import Episode
from repslate.model.library import Entry


@dataclass(frozen=True, slots=True)
class Audience:
    """People whom a text may name: the pattern of words, and the hazards (traits) and patterns that concern them."""

    words: str
    traits: frozenset[str]
    patterns: frozenset[str] = frozenset()
    trait: str = ""


_IMPACT = frozenset({"impact"})  # landings from a jump ask for a word in any case
#: Supine: ACOG Committee Opinion 804, 2020. Bending the spine with thin bones: Sinaki & Mikkelsen 1984, Arch Phys Med
#: Rehabil 65:593–596, from memory. Impact after birth, with thin bones and with a new hip: from memory.
AUDIENCES = (
    Audience(r"pregnan\w*|prenatal|antenatal|(?:first|second|third) trimester|baby bump", _IMPACT | {"supine"}),
    Audience(r"postnatal|post-natal|postpartum|post-partum|after (?:the |giving )?(?:birth|baby)", _IMPACT),
    Audience(
        r"osteoporo\w*|osteopeni\w*|(?:thin|brittle|fragile) bones",
        _IMPACT | {"loaded-spine-flexion"},
        frozenset({"trunk flexion"}),
        "loaded-spine-flexion",
    ),
    Audience(r"(?:hip replacements?|(?:new|artificial|replaced) hips?(?!-)|hip prosthes[ie]s)", _IMPACT),
)
#: "Not for pregnant women" and "if you are pregnant, ask your midwife" name nobody whom the workout is for.
_NOT_FOR = re.compile(
    r"\b(?:not|n't|never|no|unless|except|leave (?:it|this) out|skip)\b"
    r"|\b(?:if|when|while|with|during|in)\b.*\b(?:ask|see|consult|(?:talk|speak) (?:to|with)|check with|show)\b"
    r"|\b(?:ask|see|consult|(?:talk|speak) (?:to|with)|check with|show)\b.*\b(?:if|when|before)\b"
)
_CLAUSE = re.compile(r"[.;:!?\n]|\bbut\b")


def named_for(episode: Episode, entry: Entry) -> frozenset[str]:
    """Return the slugs of the hazards in a movement that concern people whom the workout names.

    Read are title, summary, introduction and safety; a clause that leaves people out does not name them.
    """
    texts = [episode.title, episode.summary or "", *episode.series.safety]
    texts += [prose.markdown for prose in (*episode.lead, *episode.safety)]
    clauses = [clause for text in texts for clause in _CLAUSE.split(text.casefold().replace("’", "'"))]
    found: set[str] = set()
    for audience in AUDIENCES:
        concerned = audience.traits.intersection(entry.traits)
        if audience.trait and entry.pattern in audience.patterns:
            concerned |= {audience.trait}
        named = re.compile(rf"\b(?:{audience.words})\b")
        if concerned and any(named.search(clause) and not _NOT_FOR.search(clause) for clause in clauses):
            found |= concerned
    return frozenset(found)
