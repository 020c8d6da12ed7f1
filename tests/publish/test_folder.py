"""The output folder: the earlier build or the whole new one, whatever happens; what is not ours stays."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
import textwrap
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.publish import folder
from repslate.publish.folder import HIDDEN, RECORD, write
from repslate.publish.held import Held, lock


def build(**files: str) -> dict[str, bytes]:
    """A build of the named files with its record ("article_html" stands for article.html)."""
    outputs = {name.replace("_", "."): text.encode() for name, text in files.items()}
    digests = {name: hashlib.sha256(data).hexdigest() for name, data in outputs.items()}
    return {**outputs, RECORD: json.dumps({"outputs": digests}).encode()}


def content(root: Path) -> dict[str, str]:
    """Everything under `root` but the hidden folder and the record."""
    return {
        path.relative_to(root).as_posix(): path.read_bytes().decode(errors="replace")
        if path.is_file()
        else "→" + str(path.readlink())
        for path in sorted(root.rglob("*"))
        if path.name != RECORD
        and path.relative_to(root).parts[0] != HIDDEN
        and (path.is_symlink() or not path.is_dir())
    }


def left(root: Path) -> list[str]:
    """What lies in the hidden folder beside the lock."""
    return [path.name for path in (root / HIDDEN / "ep").iterdir() if path.name != "lock"]


@pytest.fixture(params=["one step", "two renames"])
def exchanged(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    if request.param == "two renames":
        monkeypatch.setattr(folder, "exchange", lambda *_: False)


@pytest.fixture(params=["hard links", "no hard links"])
def linked(request: pytest.FixtureRequest, monkeypatch: pytest.MonkeyPatch) -> None:
    if request.param == "no hard links":

        def link(*_: object, **__: object) -> None:
            raise PermissionError(1, "Operation not permitted")

        monkeypatch.setattr(os, "link", link)


@pytest.mark.usefixtures("exchanged", "linked")
def test_a_second_build_replaces_ours_and_keeps_the_rest(tmp_path: Path) -> None:
    assert write(tmp_path, "ep", build(article_html="1", chapters_txt="1")) == ()
    foreign = tmp_path / "ep" / "notes" / "deep" / "n.txt"
    foreign.parent.mkdir(parents=True)
    foreign.write_text("mine")
    (tmp_path / "ep" / "empty").mkdir()
    (tmp_path / "ep" / "link").symlink_to("nowhere")
    assert write(tmp_path, "ep", build(article_html="2", caption_txt="2")) == ()
    assert content(tmp_path / "ep") == {
        "article.html": "2",
        "caption.txt": "2",
        "link": "→nowhere",
        "notes/deep/n.txt": "mine",
    }
    assert (tmp_path / "ep" / "empty").is_dir()
    assert left(tmp_path) == []


@pytest.mark.usefixtures("exchanged")
def test_a_file_that_is_not_ours_gives_way_and_is_kept(tmp_path: Path) -> None:
    (tmp_path / "ep" / "caption.txt").mkdir(parents=True)
    (tmp_path / "ep" / "caption.txt" / "x").write_text("mine")
    (tmp_path / "ep" / "article.html").write_text("mine")
    (tmp_path / "ep" / "article.kept.html").write_text("older")
    findings = write(tmp_path, "ep", build(article_html="1", caption_txt="1"))
    assert [finding.check for finding in findings] == ["output-kept"] * 2
    assert content(tmp_path / "ep") == {
        "article.html": "1",
        "article.kept-2.html": "mine",
        "article.kept.html": "older",
        "caption.txt": "1",
        "caption.kept.txt/x": "mine",
    }
    (tmp_path / "ep" / "article.html").write_text("edited by hand")
    assert [finding.check for finding in write(tmp_path, "ep", build(article_html="2"))] == ["output-kept"]
    assert content(tmp_path / "ep")["article.kept-3.html"] == "edited by hand"


@pytest.mark.parametrize("record", ["", "[]", "{", '{"outputs": 3}', '{"outputs": {"article.html": 3}}', "\udcff"])
def test_a_damaged_record_loses_nothing(tmp_path: Path, record: str) -> None:
    write(tmp_path, "ep", build(article_html="1"))
    (tmp_path / "ep" / RECORD).write_bytes(record.encode("utf-8", "surrogateescape"))
    findings = write(tmp_path, "ep", build(article_html="2"))
    assert {finding.check for finding in findings} == {"output-kept"}
    assert content(tmp_path / "ep")["article.kept.html"] == "1"
    assert content(tmp_path / "ep")["article.html"] == "2"


@pytest.mark.parametrize("swap", [True, False])
def test_files_that_appear_during_a_build_stay(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, *, swap: bool) -> None:
    write(tmp_path, "ep", build(article_html="1"))
    (tmp_path / "ep" / "saved.txt").write_text("before")
    whole = folder._change_places

    def late(room: Any, new: Held, old: Held | None) -> None:
        (tmp_path / "ep" / "late.txt").write_text("late")
        fresh = tmp_path / "ep" / "saved.tmp"
        fresh.write_text("after")
        fresh.replace(tmp_path / "ep" / "saved.txt")
        whole(room, new, old)
        assert old is not None
        (old.path / "later.txt").write_text("later")

    monkeypatch.setattr(folder, "_change_places", late)
    if not swap:
        monkeypatch.setattr(folder, "exchange", lambda *_: False)
    write(tmp_path, "ep", build(article_html="2"))
    found = content(tmp_path / "ep")
    assert found.pop("article.html") == "2"
    assert sorted(found.values()) == ["after", "before", "late", "later"]


@pytest.mark.parametrize("slug", ["", ".", "..", "../x", "a/b", "a\\b", "/x", "A", ".repslate", "a\n", "ü", "-a"])
def test_a_slug_that_could_leave_the_root_is_refused(tmp_path: Path, slug: str) -> None:
    root = tmp_path / "out"
    assert [finding.check for finding in write(root, slug, build(a_txt="1"))] == ["output-folder"]
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("planted", ["ep", HIDDEN, f"{HIDDEN}/ep"])
@pytest.mark.parametrize("kind", ["link", "dangling link", "file"])
def test_a_link_in_place_of_a_folder_is_refused(tmp_path: Path, planted: str, kind: str) -> None:
    outside, root = tmp_path / "outside", tmp_path / "out"
    outside.mkdir()
    (root / planted).parent.mkdir(parents=True)
    if kind == "file":
        (root / planted).write_text("mine")
    else:
        (root / planted).symlink_to(outside if kind == "link" else tmp_path / "nowhere")
    assert [finding.check for finding in write(root, "ep", build(a_txt="1"))] == ["output-folder"]
    assert list(outside.iterdir()) == []
    assert not (tmp_path / "nowhere").exists()


def test_a_build_waits_for_another_and_gives_up_with_a_finding(tmp_path: Path) -> None:
    (tmp_path / HIDDEN / "ep").mkdir(parents=True)
    with (tmp_path / HIDDEN / "ep" / "lock").open("w") as file:
        assert lock(file.fileno())
        findings = write(tmp_path, "ep", build(a_txt="1"), patience=0.05)
    assert [finding.check for finding in findings] == ["output-folder"]
    assert "another build" in findings[0].message
    assert not (tmp_path / "ep").exists()


def script(text: str, *args: object) -> subprocess.Popen[str]:
    """Start Python on `text`, in which Path, write, build and content stand."""
    here = Path(__file__).resolve()
    head = f"""
        import importlib.util, os, resource, signal, sys, time
        from pathlib import Path
        spec = importlib.util.spec_from_file_location("helpers", {str(here)!r})
        helpers = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(helpers)
        write, build, content, left = helpers.write, helpers.build, helpers.content, helpers.left
        from repslate.publish import folder
    """
    code = textwrap.dedent(head) + textwrap.dedent(text)
    return subprocess.Popen(
        [sys.executable, "-c", code, *map(str, args)], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True
    )


def output(process: subprocess.Popen[str]) -> str:
    out, _ = process.communicate(timeout=120)
    assert process.returncode == 0, out
    return out


KILL = """
    root, swap, links = Path(sys.argv[1]), sys.argv[2] == "swap", sys.argv[3] == "links"
    if not swap:
        folder.exchange = lambda *_: False
    if not links:
        def no_link(*_, **__):
            raise PermissionError(1, "Operation not permitted")
        os.link = no_link

    os.fsync = lambda handle: None  # what a killed program has written stays in the system's hands

    def run_and_die(step, out):
        # Every line of folder.py is a step; the child kills itself as it reaches the given one.
        count = 0
        def trace(frame, event, arg):
            nonlocal count
            if not frame.f_code.co_filename.endswith("publish/folder.py"):
                return None
            count += 1
            if count == step:
                os.kill(os.getpid(), signal.SIGKILL)
            return trace
        sys.settrace(trace)
        write(out, "ep", build(article_html="2" * 99, chapters_txt="2"))
        sys.settrace(None)
        os._exit(0)

    step, before_seen, after_seen = 0, 0, 0
    while True:
        step += 1
        out = root / str(step)
        write(out, "ep", build(article_html="1" * 99, caption_txt="1"))
        (out / "ep" / "notes").mkdir()
        (out / "ep" / "notes" / "n.txt").write_text("mine")
        (out / "ep" / "plan.txt").write_text("mine")
        child = os.fork()
        if not child:
            run_and_die(step, out)
        _, status = os.waitpid(child, 0)
        mine = {"notes/n.txt": "mine", "plan.txt": "mine"}
        before = {"article.html": "1" * 99, "caption.txt": "1", **mine}
        after = {"article.html": "2" * 99, "chapters.txt": "2", **mine}
        between = not swap and not (out / "ep").exists()  # two renames: the earlier build waits to be put back
        found = content(out / "ep") if not between else before
        if not links and found.keys() >= {"chapters.txt"}:  # they move once the two have changed places
            waiting = [path for path in out.rglob("*.txt") if path.name in {"n.txt", "plan.txt"}]
            assert [path.read_text() for path in waiting] == ["mine", "mine"], (step, waiting)
            found |= mine
        assert found in (before, after), (step, found.keys())
        before_seen, after_seen = before_seen + (found == before), after_seen + (found == after)
        findings = write(out, "ep", build(article_html="3"))
        assert not findings, (step, findings)
        assert content(out / "ep") == {"article.html": "3", **mine}, (step, content(out / "ep").keys())
        assert left(out) == [], (step, left(out))
        if os.WIFEXITED(status):
            assert os.WEXITSTATUS(status) == 0, step
            break
    assert before_seen > 20 and after_seen > 20, (before_seen, after_seen)
    print(step)
