"""Episodes as coaches of other habits type them, who have never seen the notation: all build, and no word is lost.

They were written by people told only of headings, exercises and labels; what the lines say is in none of our forms.
"""

from __future__ import annotations

import json
import re
from collections import Counter
from pathlib import Path
from typing import Any

import pytest

from repslate import api
from repslate.model.notes.as_data import as_json
from repslate.model.notes.plan import read_notes
from repslate.source.finding import Severity
from typed_lines import labelled, verdict

COACHES = Path(__file__).parent / "cases" / "coaches"
PLANS = Path(__file__).parent / "cases" / "notes" / "plans"
RIGHT, WRONG, RIGHT_ELSEWHERE = 0.89, 0.04, 0.7
_LABELLED = re.compile(r"^(?:Cue|Easier|Harder|Caution)[^:]*: (.+)")
_WORD = re.compile(r"[^\W_]+")


@pytest.mark.parametrize("name", sorted(path.name for path in COACHES.iterdir()))
def test_an_episode_of_other_habits_builds(name: str, tmp_path: Path) -> None:
    built = api.build(COACHES / name, tmp_path)
    assert [str(one) for one in built.findings if one.severity is Severity.ERROR] == []
    assert built.value is not None
    article = (built.value.folder / "article.md").read_text("utf-8")
    typed = (COACHES / name / "workout.md").read_text("utf-8").partition("\n---\n")[2]
    coached = [text for line in typed.splitlines() for text in _LABELLED.findall(line)]
    lost = [text for text in coached if not set(_WORD.findall(text)) <= set(_WORD.findall(article))]
    assert lost == []


def test_lines_as_coaches_type_them_are_read_or_carried() -> None:
    """Labelled by one reader: shares of English lines read right and read wrong, and of other languages."""
    said = Counter(
        (item["language"] == "en", verdict(item, as_json(read_notes(item["text"] + "\n")))) for item in labelled()
    )
    english = sum(count for (is_english, _), count in said.items() if is_english)
    others = sum(said.values()) - english
    assert said[True, "right"] / english >= RIGHT
    assert said[True, "wrong"] / english <= WRONG
    assert said[False, "right"] / others >= RIGHT_ELSEWHERE


@pytest.mark.parametrize("path", sorted(PLANS.glob("*.txt")), ids=lambda path: path.stem)
def test_a_whole_plan_keeps_its_exercises(path: Path) -> None:
    """The label names the exercises; how many of them are found is written beside them."""
    label = json.loads(path.with_suffix(".json").read_text("utf-8"))
    found: Any = as_json(read_notes(path.read_text("utf-8")))
    names = [_key(one["name"]) for block in found["blocks"] for one in block["exercises"] if one.get("name")]
    kept = [name for name in label["exercises"] if _key(name) in names]
    assert len(kept) >= label["found"], sorted(set(label["exercises"]) - set(kept))


def _key(name: str) -> tuple[str, ...]:
    return tuple(word.removesuffix("s") for word in re.findall(r"\w+", name.casefold()))
