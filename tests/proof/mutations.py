"""One thing changed at a time in a good build: changes of meaning, which the audit must find, and harmless edits.

Every change is made for a reason that is put into words, at one place, in one file; the same build gives the same ones.
"""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from proof.sampled import Sample
from repslate.api import read
from repslate.publish import OUTPUTS
from repslate.publish.render import Desk, render
from repslate.publish.templates import find

_NUMBERS = "two three four five six seven eight nine ten twelve fifteen twenty thirty sixty ninety".split()
_FIGURE = re.compile(r"\d+")
_WORD = re.compile(rf"\b({'|'.join(_NUMBERS)})\b", re.IGNORECASE)
_UNITS = {
    " per side": "", " each side": "", " kg": " lb", " lb": " kg", " reps": " s", " s": " min", " min": " s",
    " m": " km", " rounds": " sets", "½": "", "bodyweight": "band", " km": " m", " cal": " breaths", " lengths": " km",
    " breaths": " cal",
}  # fmt: skip
_UNIT = re.compile("|".join(rf"(?<=\d){re.escape(unit)}\b" if unit[0] == " " else unit for unit in _UNITS))
_NOT = re.compile(r"\b(?:do not|never|don't|not)\b", re.IGNORECASE)
_HIDDEN = re.compile(
    r"<style.*?</style>|<script(?! type=\"application/ld).*?</script>|base64,[A-Za-z0-9+/=]+", re.DOTALL
)
_SHOWN = re.compile(r"<[^>]*>|&#?\w+;|([^<&]+)", re.DOTALL)
_ADDRESS = re.compile(r'(?:href|content|data-at)="([^"]*)"')


@dataclass(frozen=True)
class Change:
    """One change: the file, what was done in words, and what the file became."""

    file: str
    kind: str
    what: str
    text: str


# ---- changes of meaning


def mutations(sample: Sample) -> Iterator[Change]:
    """Yield every change of meaning of a sample's text files."""
    for file in sorted(sample.files):
        if file in ("build.json", "cut.html") or not file.endswith((".md", ".txt", ".html", ".vtt", ".ffmeta")):
            continue
        text = sample.text(file)
        spans = list(_spans(text)) if file.endswith(".html") else [(0, len(text))]
        yield from _in_spans(file, text, spans)
        yield from _of_lines(file, text)
        if file == "article.html":
            yield from _of_json(file, text)


def _spans(text: str) -> Iterator[tuple[int, int]]:
    """Yield where a page's words, addresses and structured data stand, not its style."""
    hidden = [match.span() for match in _HIDDEN.finditer(text)]
    for match in _SHOWN.finditer(text):
        if any(start <= match.start() < end for start, end in hidden):
            continue
        if match[1]:
            yield match.span(1)
        elif match[0].startswith(("<a ", "<meta", "<link")) and "width=device" not in match[0]:
            yield from (
                (match.start() + one.start(1), match.start() + one.end(1)) for one in _ADDRESS.finditer(match[0])
            )


def _in_spans(file: str, text: str, spans: list[tuple[int, int]]) -> Iterator[Change]:
    for start, end in spans:
        part = text[start:end]
        for match in _FIGURE.finditer(part):
            yield _put(
                file, "figure", text, start + match.start(), match[0], str(int(match[0]) + 1).zfill(len(match[0]))
            )
            if len(match[0]) > 1 and match[0] != match[0][::-1]:
                yield _put(file, "digits swapped", text, start + match.start(), match[0], match[0][::-1])
        for match in _WORD.finditer(part):
            yield _put(file, "figure in words", text, start + match.start(), match[0], "eleven")
        for match in _UNIT.finditer(part):
            yield _put(file, "unit or side", text, start + match.start(), match[0], _UNITS[match[0]])