"""


@pytest.mark.skipif(not hasattr(os, "fork"), reason="kills forked children")
@pytest.mark.parametrize(("swap", "links"), [("swap", "links"), ("two renames", "no links")])
def test_killed_at_any_line_the_folder_is_whole_and_the_next_build_tidies_up(
    tmp_path: Path, swap: str, links: str
) -> None:
    assert int(output(script(KILL, tmp_path, swap, links))) > 100


INTERRUPT = """
    root, number = Path(sys.argv[1]), signal.Signals[sys.argv[2]]
    os.fsync = lambda handle: None
    signal.signal(number, signal.default_int_handler)  # as the command line does
    files = ("publish/folder.py", "source/interrupt.py")
    step, seen = 0, set()
    while True:
        step += 1
        out, count = root / str(step), 0
        write(out, "ep", build(article_html="1", caption_txt="1"))
        (out / "ep" / "plan.txt").write_text("mine")
        def trace(frame, event, arg):
            global count
            if not frame.f_code.co_filename.endswith(files):
                return None
            count += event == "line"
            if count == step:
                sys.settrace(None)
                signal.raise_signal(number)
                return None
            return trace if count < step else None
        sys.settrace(trace)
        try:
            write(out, "ep", build(article_html="2", caption_txt="2"))
            raised = False
        except KeyboardInterrupt:
            raised = True
        sys.settrace(None)
        found = content(out / "ep")
        seen.add(found["article.html"])
        assert raised == (count >= step), step
        assert found.pop("plan.txt") == "mine", step
        assert found in [{"article.html": text, "caption.txt": text} for text in "12"], (step, found)
        assert all(name.startswith("fresh") for name in left(out)), (step, left(out))
        assert write(out, "ep", build(article_html="3", caption_txt="3")) == (), step
        assert content(out / "ep") == {"article.html": "3", "caption.txt": "3", "plan.txt": "mine"}, step
        assert left(out) == [], (step, left(out))
        if not raised:
            break
    assert seen == {"1", "2"}, seen
    print(step)
