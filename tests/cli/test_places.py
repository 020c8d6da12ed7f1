"""Where a command may write, and what a film may make it open: no file but ours is written over, no address opened.

All of it runs without rights, in folders made for it. A socket of this computer tells whether anybody came.
"""

from __future__ import annotations

import contextlib
import io
import json
import os
import shutil
import socket
import sys
import tempfile
from functools import partial
from pathlib import Path

from forked import NOBODY, in_new_python, needs_fork, room, run_forked, snapshot
from made_film import make, still
from repslate import cli

pytestmark = needs_fork

WORKOUT = """---
format: 1
title: Tiny
slug: tiny
presenter: Robin
goal: strength
level: intermediate
sponsor: none
---
Short. Come warmed up.

## Straight sets

### Goblet squat
3 × 8–10 @ 24 kg, rest 90 s

Caution (knees): Stop where it hurts.

## Safety
Clear the floor.
"""
MARK = b'<meta name="generator" content="repslate">'


def command(here: Path, *words: str) -> None:
    os.chdir(here)
    sys.argv = ["repslate", *words]
    cli.main()


def warm(here: Path) -> None:
    """Lay out an episode with a film, and run each command once, so that a child without rights finds all loaded."""
    (here / "ep").mkdir()
    (here / "ep" / "workout.md").write_text(WORKOUT, "utf-8")
    (here / "ep" / "chapters.txt").write_text("0:00 Welcome\n0:02 Goblet squat\n", "utf-8")
    (here / "ep" / "subtitles.srt").write_text("1\n00:00:01,000 --> 00:00:02,000\nGoblet squat\n", "utf-8")
    make(here / "ep" / "cut.mp4", still(1, 100))
    shutil.copy(here / "ep" / "cut.mp4", here / "old.mp4")
    (here / "notes.html").write_text("<title>mine</title>")
    (here / "elsewhere").mkdir()
    (here / "elsewhere" / "page.html").write_bytes(b"<!doctype html>" + MARK)
    (here / "elsewhere" / "film.mp4").write_bytes(b"precious")
    (here / "link.html").symlink_to("elsewhere/page.html")
    (here / "dangling.html").symlink_to("elsewhere/none.html")
    (here / "linked.mp4").symlink_to("elsewhere/film.mp4")
    (here / "there.mp4").write_bytes(b"mine")
    for name in (".new.mp4.part", ".new.mp4.tmp", ".new.html.part", "new.html.tmp"):
        (here / name).symlink_to("elsewhere/film.mp4")
    with tempfile.TemporaryDirectory() as other:
        for words in (
            ("show", "ep", "--page", f"{other}/p.html"),
            ("chapters", "ep", "--into", f"{other}/c.mp4"),
            ("retime", "ep", "--from", "ep/cut.mp4", "--to", "old.mp4"),
            ("check", "ep"),
            ("new", f"{other}/n"),
            ("new", "notes.html"),
        ):
            with contextlib.ExitStack() as quiet:
                quiet.enter_context(contextlib.redirect_stdout(io.StringIO()))
                quiet.enter_context(contextlib.redirect_stderr(io.StringIO()))
                quiet.enter_context(contextlib.suppress(SystemExit))
                command(here, *words)
    if os.geteuid() == 0:
        for path in (here, *here.rglob("*")):
            os.chown(path, NOBODY, NOBODY, follow_symlinks=False)


#: What is refused, and the words that say so. Nothing in the folder may be another afterwards.
REFUSED = {
    ("show", "ep", "--page", "ep/workout.md"): "does not end as a page does",
    ("show", "ep", "--page", "ep/cut.mp4"): "does not end as a page does",
    ("show", "ep", "--page", "ep/new.md"): "does not end as a page does",
    ("show", "ep", "--page", "notes.html"): "no page that repslate wrote",
    ("show", "ep", "--page", "link.html"): "no page that repslate wrote",
    ("show", "ep", "--page", "dangling.html"): "no page that repslate wrote",
    ("show", "ep", "--page", "http://{host}/p.html"): "is an address",
    ("chapters", "ep", "--into", "ep/cut.mp4"): "there already",
    ("chapters", "ep", "--into", "there.mp4"): "there already",
    ("chapters", "ep", "--into", "linked.mp4"): "there already",
    ("chapters", "ep", "--into", "http://{host}/c.mp4"): "the address",
    ("chapters", "ep", "--into", "c.mp4", "--film", "http://{host}/c.mp4"): "expected a film",
    ("new", "https://{host}/ep"): "is an address",
    ("build", "ep", "--out", "sftp://{host}/out"): "is an address",
    ("draft", "ep/subtitles.srt", "--out", "http://{host}/ep"): "is an address",
}
#: What is written, and the file it makes; names that mean something to what writes films are names all the same.
WRITTEN = {
    ("show", "ep", "--page", "new.html"): "new.html",
    ("chapters", "ep", "--into", "new.mp4"): "new.mp4",
    ("chapters", "ep", "--into", "tcp:{host}.mp4"): "tcp:{host}.mp4",
    ("chapters", "ep", "--into", "pipe:1.mp4"): "pipe:1.mp4",
}


