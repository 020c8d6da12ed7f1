"""A published text against the built one, word by word: each row one edit, what is said of it, and how loud.

Each row: file, the text that is changed, what it becomes, the check ("" for silence), and a piece of the message.
"""

from __future__ import annotations

import random
import re
import time

import pytest

from proof.sampled import NAMES, Sample
from repslate.proof.matching import Match, at_edges, match, moved
from repslate.proof.published import Copy
from repslate.proof.words import address, words

TOLD = [
    # claims: every word counts
    ("caption.txt", "15 reps", "50 reps", "audit-figure", "D1 Kettlebell swing: found “Kettlebell swing: 50 reps”"),
    ("caption.txt", "**Finisher**|Finisher", "Finale", "audit-name", "expected “Finisher · 4 rounds”"),
    ("article.md", "· 3 rounds", "· up to 3 rounds", "audit-extra", "up to 3 rounds"),
    ("article.md", "after each round", "after each set", "audit-name", "after each set"),
    ("article.md", "two kettlebells, mat", "two kettlebells, mat, bench", "audit-extra", "the equipment: found"),
    ("article.md", "16 kg", "16 lb", "audit-figure", "A1 Goblet squat"),
    ("article.html", ">8½</text>", ">8</text>", "audit-figure", "8"),
    ("article.html", "Next: A1 Goblet squat", "Next: A1 Front squat", "audit-name", "Front squat"),
    ("chapters.vtt", "00:06:50.000 -->", "00:06:50.001 -->", "audit-time", "6:50"),
    ("article.md", "#t=330>", "#t=331>", "audit-time", "#t=331”, expected"),
    ("article.html", 'href="card-a4.pdf"', 'href="card-a5.pdf"', "audit-link", "card-a5.pdf"),
    # safety: missing, changed, contradicted with all words kept, moved, hidden
    ("article.md", "A smaller squat still counts.", "", "audit-caution", "the caution on knees"),
    ("article.md", "Stop above any depth", "Stop only above any depth", "audit-caution", "Stop only"),
    ("article.md", "that hurts. A", "that hurts, unless you are experienced. A", "audit-caution", "unless you are"),
    ("article.md", "**Caution (knees):** Stop", "**Myth (knees):** Stop", "audit-caution", "Myth"),
    ("description.txt", "Do not drop it.", "Do not drop it. You may ignore this.", "audit-caution", "ignore"),
    ("article.md", "training plan is our own", "training plan is not our own", "audit-disclosure", "is not our own"),
    ("article.md", "not medical advice", "medical advice", "audit-notice", "medical advice"),
    ("article.md", "**Advertisement", "A lovely morning by the lake!\n\n**Advertisement", "audit-disclosure", "lovely"),
    ("article.md", "**Caution (knees):** Stop", "~~**Caution (knees):**~~ Stop", "audit-caution", "where every reader"),
    ("article.md", "**Caution (floor):**", "<!-- **Caution (floor):**", "audit-caution", "the caution on floor"),
    ("article.html", "Stop above any", '<i style="font-size:0">Stop above any</i>', "audit-caution", "on knees"),
    ("article.md", "**Caution (knees):** Stop", "**Good to know (knees):** Stop", "audit-caution", "Good to know"),
    ("article.html", "Caution (floor)", "Former caution (floor)", "audit-caution", "Former caution"),
    ("description.txt", "Caution, Push-up", "A small hint, Push-up", "audit-caution", "A small hint"),
    ("article.html", "Caution (floor)", "Caution (fl&#178;oor)", "audit-caution", "floor"),
    # a sentence beside words of safety that points at them
    ("article.md", "squat still counts.", "squat still counts.\n\nOur insurer wants it.", "audit-talk", "insurer"),
    ("description.txt", "\n\nGeneral inf", "\n\nYou can pass over this.\n\nGeneral inf", "audit-talk", "pass over"),
    ("article.html", "our own.</p>\n<p c", "our own.</p><p>Nobody minds that.</p><p c", "audit-talk", "minds that"),
    # what speaks of dose, effort, pain, safety or a sponsor
    ("article.md", "- Heels heavy", "- Heels heavy. Do 20 reps", "audit-figure|audit-talk", "20 reps"),
    ("article.md", "Lower slowly", "Lower fast", "audit-talk", "Lower fast"),
    ("article.md", "- Heels heavy", "- Heels light", "audit-talk", "Heels light"),
    ("article.md", "Cues:\n", "Add a burpee over bar after every one.\n\nCues:\n", "audit-talk", "burpee"),
    ("caption.txt", "\n\nWarm-up", "\n\nPaid by Tarnside Mats.\n\nWarm-up", "audit-talk", "speak of a sponsor"),
    ("caption.txt", "#kettlebell", "#TarnsideMats #kettlebell", "audit-talk", "TarnsideMats"),
    ("article.html", 'alt="A woman stands', 'alt="A man stands', "audit-talk", "the description of a picture"),
    ("article.html", '"og:description" content="Three', '"og:description" content="Four', "audit-talk", "og:desc"),
    ("article.html", '"workload": "15 reps', '"workload": "16 reps', "audit-figure", "the JSON-LD"),
    # other words: one note
    ("article.md", "Lower slowly.", "Come down slowly and with control.", "audit-wording", "1 change of other words"),
    ("article.md", "## Before you train", "## Before you start", "audit-wording", "“Before you start”"),
    ("caption.txt", "#kettlebell", "#bodyweight", "audit-wording", "bodyweight"),
    ("description.txt", "You need:", "Kit:", "audit-wording", "Kit"),
    ("article.html", "<header>", "<nav><p>Home Shop News</p></nav><header>", "audit-wording", "Home Shop News"),
    ("article.md", "fine today.", "fine today, friend.", "audit-caution", "friend"),
    # nothing to say
    ("article.md", "16 kg (35 lb)", "16kg, 35\u00a0lb", "", ""),
    ("article.md", "Do not drop it", "Don’t drop it", "", ""),
    ("article.html", "<li>Heels heavy</li>", "<div>✅ He\u00adels he&shy;avy</div>", "", ""),
    ("article.html", "#t=330", "?utm_source=x#t=330", "", ""),
]  # fmt: skip

