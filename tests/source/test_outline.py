"""workout.md to an outline: what is read as what, at which line and column, and that nothing falls in between."""

from __future__ import annotations

import re
from collections.abc import Iterator
from itertools import chain

import pytest
from hypothesis import example, given, settings
from hypothesis import strategies as st

from repslate.source.finding import Finding
from repslate.source.outline import Labelled, Node, Outline, read_outline
from repslate.source.page import Image, Passage, Phrase
from repslate.source.span import Span

EPISODE = """\
---
title: Hinge and carry
---
For anyone with one kettlebell.

## Superset A · 3 rounds
Two moves, no pause.

### Goblet squat {goblet}
10–12 reps
Sit between the heels.
![Bell held at the chest](<pictures/goblet squat.jpg>)
 Mind the ![grip](grip.jpg) here.
Cues:
- Ribs down
  and back
  * Elbows *inside* the knees
Easier: Box squat
  to a bench
**Harder**: Heels raised
Cautions ( knees ):
• Stop above the depth where it hurts
• Rest

## Safety
Stop when dizzy.
"""


def nodes(outline: Outline) -> Iterator[Node]:
    yield from outline.lead
    for part in outline.stray:
        yield from part.content
    for section in outline.sections:
        yield from section.content
        for part in section.parts:
            yield from part.content


def headings(outline: Outline) -> Iterator[Phrase]:
    for part in outline.stray:
        yield part.heading
    for section in outline.sections:
        yield section.heading
        for part in section.parts:
            yield part.heading


def phrases(outline: Outline) -> Iterator[Phrase]:
    yield from headings(outline)
    for node in nodes(outline):
        if isinstance(node, Labelled):
            yield from node.items
            if node.topic:
                yield node.topic


def read_body(text: str) -> tuple[Outline, tuple[Finding, ...]]:
    """Read a text that is not about its front matter."""
    outline, findings = read_outline(text, "workout.md")
    return outline, tuple(finding for finding in findings if finding.check != "front-matter-missing")


def test_an_episode_with_every_line_and_column() -> None:
    outline, findings = read_outline(EPISODE, "workout.md")
    assert findings == ()
    assert (outline.front, outline.front_line, outline.lead_last) == ("title: Hinge and carry", 2, 5)
    assert [node.markdown for node in outline.lead if isinstance(node, Passage)] == ["For anyone with one kettlebell."]
    places = [(phrase.text, phrase.span.line, phrase.span.column, phrase.span.length) for phrase in phrases(outline)]
    assert places == [
        ("Superset A · 3 rounds", 6, 4, 21),
        ("Goblet squat {goblet}", 9, 5, 21),
        ("Safety", 25, 4, 6),
        ("Ribs down and back", 15, 3, 9),
        ("Elbows *inside* the knees", 17, 5, 25),
        ("Box squat to a bench", 18, 9, 9),
        ("Heels raised", 20, 13, 12),
        ("Stop above the depth where it hurts", 22, 3, 35),
        ("Rest", 23, 3, 4),
        ("knees", 21, 12, 5),
    ]
    superset, safety = outline.sections
    assert (superset.first, superset.last, superset.parts[0].first, safety.first, safety.last) == (6, 24, 9, 25, 26)
    prose = superset.parts[0].content[0]
    assert isinstance(prose, Passage)
    assert (prose.markdown.count("\n"), prose.span) == (3, Span("workout.md", 10, 1, 10))
    assert prose.images == (
        Image("pictures/goblet squat.jpg", "Bell held at the chest", Span("workout.md", 12, 1, 54), alone=True),
        Image("grip.jpg", "grip", Span("workout.md", 13, 11, 17), alone=False),
    )


@pytest.mark.parametrize("change", ["\r\n", "\r"])
def test_line_endings_change_nothing(change: str) -> None:
    assert read_outline(EPISODE.replace("\n", change), "workout.md") == read_outline(EPISODE, "workout.md")


