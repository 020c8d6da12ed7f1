"""`repslate audit`: changed bytes are told apart from changed meaning, copies are read, and build audits itself."""

from __future__ import annotations

import json
import re
import shutil
from pathlib import Path

import pytest
from typer.testing import CliRunner

from proof.sampled import Sample
from repslate import api
from repslate import proof as audits
from repslate.cli.app import CopyOf, app
from repslate.proof.differences import Claim, Disagreement
from repslate.proof.published import Copy
from repslate.proof.reading import Place
from repslate.publish.templates import find
from repslate.source.finding import Severity
from repslate.source.span import Span

SAMPLES = Path(__file__).parents[2] / "samples"
EPISODE = SAMPLES / "boathouse-kettlebells"


@pytest.fixture
def built(boathouse: Sample, tmp_path: Path) -> Path:
    """The folder of outputs, to change by hand."""
    return Path(shutil.copytree(boathouse.folder, tmp_path / "output" / boathouse.folder.name))


def run(*words: str | Path) -> tuple[int, str]:
    result = CliRunner().invoke(app, ["audit", *map(str, words)])
    return result.exit_code, result.output


def edit(path: Path, old: str, new: str) -> None:
    text = path.read_text("utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), "utf-8")


def test_a_good_build_agrees(built: Path) -> None:
    code, out = run(EPISODE, "--out", built.parent)
    assert (code, out) == (0, f"{EPISODE}: 10 files read back, all agree\n")


def test_changed_bytes_are_told_apart_from_changed_meaning(built: Path) -> None:
    edit(built / "article.md", "Lower slowly.", "Come down slowly.")
    edit(built / "caption.txt", "15 reps", "50 reps")
    edit(built / "article.html", "<main>", "<main ><!-- by hand -->")
    (built / "chapters.vtt").unlink()
    code, out = run(EPISODE, "--out", built.parent, "--format", "json")
    document = json.loads(out)
    assert code == 1
    assert document["changed"] == ["article.html", "article.md", "caption.txt"]
    assert document["stale"] == []
    said = {(Path(one["file"]).name, one["check"], one["severity"]) for one in document["findings"]}
    assert said == {
        ("article.md", "audit-wording", "note"),
        ("article.html", "audit-changed", "note"),
        ("caption.txt", "audit-figure", "error"),
        ("chapters.vtt", "audit-file-missing", "error"),
    }
    (message,) = [one["message"] for one in document["findings"] if one["check"] == "audit-changed"]
    assert "still says the same" in message


def test_what_another_version_worded_is_no_measure(built: Path) -> None:
    record = json.loads((built / "build.json").read_text("utf-8"))
    record["outputs"]["article.md"] = "0" * 64
    (built / "build.json").write_text(json.dumps(record), "utf-8")
    edit(built / "article.md", "Lower slowly.", "Come down slowly.")
    assert "audit-wording" not in run(EPISODE, "--out", built.parent)[1]
    edit(built / "article.md", "15 reps", "50 reps")
    assert "audit-figure" in run(EPISODE, "--out", built.parent)[1]


def test_a_workout_changed_since_the_build_is_the_reason_that_is_named(built: Path, tmp_path: Path) -> None:
    copy = tmp_path / "samples" / EPISODE.name
    shutil.copytree(EPISODE, copy)
    shutil.copy(SAMPLES / "series.yaml", copy.parent)
    edit(copy / "workout.md", "15 reps", "20 reps")
    audited = api.audit(copy, built.parent)
    assert audited.value is not None
    assert audited.value.stale == ("workout.md",)
    assert audited.value.changed == ()
    assert [one.check for one in audited.findings if one.severity is Severity.WARNING] == ["audit-stale"]
    assert {one.span.file for one in audited.findings if one.check == "audit-figure"} >= {"card-a4.pdf", "caption.txt"}


@pytest.mark.parametrize("record", [None, b"{}", b"[1]", b'{"outputs": 3, "inputs": {}}', b"\xff"])
def test_a_build_without_a_record_is_audited_all_the_same(built: Path, record: bytes | None) -> None:
    (built / "build.json").unlink()
    if record is not None:
        (built / "build.json").write_bytes(record)
    audited = api.audit(EPISODE, built.parent)
    assert audited.value is not None
    assert [(one.check, one.severity) for one in audited.findings] == [("audit-changed", Severity.NOTE)]


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("--out", "nowhere"), "no build"),
        (("--text", "TEXT"), "go together"),
        (("--as", "caption"), "go together"),
        (("--text", "TEXT", "--as", "poem"), "poem"),
        (("--text", "gone.txt", "--as", "caption"), "gone.txt"),
    ],
)
def test_a_wrong_call_is_usage(tmp_path: Path, words: tuple[str, ...], says: str) -> None:
    (tmp_path / "copy.txt").write_text("a copy")
    code, out = run(EPISODE, *(str(tmp_path / "copy.txt") if word == "TEXT" else word for word in words))
    assert code == 2
    assert says in out


def test_an_episode_that_cannot_be_read_is_told(tmp_path: Path) -> None:
    code, out = run(tmp_path)
    assert code == 1
    assert "[file-missing]" in out


COPIES = [
    ("caption", "caption.txt", "8–12 reps", "8–13 reps"),
    ("description", "description.txt", "36:10 ", "36:11 "),
    ("chapters", "chapters.txt", "36:10 ", "36:11 "),
    ("chapters", "chapters.vtt", "00:36:10.000 -->", "00:36:11.000 -->"),
    ("chapters", "chapters.ffmeta", "START=2170000", "START=2171000"),
    ("chapters", "description.txt", "36:10 ", "36:11 "),
    ("article", "article.md", "8–12 reps", "8–13 reps"),
    ("article", "article.html", "6–8 <span", "6–9 <span"),
    ("article", "as shown", "8–12 reps", "8–13 reps"),
]


