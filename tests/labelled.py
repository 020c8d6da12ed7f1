"""Labelled episodes of invented talk, read as the product reads an episode's folder, and how hearing is measured.

truth.json holds the written plan (`blocks`), every prescription figure said (`spoken`, at the start of its cue), where
each topic begins (`chapters`) and where the talk differs from the plan on purpose (`contradictions`).
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

DATA = Path(__file__).parent / "data"
NEAR = 6.0  # seconds between a figure heard and its label

_HEADINGS = {
    "warm-up": "Warm-up", "straight": "Straight sets", "superset": "Superset", "tri-set": "Tri-set",
    "circuit": "Circuit", "finisher": "Finisher", "cool-down": "Cool-down",
}  # fmt: skip
_LOADS = {
    "rir": "leave {} in reserve", "rpe": "RPE {}", "percent_1rm": "@ {} % 1RM",
    "percent_working": "@ {} % of working load", "kg": "@ {} kg", "lb": "@ {} lb",
}  # fmt: skip


@dataclass(frozen=True, slots=True)
class Score:
    """Counts of one comparison: what was right of what was given and of what was wanted."""

    right: int
    given: int
    wanted: int

    def __add__(self, other: Score) -> Score:
        """Add the counts of another."""
        return Score(self.right + other.right, self.given + other.given, self.wanted + other.wanted)

    @property
    def precision(self) -> float:
        """Return the share of what was given that is right."""
        return self.right / self.given if self.given else 1.0

    @property
    def recall(self) -> float:
        """Return the share of what was wanted that was given."""
        return self.right / self.wanted if self.wanted else 1.0


def truth_of(episode: Path) -> dict[str, Any]:
    """Return the labels of an episode."""
    labels: dict[str, Any] = json.loads((episode / "truth.json").read_text("utf-8"))
    return labels


def lay_out(episode: Path, folder: Path) -> Path:
    """Write an episode as a trainer would have it: workout.md, chapters.txt and the subtitles."""
    truth = truth_of(episode)
    folder.mkdir(parents=True)
    (folder / "workout.md").write_text(_workout(truth), "utf-8")
    marks = [f"{int(c['t']) // 60}:{int(c['t']) % 60:02d} {c['title']}\n" for c in truth["chapters"]]
    (folder / "chapters.txt").write_text("".join(marks), "utf-8")
    (folder / "subtitles.srt").write_bytes((episode / "subtitles.srt").read_bytes())
    return folder


def figures_right(heard: Iterable[Any], truth: dict[str, Any]) -> tuple[Score, Score]:
    """Return how many figures were heard right (field, both ends, near in time), and how many of them of whom."""
    left: list[dict[str, Any]] = list(truth["spoken"])
    given = right = owned = 0
    for one in heard:
        given += 1
        same = [label for label in left if _is_said(one, label)]
        if same:
            label = min(same, key=lambda label: abs(label["t"] - float(one.time)))
            left.remove(label)
            right += 1
            owned += _name(one.exercise.name if one.exercise else None) == _name(label["exercise"])
    return Score(right, given, len(truth["spoken"])), Score(owned, right, right)


def names_right(names: Sequence[str], truth: dict[str, Any]) -> Score:
    """Return how many exercises of the plan were found by name."""
    wanted = {_name(one["name"]) for block in truth["blocks"] for one in block["exercises"]}
    given = set(map(_name, names))
    return Score(len(wanted & given), len(given), len(wanted))


def chapters_right(times: Sequence[float], truth: dict[str, Any]) -> Score:
    """Return how many topics were found within five seconds of where they begin."""
    found = sum(any(abs(chapter["t"] - time) <= 5 for time in times) for chapter in truth["chapters"])
    return Score(found, len(times), len(truth["chapters"]))


def _is_said(one: Any, label: dict[str, Any]) -> bool:
    same = (one.field, float(one.low), float(one.high)) == (label["field"], label["low"], label["high"])
    return same and abs(label["t"] - float(one.time)) <= NEAR


def _name(text: str | None) -> frozenset[str]:
    return frozenset(word.rstrip("s") for word in re.findall(r"[a-z0-9/]+", (text or "").lower().replace("-", " ")))


def _workout(truth: dict[str, Any]) -> str:
    lines = ["---", "format: 1", f"title: {json.dumps(truth['title'])}", f"goal: {truth['goal']}",
             f"level: {truth['level']}", "---", ""]  # fmt: skip
    for block in truth["blocks"]:
        head, name = _HEADINGS[block["kind"]], block["name"]
        title = name if name.lower().startswith(head.lower()) else f"{head}: {name}"
        title += f" · {_span(block['rounds'])} rounds" if block["rounds"] else ""
        title += f" · rest {_span(block['rest_s'])} s" if block["rest_s"] else ""
        lines += [f"## {title}", ""]
        for exercise in block["exercises"]:
            lines += [f"### {exercise['name']}", _line(exercise, in_rounds=bool(block["rounds"])), ""]
    return "\n".join(lines)


def _line(exercise: dict[str, Any], *, in_rounds: bool) -> str:
    if exercise["reps"]:
        dose = _span(exercise["reps"])
    elif exercise["seconds"]:
        dose = f"{_span(exercise['seconds'])} s"
    else:
        dose = f"{_span(exercise['metres'])} m" if exercise["metres"] else "max"
    if exercise["sets"]:
        work = f"{_span(exercise['sets'])} × {dose}"
    elif in_rounds:
        work = f"{dose} reps" if exercise["reps"] else dose
    else:
        work = f"1 × {dose}"
    load = exercise["load"]
    parts = [work + (" per side" if exercise["per_side"] else "")]
    parts += [f"tempo {exercise['tempo']}"] if exercise["tempo"] else []
    parts += [_LOADS[load["kind"]].format(_span(load["value"]))] if load and load["kind"] in _LOADS else []
    drops = exercise["drop_sets"]
    parts += [f"{drops} drop{'s' if drops > 1 else ''} of 20 %"] if drops else []
    parts += [f"rest {_span(exercise['rest_s'])} s"] if exercise["rest_s"] else []
    return ", ".join(parts)


def _span(pair: Sequence[float]) -> str:
    low, high = pair
    return f"{low:g}" if low == high else f"{low:g}–{high:g}"