@pytest.mark.parametrize(
    ("line", "label"),
    [
        ("Cues: Ribs down", "Cues"),
        ("cue: Ribs down", "Cues"),
        ("EASIER (at home): Box squat", "Easier"),
        ("__Caution:__ stop", "Caution"),
        ("Muscle: glutes", "Muscles"),
        ("Quiet (rest-missing): a drill", "Quiet"),
        ("Note: sit back", None),
        ("Here is the cue: sit back", None),
        ("Easier on the knees: a box", None),
        ("Quick: go", None),
        ("Hard: go", None),
        ("Tip: caution: hot", None),
        ("### Plank\nTip: breathe", "label-unknown"),
        ("### Plank\nWarning: stop", "label-unknown"),
        ("### Plank\n- a\n  Warning: stop", "label-unknown"),
        ("> Cues: quoted", "Cues"),
        ("- Cues: in a list", "Cues"),
        ("    Cues: indented", "Cues"),
        ("\tCaution: indented", "Caution"),
        ("1. a step\n   Caution: under it", "Caution"),
        ("- a\n\n    - Caution: deeper", "Caution"),
        ("⚠️ **Caution: stop**", "Caution"),
        ("***Cautions*** (knees): stop", "Caution"),
        ("Caution knees: stop", "Caution"),
        ("CAUTION - the lower back: stop", "Caution"),
        ("**Caution for knees and hips:** stop", "Caution"),
        ("Caution(knees)： stop", "Caution"),
        ("```\nCues: code\n```", None),
        ("```\nCaution: code\n```", "caution-unread"),
        ("Caution is the better part: stop", "caution-unread"),
        ("Caution with all that hurts in the morning: stop", "caution-unread"),
        ("*Caution* [knees]: stop", "caution-unread"),
        ("Cautiously lower: stop", None),
        ("See the [caution](https://site.example/a): stop", None),
        ("Cues", "label-unknown"),
        ("Harder - a bench", "label-unknown"),
        ("Cuation: stop", "label-unknown"),
        ("Eaiser (at home): a box", "label-unknown"),
        ("Equiptment: a bench", "label-unknown"),
        ("a sentence goes on,\nhader: so", None),
        ("a sentence ends.\nHader: so", "label-unknown"),
        ("- a list\nHarder: so", "Harder"),
        ("> a quote\nHarder: so", "Harder"),
        ("| a |\n| - |\nHarder: so", "Harder"),
    ],
)
def test_what_is_a_label(line: str, label: str | None) -> None:
    outline, findings = read_body(line)
    found = [node.label.value for node in nodes(outline) if isinstance(node, Labelled)]
    assert found + [finding.check for finding in findings] == ([label] if label else [])


@pytest.mark.parametrize(
    ("text", "items"),
    [
        ("Cues:\n\n- one\n- two", ["one", "two"]),
        ("Cues: zero\n- one", ["zero", "one"]),
        ("Cues: zero\n\n- prose", ["zero"]),
        ("Cues:\nzero\none", ["zero one"]),
        ("Cues:\n\nprose", []),
        ("Cues: – zero\n– one", ["zero", "one"]),
        ("Cues:\n1. one\n\n   more\n2. > two", ["one", "more", "two"]),
        ("Cues:\n- one\n\n      code", ["one", "code"]),
        ("Cues:\n- [a]: https://site.example\n- one", ["[a]: https://site.example", "one"]),
        ("Cues: a <!-- b --> c\n- d<!--\n e -->f", ["a c", "d f"]),
        ("Cues: a\n***\nprose", ["a"]),
        ("Cues: a\n## Heading", ["a"]),
        ("Cues:\n1. one\n2) two\n* three", ["one", "two", "three"]),
        ("Cues:\n• one\no two\n§ three", ["one", "two", "three"]),
        ("Cues: one\n![a](b.jpg)", ["one"]),
        ("Cues:\n- one\n- two\n![a](b.jpg)", ["one", "two"]),
        ("Cues: one ![a](b.jpg) more\n![a](b.jpg)", ["one more"]),
        ("Cues:\n- ![a](b.jpg) one\n- ![a](b.jpg)", ["one"]),
        ("**Cues: one**", ["one"]),
        ("**Cues: one** more", ["one more"]),
        ("> Cues: one\n> more", ["one more"]),
        ("\tCues:\n\t- one\n\t- two", ["one", "two"]),
        ("- Cues: one\n  more", ["one more"]),
    ],
)
def test_what_belongs_to_a_label(text: str, items: list[str]) -> None:
    outline, _ = read_outline(text, "workout.md")
    first = outline.lead[0]
    assert isinstance(first, Labelled)
    assert [item.text for item in first.items] == items