"""


@pytest.mark.parametrize("name", ["SIGINT", "SIGTERM"])
def test_interrupted_at_any_line_the_folder_is_whole_at_once(tmp_path: Path, name: str) -> None:
    assert int(output(script(INTERRUPT, tmp_path, name))) > 100


FULL = """
    out, limit = Path(sys.argv[1]), int(sys.argv[2])
    signal.signal(signal.SIGXFSZ, signal.SIG_IGN)
    resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit))
    for finding in write(out, "ep", build(article_html="2" * 9999, caption_txt="2" * 50_000)):
        print(finding.check, finding.severity)
"""


@pytest.mark.skipif(sys.platform == "win32", reason="limits the size of files")
@pytest.mark.parametrize("limit", [0, 5000, 20_000, 49_999])
def test_a_full_disk_leaves_the_earlier_build(tmp_path: Path, limit: int) -> None:
    write(tmp_path, "ep", build(article_html="1", chapters_txt="1"))
    before = content(tmp_path / "ep")
    assert output(script(FULL, tmp_path, limit)) == "output-folder error\n"
    assert content(tmp_path / "ep") == before
    assert left(tmp_path) == []


TWO = """
    out, who = Path(sys.argv[1]), sys.argv[2]
    for round_ in range(25):
        text = f"{who}{round_}"
        findings = write(out, "ep", build(article_html=text, caption_txt=text, chapters_txt=text))
        assert not findings, findings
