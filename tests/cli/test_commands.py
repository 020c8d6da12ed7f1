"""The commands as a trainer types them: what comes out, where, and with which exit code."""

from __future__ import annotations

import ast
import json
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

import pytest

from repslate import api, cli
from repslate.checks import pages
from repslate.cut.media_chapters import read_film_chapters

SAMPLES = Path(__file__).parents[2] / "samples"
WORKOUT = """---
format: 1
title: Tiny
slug: tiny
presenter: Robin
goal: strength
level: intermediate
sponsor: none
length: "5:00"
---
Short. Come warmed up.

## Straight sets

### Goblet squat
3 × 8–10 @ 24 kg, rest 90 s

Caution (knees): Stop where it hurts.

## Safety
Clear the floor.
"""


class Ran(NamedTuple):
    code: int
    out: str
    err: str


Run = Callable[..., Ran]


@pytest.fixture
def run(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run one command line in an empty folder."""
    monkeypatch.chdir(tmp_path)

    def run(*words: str | Path) -> Ran:
        monkeypatch.setattr(sys, "argv", ["repslate", *map(str, words)])
        capsys.readouterr()
        with pytest.raises(SystemExit) as ended:
            cli.main()
        out, err = capsys.readouterr()
        code = ended.value.code
        return Ran(code if isinstance(code, int) else 0, out, err)

    return run


@pytest.fixture
def episode(tmp_path: Path) -> Path:
    folder = tmp_path / "tiny"
    folder.mkdir()
    (folder / "workout.md").write_text(WORKOUT, "utf-8")
    (folder / "chapters.txt").write_text("0:00 Welcome\n0:30 Goblet squat\n4:00 Goodbye\n", "utf-8")
    return folder


def spoil(episode: Path, old: str = "3 × 8–10", new: str = "3 × 10–8") -> None:
    path = episode / "workout.md"
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new), "utf-8")


# --- usage -----------------------------------------------------------------------------------------------------------

USAGE = [
    (["--help"], 0, "Commands:"),
    (["-h"], 0, "Commands:"),
    (["--version"], 0, "repslate 0."),
    ([], 2, "Commands:"),
    (["fly"], 2, "No such command"),
    (["chek", "x"], 2, "check"),
    (["check"], 2, "Missing argument"),
    (["check", "nowhere"], 2, "no folder nowhere"),
    (["build", ".", "--templates", "nowhere"], 2, "nowhere"),
    (["check", ".", "--format", "xml"], 2, "xml"),
    (["explain", "rest-mising"], 2, "did you mean rest-missing?"),
    (["explain", "zzz"], 2, "lists them"),
]


@pytest.mark.parametrize(("words", "code", "says"), USAGE, ids=[" ".join(words) for words, _, _ in USAGE])
def test_usage(run: Run, words: list[str], code: int, says: str) -> None:
    ran = run(*words)
    assert ran.code == code
    assert says in ran.out + ran.err
    assert "Traceback" not in ran.out + ran.err


COMMANDS = ["new", "check", "build", "show", "explain", "audit", "heard", "draft", "retime", "chapters"]


@pytest.mark.parametrize("command", COMMANDS)
def test_every_help_has_an_example(run: Run, command: str) -> None:
    assert f"Example: repslate {command} " in run(command, "--help").out


def test_these_are_all_commands(run: Run) -> None:
    listed = run("--help").out.partition("Commands:")[2]
    assert re.findall(r"^  (\w+)  ", listed, re.MULTILINE) == COMMANDS


# --- new -------------------------------------------------------------------------------------------------------------


def test_the_starter_builds_as_it_stands_without_a_word(run: Run, tmp_path: Path) -> None:
    assert run("new", "a/first").code == 0
    assert [path.name for path in sorted((tmp_path / "a/first").iterdir())] == ["chapters.txt", "workout.md"]
    assert run("check", "a/first", "--format", "text") == (0, "", "")
    built = run("build", "a/first")
    assert built.code == 0
    assert built.out.endswith("nothing to fix\n")


def test_new_writes_over_nothing(run: Run, tmp_path: Path) -> None:
    (tmp_path / "full").mkdir()
    (tmp_path / "full" / "mine.txt").write_text("mine")
    (tmp_path / "file").write_text("mine")
    for name in ("full", "file", "file/below"):
        assert run("new", name).code == 2
    assert [path.name for path in (tmp_path / "full").iterdir()] == ["mine.txt"]
    assert (tmp_path / "file").read_text() == "mine"


# --- check -----------------------------------------------------------------------------------------------------------


def test_check_prints_one_line_a_finding(run: Run, episode: Path) -> None:
    spoil(episode)
    ran = run("check", episode, "--format", "text")
    assert ran.code == 1
    assert ran.err == ""
    for line in ran.out.splitlines():
        assert re.fullmatch(r"tiny/workout\.md:\d+:\d+: (error|warning|note): .+ \[[a-z-]+\]( fix: .+)?", line)
    assert ran.out.startswith("tiny/workout.md:16:")


def test_check_as_json_is_one_document_with_the_documented_fields(run: Run, episode: Path) -> None:
    spoil(episode)
    spoil(episode, "Short.", "Quiet (nothing): why\n\nShort.")
    ran = run("check", episode, SAMPLES / "chair-session", "--format", "json")
    assert (ran.code, ran.err) == (1, "")
    document = json.loads(ran.out)
    assert list(document) == ["findings", "quieted"]
    kinds = {"check": str, "severity": str, "file": str, "line": int, "column": int, "length": int}
    kinds |= {"message": str, "help": str, "because": str}
    kinds |= dict.fromkeys(("exercise", "block", "field", "time"), type(None))  # none of these is about the talk
    assert document["findings"]
    for finding in document["findings"]:
        assert {name: type(value) for name, value in finding.items()} == kinds


def test_a_quieted_finding_is_listed_with_its_reason(run: Run, episode: Path) -> None:
    spoil(episode, ", rest 90 s", "")
    assert "rest-missing" in run("check", episode, "--format", "text").out
    spoil(episode, "Caution (knees)", "Quiet (rest-missing): they rest as they like\n\nCaution (knees)")
    ran = run("check", episode, "--format", "json")
    assert ran.code == 0
    (quieted,) = json.loads(ran.out)["quieted"]
    assert (quieted["check"], quieted["reason"]) == ("rest-missing", "they rest as they like")
    assert "1 quieted" in run("check", episode).out


def test_an_episode_may_be_named_by_its_workout(run: Run, episode: Path) -> None:
    assert run("check", episode / "workout.md") == run("check", episode)


def test_a_folder_of_episodes_stands_for_all_of_them(run: Run, episode: Path) -> None:
    shutil.copytree(episode, episode.with_name("second"))
    (episode.parent / "pictures").mkdir()
    assert [line.partition(":")[0] for line in run("check", ".").out.splitlines() if ": checked" in line] == [
        "second",
        "tiny",
    ]


def test_files_beside_the_episodes_are_passed_over(run: Run, episode: Path) -> None:
    (episode.parent / "series.yaml").write_text("units: kg\n", "utf-8")
    ran = run("check", *sorted(episode.parent.iterdir()))
    assert ran.code == 0
    assert "series.yaml is no episode's folder and is passed over" in ran.err
    assert ran.out.count("checked") == 1
    assert run("check", episode.parent / "series.yaml").code == 2


@pytest.mark.parametrize("content", [None, b"", b"\xff\xfe\x00", b"---\n", b"\x00" * 99, b"### x\n" * 99])
def test_a_folder_without_a_readable_workout_is_a_finding(run: Run, episode: Path, content: bytes | None) -> None:
    (episode / "workout.md").unlink()
    if content is not None:
        (episode / "workout.md").write_bytes(content)
    for command in ("check", "build", "show"):
        ran = run(command, episode)
        assert ran.code == 1, ran
        assert "tiny/workout.md:" in ran.out + ran.err
    document = json.loads(run("show", episode, "--format", "json").out)
    assert document["findings"]


# --- show ------------------------------------------------------------------------------------------------------------


def test_show_as_json(run: Run, episode: Path) -> None:
    spoil(
        episode,
        "## Safety",
        "## Superset · 2–3 rounds · rest 60 s\n\n### Push-up\n12/10/8\n\n### Plank\n30.5 s\n\n## Safety",
    )
    document = json.loads(run("show", episode, "--format", "json").out)
    assert (document["title"], document["slug"], document["goal"], document["length"]) == (
        "Tiny",
        "tiny",
        "strength",
        300,
    )
    straight, superset = document["blocks"]
    assert (straight["kind"], straight["letter"], straight["rounds"]) == ("Straight sets", "A", None)
    assert (superset["rounds"], superset["rest"], superset["clock"]) == ([2, 3], [60, 60], None)
    squat = straight["exercises"][0]
    assert (squat["label"], squat["sets"], squat["reps"], squat["rest"]) == ("A1", [3, 3], [8, 10], [90, 90])
    assert (squat["load"], squat["tempo"], squat["per_side"]) == ("24 kg", None, False)
    assert squat["cautions"] == [{"topic": "knees", "text": "Stop where it hurts."}]
    push_up, plank = superset["exercises"]
    assert (push_up["reps"], push_up["reps_by_set"]) == ([8, 12], [[12, 12], [10, 10], [8, 8]])
    assert (plank["sets"], plank["reps"], plank["seconds"]) == (None, None, [30.5, 30.5])
    assert document["chapters"][1] == {"time": 30, "title": "Goblet squat", "exercise": "goblet-squat"}


def test_show_lists_the_workout_in_columns(run: Run) -> None:
    ran = run("show", SAMPLES / "boathouse-kettlebells")
    assert (ran.code, ran.err) == (0, "")
    rows = [line for line in ran.out.splitlines() if re.match(r"  (WU|CD|[A-Z])\d", line)]
    blocks = json.loads(run("show", SAMPLES / "boathouse-kettlebells", "--format", "json").out)["blocks"]
    assert len(rows) == sum(len(block["exercises"]) for block in blocks) > 5
    assert len({re.match(r"  \S+ +(?:\S+ )+ +", row).end() for row in rows}) == 1  # type: ignore[union-attr]


# --- explain ---------------------------------------------------------------------------------------------------------


def test_explain_prints_every_page(run: Run) -> None:
    listed = run("explain").out
    for page in pages():
        assert page.name in listed
        ran = run("explain", page.name)
        assert ran.code == 0
        assert ran.out.startswith(f"{page.name} ({page.severity})")
        assert page.asks in ran.out
        assert page.fix in ran.out


def test_show_adds_up_the_week_of_the_series(run: Run, episode: Path) -> None:
    """3 sets here and 3 in the episode of the same ISO week: quadriceps 6, moderate (4–9: our bands)."""
    spoil(episode, "goal: strength", "goal: strength\npublished: 2026-05-04")
    other = episode.parent / "other"
    shutil.copytree(episode, other)
    spoil(other, "slug: tiny", "slug: other")
    spoil(other, "published: 2026-05-04", "published: 2026-05-10")
    week = json.loads(run("show", episode, "--format", "json").out)["numbers"]["week"]
    assert (week["monday"], week["episodes"]) == ("2026-05-04", ["tiny", "other"])
    (legs,) = [row for row in week["muscles"] if row["shown"] == "quadriceps"]
    assert (legs["total_sets"], legs["bands"]) == ([6, 6], ["moderate"])
    assert "6 (moderate)" in run("show", episode).out


def test_chapters_go_into_a_copy_of_the_film(run: Run, tmp_path: Path) -> None:
    sample = SAMPLES / "harbour-cut"
    ran = run("chapters", sample, "--into", tmp_path / "out.mp4")
    assert (ran.code, ran.err) == (0, "")
    markers, _ = read_film_chapters(tmp_path / "out.mp4")
    assert [marker.title for marker in markers] == [
        line.split(maxsplit=1)[1] for line in (sample / "chapters.txt").read_text("utf-8").splitlines()
    ]
    assert run("chapters", sample, "--into", tmp_path / "out.mp4").code == 1  # nothing is overwritten
    alone = tmp_path / "alone"  # with no other markers the film's own chapters count
    shutil.copytree(sample, alone, ignore=shutil.ignore_patterns("chapters.txt", "*.edl", "cut.mp4"))
    shutil.copy(tmp_path / "out.mp4", alone / "cut.mp4")
    times = [one["time"] for one in json.loads(run("show", alone, "--format", "json").out)["chapters"]]
    assert times == [0, 14.4, 32, 51.2, 68.8, 88.2, 104]


# Each computed number is explained with figures and sources that the numbers are computed with.
TOPICS = [
    ("session-time", ["2–4 s", "ACSM 2009", "Burke et al. 2024", "6–20 repetitions"]),
    ("sets-per-muscle", ["Pelland et al. 2024", "½", "our policy"]),
    ("load-table", ["12: 67", "12: 70", "Zourdos et al. 2016", "Nuzzo et al. 2024"]),
    ("energy", ["02054 3.5 MET", "Herrmann et al. 2024", "60–90 kg", "estimate"]),
    ("guidelines", ["strength: rest 120–300 s", "6–12 reps", "from memory", "our policy"]),
]


@pytest.mark.parametrize(("topic", "says"), TOPICS, ids=[topic for topic, _ in TOPICS])
def test_explain_tells_how_a_number_is_computed(run: Run, topic: str, says: list[str]) -> None:
    ran = run("explain", topic)
    assert ran.code == 0
    assert [words for words in says if words not in ran.out] == []
    assert topic in run("explain").out


def names_in(path: Path) -> set[str]:
    """Every name of a finding that the code of `path` spells out."""
    calls = [node for node in ast.walk(ast.parse(path.read_text("utf-8"))) if isinstance(node, ast.Call)]
    firsts = [call.args[0] for call in calls if ast.unparse(call.func) == "Finding" and call.args]
    return {str(first.value) for first in firsts if isinstance(first, ast.Constant)}


def test_every_finding_of_publishing_has_a_page() -> None:
    source = Path(str(cli.__file__)).parents[1]
    names = {name for path in ((source / "api.py"), *(source / "publish").glob("*.py")) for name in names_in(path)}
    assert len(names) > 7
    assert names <= {page.name for page in pages()}


# --- build -----------------------------------------------------------------------------------------------------------


def test_two_builds_are_the_same_byte_for_byte_wherever_they_run(tmp_path: Path) -> None:
    shutil.copytree(SAMPLES, tmp_path / "else" / "where")
    builds = []
    for seed, zone, episodes in (("1", "UTC", SAMPLES), ("2", "Pacific/Kiritimati", tmp_path / "else" / "where")):
        out = tmp_path / seed
        subprocess.run(
            [sys.executable, "-m", "repslate", "build", episodes / "boathouse-kettlebells", "--out", out],
            env={**os.environ, "PYTHONHASHSEED": seed, "TZ": zone},
            cwd=tmp_path,
            check=True,
        )
        (folder,) = (path for path in out.iterdir() if not path.name.startswith("."))
        builds.append({path.name: path.read_bytes() for path in folder.iterdir()})
    assert builds[0] == builds[1]
    record = json.loads(builds[0]["build.json"])
    assert set(record["outputs"]) == set(builds[0]) - {"build.json"}
    assert {"workout.md", "chapters.txt", "../series.yaml"} < set(record["inputs"])
    assert b"/else/where" not in builds[1]["build.json"]


def test_an_episode_is_never_built_over_itself(run: Run, episode: Path) -> None:
    before = {path.name: path.read_bytes() for path in episode.iterdir()}
    ran = run("build", episode, "--out", episode.parent)
    assert ran.code == 1
    assert "[output-folder]" in ran.out
    assert {path.name: path.read_bytes() for path in episode.iterdir()} == before


def test_an_error_leaves_the_earlier_build(run: Run, episode: Path, tmp_path: Path) -> None:
    run("build", episode)
    before = {path.name: path.read_bytes() for path in (tmp_path / "output" / "tiny").iterdir()}
    spoil(episode)
    ran = run("build", episode)
    assert ran.code == 1
    assert "tiny: not built, 1 error" in ran.out
    assert {path.name: path.read_bytes() for path in (tmp_path / "output" / "tiny").iterdir()} == before


def test_several_episodes_have_a_closing_line_each_and_one_bad_one_stops_no_other(run: Run, episode: Path) -> None:
    twin, bad = episode.with_name("twin"), episode.with_name("bad")
    shutil.copytree(episode, twin)
    shutil.copytree(episode, bad)
    spoil(bad)
    ran = run("build", bad, episode, twin)
    assert ran.code == 1
    closing = [line for line in ran.out.splitlines() if "[" not in line]
    assert [line.partition(",")[0].partition(" files")[0] for line in closing] == [
        f"{bad}: not built",
        closing[1].partition(" files")[0],
        f"{twin}: not built",
    ]
    assert "files in output/tiny" in closing[1]
    assert "[slug-taken]" in ran.out


#: All that safety needs, and nothing besides.
NEEDED = """<title>{{ view.title }}</title>
{% for term, words in view.notice %}<p>{{ term }} {{ words }}</p>{% endfor %}
<p>{{ view.notice_short }}</p>
{% for text in view.safety %}{{ text | markdown }}{% endfor %}
{% for block in view.blocks %}{% for one in block.exercises %}
<h2>{{ one.name }}</h2><p>{{ one.prescription }}</p>
{% for caution in one.cautions %}<p>{{ caution.topic }}: {{ caution.words | phrase }}</p>{% endfor %}
{% endfor %}{% endfor %}"""


@pytest.fixture
def own(tmp_path: Path) -> Path:
    """An empty folder for templates of one's own."""
    (tmp_path / "own").mkdir()
    return tmp_path / "own"


def test_the_users_template_comes_first_and_its_errors_have_a_place(
    run: Run, episode: Path, own: Path, tmp_path: Path
) -> None:
    (own / "article.html").write_text(NEEDED, "utf-8")
    ran = run("build", episode, "--templates", own)
    assert (ran.code, ran.out.count("[audit-left-out]")) == (0, 1)
    assert (tmp_path / "output/tiny/article.html").read_text("utf-8").startswith("<title>Tiny</title>\n<p>Ask first:")
    record = json.loads((tmp_path / "output/tiny/build.json").read_text("utf-8"))
    assert "templates/article.html" in record["inputs"]
    (own / "article.html").write_text("\n{{ view.titel }}", "utf-8")
    ran = run("build", episode, "--templates", own)
    assert ran.code == 1
    assert "own/article.html:2:1: error: " in ran.out
    assert "[template-error]" in ran.out


ENDLESS = (
    "{% for a in range(999) %}{% for b in range(999) %}{% for c in range(999) %}.{% endfor %}{% endfor %}{% endfor %}"
)
BAD_TEMPLATES = [
    ("card.html", NEEDED + '<img src="file:///etc/passwd">', "file-refused", "/etc/passwd"),
    ("card.html", "<title>x</title>", "audit-unreadable", "without any text"),
    ("article.html", "{{ view.notice_short }}", "audit-caution", "Stop where it hurts"),
    ("article.html", "{{ view.notice_short }}", "audit-missing", "A1 Goblet squat"),
    ("article.html", "{% for a in range(9999) %}{% endfor %}", "template-error", "1000 steps"),
    ("article.html", ENDLESS, "template-error", "not done after"),
    ("article.html", b"\xff\xfe", "template-error", "UTF-8"),
]


@pytest.mark.parametrize(("name", "content", "check", "says"), BAD_TEMPLATES)
def test_a_template_that_may_not_be_published_stops_the_build(
    run: Run, episode: Path, own: Path, name: str, content: str | bytes, check: str, says: str
) -> None:
    (own / name).write_bytes(content if isinstance(content, bytes) else content.encode())
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("repslate.publish.look.PATIENCE", 0.5 if content == ENDLESS else 60)
        ran = run("build", episode, "--templates", own)
    assert ran.code == 1
    assert f"[{check}]" in ran.out
    assert says in ran.out
    assert not (episode.parent / "output").exists()


def test_templates_that_are_never_used_are_told(run: Run, episode: Path, own: Path) -> None:
    (own / "artcle.html").write_text("x", "utf-8")
    ran = run("build", episode, "--templates", own)
    assert (ran.code, "[templates-unused]" in ran.out) == (0, True)


def test_what_no_font_can_print_is_no_card(run: Run, episode: Path) -> None:
    spoil(episode, "Stop where it hurts.", "Stop. \U000f0000")  # a private-use character: no font has it
    ran = run("build", episode)
    assert ran.code == 0
    assert "no font on this computer has \U000f0000, so card-a4.pdf and card-letter.pdf could not be made" in ran.out
    made = {path.name for path in (episode.parent / "output/tiny").iterdir()}
    assert {"article.html", "caption.txt"} <= made
    assert not {"card-a4.pdf", "card-letter.pdf"} & made


def test_another_episodes_output_is_not_replaced(run: Run, episode: Path, tmp_path: Path) -> None:
    assert run("build", episode).code == 0
    other = tmp_path / "other"
    shutil.copytree(episode, other)
    before = (tmp_path / "output/tiny/build.json").read_bytes()
    ran = run("build", other)
    assert ran.code == 1
    assert "the episode in the folder “tiny” is published as tiny too" in ran.out
    assert (tmp_path / "output/tiny/build.json").read_bytes() == before


def test_without_pango_all_but_the_cards_is_built(episode: Path, tmp_path: Path) -> None:
    (tmp_path / "stub").mkdir()
    (tmp_path / "stub" / "weasyprint.py").write_text("print('notice')\nraise OSError('cannot load library')")
    done = subprocess.run(
        [sys.executable, "-m", "repslate", "build", episode],
        env={"PYTHONPATH": str(tmp_path / "stub"), "PYTHONIOENCODING": "utf-8"},
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done
    assert "[pango-missing]" in done.stdout
    assert "notice" not in done.stdout + done.stderr  # WeasyPrint's own, with addresses a trainer has no use for
    built = {path.name for path in (tmp_path / "output/tiny").iterdir()}
    assert {"article.html", "article.md", "caption.txt"} <= built
    assert not any(name.endswith(".pdf") for name in built)


# --- our own faults, and speed ---------------------------------------------------------------------------------------


def test_our_own_fault_shows_no_traceback_and_keeps_it_in_a_file(
    run: Run, episode: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    def fail(folder: Path) -> None:
        raise KeyError("planted")

    monkeypatch.setattr(api, "check", fail)
    monkeypatch.setattr("tempfile.tempdir", str(tmp_path))
    ran = run("check", episode)
    assert (ran.code, ran.out) == (3, "")
    assert "Traceback" not in ran.err
    (written,) = tmp_path.glob("repslate-fault-*.txt")
    assert str(written) in ran.err
    assert "KeyError: 'planted'" in written.read_text("utf-8")


PLAIN = str(SAMPLES / "faulty" / "leg-day-draft")  # an episode without pictures


@pytest.mark.parametrize("words", [["--help"], ["check", PLAIN]])
def test_slow_libraries_are_not_loaded_without_need(words: list[str]) -> None:
    code = (
        "import sys; from repslate.cli import main\n"
        f"sys.argv[1:] = {words!r}\n"
        "try: main()\n"
        "except SystemExit: pass\n"
        "print('loaded', *sorted({'PIL', 'jinja2', 'nh3', 'rich', 'segno', 'weasyprint'} & set(sys.modules)))"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == "loaded"


def test_a_terminal_without_our_characters_gets_question_marks_and_whole_json(episode: Path) -> None:
    spoil(episode, "title: Tiny", "title: 深蹲")
    command = [sys.executable, "-m", "repslate", "show", str(episode)]
    env = {**os.environ, "PYTHONIOENCODING": "latin-1"}
    plain = subprocess.run(command, env=env, capture_output=True, check=True).stdout
    assert "3 × 8?10" in plain.decode("latin-1")
    document = subprocess.run([*command, "--format", "json"], env=env, capture_output=True, check=True).stdout
    assert json.loads(document)["title"] == "深蹲"


def test_a_reader_that_goes_away_is_no_fault() -> None:
    listing = subprocess.Popen(
        [sys.executable, "-m", "repslate", "explain"], stdout=subprocess.PIPE, stderr=subprocess.PIPE
    )
    assert listing.stdout is not None
    listing.stdout.close()
    _, err = listing.communicate()
    assert listing.returncode in {0, 1}
    assert err == b""