def test_a_label_within_a_list_leaves_the_rest_of_the_list_where_it_was() -> None:
    text = "Cues:\n- one\n  Caution: stop\n  when it hurts\n- two\n  1. three\n\n- a step\n  Harder: so\n- on"
    outline, findings = read_body(text)
    assert findings == ()
    assert [
        (node.label.value, [item.text for item in node.items]) for node in outline.lead if isinstance(node, Labelled)
    ] == [
        ("Cues", ["one"]),
        ("Caution", ["stop when it hurts"]),
        ("Cues", ["two", "three", "a step"]),
        ("Harder", ["so"]),
        ("Cues", ["on"]),
    ]
    outline, _ = read_body("1. a step\n   Caution: stop\n2. on")
    assert [node.markdown for node in outline.lead if isinstance(node, Passage)] == ["1. a step", "2. on"]


@pytest.mark.parametrize(
    ("text", "line"),
    [
        ("Equipment: dumbbell\nSit back.", 2),
        ("Muscles: glutes,\nhamstrings\nand calves", None),
        ("Caution: wrists\nNote: breathe", 2),
        ("Caution: wrists\nand elbows: breathe", None),
        ("Cues:\n- one\n  Knees out: so", 3),
        ("Cues:\n- one\n- Knees out: so", None),
        ("Easier: a box\n\nNote: breathe", None),
    ],
)
def test_a_line_that_a_label_swallows_is_told(text: str, line: int | None) -> None:
    _, findings = read_body(text)
    assert [(finding.check, finding.span.line) for finding in findings] == ([("label-runs-on", line)] if line else [])


@pytest.mark.parametrize(
    ("text", "typed"),
    [
        ("# Hinge day\n## Circuit", "“title: Hinge day”, “---”, and take the line “# Hinge day” out"),
        ("# Legs: part two", '“title: "Legs: part two"”, “---”, and'),
        ("## Circuit\n# Hinge day", "“title: Hinge, squat, carry”, “---”, with your own title"),
    ],
)
def test_the_front_matter_to_type(text: str, typed: str) -> None:
    finding = read_outline(text, "workout.md")[1][0]
    assert finding.check == "front-matter-missing"
    assert typed in finding.help


@pytest.mark.parametrize(
    ("text", "front", "checks"),
    [
        ("---\ntitle: A\n---\nlead", "title: A", []),
        ("\n\n---  \ntitle: A\n--- \nlead", "title: A", []),
        ("---\n---\nlead", "", []),
        ("---\ntitle: A\n\nlead\n## B\n---", "title: A", ["front-matter-unterminated"]),
        ("---\ntitle: A\n## B", "title: A", ["front-matter-unterminated"]),
        ("—\ntitle: A\n—\nlead", "title: A", ["front-matter-line"] * 2),
        ("----\nformat: 1\n-—\nlead", "format: 1", ["front-matter-line"] * 2),
        ("format: 1\ntitle: A\n---\nlead", "format: 1\ntitle: A", ["front-matter-line"]),
        ("Title: A\n\nlead", "Title: A", ["front-matter-line", "front-matter-unterminated"]),
        ("lead\n\n---\n\nmore: here", None, ["front-matter-missing"]),
        ("– a\n– b", None, ["front-matter-missing"]),
        ("# Hinge day\nLead", None, ["front-matter-missing"]),
    ],
)
def test_where_the_front_matter_is(text: str, front: str | None, checks: list[str]) -> None:
    outline, findings = read_outline(text, "workout.md")
    assert (outline.front, [finding.check for finding in findings]) == (front, checks)
    assert front is None or not front or text.split("\n")[outline.front_line - 1] == front.split("\n")[0]
    leads = [node.markdown for node in outline.lead if isinstance(node, Passage)]
    assert "lead" not in text or leads[0].startswith("lead")


def test_a_hard_space_after_the_marks_is_told() -> None:
    """The option key of some keyboards types one between # and the words."""
    _, findings = read_body("##\u00a0Superset\n\n##\tCircuit")
    assert [(finding.check, finding.help) for finding in findings] == [("heading-space", "type “## Superset”")]


