"""Small typographic care that outputs share: what a line break must not part, how figures are set, where text turns."""

from __future__ import annotations

import re
import unicodedata
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from markupsafe import Markup

SHORT = 18  # a phrase up to this long stays on one line: it fits beside a name on a 360 px screen
_TIED = 30  # no figure with its unit is longer, and what is may not fit a line
_LOOSE = re.compile(r"(?<![×@]) (?![×@]|kg|lb|s\b|min\b|m\b|%|reps\b|rounds?\b)")


def unbroken(phrase: str) -> Markup:
    """Tie each figure to its unit, and a short phrase into one line; a line never breaks within a range."""
    from markupsafe import Markup, escape

    parts = [phrase] if len(phrase) <= SHORT else _LOOSE.split(phrase)
    tied = Markup('<span class="nb">{}</span>')
    is_tied = (len(part) <= _TIED and any(c.isdigit() for c in part) for part in parts)
    return Markup(" ").join(
        tied.format(part) if is_figure else escape(part) for part, is_figure in zip(parts, is_tied, strict=True)
    )


def figures(phrase: str) -> Markup:
    """Set a prescription for the eye that looks for figures: units and words go into a span of class "u"."""
    from markupsafe import Markup, escape

    def word(text: str) -> Markup:
        plain = any(c.isdigit() for c in text) or text in {"×", "max"}
        return escape(text) if plain else Markup('<span class="u">{}</span>').format(text)

    if not phrase:
        return Markup("")
    before, per, after = phrase.partition(" per ")
    tied = Markup('<span class="nb">{}</span>').format(Markup(" ").join(map(word, before.split(" "))))
    return tied + (Markup(' <span class="u nb">per {}</span>').format(after) if per else Markup(""))


def isolated(words: str) -> str:
    """Return the trainer's words so that what is read from the right in them turns nothing round beside it.

    Without this "A1 <Hebrew>: 3 × 10" shows the figures as 10 × 3 (Unicode UAX #9, 2.4: isolates).
    """
    return f"\u2068{words}\u2069" if _turns(words) else words


def bdi(words: str) -> Markup:
    """Return the trainer's words for a page, set apart where they are read from the right."""
    from markupsafe import Markup, escape

    return Markup("<bdi>{}</bdi>").format(words) if _turns(words) else escape(words)


def _turns(words: str) -> bool:
    return any(unicodedata.bidirectional(letter) in ("R", "AL") for letter in words)