def _of_lines(file: str, text: str) -> Iterator[Change]:
    """Yield lines left out, moved, shortened: exercises, chapters, cautions, disclosure, notice."""
    lines = text.split("\n")
    for at, line in enumerate(lines):
        kind = _kind(line)
        if kind is None or (kind == "disclosure" and any(_kind(one) == kind for one in lines[:at])):
            continue  # the first disclosure is the one that has to be seen
        yield _with(file, f"{kind} dropped", f"without “{line[:50]}”", [*lines[:at], *lines[at + 1 :]])
        if kind in ("exercise", "chapter") and at + 1 < len(lines) and _kind(lines[at + 1]) == kind:
            swapped = [*lines[:at], lines[at + 1], line, *lines[at + 2 :]]
            yield _with(file, f"{kind}s swapped", f"“{line[:40]}” after the next", swapped)
        if kind == "disclosure":
            yield _with(file, "disclosure moved", "to the end", [*lines[:at], *lines[at + 1 :], line])
            yield _with(
                file,
                "disclosure moved",
                "behind ten lines",
                [*lines[:at], *lines[at + 1 : at + 11], line, *lines[at + 11 :]],
            )
        if kind == "caution":
            yield from _shortened(file, lines, at)


def _shortened(file: str, lines: list[str], at: int) -> Iterator[Change]:
    line = lines[at]
    closing = "</p>" if line.rstrip().endswith("</p>") else ""
    whole = line.rstrip().removesuffix("</p>")
    if (cut := whole.rstrip(".").rfind(". ")) > 0:
        yield _with(
            file, "caution shortened", whole[cut:][:60], [*lines[:at], whole[: cut + 1] + closing, *lines[at + 1 :]]
        )
    for match in _NOT.finditer(line):
        changed = line[: match.start()] + line[match.end() :].lstrip()
        yield _with(file, "caution turned round", f"without “{match[0]}”", [*lines[:at], changed, *lines[at + 1 :]])


def _kind(line: str) -> str | None:
    """Return what a line is, None where leaving it out changes nothing that is held against the episode."""
    plain = re.sub(r"<[^>]*>", "", line).strip("*_- \r")
    if re.match(r"\d{1,2}:\d\d(?::\d\d)? \S", plain):
        return "chapter"
    if re.match(r"(?:- )?[A-Z]{1,2}\d ", line) or re.match(r'<tr><td class="label">', line):
        return "exercise"
    if re.match(r"Caution\b", plain) and ":" in plain:
        return "caution"
    return "disclosure" if plain.startswith("Advertisement") else None


def _of_json(file: str, text: str) -> Iterator[Change]:
    """Yield each value of the structured data changed while the page that is seen stays."""
    match = re.search(r'(<script type="application/ld\+json">)(.*?)(</script>)', text, re.DOTALL)
    if not match:
        return
    data = json.loads(match[2])
    for path, value in _leaves(data):
        if path[-1] in ("@context", "@type", "@id", "inLanguage") or not isinstance(value, str | int):
            continue
        other = (not value) if isinstance(value, bool) else value + 1 if isinstance(value, int) else f"Other {value}"
        edited = json.dumps(_set(data, path, other), ensure_ascii=False)
        whole = text[: match.start(2)] + edited + text[match.end(2) :]
        yield Change(file, "structured datum", f"{'/'.join(map(str, path))}: {other}", whole)


def _leaves(data: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[tuple[str | int, ...], Any]]:
    if isinstance(data, dict):
        for key, value in data.items():
            yield from _leaves(value, (*path, key))
    elif isinstance(data, list):
        for index, value in enumerate(data):
            yield from _leaves(value, (*path, index))
    else:
        yield path, data


def _set(data: Any, path: tuple[str | int, ...], value: Any) -> Any:
    if not path:
        return value
    copied: Any = dict(data) if isinstance(data, dict) else list(data)
    copied[path[0]] = _set(data[path[0]], path[1:], value)
    return copied


