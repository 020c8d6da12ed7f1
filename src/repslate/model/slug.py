"""Names for folders and links."""

from __future__ import annotations

import re
import unicodedata

LONGEST = 80  # characters; far below the 255 bytes of a name on common file systems, with room for an ending

# Letters that NFKD leaves whole (Unicode Standard Annex 15 decomposes accents, not strokes and ligatures).
_WHOLE = str.maketrans({"æ": "ae", "œ": "oe", "ø": "o", "ł": "l", "đ": "d", "ð": "d", "þ": "th", "ı": "i", "ħ": "h"})


def slug(text: str) -> str:
    """Return lower-case ASCII letters, digits and single hyphens, at most 80; "" if the text has none of its own.

    slug(slug(x)) == slug(x), and no result is a path: it holds neither dot nor slash.
    """
    folded = unicodedata.normalize("NFKD", unicodedata.normalize("NFKD", text).casefold().translate(_WHOLE))
    plain = re.sub(r"['’ʼ]", "", folded)
    letters = "".join(sign for sign in plain if not unicodedata.combining(sign))
    return re.sub(r"[^a-z0-9]+", "-", letters).strip("-")[:LONGEST].rstrip("-")
