"""What somebody may do to a published text by hand without saying something else: the audit is silent.

Each row: file, a pattern, what it becomes everywhere.
"""

from __future__ import annotations

import json
import re
import textwrap

import pytest

from proof.sampled import NAMES, Sample

TEXTS = ("article.md", "article.html", "description.txt", "caption.txt")
CHAPTERS = ("chapters.txt", "chapters.vtt", "chapters.ffmeta")
EDITS = [
    # typography
    (TEXTS + CHAPTERS, r"\n", "\r\n"),
    (TEXTS + CHAPTERS, r"\A", "\ufeff"),
    (TEXTS + CHAPTERS, r"\Z", "\n\n"),
    (TEXTS, r"(?<=[a-z])'(?=[a-z])", "’"),
    (TEXTS, r"(?<=\d)–(?=\d)", "-"),
    (TEXTS, r"(?<=\d)–(?=\d+ (?:reps|s|min)\b)", " to "),
    (TEXTS, r" × ", " x "),
    (TEXTS, r"(?<=\d) (?=kg|lb|min|reps)", "\u00a0"),
    (TEXTS, r"(?<=\d) s\b", " seconds"),
    (TEXTS, r"(?<= )·(?= )", "•"),
    (TEXTS, r"(?<= )·(?= )", "|"),
    (("caption.txt", "description.txt"), r"^(?=[A-Z]{1,2}\d )", "👉"),
    (("caption.txt", "description.txt"), r"^(?=[A-Z]{1,2}\d )", "🏋🏽‍♀️ "),
    (("caption.txt", "description.txt"), r"^(?=[A-Z]{1,2}\d )", "1️⃣ "),
    (("caption.txt", "description.txt"), r"https://(?=heronwick)", ""),
    # other words for the same
    (TEXTS, r"\bcannot\b", "can’t"),
    (TEXTS, r"@ (?=\d)", "with "),
    (TEXTS, r"@ (?=\d|bodyweight)", "at "),
    (TEXTS, r"\bper side\b", "each side"),
    (TEXTS, r"\breps\b", "repetitions"),
    (TEXTS, r"leave 2 in reserve", "RIR 2"),
    (TEXTS, r"Lower slowly\.", "Come down slowly and with control."),
    (TEXTS, r"Walk tall with quick, short steps\.", "Keep tall and take quick, short steps."),
    (TEXTS, r"Wait\s+for one second at the bottom", "Pause for 1 s at the bottom"),
    (TEXTS, r"Keep two metres free in front and behind", "In front and behind, keep 2 m free"),
    (TEXTS, r"Go only as deep as feels fine today\.", "Today, go only as deep as feels fine. Ask us if unsure."),
    (TEXTS, r"Do not drop it", "Don't drop it"),
    (TEXTS, r"General information, not", "This is general information and not"),
    (TEXTS, r"Before you train", "Before you start"),
    (TEXTS, r"Article and printable card:|Every step and the printable card:", "Read more here:"),
    (TEXTS, r"You need:", "Kit:"),
    (("caption.txt", "description.txt"), r"#nokit|#kettlebell\b(?! )", "#bodyweight"),
    (TEXTS, r"Cues", "What to think of"),
    (TEXTS, r"Watch from \d+:\d\d", "See it in the film"),
    # mark-up
    (("article.md",), r"^- ", "* "),
    (("article.md",), r"\*\*(Caution[^*]*)\*\*", r"\1"),
    (("article.md",), r"^# (.*)$", r"\1\n====="),
    (("article.html",), r"<style>.*?</style>", ""),
    (("article.html",), r"</?span[^>]*>", ""),
    (("article.html",), r"(?<=</tr>)\n|(?<=</p>)\n", ""),
    (("article.html",), r"<p>(?=[A-Z])", "<!-- 3 × 12 @ 20 kg -->\n<p class='n9' data-y='12'>\n"),
    (("article.html",), r"<li>(.*?)</li>", r"<li><em>\1</em></li>"),
    (("article.html",), r"(?<=\. )(?=[A-Z])(?![^<>]*>)", "<br>"),
    (("caption.txt", "description.txt"), r"^(?=[A-Z]{1,2}\d )", "• "),
    (("caption.txt", "description.txt"), r"^([A-Z]{1,2}\d .*)$", r"\1."),
    (("caption.txt", "description.txt"), r"\n\n", "\n\n\n"),
    (("caption.txt", "description.txt"), r"\n#.*", ""),
    # chapters
    (("chapters.txt", "description.txt"), r"^(\d+:\d\d) ", r"\1 – "),
    (("chapters.txt", "description.txt"), r"^(\d+:\d\d) (.*)$", r"\2 \1"),
    (("chapters.txt", "description.txt"), r"^(\d+:\d\d) (.*)$", r"\2 – \1"),
    (("chapters.txt", "description.txt"), r"^(\d+:\d\d) (.*)$", r"\2 (\1)"),
    (("chapters.txt",), r"^(?=\d:)", "0"),
    (("chapters.txt",), r"\n", "\n\n"),
    (("chapters.vtt",), r"WEBVTT", "WEBVTT - our chapters\n\nNOTE made by hand"),
    (("chapters.vtt",), r"(?<=\n\n)(?=\d)", "a chapter\n"),
    (("chapters.vtt",), r"00:(?=\d\d:\d\d\.)", ""),
    (("chapters.ffmeta",), r"\[CHAPTER\]", "; a chapter\n\n[CHAPTER]"),
    (("chapters.ffmeta",), r";FFMETADATA1", ";FFMETADATA1\nartist=Somebody"),
]
ADDED = (
    "We filmed this on a windy morning in 2025 with three cameras.",
    "Thank you for watching, and see you next week!",
    "Two of you asked about the floor: it is rubber, 8 mm thick.",
)


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize(("files", "pattern", "new"), EDITS, ids=lambda one: str(one)[:24])
def test_an_edit_that_changes_no_meaning_is_silent(
    samples: dict[str, Sample], name: str, files: tuple[str, ...], pattern: str, new: str
) -> None:
    sample = samples[name]
    for file in files:
        head, style, body = (
            sample.text(file).partition("</script>") if file == "article.html" else ("", "", sample.text(file))
        )
        whole = pattern.startswith(("<style", r"\n", r"\A", r"\Z"))
        text = head + style + body
        edited = (
            re.sub(pattern, new, text, flags=re.S | re.M)
            if whole
            else head + style + re.sub(pattern, new, body, flags=re.M)
        )
        assert [one.message for one in sample.told(file, edited)] == [], file


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("words", ADDED)
@pytest.mark.parametrize(("file", "end"), [(file, "</p>\n" if file.endswith("html") else "\n\n") for file in TEXTS])
def test_a_paragraph_added_anywhere_is_silent(
    samples: dict[str, Sample], name: str, words: str, file: str, end: str
) -> None:
    sample = samples[name]
    text = sample.text(file)
    top = (
        text.index("</h1>") if file == "article.html" else text.index("\n\n", text.index(sample.expected.episode.title))
    )
    places = [match.end() for match in re.finditer(re.escape(end), text) if match.start() >= top]
    for place in places[:: max(1, len(places) // 8)]:
        added = f"<p>{words}</p>\n" if file == "article.html" else f"{words}\n\n"
        found = sample.told(file, text[:place] + added + text[place:])
        assert [one.message for one in found] == [], text[place - 60 : place]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("width", [40, 50, 60])
@pytest.mark.parametrize("file", ["description.txt", "caption.txt"])
def test_lines_of_a_post_may_be_broken(samples: dict[str, Sample], name: str, file: str, width: int) -> None:
    lines = samples[name].text(file).split("\n")
    wrapped = [textwrap.fill(line, width, break_long_words=False, break_on_hyphens=False) for line in lines]
    assert [one.message for one in samples[name].told(file, "\n".join(wrapped))] == []


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("first", [0x1D400, 0x1D5D4, 0x1D670, 0xFF21, 0x24B6])
@pytest.mark.parametrize("file", [*TEXTS, "chapters.txt"])
def test_letters_may_be_of_any_style(samples: dict[str, Sample], name: str, first: int, file: str) -> None:
    sample = samples[name]
    title = sample.expected.episode.title if file in TEXTS else sample.expected.chapters[0].title
    small = first + (32 if first == 0xFF21 else 26)
    styled = str.maketrans(
        {chr(ord(base) + at): chr(start + at) for base, start in (("A", first), ("a", small)) for at in range(26)}
    )
    head, body, rest = sample.text(file).partition("<body")
    text = (head if not body else rest).replace(title, title.translate(styled))
    edited = head + body + text if body else text
    assert edited != sample.text(file)
    assert [one.message for one in sample.told(file, edited)] == []


@pytest.mark.parametrize("name", NAMES)
def test_ways_into_a_page_may_be_whole_addresses(samples: dict[str, Sample], name: str) -> None:
    sample = samples[name]
    host = (sample.expected.address or "").split("/")[2:3]
    if not host:
        pytest.skip("the sample has no website")
    text = sample.text("article.html")
    edited = text.replace('href="#', f'href="https://{host[0]}/2026/05/a-post/#')
    edited = edited.replace('href="card-', f'href="https://{host[0]}/files/card-')
    assert [one.message for one in sample.told("article.html", edited)] == []
    assert sample.told("article.html", text.replace('href="#', f'href="https://{host[0]}/2026/05/a-post/#', 1))
    assert sample.told("article.html", text.replace('href="#', 'href="https://elsewhere.example/#'))


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("width", [40, 72, 100, 400])
def test_paragraphs_may_be_broken_anywhere(samples: dict[str, Sample], name: str, width: int) -> None:
    def reflowed(part: str) -> str:
        if part.startswith(("-", "#", "[")):
            return part
        return textwrap.fill(part.replace("\n", " "), width, break_long_words=False, break_on_hyphens=False)

    text = "\n\n".join(map(reflowed, samples[name].text("article.md").split("\n\n")))
    assert samples[name].told("article.md", text) == []


@pytest.mark.parametrize("name", NAMES)
def test_json_may_be_set_otherwise(samples: dict[str, Sample], name: str) -> None:
    def packed(found: re.Match[str]) -> str:
        return found[1] + json.dumps(json.loads(found[2]), sort_keys=True) + found[3]

    text = samples[name].text("article.html")
    edited = re.sub(r'(<script type="application/ld\+json">)(.*?)(</script>)', packed, text, flags=re.DOTALL)
    assert edited != text
    assert samples[name].told("article.html", edited) == []
