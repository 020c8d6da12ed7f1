"""The front matter gives the frame rate that the film has.

Why: times in source timecode are counted in frames, so a wrong rate moves every chapter that is worked out from them.
Source: SMPTE ST 12-1 counts frames, not seconds; at 30 for 29.97 a chapter is off by 3.6 s after an hour.
Wrong:
    ---
    format: 1
    title: Squat, hinge and carry
    frame rate: "30"
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    cut.mp4:
    ⟨a film of 5:00 at 30000/1001 fps⟩
Right:
    ---
    format: 1
    title: Squat, hinge and carry
    frame rate: 29.97 drop
    ---
    ## Straight sets
    ### Goblet squat
    3 × 10, rest 90 s
    cut.mp4:
    ⟨a film of 5:00 at 30000/1001 fps⟩
Fix: type the film's own rate; where source timecode is dropped, add the word drop.
"""

from __future__ import annotations

from collections.abc import Iterator

from repslate.cut.timecode import read_rate
from repslate.cut.wording import rate_words
from repslate.facts import Facts
from repslate.source.finding import Finding, Severity

SEVERITY = Severity.WARNING


def find(facts: Facts) -> Iterator[Finding]:
    """Yield the front matter's frame rate where the film has another, or where it is no rate at all."""
    written = facts.episode.frame_rate
    film = facts.film.rate if facts.film else None
    if written is None or film is None:
        return
    rate = read_rate(written)
    if not isinstance(rate, str) and rate.exact == film:
        return
    found = f"no frame rate that is known ({rate})" if isinstance(rate, str) else "not the film's"
    yield Finding(
        "frame-rate-differs",
        SEVERITY,
        facts.episode.places.get("frame rate", facts.episode.span),
        f"frame rate “{written}” is {found}, expected {rate_words(film)}, which the film has",
        f'type “frame rate: "{rate_words(film)}"”; times in the cut stay, those from source timecode move',
    )