_COVER = "position: absolute; width: 9em; height: 2em; background: white"
_COVERED = "a box that may cover"
# what style sheets and mark-up do to words of safety, on a page
STYLED = [
    ("</style>", ".notice::after {content: 'You may skip it.'}</style>", "audit-talk", "skip it"),
    ("</style>", ".caution::before {content: 'Optional: '}</style>", "audit-caution", "Optional: Caution"),
    ("</style>", "@media print {.caution::after {content: var(--a, 'Or do.')}}</style>", "audit-caution", "Or do"),
    ("</style>", f".caution::before {{content: ''; {_COVER}}}</style>", "audit-unseen", _COVERED),
    ("</style>", ".facts::before {content: '\\2014'; position: absolute}</style>", "", ""),
    ("<main>", f'<main><div style="{_COVER}">.</div>', "audit-unseen", _COVERED),
    ("<main>", '<main><img src="a.png" style="position: relative; top: -90px" alt="">', "audit-unseen", _COVERED),
    ("<main>", f'<nav style="{_COVER}">Home</nav><main>', "audit-wording", "Home"),
    *(
        ('<p class="caution">', f'<{tag}><p class="caution">', "audit-caution", "found nothing of it")
        for tag in ("select", "datalist", "template", "noscript", "rp")
    ),
]


def _edited(sample: Sample, file: str, old: str, new: str) -> str:
    text = sample.text(file)
    at = next((one for one in old.split("|") if one in text), None)
    assert at is not None, f"{file} no longer has “{old}”"
    return text.replace(at, new, 1)


@pytest.mark.parametrize(("file", "old", "new", "check", "says"), TOLD, ids=lambda one: str(one)[:24])
def test_each_difference_is_told_in_its_class(
    boathouse: Sample, file: str, old: str, new: str, check: str, says: str
) -> None:
    found = boathouse.audit(file, _edited(boathouse, file, old, new))
    assert bool(found) == bool(check), [one.message for one in found]
    assert not check or any(one.check in check.split("|") and says in one.message for one in found), found
    assert {one.span.file for one in found} <= {file}


@pytest.mark.parametrize(("old", "new", "check", "says"), STYLED, ids=lambda one: str(one)[:24])
def test_what_a_page_does_to_words_of_safety_is_told(
    boathouse: Sample, old: str, new: str, check: str, says: str
) -> None:
    found = boathouse.audit("article.html", _edited(boathouse, "article.html", old, new))
    assert bool(found) == bool(check), [one.message for one in found]
    assert not check or any(one.check == check and says in one.message for one in found), found


