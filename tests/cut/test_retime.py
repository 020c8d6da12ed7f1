"""Chapters moved by what is said: labelled re-cuts, what holds for any speech, and the files around it."""

from __future__ import annotations

import json
import random
from collections.abc import Sequence
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from repslate import api
from repslate.cut.cue import Cue
from repslate.cut.formats.subtitles_srt import write as write_srt
from repslate.cut.markers import Marker, read_markers
from repslate.cut.retime import files as moving
from repslate.cut.retime.chapters import Retimed, retime
from repslate.cut.subtitles import read_subtitles
from repslate.source.span import Span

SPOKEN = Path(__file__).parents[1] / "data" / "spoken"
PLACE = Span("chapters.txt")
WORDS = [
    a + b for a in ("ba", "de", "fi", "go", "lu", "mar", "nep", "os", "ti") for b in ("n", "ra", "sk", "tem", "vo")
]


def marker(time: Fraction | int | str, title: str = "Squat", name: str | None = None) -> Marker:
    return Marker(Fraction(time), title, name, PLACE)


def cues(path: Path) -> tuple[Cue, ...]:
    found, findings = read_subtitles(path.read_text("utf-8"), path.name)
    assert not findings
    return found


def speech(seed: int, count: int = 60) -> tuple[Cue, ...]:
    """Return cues one after the other with pauses here and there, three to nine words each."""
    rng = random.Random(seed)  # noqa: S311 - speech, not a secret
    time, said = Fraction(rng.randrange(3000), 1000), []
    for _ in range(count):
        words = [rng.choice(WORDS) for _ in range(rng.randint(3, 9))]
        end = time + Fraction(len(words) * rng.randint(280, 450), 1000)
        said.append(Cue(time, end, " ".join(words), PLACE))
        time = end + (Fraction(rng.randrange(2500), 1000) if rng.random() < 0.3 else 0)
    return tuple(said)


def moved(said: Sequence[Cue], by: Fraction) -> list[Cue]:
    return [replace(cue, start=cue.start + by, end=cue.end + by) for cue in said]


# ---- labelled re-cuts: light trim; heavy edit with a title in front; blocks reordered with one word in five wrong


@pytest.mark.parametrize("number", [1, 2, 3])
@pytest.mark.parametrize("episode", sorted(path.name for path in SPOKEN.iterdir()))
def test_labelled_recuts(episode: str, number: int) -> None:
    folder = SPOKEN / episode
    known = json.loads((folder / f"recut-{number}.json").read_text("utf-8"), parse_float=Fraction, parse_int=Fraction)
    chapters = [marker(one["old_t"], one["title"]) for one in known["chapters"]]
    answer = retime(cues(folder / "subtitles.srt"), cues(folder / f"recut-{number}.srt"), chapters)
    assert [one.title for one in answer] == [one["title"] for one in known["chapters"]]
    for one, truth in zip(answer, known["chapters"], strict=True):
        if truth["new_t"] is None:
            assert (one.to, one.reason[:21]) == (None, "the start was cut out")
            assert one.offer is not None
        else:
            assert one.to is not None, one
            assert abs(one.to - truth["new_t"]) <= Fraction(1, 2), one


# ---- what holds for any speech


@given(seed=st.integers(0, 10**6), times=st.lists(st.fractions(0, 200, max_denominator=1000), max_size=5))
@settings(max_examples=25, deadline=None)
def test_the_same_cut_moves_nothing(seed: int, times: list[Fraction]) -> None:
    said = speech(seed)
    assert [one.to for one in retime(said, said, [marker(time) for time in times])] == times


@given(seed=st.integers(0, 10**6), first=st.integers(1, 40), lead=st.fractions(0, 9, max_denominator=1000))
@settings(max_examples=25, deadline=None)
def test_a_cut_of_all_before_shifts_the_rest(seed: int, first: int, lead: Fraction) -> None:
    said = speech(seed)
    by = lead - said[first].start
    answer = retime(said, moved(said[first:], by), [marker(cue.start) for cue in said])
    assert [one.to for one in answer[first:]] == [cue.start + by for cue in said[first:]]
    assert all(one.to is None and one.offer is not None for one in answer[:first])


