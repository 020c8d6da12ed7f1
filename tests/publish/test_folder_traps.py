"""What somebody may have put into an output folder: nothing is moved or removed but what a build wrote.

All of it runs without rights, in folders made for it.
"""

from __future__ import annotations

import hashlib
import json
import os
import shutil
import stat
import subprocess
import sys
from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Any

import pytest

from forked import in_new_python, needs_fork, room, run_forked, snapshot
from repslate.publish.folder import HIDDEN, RECORD, write

pytestmark = needs_fork


def build(text: str, *names: str) -> dict[str, bytes]:
    """A build of named files, all with one text, and its record."""
    files = {name: text.encode() for name in names or ("article.html", "caption.txt")}
    outputs = {name: hashlib.sha256(data).hexdigest() for name, data in files.items()}
    return {**files, RECORD: json.dumps({"outputs": outputs}).encode()}


def claim(root: Path, *paths: str) -> None:
    """Let the record name files as if a build had written them, with their true digests."""
    record = root / "ep" / RECORD
    outputs = json.loads(record.read_bytes())["outputs"]
    outputs |= {path: hashlib.sha256((root / "ep" / path).read_bytes()).hexdigest() for path in paths}
    record.write_text(json.dumps({"outputs": outputs}))


Plant = Callable[[Path, Path], None]
TRAPS: dict[str, Plant] = {}


def trap(plant: Plant) -> Plant:
    TRAPS[plant.__name__.replace("_", " ")] = plant
    return plant


@trap
def a_link_among_what_killed_builds_leave(root: Path, outside: Path) -> None:
    for name in ("old", "retired", "staged-1", "new-1-2", "fresh-1"):
        (root / HIDDEN / "ep" / name).symlink_to(outside)


@trap
def a_file_among_what_killed_builds_leave(root: Path, _outside: Path) -> None:
    for name in ("note.txt", "retired", "new-3-4", "fresh-1"):
        (root / HIDDEN / "ep" / name).write_text("mine")


@trap
def a_folder_among_what_killed_builds_leave(root: Path, _outside: Path) -> None:
    for name in ("old", "retired", "staged-7", "fresh-1", "new-99999999999999999999999-1"):
        (root / HIDDEN / "ep" / name).mkdir()
        (root / HIDDEN / "ep" / name / "mine.txt").write_text("mine")
        (root / HIDDEN / "ep" / name / "article.html").write_text("mine")


@trap
def a_folder_called_as_a_build_is_laid_out(root: Path, _outside: Path) -> None:
    (root / HIDDEN / "ep" / "new-3-4").mkdir()
    (root / HIDDEN / "ep" / "new-3-4" / "mine.txt").write_text("mine")
    claim(root)
    shutil.copy(root / "ep" / RECORD, root / HIDDEN / "ep" / "new-3-4" / RECORD)


@trap
def a_lock_that_has_a_second_name_outside(root: Path, outside: Path) -> None:
    (root / HIDDEN / "ep" / "lock").unlink()
    os.link(outside / "precious.txt", root / HIDDEN / "ep" / "lock")


@trap
def a_lock_that_is_a_link(root: Path, outside: Path) -> None:
    (root / HIDDEN / "ep" / "lock").unlink()
    (root / HIDDEN / "ep" / "lock").symlink_to(outside / "precious.txt")


@trap
def a_lock_that_makes_a_file_through_a_link(root: Path, outside: Path) -> None:
    (root / HIDDEN / "ep" / "lock").unlink()
    (root / HIDDEN / "ep" / "lock").symlink_to(outside / "new.txt")


@trap
def a_lock_that_is_a_pipe(root: Path, _outside: Path) -> None:
    (root / HIDDEN / "ep" / "lock").unlink()
    os.mkfifo(root / HIDDEN / "ep" / "lock")


@trap
def a_record_that_claims_files_of_the_users(root: Path, outside: Path) -> None:
    (root / "ep" / "notes").mkdir()
    for path in ("plan.txt", "notes/n.txt"):
        (root / "ep" / path).write_text("mine")
    claim(
        root,
        "plan.txt",
        "notes/n.txt",
        "../../outside/precious.txt",
        str(outside / "precious.txt"),
        "notes/../plan.txt",
    )


@trap
def a_record_that_is_a_link(root: Path, outside: Path) -> None:
    (root / "ep" / "article.html").write_text("mine")
    claim(root, "article.html")
    (root / "ep" / RECORD).replace(outside / "record.json")
    (root / "ep" / RECORD).symlink_to(outside / "record.json")


