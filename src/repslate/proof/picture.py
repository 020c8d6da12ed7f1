"""The picture that link previews show: a whole JPEG, and only where the episode has a picture.

What it shows no code can read; whether its bytes are those of the build the record tells.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.proof.differences import EXTRA, UNREADABLE, Claim, Disagreement
from repslate.proof.expected import Expected
from repslate.proof.reading import Place

_FIRST, _LAST = b"\xff\xd8\xff", b"\xff\xd9"  # start and end of image: ITU-T T.81, annex B


def compare_picture(name: str, data: bytes, expected: Expected) -> Iterator[Disagreement]:
    """Yield that a picture is no whole JPEG, or that the episode has none."""
    if not (data.startswith(_FIRST) and data.rstrip(b"\0").endswith(_LAST)):
        claim = Claim("the picture", f"{len(data)} bytes", Place(name))
        yield Disagreement(UNREADABLE, claim, "a whole JPEG file")
    if expected.episode.picture is None:
        yield Disagreement(EXTRA, Claim("the picture", name, Place(name)), "none, as the episode has none")