@given(seed=st.integers(0, 10**6), order=st.permutations(range(4)), keep=st.integers(2, 4))
@settings(max_examples=25, deadline=None)
def test_kept_pieces_keep_their_inside_whatever_their_order(seed: int, order: list[int], keep: int) -> None:
    said = speech(seed, 80)
    new: list[Cue] = []
    wanted: dict[Fraction, Fraction] = {}
    for piece in order[:keep]:
        part = said[piece * 20 : piece * 20 + 20]
        by = (new[-1].end if new else Fraction()) - part[0].start
        new += moved(part, by)
        wanted |= {cue.start: cue.start + by for cue in part}
    answer = retime(said, new, [marker(cue.start) for cue in said])
    # One word may be heard on the wrong side of a cut, and a trimmed pause of less than half a second is none.
    edges = {said[piece * 20 + at].start for piece in range(4) for at in (0, 19)}
    found = {one.start: one.to for one in answer if one.to is not None and one.start not in edges}
    assert found.keys() == wanted.keys() - edges
    assert all(abs(to - wanted[time]) <= Fraction(1, 2) for time, to in found.items())
    assert [one.start for one in sorted(answer, key=lambda one: one.to or 0) if one.start in found] == [
        time for time in wanted if time not in edges
    ]


@given(
    films=st.lists(
        st.lists(
            st.tuples(st.integers(0, 9), st.integers(0, 5), st.sampled_from(["", "one", "one two", "♪", "go on"]))
        ),
        min_size=2,
        max_size=2,
    ),
    times=st.lists(st.integers(0, 99)),
)
@settings(max_examples=60, deadline=None)
def test_any_two_files_get_an_answer_for_every_chapter(
    films: list[list[tuple[int, int, str]]], times: list[int]
) -> None:
    old, new = ([Cue(Fraction(a), Fraction(a + b), text, PLACE) for a, b, text in film] for film in films)
    answer = retime(old, new, [marker(time) for time in times])
    assert [one.start for one in answer] == times
    assert all(one.to is not None or one.reason for one in answer)
    assert all(one.to is None or one.to >= 0 for one in answer)


def test_reps_counted_aloud_stay_with_their_set() -> None:
    def counted(start: Fraction) -> list[Cue]:
        return [Cue(start + n * 3, start + n * 3 + 2, f"and {n}", PLACE) for n in range(1, 11)]

    talk = speech(7, 60)
    first, second = talk[:30], moved(talk[30:], Fraction(60))
    old = [*first, *counted(first[-1].end), *second, *counted(second[-1].end)]
    new = [*moved(old[40:], -old[40].start), *moved(old[:40], old[-1].end - old[40].start)]
    answer = retime(old, new, [marker(first[-1].end + 3), marker(second[-1].end + 3)])
    assert [one.to for one in answer] == [
        first[-1].end + 3 + old[-1].end - old[40].start,
        second[-1].end + 3 - old[40].start,
    ]


def test_what_is_told_of_a_start_that_was_cut_out() -> None:
    said = speech(3)
    new = [*said[:20], *moved(said[30:], said[20].start - said[30].start)]
    inside, before = retime(said, new, [marker(said[22].start), marker(said[28].start)])
    assert inside.reason.startswith("the start was cut out: nothing from ")
    assert (inside.to, before.to) == (None, None)
    # The first chapter has nothing left, the second goes on after the cut; both meet at the cut in the new film.
    assert inside.offer is not None
    assert abs(inside.offer - said[20].start) < Fraction(5, 2)
    assert before.offer == said[20].start


def test_footage_used_twice_is_told() -> None:
    said = speech(4)
    teaser = moved(said[30:40], -said[30].start)
    new = [*teaser, *moved(said, teaser[-1].end)]
    (one,) = retime(said, new, [marker(said[32].start)])
    assert "more than once" in one.reason


def test_a_time_in_whole_seconds_belongs_to_what_starts_within_the_second() -> None:
    said = moved(speech(5), Fraction(1, 2) - speech(5)[30].start % 1)
    whole = Fraction(int(said[30].start))
    new = moved(said[30:], -said[30].start)
    (one,) = retime(said, new, [marker(whole)])
    assert one.to == 0
    assert "whole seconds" in one.reason
    assert retime(said, new, [marker(whole + Fraction(1, 1000))])[0].to is None


@pytest.mark.parametrize("new", [(), speech(99), [Cue(Fraction(), Fraction(1), "♪", PLACE)]])
def test_nothing_in_common_is_told(new: Sequence[Cue]) -> None:
    (one,) = retime(speech(1), new, [marker(5)])
    assert (one.to, one.offer, one.reason) == (None, None, "nothing of the old cut is found in the new one")


# ---- chapters.txt


CHAPTERS = """\
# the old cut
0:00 Welcome

0:20.5 Goblet squat {goblet}
# check the row
0:40 Row
1:00 Goodbye
"""


def test_rewriting_loses_nothing() -> None:
    markers, _ = read_markers(CHAPTERS, "chapters.txt")
    times = (Fraction(12), None, Fraction(5), Fraction(72))
    answer = [
        Retimed(one.title, one.id, one.time, to, "", Fraction(31, 2)) for one, to in zip(markers, times, strict=True)
    ]
    assert moving.rewrite(moving.Source("chapters.txt", CHAPTERS, markers), answer) == (
        "\n"
        "# cut out: Goblet squat {goblet} (was at 0:20.500, the nearest moment kept is 0:15.500)\n"
        "# check the row\n"
        "0:05 Row\n"
        "# the old cut\n"
        "0:12 Welcome\n"
        "1:12 Goodbye\n"
    )