@trap
def a_record_that_is_a_pipe(root: Path, _outside: Path) -> None:
    (root / "ep" / RECORD).unlink()
    os.mkfifo(root / "ep" / RECORD)


@trap
def a_record_a_thousand_deep(root: Path, _outside: Path) -> None:
    (root / "ep" / RECORD).write_text('{"outputs": ' + "[" * 200_000)


@trap
def an_output_that_is_a_link(root: Path, outside: Path) -> None:
    (root / "ep" / "article.html").replace(outside / "article.html")
    (root / "ep" / "article.html").symlink_to(outside / "article.html")


@trap
def an_output_that_has_a_second_name_outside(root: Path, outside: Path) -> None:
    os.link(root / "ep" / "article.html", outside / "article.html")


@trap
def an_output_that_is_a_pipe(root: Path, _outside: Path) -> None:
    (root / "ep" / "article.html").unlink()
    os.mkfifo(root / "ep" / "article.html")


@trap
def a_link_in_a_folder_of_the_users(root: Path, outside: Path) -> None:
    (root / "ep" / "notes").mkdir()
    (root / "ep" / "notes" / "more").symlink_to(outside)
    (root / "ep" / "away").symlink_to(outside)


@trap
def a_folder_of_the_users_that_is_read_only(root: Path, _outside: Path) -> None:
    (root / "ep" / "notes").mkdir()
    (root / "ep" / "notes" / "n.txt").write_text("mine")
    (root / "ep" / "notes").chmod(0o555)


@trap
def folders_within_folders(root: Path, _outside: Path) -> None:
    (root / "ep" / "/".join("n" * 200)).mkdir(parents=True)


#: What a second build says, where it says anything; all others are simply done.
SAID = {
    "a lock that is a link": ["output-folder"],
    "a lock that makes a file through a link": ["output-folder"],
    "a lock that is a pipe": ["output-folder"],
    "folders within folders": ["output-folder"],
    "a folder called as a build is laid out": ["output-left"],
    "a record that is a link": ["output-kept"] * 3,
    "a record that is a pipe": ["output-kept"] * 3,
    "a record a thousand deep": ["output-kept"] * 3,
    "an output that is a link": ["output-kept"],
    "an output that is a pipe": ["output-kept"],
}


def spring() -> None:
    """Print what a second build says to each trap, once it is clear that nothing outside was touched."""
    told: dict[str, list[str]] = {}
    for name, plant in TRAPS.items():
        with room() as here:
            child = run_forked(partial(sprung, plant, here))
            assert child.code == 0, (name, child)
            told[name] = json.loads(child.out)
    print(json.dumps(told))


def sprung(plant: Plant, here: Path) -> None:
    root, outside = here / "out", here / "outside"
    outside.mkdir()
    (outside / "precious.txt").write_text("precious")
    (outside / "deep").mkdir()
    (outside / "deep" / RECORD).write_text(json.dumps({"outputs": {"x.txt": hashlib.sha256(b"x").hexdigest()}}))
    (outside / "deep" / "x.txt").write_text("x")
    assert write(root, "ep", build("1")) == ()
    plant(root, outside)
    before, planted, mine = snapshot(outside), entries(root / HIDDEN), users(root / "ep")
    findings = write(root, "ep", build("2"), patience=0.2)
    assert snapshot(outside) == before, "something outside was touched"
    assert entries(root / HIDDEN) == planted, "something planted was moved or removed"
    now = users(root / "ep")
    assert [one for one in mine if one not in now] == [], "a file of the user's is gone"
    assert all("mine.txt" not in path.name for path in (root / "ep").rglob("*")), "what was planted got published"
    done = not any(finding.check == "output-folder" for finding in findings)
    text = (root / "ep" / "caption.txt").read_text()
    assert text == ("2" if done else "1"), text
    print(json.dumps([finding.check for finding in findings]))


def entries(folder: Path) -> list[tuple[str, int, Any]]:
    """What lies there and what it holds, without times."""
    return [(name, stat.S_IFMT(mode), content) for name, (mode, _, content) in snapshot(folder).items()]


def users(folder: Path) -> list[tuple[int, int]]:
    """The files, links and pipes that are not outputs as they were written, by what the disk knows them by."""
    found = []
    for path in folder.rglob("*"):
        ours = path.name in {"article.html", "caption.txt"} and path.is_file() and path.read_text() in {"1", "2"}
        if not path.is_dir() and not (ours and not path.is_symlink()) and path.name != RECORD:
            found.append((path.lstat().st_dev, path.lstat().st_ino))
    return found


def test_no_trap_is_sprung() -> None:
    told = json.loads(in_new_python(spring))
    assert told == {name: SAID.get(name, []) for name in TRAPS}