def test_comments_leave_lines_and_columns_as_they_are() -> None:
    text = "<!-- one\ntwo --> Sit <!-- three --> back\n\n### <!-- four -->Row\n<!-- five -->    Cues: go"
    outline, findings = read_body(text)
    assert findings == ()
    (lead,) = outline.lead
    assert lead == Passage("Sit" + " " * 16 + "back", Span("workout.md", 2, 9, 23), gaps=frozenset({2}))
    assert isinstance(lead, Passage)
    assert lead.rows() == ((2, "Sit back"),)
    assert [(phrase.text, phrase.span.line, phrase.span.column) for phrase in phrases(outline)] == [
        ("Row", 4, 18),
        ("go", 5, 24),
    ]


PIECES = [
    *EPISODE.split("\n"),
    *(
        "---",
        "—",
        "title: a",
        "##\u00a0b",
        "## ",
        "# Title",
        "#### deep",
        "##Tight",
        "## Shut ##",
        "Text\n===",
        "```",
        "~~~",
        "<!-- a",
        "b -->",
    ),
    *("<!-- c -->", "> Cues: q\nlazy", "- a\n  - b\n\n    c", "1. x", "2) y", "Cuation: z", "Quiet (x): y", "Cues:"),
    *("| a | b |\n|---|---|\n| c | d |", "[ref]: /u", "![a](b)![c](<d e>)", "![un\nclosed](x)", "\t- tab", "    code"),
    *(
        "Caution ():",
        "• dot",
        "\x0c",
        "\x1f",
        "\u2028",
        "\0",
        "***",
        "a\\",
        "\ufeff## Bom",
        "Cues: \t x  y ",
        "#",
        "-",
        "Equipment",
        "  Caution knees: x",
        "- Harder: x ![a](b) y",
        "> Caution: q",
        "⚠ Warning: w",
        "**Caution: x**",
        "Note: x",
    ),
]
SOURCES = st.lists(st.sampled_from(PIECES) | st.text(max_size=12), max_size=25).flatmap(
    lambda lines: st.sampled_from(["\n", "\r\n", "\n\n"]).map(lambda end: end.join(lines))
)


def words(text: str) -> set[str]:
    return set(re.findall(r"\w+", text))


@settings(max_examples=300, deadline=None)
@given(SOURCES)
@example("title: Hinge and carry\n—")
def test_any_text_is_read_whole_and_points_where_it_should(text: str) -> None:
    lines = re.split(r"\r\n?|\n", text.replace("\0", "\ufffd"))
    outline, findings = read_outline(text, "workout.md")
    spans = [node.span for node in nodes(outline)] + [phrase.span for phrase in phrases(outline)]
    spans += [one.span for node in nodes(outline) if isinstance(node, Passage) for one in node.images]
    for span in chain(spans, (finding.span for finding in findings)):
        assert 1 <= span.line <= len(lines)
        assert 1 <= span.column <= span.column - 1 + span.length <= max(1, len(lines[span.line - 1]))
    for phrase in phrases(outline):
        line = lines[phrase.span.line - 1]
        if "<!--" not in text:
            written = re.sub(r"!\[.*?\](?:\(.*?\))?", "", line[phrase.span.column - 1 :][: phrase.span.length])
            assert "".join(phrase.text.split()).startswith("".join(written.split()))
    covered: dict[int, int] = {}
    for phrase in headings(outline):
        covered[phrase.span.line] = covered.get(phrase.span.line, 0) + 1
    for node in nodes(outline):
        passage = node.passage if isinstance(node, Labelled) else node
        for number in range(passage.markdown.count("\n") + 1):
            covered[passage.span.line + number] = covered.get(passage.span.line + number, 0) + 1
        if isinstance(node, Labelled):
            shown = [text for one in passage.images for text in (one.path, one.description)]
            kept = " ".join([node.label, *(item.text for item in node.items), *shown])
            kept += f" {node.topic.text}" if node.topic else ""
            lost = words(passage.markdown) - words(kept)
            assert {word for word in lost if not word.isdigit()} <= {
                "cue",
                "Cautions",
                *words(lines[node.span.line - 1]),
            }
    assert max(covered.values(), default=1) == 1
    if "<!--" not in text:
        front = 0 if outline.front is None else outline.front_line + outline.front.count("\n")
        bodied = {
            number for number, line in enumerate(lines, 1) if line.strip() and number > front and line.rstrip() != "---"
        }
        told = {finding.span.line for finding in findings if finding.check == "front-matter-line"}
        assert bodied <= set(covered) | told