def refuse() -> None:
    """Print what each command says, once it is clear that it changed nothing and called nobody."""
    told = {}
    with room() as here, socket.create_server(("127.0.0.1", 0)) as server:
        server.settimeout(0)
        host = f"127.0.0.1:{server.getsockname()[1]}"
        warm(here)
        for words in REFUSED:
            before = snapshot(here)
            child = run_forked(partial(command, here, *(word.format(host=host) for word in words)))
            assert snapshot(here) == before, (words, child)
            assert not called(server), words
            told[" ".join(words)] = [child.code in {1, 2}, child.out]
    print(json.dumps(told))


def called(server: socket.socket) -> bool:
    try:
        server.accept()
    except BlockingIOError:
        return False
    return True


def test_what_is_not_ours_is_never_written_over() -> None:
    told = json.loads(in_new_python(refuse))
    assert len(told) == len(REFUSED)
    for words, says in REFUSED.items():
        refused, out = told[" ".join(words)]
        assert refused, (words, out)
        assert says in " ".join(out.split()), (words, out)


def accept() -> None:
    """Print what each command wrote, and that nothing else became another."""
    told = {}
    with room() as here, socket.create_server(("127.0.0.1", 0)) as server:
        server.settimeout(0)
        host = f"127.0.0.1:{server.getsockname()[1]}"
        warm(here)
        for words, name in WRITTEN.items():
            before = snapshot(here)
            child = run_forked(partial(command, here, *(word.format(host=host) for word in words)))
            now = snapshot(here)
            assert not called(server), words
            assert now.keys() - before.keys() == {name.format(host=host)}, (words, child)
            assert all(now[one] == before[one] for one in before), words
            told[" ".join(words)] = child.out
        again = run_forked(lambda: command(here, "show", "ep", "--page", "new.html"))
        assert "page-not-written" not in again.out, again
        assert MARK in (here / "new.html").read_bytes()
        assert [path.name for path in here.iterdir() if path.name.startswith(".repslate")] == []
    print(json.dumps(told))


def test_a_free_name_is_written_to_and_an_earlier_page_anew() -> None:
    assert len(json.loads(in_new_python(accept))) == len(WRITTEN)


# ---- films that name other files


def playlists(host: str, film: Path) -> dict[str, str]:
    """Return texts that make a reader of films open what they name."""
    return {
        "list of addresses": f"#EXTM3U\n#EXT-X-TARGETDURATION:9\n#EXTINF:9,\nhttp://{host}/a.ts\n#EXT-X-ENDLIST\n",
        "list of files": f"#EXTM3U\n#EXT-X-TARGETDURATION:9\n#EXTINF:9,\n{film}\n#EXT-X-ENDLIST\n",
        "files one after another": f"ffconcat version 1.0\nfile {film}\n",
        "addresses one after another": f"ffconcat version 1.0\nfile http://{host}/a.mp4\n",
        "session": f"v=0\no=- 0 0 IN IP4 127.0.0.1\ns=x\nc=IN IP4 127.0.0.1\nt=0 0\nm=video {host[10:]} RTP/AVP 96\n",
        "manifest": '<?xml version="1.0"?><MPD xmlns="urn:mpeg:dash:schema:mpd:2011" type="static"><Period>'
        f"<AdaptationSet><Representation><BaseURL>http://{host}/a.mp4</BaseURL></Representation></AdaptationSet>"
        "</Period></MPD>",
    }


def feed() -> None:
    """Print what check and retime say of films that are lists of others."""
    told: dict[str, list[str]] = {}
    with room() as here, socket.create_server(("127.0.0.1", 0)) as server:
        server.settimeout(0)
        warm(here)
        film = here / "ep" / "cut.mp4"
        real = film.replace(here / "real.mp4")
        for name, text in playlists(f"127.0.0.1:{server.getsockname()[1]}", real).items():
            film.write_text(text)
            for words in (("check", "ep"), ("retime", "ep", "--from", "ep/cut.mp4", "--to", "ep/cut.mp4")):
                child = run_forked(partial(command, here, *words))
                told.setdefault(name, []).append(
                    "film-unreadable" if "[film-unreadable]" in child.out else f"{child.code} {child.out}"
                )
            assert not called(server), name
        film.unlink()
        inside = here / "http:" / "127.0.0.1"  # a folder that is called as an address begins is a folder
        inside.parent.mkdir()
        (here / "ep").rename(inside)
        real.rename(inside / "cut.mp4")
        child = run_forked(lambda: command(here, "check", "http:/127.0.0.1"))
        told["a folder called as an address"] = ["film-unreadable" if "[film-unreadable]" in child.out else "read"]
    print(json.dumps(told))


def test_a_film_that_is_a_list_of_others_opens_none_of_them() -> None:
    told = json.loads(in_new_python(feed))
    assert told.pop("a folder called as an address") == ["read"]
    assert told == dict.fromkeys(playlists("127.0.0.1:1", Path()), ["film-unreadable"] * 2)
