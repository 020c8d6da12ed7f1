from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.source.mapping import Mapping, read_mapping
from repslate.source.span import Span
from settings_cases import Case, cases, outcome, written


@pytest.mark.parametrize("case", cases("mapping.txt"), ids=lambda case: case.name)
def test_reads_what_it_can_and_tells_the_rest(case: Case) -> None:
    mapping, findings = read_mapping(case.text, "workout.md", first_line=2)
    read = [f"{key!r} = {written(item)}" for key, item in mapping.items()]
    assert outcome(read, findings) == case.expected


def test_every_key_and_value_has_its_place() -> None:
    text = "title: Legs\nhost:\n  caption: short-post  # why\nfocus: [glutes,  upper back]\n"
    mapping, _ = read_mapping(text, "workout.md", first_line=2)

    lines = ["", "", *text.splitlines()]

    def cut(span: Span) -> str:
        return lines[span.line][span.column - 1 : span.column - 1 + span.length]

    def places(of: Mapping) -> dict[str, tuple[str, str]]:
        return {key: (cut(item.key_span), cut(item.value_span)) for key, item in of.items()}

    assert places(mapping) == {
        "title": ("title", "Legs"),
        "host": ("host", "caption: short-post  # why"),
        "focus": ("focus", "[glutes,  upper back]"),
    }
    host, focus = mapping["host"].value, mapping["focus"].value
    assert isinstance(host, Mapping)
    assert places(host) == {"caption": ("caption", "short-post")}
    assert isinstance(focus, tuple)
    assert [(item.value_span.line, item.value_span.column, item.value_span.length) for item in focus] == [
        (5, 9, 6),
        (5, 18, 10),
    ]


def test_a_number_keeps_what_was_typed() -> None:
    mapping, _ = read_mapping("frame rate: 29.970\nepisode: 007\n", "workout.md")
    assert [mapping["frame rate"].text, mapping["episode"].text] == ["29.970", "007"]


_PIECES = [
    *(
        "a:",
        "b: ",
        "- ",
        "[",
        "]",
        "{",
        "}",
        ", ",
        "\n",
        "\n  ",
        "'",
        '"',
        "#",
        "# x",
        "&a ",
        "*a",
        "! ",
        "!!str ",
        "|",
        ">",
    ),
    *("%YAML 1.1\n", "---\n", "...\n", "? ", "\t", "\\U", "\\x0", "<<: ", "1:30", "@", "`"),
    *("\ufeff", "\x85", "\u2028", "\x00", "\ud800"),
]


@given(st.lists(st.sampled_from(_PIECES), max_size=25).map("".join))
def test_no_text_is_too_odd(text: str) -> None:
    _, findings = read_mapping(text, "series.yaml")
    assert all(1 <= finding.span.line <= text.count("\n") + 1 for finding in findings)


@given(st.lists(st.sampled_from(["x: 1", "load: @ 24 kg", 'q: "open', "f: [open", "no colon", "\ttab: 1"]), max_size=6))
def test_a_bad_entry_never_takes_a_good_one_with_it(around: list[str]) -> None:
    half = len(around) // 2
    mapping, _ = read_mapping("\n".join([*around[:half], "good: kept", *around[half:]]) + "\n", "series.yaml")
    assert mapping["good"].value == "kept"