@pytest.mark.parametrize(("kind", "file", "old", "new"), COPIES)
def test_a_copied_text_is_audited(boathouse: Sample, tmp_path: Path, kind: str, file: str, old: str, new: str) -> None:
    text = _as_shown(boathouse.text("article.html")) if file == "as shown" else boathouse.text(file)
    path = tmp_path / "pasted.txt"
    path.write_text(text, "utf-8")
    code, out = run(EPISODE, "--text", path, "--as", kind)
    assert (code, out.endswith(f"{EPISODE}: 1 file read back, all agree\n")) == (0, True), out
    edit(path, old, new)
    code, out = run(EPISODE, "--text", path, "--as", kind)
    assert code == 1
    assert "pasted.txt" in out


def _as_shown(html: str) -> str:
    """Return a page as a browser copies it: text alone, a line a block; its links are lost."""
    from html import unescape

    body = re.sub(r"<svg.*?</svg>|<script.*?</script>|<style.*?</style>", "", html, flags=re.DOTALL)
    body = body[body.index("<body>") :].replace("\n", " ")
    lines = re.split(
        r"</?(?:p|h\d|tr|li|ul|dt|dd|dl|div|section|header|footer|table|tbody|caption|summary)\b[^>]*>", body
    )
    words = (unescape(re.sub(r"<(?!/?(?:td|th)\b)[^>]*>", "", line)) for line in lines)
    return "\n".join(" ".join(re.sub(r"<[^>]*>", "\t", line).split(" ")).strip() for line in words if line.strip())


def test_the_command_and_the_audit_know_the_same_copies() -> None:
    assert {one.value for one in CopyOf} == {one.value for one in Copy}


def test_what_our_own_reader_does_not_understand_stops_no_build(
    built: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    source = Span("workout.md", 3)
    wrong = Disagreement("audit-figure", Claim("the reps", "3", Place("article.md", 7)), "“2”", source)
    unread = {**audits.READERS, "article.md": lambda *_: iter((wrong,))}
    monkeypatch.setattr(audits, "READERS", unread)
    copy = Path(shutil.copytree(EPISODE, tmp_path / "samples" / EPISODE.name))
    shutil.copy(SAMPLES / "series.yaml", copy.parent)
    done = api.build(copy, built.parent)
    assert done.value is not None
    (said,) = [one for one in done.findings if one.check == "audit-doubt"]
    assert (said.severity, said.span) == (Severity.WARNING, source)
    assert said.message.startswith("article.md, line 7: this could not be read back as written: the reps: found “3”")
    (again,) = api.audit(copy, built.parent).findings
    assert (again.severity, again.span.file, again.span.line) == (Severity.WARNING, "article.md", 7)
    assert said.message.endswith(again.message)
    with (built / "article.md").open("a") as stream:
        stream.write("\nBy hand.\n")
    assert {(one.check, one.severity) for one in api.audit(copy, built.parent).findings} == {
        ("audit-wording", Severity.NOTE),
    }
    assert api.build(copy, built.parent).value is not None
    edit(copy / "workout.md", "15 reps", "16 reps")
    stale = api.audit(copy, built.parent).findings
    assert ("article.md", "audit-figure", Severity.ERROR) in {(one.span.file, one.check, one.severity) for one in stale}


def test_what_a_template_left_out_may_be_missing_after_an_edit_and_no_more(tmp_path: Path) -> None:
    own = tmp_path / "own"
    own.mkdir()
    page = find().read("article.html").decode()
    gone = page.replace("detail in exercise.details %}", "detail in exercise.details if 'tempo' not in detail %}")
    (own / "article.html").write_text(gone, "utf-8")
    assert api.build(EPISODE, tmp_path / "out", templates=own).value is not None
    article = tmp_path / "out" / "12-boathouse-kettlebells" / "article.html"
    edit(article, "<main>", "<main><p>By hand.</p>")
    said = {(one.check, one.severity) for one in api.audit(EPISODE, tmp_path / "out").findings}
    assert said == {("audit-left-out", Severity.NOTE)}
    text = article.read_text("utf-8")
    article.write_text(re.sub(r"leave 2 in reserve|leave&nbsp;2&nbsp;in&nbsp;reserve", "", text), "utf-8")
    said = {(one.check, one.severity) for one in api.audit(EPISODE, tmp_path / "out").findings}
    assert ("audit-missing", Severity.ERROR) in said


LONG = "9" * 5000  # more digits than Python turns into a number


@pytest.mark.parametrize(
    ("name", "old", "new"),
    [
        ("article.html", "12 exercises", f"{LONG} exercises"),
        ("article.md", "12 exercises", f"{LONG}.{LONG} exercises"),
        ("article.md", "A1", f"A{LONG}"),
        ("description.txt", "1:10", f"{LONG}:10"),
        ("description.txt", "Episode 12", f"Episode {LONG}"),
        ("chapters.txt", "1:10", f"{LONG}:10"),
        ("chapters.vtt", "00:01:10.000", f"{LONG}:01:10.000"),
        ("chapters.ffmeta", "START=70000", f"START={LONG}"),
        ("article.html", '"@context"', f'"deep": {"[" * 5000}{"]" * 5000}, "@context"'),
        ("article.html", '"@context"', f'"long": {LONG}, "@context"'),
        ("build.json", '"format": 1', f'"format": {"[" * 5000}{"]" * 5000}'),
    ],
)
def test_odd_figures_and_brackets_are_findings(built: Path, name: str, old: str, new: str) -> None:
    edit(built / name, old, new)
    code, said = run(EPISODE, "--out", built.parent)
    assert code == (0 if name == "build.json" else 1), said
    assert name in said