"""


def test_two_builds_at_once_do_not_mix(tmp_path: Path) -> None:
    write(tmp_path, "ep", build(article_html="0", caption_txt="0", chapters_txt="0"))
    (tmp_path / "ep" / "plan.txt").write_text("mine")
    running = [script(TWO, tmp_path, who) for who in "ab"]
    while any(process.poll() is None for process in running):
        handle = os.open(tmp_path / "ep", os.O_RDONLY)  # one build, even if it is exchanged while we look
        try:
            texts = {read_at(handle, name) for name in ("article.html", "caption.txt", "chapters.txt")}
        except FileNotFoundError:
            continue  # it was retired and cleared while we looked
        finally:
            os.close(handle)
        assert len(texts) == 1, texts
    for process in running:
        output(process)
    found = content(tmp_path / "ep")
    assert found.pop("plan.txt") == "mine"
    assert set(found.values()) in ({"a24"}, {"b24"})


def read_at(folder_handle: int, name: str) -> bytes:
    handle = os.open(name, os.O_RDONLY, dir_fd=folder_handle)
    try:
        return os.read(handle, 100)
    finally:
        os.close(handle)


names = st.sampled_from(["article.html", "article.kept.html", "caption.txt", "n/x.txt", "n", "plan.txt"])


@given(builds=st.lists(st.dictionaries(names, st.sampled_from("12"), max_size=4), min_size=1, max_size=4))
def test_what_the_user_puts_there_is_never_lost(
    tmp_path_factory: pytest.TempPathFactory, builds: list[dict[str, str]]
) -> None:
    root = tmp_path_factory.mktemp("out")
    mine: list[str] = []
    for number, put in enumerate(builds):
        write(root, "ep", build(article_html=f"ours {number}", caption_txt=f"ours {number}"))
        for name, text in put.items():
            path = root / "ep" / name
            if any(parent.is_file() for parent in path.parents) or path.is_dir():
                continue
            path.parent.mkdir(exist_ok=True)
            if not path.exists() or path.read_text().startswith("ours"):
                path.write_text(f"{text} in {name} of {number}")
                mine.append(f"{text} in {name} of {number}")
    write(root, "ep", build(article_html="ours"))
    found: Iterator[str] = iter(content(root / "ep").values())
    assert sorted(text for text in found if not text.startswith("ours")) == sorted(mine)