def _put(file: str, kind: str, text: str, at: int, old: str, new: str) -> Change:
    around = " ".join(text[max(0, at - 30) : at + 30].split())
    return Change(file, kind, f"“{old}” to “{new}” in “{around}”", text[:at] + new + text[at + len(old) :])


def _with(file: str, kind: str, what: str, lines: list[str]) -> Change:
    return Change(file, kind, what, "\n".join(lines))


# ---- the card, built anew from another source


def altered_cards(source: Path, into: Path, every: int) -> Iterator[tuple[str, str, bytes]]:
    """Yield (file, what was changed, bytes) of cards from a workout.md with one figure changed, for each `every`th."""
    lines = (source / "workout.md").read_text("utf-8").split("\n")
    figures = [
        (at, match)
        for at, line in enumerate(lines)
        if line.startswith("## ") or (at and lines[at - 1].startswith("### "))
        for match in _FIGURE.finditer(line)
    ]
    for number, (at, match) in enumerate(figures[::every]):
        line = lines[at]
        changed = line[: match.start()] + str(int(match[0]) + 1) + line[match.end() :]
        folder = into / str(number) / source.name
        shutil.copytree(source, folder, ignore=shutil.ignore_patterns("*.mp4"))
        if (source.parent / "series.yaml").is_file():
            shutil.copy(source.parent / "series.yaml", folder.parent)
        (folder / "workout.md").write_text("\n".join([*lines[:at], changed, *lines[at + 1 :]]), "utf-8")
        facts = read(folder).value
        output = next(one for one in OUTPUTS if one.name == ("card-a4.pdf", "card-letter.pdf")[number % 2])
        if facts is not None:
            rendered = render(facts, folder, find(), desk=Desk((), folder), outputs=(output,))
            yield from ((file, f"“{line}” to “{changed}”", data) for file, data in rendered.files.items())


# ---- harmless edits

_TEXTS = ("article.md", "article.html", "description.txt", "caption.txt")
_POSTS = ("description.txt", "caption.txt")
#: (files, kind, pattern, what each find of it becomes): one of them at a time.
_EDITS: tuple[tuple[tuple[str, ...], str, str, str], ...] = (
    (_TEXTS, "typography", r"(?<=[a-z])'(?=[a-z])", "’"),
    (_TEXTS, "typography", r"(?<=\d)–(?=\d)", "-"),
    (_TEXTS, "typography", r"(?<=\d)–(?=\d+ (?:reps|s|min)\b)", " to "),
    (_TEXTS, "typography", r" × ", " x "),
    (_TEXTS, "typography", r"(?<=\d) (?=(?:kg|lb|min|reps)\b)", "\u00a0"),
    (_TEXTS, "other words for a unit", r"(?<=\d) s\b", " seconds"),
    (_TEXTS, "other words for a unit", r"(?<=\d) min\b", " minutes"),
    (_TEXTS, "other words for a unit", r"\breps\b", "repetitions"),
    (_TEXTS, "other words for a unit", r"\bper side\b", "each side"),
    (_TEXTS, "white space", r"(?<=[a-z]) (?=[a-z])", "  "),
    (_POSTS, "white space", r"\n\n", "\n\n\n"),
    (("article.md",), "reflow", r"(?<=[a-z,]) (?=[a-z]{4,} [a-z])", "\n"),
    (("article.html",), "white space", r"(?<=</li>)", "\n   "),
    (("article.html",), "mark-up", r"<li>(?=[A-Z])", "<li class='n9' data-y='12'>"),
    (("article.html",), "mark-up", r"(?<=\. )(?=[A-Z])", "<br>"),
    (("article.html",), "mark-up", r"<p>(?=[A-Z])", "<!-- 3 × 12 @ 20 kg --><p>"),
    (("article.md",), "mark-up", r"^- ", "* "),
    (("article.md",), "mark-up", r"\*\*(Caution[^*]*)\*\*", r"\1"),
    (("article.md", "article.html"), "link text", r"Watch from \d+:\d\d", "See it in the film"),
    (("article.html",), "link text", r">Next: [^<]*<", ">Go on<"),
    (_TEXTS, "rewording", r"You need:|Equipment:", "Kit:"),
    (_TEXTS, "rewording", r"Lower slowly\.", "Come down slowly and with control."),
    (_TEXTS, "rewording", r"Walk tall with quick, short steps\.", "Keep tall and take quick, short steps."),
    (_TEXTS, "rewording", r"Before you train", "Before you start"),
    (_TEXTS, "rewording", r"General information, not", "This is general information and not"),
    (_TEXTS, "rewording", r"Do not drop it", "Don't drop it"),
    (_TEXTS, "rewording", r"Go only as deep as feels fine today\.", "Today, go only as deep as feels fine."),
    (_TEXTS, "rewording", r"\bCues\b", "What to think of"),
    (_POSTS, "mark-up", r"^(?=[A-Z]{1,2}\d )", "• "),
    (("chapters.txt", "description.txt"), "typography", r"^(\d+:\d\d) ", r"\1 – "),
    (("chapters.txt",), "white space", r"\n", "\n\n"),
    (("chapters.vtt",), "mark-up", r"(?<=\n\n)(?=\d)", "a chapter\n"),
    (("chapters.vtt",), "mark-up", r"(?<=\n)00:(?=\d\d:\d\d\.)", ""),
    (("chapters.ffmeta",), "mark-up", r"(?=\[CHAPTER\])", "; a chapter\n"),
)  # fmt: skip
_ADDED = (
    "We filmed this on a windy morning with three cameras.", "Thank you for watching, and see you next week!",
    "The floor in this room is rubber.", "Write to us if you would like to see more of this.",
)  # fmt: skip
_EACH = 6  # finds of a pattern in a file that are edited, spread over it


