"""Bytes to text, strictly, so that no reader meets an encoding or a line ending."""

from __future__ import annotations

import os
import re
import stat
from pathlib import Path

from repslate.source.finding import Finding, Severity
from repslate.source.places import is_folder
from repslate.source.span import Span

LARGEST = 1024 * 1024  # bytes; a workout of an hour is under 20 KiB
HIGHEST = 12  # folders that are looked into for a series' file, the episode's own being the first

# C0 and C1 controls but tab and line feed, the two separators that editors count as lines and others do not,
# the marks that turn the direction of writing (UAX 9, 2.1 to 2.4: "8–10" can be shown as "10–8"), lone surrogates and
# the two non-characters of the first plane: none can be seen, all upset a later reader.
CONTROL = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u2028\u2029\u202a-\u202e\u2066-\u2069\ud800-\udfff\ufffe\uffff]")

_SAVE_AS_UTF8 = "open the file in your text editor and save it again with the encoding UTF-8"
_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")
_UTF8_MARK = b"\xef\xbb\xbf"


def read_text(path: Path, name: str, *, most: int = LARGEST) -> tuple[str | None, tuple[Finding, ...]]:
    r"""Read a UTF-8 file as text whose lines end in "\n" alone; None if there is nothing to go on with.

    `name` is the file as findings show it. A byte order mark and the line ends of every system are accepted. Control
    characters are errors and come back as U+FFFD, so that the columns of everything else still hold.
    """
    data, findings = read_data(path, name, most=most)
    if data is None:
        return None, findings
    return decode(data, name)


def read_nearest(folder: Path, file: str, *, most: int = LARGEST) -> tuple[str | None, str, tuple[Finding, ...]]:
    """Read the folder's own `file`, else its nearest parent's, at most 12 folders up.

    Return the text, the name of the file as findings show it ("../series.yaml"), and what is wrong with the nearest
    one; None, "" and no finding where there is none.
    """
    own = Path(os.path.realpath(folder))
    for up, place in enumerate([own, *own.parents][:HIGHEST]):
        name = "../" * up + file
        text, findings = read_text(place / file, name, most=most)
        if all(finding.check != "file-missing" for finding in findings):
            return text, name, findings
    return None, "", ()


def decode(data: bytes, name: str) -> tuple[str | None, tuple[Finding, ...]]:
    """Do what `read_text` does for the bytes of a file that are already at hand."""
    if _looks_like_utf16(data):
        return None, (_encoding(Span(name), "the file looks like UTF-16, expected UTF-8"),)
    data = data.removeprefix(_UTF8_MARK)
    try:
        text = data.decode("utf-8")
    except UnicodeDecodeError as error:
        return None, (_bad_byte(data, error.start, name),)
    return checked_text(text, name)


def checked_text(text: str, name: str) -> tuple[str, tuple[Finding, ...]]:
    """Do what `read_text` does for a text that is in no file; its lines may end as in any system."""
    text = _plain_lines(text)
    return CONTROL.sub("\ufffd", text), _control_findings(text, name)


def file_empty(name: str) -> Finding:
    """Return what there is to say of a workout.md with nothing in it, which says all the rest too."""
    message = f"“{name}” holds nothing; expected a title, a “##” heading for each block and a “###” for each exercise"
    help_ = "begin with “repslate new my-first-episode”, which writes a workout to change"
    return _error("file-empty", name, message, help_)


