r"""repslate: one workout file in, everything published about it out, from the same figures.

>>> import repslate
>>> result = repslate.check("## Straight sets\n### Goblet squat\n3 x 8 @ 16 kg, rest 90 s\n")
>>> result.value.episode.blocks[0].exercises[0].name
'Goblet squat'
>>> result.value.numbers.muscles[0].total
Range(low=Fraction(3, 1), high=Fraction(3, 1))
>>> [finding.check for finding in result.findings]
['front-matter-missing', 'markers-missing', 'no-safety-notice']
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from repslate.api import Result, audit, build, check, draft, hear, parse_prescription, read, retime
    from repslate.documents import to_json
    from repslate.facts import Facts
    from repslate.model.episode import Episode
    from repslate.model.prescription import Prescription
    from repslate.source.finding import Finding
    from repslate.training.numbers import Numbers

__all__ = [
    "Episode",
    "Facts",
    "Finding",
    "Numbers",
    "Prescription",
    "Result",
    "audit",
    "build",
    "check",
    "draft",
    "hear",
    "parse_prescription",
    "read",
    "retime",
    "to_json",
]

_HOMES = {
    "api": ("Result", "audit", "build", "check", "draft", "hear", "parse_prescription", "read", "retime"),
    "documents": ("to_json",),
    "facts": ("Facts",),
    "model.episode": ("Episode",),
    "model.prescription": ("Prescription",),
    "source.finding": ("Finding",),
    "training.numbers": ("Numbers",),
}


def __getattr__(name: str) -> object:
    """Load what is asked for, and only that: every command begins by importing this package."""
    home = next((home for home, names in _HOMES.items() if name in names), None)
    if home is None:
        raise AttributeError(f"repslate has no {name}; it has {', '.join(__all__)}")
    return getattr(import_module(f"repslate.{home}"), name)