def harmless(sample: Sample) -> Iterator[Change]:
    """Yield edits that change no meaning, each at one place."""
    for files, kind, pattern, new in _EDITS:
        for file in files:
            text = sample.text(file)
            shown = text.index("</script>") if file.endswith(".html") else 0
            finds = [one for one in re.finditer(pattern, text, re.MULTILINE) if one.start() > shown]
            finds = [one for one in finds if not _in_mark_up(file, text, one.start())]
            for match in finds[:: max(1, -(-len(finds) // _EACH))]:
                edited = text[: match.start()] + match.expand(new) + text[match.end() :]
                around = " ".join(text[max(0, match.start() - 20) : match.end() + 20].split())
                yield Change(file, kind, f"“{match[0]}” to “{match.expand(new)}” in “{around}”", edited)
    for file in _TEXTS:
        yield from _added(file, sample)


def _in_mark_up(file: str, text: str, at: int) -> bool:
    """Tell whether a place is inside a tag or a drawing of a page, whose white space is no prose."""
    if not file.endswith(".html"):
        return False
    opened, closed = text.rfind("<", 0, at), text.rfind(">", 0, at)
    return (
        opened > closed
        or text.rfind("<svg", 0, at) > text.rfind("</svg>", 0, at)
        or text[opened : opened + 7] == "<script"
    )


def _added(file: str, sample: Sample) -> Iterator[Change]:
    """Yield a paragraph without figures added behind paragraphs of a text, below its title."""
    text = sample.text(file)
    end = "</p>\n" if file.endswith("html") else "\n\n"
    top = (
        text.index("</h1>") if file.endswith("html") else text.index("\n\n", text.index(sample.expected.episode.title))
    )
    places = [match.end() for match in re.finditer(re.escape(end), text) if match.start() >= top]
    for number, place in enumerate(places[:: max(1, -(-len(places) // (2 * _EACH)))]):
        words = _ADDED[number % len(_ADDED)]
        added = f"<p>{words}</p>\n" if file.endswith("html") else f"{words}\n\n"
        yield Change(file, "paragraph added", f"“{words}” at {place}", text[:place] + added + text[place:])