def test_a_finding_names_the_word_and_its_place(boathouse: Sample) -> None:
    text = boathouse.text("caption.txt").replace("D1 Kettlebell swing: 15 reps", "D1 Kettlebell swing: 51 reps")
    (one,) = boathouse.audit("caption.txt", text)
    lines = text.split("\n")
    assert lines[one.span.line - 1][one.span.column - 1 :].startswith("51")
    source = boathouse.expected.exercises[8].exercise.prescription_span
    assert source is not None
    assert one.message.endswith(f"as workout.md, line {source.line}, has it")


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("file", ["article.html", "article.md", "caption.txt", "description.txt", "chapters.txt"])
def test_the_text_of_another_episode_is_one_sentence(samples: dict[str, Sample], name: str, file: str) -> None:
    other = next(one for one in NAMES if one != name)
    (one,) = samples[name].audit(file, samples[other].text(file))
    assert one.check == "audit-other-text"


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize(
    ("kind", "file", "pattern", "new"),
    [
        (Copy.CHAPTERS, "chapters.txt", r"(?m)^(?=\d)", "▶ "),
        (Copy.CHAPTERS, "chapters.txt", r"(?m)^(?=\d)", "1. "),
        (Copy.CHAPTERS, "description.txt", r"\A", ""),
        (Copy.DESCRIPTION, "description.txt", r"(?m)^(?=[A-Z]{1,2}\d )", "💪 "),
        (Copy.CAPTION, "caption.txt", r"(?<=\d) (?=reps)", "\u00a0"),
        (Copy.ARTICLE, "article.md", r"\A", ""),
        (Copy.ARTICLE, "article.html", r"\n", " "),
    ],
)
def test_a_copy_that_says_the_same_is_silent(
    samples: dict[str, Sample], name: str, kind: Copy, file: str, pattern: str, new: str
) -> None:
    text = re.sub(pattern, new, samples[name].text(file))
    assert samples[name].texts.compare_copy("copy.txt", text.encode(), kind) == []


def test_drawings_may_all_be_others(boathouse: Sample) -> None:
    text = re.sub(r"<svg.*?</svg>", "", boathouse.text("article.html"), flags=re.DOTALL)
    edited = text.replace("</main>", "<svg><text>Zig</text></svg></main>")
    assert boathouse.texts.compare_copy("copy.html", edited.encode(), Copy.ARTICLE)


def test_words_compare_as_people_mean_them() -> None:
    def keys(text: str) -> list[str]:
        return [word.key for word in words(text)]

    assert keys("3 × 8–10 @ 16 kg") == keys("3x8-10 @ 16kg") == keys("• 3 × 8 to 10 (16 KG)")
    assert keys("1. 0:00 Hi") == keys("▶ 00:00 hi") == keys("0:00 – Hi")
    assert keys("RIR 2") == keys("leave 2 in reserve")
    assert keys("caf\u00e9 for two metres") == keys("cafe\u0301 for 2 m")
    assert keys("Ｗａｒｍ-ｕｐ 𝟏𝟐 ㎏") == keys("warm-up 12 kg")
    assert keys("7½") == keys("71⁄2") != keys("71/2")
    assert keys("10²") != keys("102")
    assert keys("Warm-up (1:10)") == keys("1:10 Warm-up") != keys("Warm-up 1:10 and 2:10")
    assert keys("row with 2 x 16 kg") == keys("row @ 2 × 16 kg") != keys("row without 2 × 16 kg")
    assert keys("can’t") == keys("cannot") == keys("can not") != keys("can")
    assert keys("go on a.example/b") == keys("go on https://a.example/b")
    assert keys("10 reps") != keys("10 s")
    assert address("https://www.a.example/x/?utm_source=y&b=1#c") == address("http://a.example/x?b=1#c")


def test_a_line_that_is_gone_or_doubled_is_that_line() -> None:
    old, pieces = "a b c a d c a e c".split(), [0, 0, 0, 1, 1, 1, 2, 2, 2]
    new = "a b c a e c".split()
    found = at_edges(match(old, new), (pieces, [0, 0, 0, 1, 1, 1]), (old, new))
    assert sorted({at for one in found for at in range(one.old, one.old + one.length)}) == [0, 1, 2, 6, 7, 8]
    assert moved("k l m n x".split(), "x k l m n".split(), [Match(4, 0, 1)]) == [Match(0, 1, 4)]


@pytest.mark.parametrize("letters", ["w", "ab", "0123456789"])
def test_texts_of_any_make_are_compared_in_time(letters: str) -> None:
    source = random.Random(7)  # noqa: S311 - not for secrets
    old, new = ([source.choice(letters) for _ in range(count)] for count in (10_000, 60_000))
    start = time.process_time()
    moved(old, new, match(old, new))
    assert time.process_time() - start < 5