def read_data(path: Path, name: str, *, most: int = LARGEST) -> tuple[bytes | None, tuple[Finding, ...]]:
    """Read an ordinary file of at most so many bytes; None and a finding for anything else that bears its name.

    What waits for a writer (a pipe) or has no end (a device) is never read from.
    """
    try:
        data, size = _read_ordinary(path, most)
    except FileNotFoundError:
        return None, (_error("file-missing", name, f"there is no file “{name}”", "check the folder and the name"),)
    except OSError as error:
        if is_folder(path):  # Windows opens no folder
            return None, (_not_ordinary(name, "a folder"),)
        reason = (error.strerror or "the system refuses").lower()
        help_ = "check that you may read the file and that its disk is there"
        return None, (_error("file-unreadable", name, f"“{name}” cannot be read: {reason}", help_),)
    if isinstance(data, str):
        return None, (_not_ordinary(name, data),)
    if len(data) > most:
        message = f"“{name}” has {max(size, len(data)):,} bytes, expected at most {most:,}"
        return None, (_error("file-too-large", name, message, "is this the right file? keep films and pictures out"),)
    return data, ()


def is_ordinary(path: Path) -> bool:
    """Tell whether a path, links followed, is a file that comes to an end: none of the kinds that may wait for ever."""
    try:
        return stat.S_ISREG(path.stat().st_mode)
    except OSError:
        return False


def _read_ordinary(path: Path, most: int) -> tuple[bytes | str, int]:
    """Return the first `most` bytes and one more, and the size, or what else the path is; raises OSError.

    What was opened is looked at, not what bore the name before: it may have changed in between.
    """
    flags = sum(getattr(os, flag, 0) for flag in ("O_NONBLOCK", "O_CLOEXEC", "O_BINARY"))
    handle = os.open(path, os.O_RDONLY | flags)
    try:
        status = os.fstat(handle)
        if not stat.S_ISREG(status.st_mode):
            return "a folder" if stat.S_ISDIR(status.st_mode) else "not an ordinary file", 0
        with os.fdopen(handle, "rb", closefd=False) as opened:
            return opened.read(most + 1), status.st_size
    finally:
        os.close(handle)


def _not_ordinary(name: str, kind: str) -> Finding:
    help_ = "rename what stands there, or check the folder and the name"
    return _error("file-unreadable", name, f"“{name}” is {kind}, expected a text file", help_)


def _looks_like_utf16(data: bytes) -> bool:
    """Tell UTF-16 by its mark, or by a zero in at least a third of the first bytes (Latin text has one in two)."""
    head = data[:1024]
    return data.startswith(_UTF16_MARKS) or (len(head) >= 4 and head.count(0) * 3 >= len(head))


def _bad_byte(data: bytes, start: int, name: str) -> Finding:
    before = _plain_lines(data[:start].decode("utf-8"))
    line = before.count("\n") + 1
    column = len(before) - (before.rfind("\n") + 1) + 1
    byte = data[start]
    message = f"the byte 0x{byte:02X} does not belong in a UTF-8 file"
    character = bytes([byte]).decode("cp1252", errors="ignore")
    if character and not CONTROL.match(character):
        message += f"; the file looks like Windows-1252, in which it is “{character}”"
    return _encoding(Span(name, line, column), message)


def _plain_lines(text: str) -> str:
    return text.replace("\r\n", "\n").replace("\r", "\n")


def _control_findings(text: str, name: str) -> tuple[Finding, ...]:
    found = list(CONTROL.finditer(text))
    if not found:
        return ()
    at = found[0].start()
    span = Span(name).within(text, at, at + 1)
    more = f" (and {len(found) - 1} more in this file)" if len(found) > 1 else ""
    message = f"the control character U+{ord(text[at]):04X} stands here{more}, expected text"
    return (Finding("control-character", Severity.ERROR, span, message, "delete the character or type the line again"),)


def _encoding(span: Span, message: str) -> Finding:
    return Finding("encoding", Severity.ERROR, span, message, _SAVE_AS_UTF8)


def _error(check: str, name: str, message: str, help_: str = "") -> Finding:
    return Finding(check, Severity.ERROR, Span(name), message, help_)


def name_as_text(name: str) -> str:
    r"""Return a file's name as it can be written into any file: a byte that is no UTF-8 as "\xe9"."""
    return os.fsencode(name).decode("utf-8", "backslashreplace")