# ---- a link put in between a look and a step


STEPS = ("open", "mkdir", "link", "rename", "unlink", "rmdir", "stat", "listdir")
PLACES = (
    "out/ep",
    f"out/{HIDDEN}",
    f"out/{HIDDEN}/ep",
    "out/ep/notes",
    "out/ep/plan.txt",
    "out/ep/article.html",
    "laid",
)


def race() -> None:
    """Before each step of a build let each folder and file in turn become a link that leads outside."""
    with room() as here:
        child = run_forked(lambda: raced(here))
        assert child.code == 0, child
        print(child.out)


def raced(here: Path) -> None:
    os.fsync = lambda handle: None  # type: ignore[assignment]
    plain = {name: getattr(os, name) for name in STEPS}
    runs = 0
    for place in PLACES:
        step = 0
        while True:
            step += 1
            runs += 1
            base = here / f"{runs}"
            outside = base / "outside"
            (outside / "notes").mkdir(parents=True)
            for file, data in {**build("1"), "plan.txt": b"theirs", "notes/n.txt": b"theirs"}.items():
                (outside / file).write_bytes(data)
            write(base / "out", "ep", build("1"))
            (base / "out" / "ep" / "notes").mkdir()
            (base / "out" / "ep" / "notes" / "n.txt").write_text("mine")
            (base / "out" / "ep" / "plan.txt").write_text("mine")
            before = snapshot(outside)
            seen = counted_to(step, plain, partial(swap, base, place))
            for finding in write(base / "out", "ep", build("2"), patience=0):
                assert finding.check.startswith("output-"), finding
            for name in STEPS:
                setattr(os, name, plain[name])
            assert snapshot(outside) == before, (place, step)
            shutil.rmtree(base)
            if not seen():
                break
    print(runs)


def counted_to(step: int, plain: dict[str, Any], do: Callable[[], None]) -> Callable[[], bool]:
    """Let the given step of the system's calls be preceded by something; the answer tells whether it came to that."""
    count = 0

    def before(name: str) -> Callable[..., Any]:
        def call(*args: Any, **named: Any) -> Any:
            nonlocal count
            count += 1
            if count == step:
                do()
            return plain[name](*args, **named)

        return call

    for name in STEPS:
        setattr(os, name, before(name))
    return lambda: count >= step


def swap(base: Path, place: str) -> None:
    """Move what bears a name aside and put a link in its place that leads outside."""
    path = base / place
    if place == "laid":  # the new build while it is laid out
        laid = [one for one in (base / "out" / HIDDEN / "ep").iterdir() if one.name != "lock"]
        if not laid:
            return
        path = laid[0]
    if path.is_symlink() or not path.exists():
        return
    path.rename(base / "aside")
    path.symlink_to(base / "outside" / ("notes" if place == "out/ep/notes" else path.name if path.suffix else ""))


def test_no_link_put_in_between_leads_outside() -> None:
    assert int(in_new_python(race)) > 200


# ---- another disk within


def test_another_disk_within_is_not_entered(tmp_path: Path) -> None:
    if sys.platform != "linux" or subprocess.run(["unshare", "-Urm", "true"], check=False).returncode:
        pytest.skip("mounts in a name space of its own")
    (tmp_path / "outside").mkdir()
    (tmp_path / "outside" / "precious.txt").write_text("precious")
    for one in ("disk", "bound"):
        (tmp_path / one).mkdir()
        write(tmp_path / one / "out", "ep", build("1"))
    code = (
        "import sys; from pathlib import Path; from repslate.publish.folder import write\n"
        "print([one.check for one in write(Path(sys.argv[1]) / 'out', 'ep', {'build.json': b'{}'})])"
    )
    for one, mount in (
        ("disk", 'mount -t tmpfs none "$1/out/ep/m" && echo theirs > "$1/out/ep/m/t.txt"'),
        ("bound", 'mount --bind "$1/../outside" "$1/out/ep/m"'),
    ):
        (tmp_path / one / "out" / "ep" / "m").mkdir()
        script = f'{mount}\n"$2" -c "$3" "$1"\ncat "$1"/out/ep/m/*.txt "$1/out/ep/caption.txt"'
        ran = subprocess.run(
            ["unshare", "-Urm", "sh", "-ec", script, "sh", str(tmp_path / one), sys.executable, code],
            capture_output=True,
            text=True,
            check=False,
        )
        theirs = "theirs\n" if one == "disk" else "precious"
        assert ran.stdout == f"['output-folder']\n{theirs}1", (one, ran)