@pytest.fixture
def episode(tmp_path: Path) -> Path:
    said = speech(8)
    (tmp_path / "chapters.txt").write_text(CHAPTERS, "utf-8")
    (tmp_path / "old.srt").write_text(write_srt(said), "utf-8")
    (tmp_path / "new.srt").write_text(write_srt(moved(said, Fraction(10))), "utf-8")
    return tmp_path


def test_nothing_is_written_unasked(episode: Path) -> None:
    before = {path.name: path.read_bytes() for path in episode.iterdir()}
    answer = api.retime(episode, episode / "old.srt", episode / "new.srt")
    assert answer.value is not None
    assert [one.to for one in answer.value.chapters] == [10, Fraction(61, 2), 50, 70]
    assert (answer.findings, answer.value.written, answer.value.kept_as) == ((), False, None)
    assert {path.name: path.read_bytes() for path in episode.iterdir()} == before


def test_the_old_chapters_are_kept_each_time(episode: Path) -> None:
    texts = [CHAPTERS]
    for name in ("chapters.before.txt", "chapters.before-2.txt"):
        answer = api.retime(episode, episode / "old.srt", episode / "new.srt", write=True)
        assert answer.value is not None
        assert (answer.value.written, answer.value.kept_as) == (True, name)
        assert (episode / name).read_text("utf-8") == texts[-1]
        texts.append((episode / "chapters.txt").read_text("utf-8"))
    assert "0:50 Row\n" in texts[1]
    assert "1:00 Row\n" in texts[2]
    assert (episode / "chapters.before.txt").read_text("utf-8") == CHAPTERS


def test_chapters_in_webvtt_become_a_chapters_txt(episode: Path) -> None:
    (episode / "chapters.txt").unlink()
    text = "WEBVTT\n\n00:20.000 --> 00:40.000\nGoblet squat\n"
    (episode / "chapters.vtt").write_text(text, "utf-8")
    answer = api.retime(episode, episode / "old.srt", episode / "new.srt", write=True)
    assert answer.value is not None
    assert answer.value.kept_as == "chapters.before.vtt"
    assert (episode / "chapters.before.vtt").read_text("utf-8") == text
    assert (episode / "chapters.txt").read_text("utf-8") == "0:30 Goblet squat\n"
    assert not (episode / "chapters.vtt").exists()


def test_chapters_that_were_all_cut_out_are_not_written(episode: Path) -> None:
    (episode / "chapters.txt").write_text("0:03 Welcome\n", "utf-8")
    (episode / "new.srt").write_text(write_srt(moved(speech(8)[30:], Fraction(-60))), "utf-8")
    answer = api.retime(episode, episode / "old.srt", episode / "new.srt", write=True)
    assert answer.value is not None
    assert [(one.to, one.offer is None) for one in answer.value.chapters] == [(None, False)]
    assert (answer.findings, answer.value.written) == ((), False)
    assert (episode / "chapters.txt").read_text("utf-8") == "0:03 Welcome\n"


FAULTS = {
    "no such file": ("old.srt", "gone.srt", CHAPTERS, "file-missing"),
    "subtitles against a film": ("old.srt", "new.mp4", CHAPTERS, "cuts-unlike"),
    "another film": ("old.srt", "other.srt", CHAPTERS, "cuts-unlike"),
    "no subtitles in it": ("old.srt", "empty.srt", CHAPTERS, "subtitles-empty"),
    "no chapters": ("old.srt", "new.srt", "# none\n", "markers-missing"),
    "unreadable chapters": ("old.srt", "new.srt", "0:00 Welcome\nsoon Squat\n", "marker-unreadable"),
}


@pytest.mark.parametrize(("old", "new", "chapters", "check"), FAULTS.values(), ids=FAULTS)
def test_with_an_error_nothing_is_written(episode: Path, old: str, new: str, chapters: str, check: str) -> None:
    (episode / "other.srt").write_text(write_srt(speech(77)), "utf-8")
    (episode / "empty.srt").write_text("", "utf-8")
    (episode / "chapters.txt").write_text(chapters, "utf-8")
    answer = api.retime(episode, episode / old, episode / new, write=True)
    assert answer.value is not None
    assert check in [finding.check for finding in answer.findings]
    assert answer.failed
    assert not answer.value.written
    assert (episode / "chapters.txt").read_text("utf-8") == chapters
    assert not list(episode.glob("*before*"))
    assert not list(episode.glob("*.tmp"))
