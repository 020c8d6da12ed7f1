"""The lines of a CMX 3600 edit list: events with all that is said of them, still in labels.

Columns and codes: SMPTE ST 258 by way of public manuals; the irregular forms are common practice, no source.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from fractions import Fraction

from repslate.cut.edit_trouble import Trouble
from repslate.source.span import Span

_LABEL = r"[0-9]{2}[:;.,][0-9]{2}[:;.,][0-9]{2}[:;.,][0-9]{2}|[0-9]{1,9}"
_EVENT = re.compile(
    r"(?P<number>[0-9]{1,6})[A-Z]?\s+(?P<reel>\S(?:.{0,200}?\S)?)\s+"
    r"(?P<track>NONE|AA/V|A[0-9]*/V|AA|A[0-9]*|B|V[0-9]*|A[0-9]+V)\s+(?P<kind>C|D|W[0-9]{3}|KB|KO|K)\s+"
    rf"(?:B\s+)?(?:(?P<length>[0-9]{{1,3}})\s+)?({_LABEL})\s+({_LABEL})\s+({_LABEL})\s+({_LABEL})"
)
_SPEED = re.compile(
    rf"M2\s+(?P<reel>\S(?:.{{0,200}}?\S)?)\s+(?P<speed>[+-]?[0-9]{{1,5}}(?:\.[0-9]{{1,6}})?)(?:\s+{_LABEL})?"
)
_COUNT = re.compile(r"FCM:\s*(?P<non>NON[\s-]*)?DROP[\s-]*FRAME", re.IGNORECASE)
_COMMENT = re.compile(r"\*?\s*(?P<key>FROM CLIP NAME|TO CLIP NAME|COMMENT|LOC)\s*:\s*(?P<text>.*)", re.IGNORECASE)
_LOCATION = re.compile(rf"(?P<label>{_LABEL})(?:\s+(?P<text>.*))?")
_COLOURS = "BLACK BLUE CYAN GREEN MAGENTA ORANGE PINK PURPLE RED WHITE YELLOW".split()
# Lines that belong to the format, or that every program writes, and that say nothing of when a picture is shown.
_SILENT = re.compile(
    r"\*|TITLE:|SPLIT:|AUD\b|EFFECTS? NAME|>>>|FINAL CUT|FROM CLIP|TO CLIP|DLEDL:|REEL\b", re.IGNORECASE
)


@dataclass(slots=True)
class Event:
    """One event line and what the lines under it say; `labels` are source in and out, record in and out.

    `drop` is how the list counts the source at that line, None before any FCM line.
    """

    number: int
    reel: str
    track: str
    kind: str
    length: int | None
    labels: tuple[str, str, str, str]
    line: int
    span: Span
    drop: bool | None
    clip: str = ""
    speed: Fraction | None = None
    comments: list[str] = field(default_factory=list)

    @property
    def has_picture(self) -> bool:
        """Tell whether the event cuts the picture: V, B (picture and first sound), or sound tracks with /V."""
        return "V" in self.track or self.track == "B"

    @property
    def is_transition(self) -> bool:
        """Tell a dissolve or a wipe from a cut or a key."""
        return self.kind[0] in "DW"


@dataclass(frozen=True, slots=True)
class Location:
    """A `* LOC:` line: a label in record time and its words, under the event it stands at."""

    label: str
    text: str
    span: Span
    event: Event | None


@dataclass(slots=True)
class Scanned:
    """All that the lines say; `drop` is what the first FCM line says of the record side, None if there is none."""

    events: list[Event] = field(default_factory=list)
    locations: list[Location] = field(default_factory=list)
    drop: bool | None = None


def scan(text: str, trouble: Trouble) -> Scanned:
    """Return the events and markers of a list in the order of its lines."""
    scanned = Scanned()
    counting: bool | None = None
    has_title = False
    for number, raw in enumerate(re.split(r"\r\n|\n|\r", text.removeprefix("\ufeff")), 1):
        line = raw.strip()
        span = trouble.span(number, raw)
        if ("\t" in line or not line.isascii()) and (line[:1] != "*" or _COMMENT.match(line)):
            message = "found tabs or other letters, expected plain letters and blanks"
            trouble.habit(number, message, "nothing to fix here, other programs may refuse the list", harmless=True)
        if not line:
            continue
        has_title = has_title or line.upper().startswith("TITLE:")
        if count := _COUNT.match(line):
            counting = not count["non"]
            scanned.drop = counting if scanned.drop is None else scanned.drop
        elif line[0].isdigit():
            if event := _event(line, span, counting, trouble):
                scanned.events.append(event)
        elif re.match(r"M2\s", line):
            _speed(line, number, scanned.events, trouble)
        elif comment := _COMMENT.fullmatch(line):
            _comment(comment, span, scanned, trouble)
        elif not _SILENT.match(line):
            message = "found other words, which are passed over, expected the lines of an edit list"
            trouble.habit(number, message, "delete the line if it is not part of the list")
        elif scanned.events and line.startswith("*"):
            scanned.events[-1].comments.append(line)
    if not has_title:
        trouble.habit(1, "found no TITLE line, expected one", "nothing to fix, the title is not used", harmless=True)
    return scanned


def _event(line: str, span: Span, counting: bool | None, trouble: Trouble) -> Event | None:
    found = _EVENT.fullmatch(line)
    if not found:
        message = f"found “{line[:60]}”, expected an event (number, reel, track, edit, four times)"
        trouble.error(span.line, message, "export the list again, or fix the line after its neighbours")
        return None
    reel, length = found["reel"], found["length"]
    if len(reel) > 8 or " " in reel:
        message = "found longer reel names, expected at most 8 characters without blanks"
        trouble.habit(span.line, message, "nothing to fix, the whole name is used", harmless=True)
    labels = (found[6], found[7], found[8], found[9])
    if any(label.isdigit() for label in labels):
        trouble.habit(span.line, "found counts of frames, expected timecode", "check the times of these events")
    kind, frames = found["kind"], int(length) if length else None
    if kind[0] == "K":
        trouble.habit(span.line, "found a key, which is read as a cut, expected cuts, dissolves and wipes", "check it")
    elif kind != "C" and not length:
        message = f"found no number, expected the frames that the transition {kind} lasts"
        trouble.error(span.line, message, f"write them after the {kind}, such as “{kind}    024”")
        return None
    return Event(int(found["number"]), reel, found["track"], kind, frames, labels, span.line, span, counting)


def _speed(line: str, number: int, events: list[Event], trouble: Trouble) -> None:
    """Put an M2 line's frames a second on the event above that it speaks of."""
    found = _SPEED.fullmatch(line)
    if not found or not events:
        message = f"found “{line[:60]}”, expected M2 with a reel and a speed under an event"
        trouble.error(number, message, "write “M2   CAM1   050.0   00:00:10:00” under the event that plays faster")
        return
    last = [event for event in events[-2:] if event.number == events[-1].number]
    named = [event for event in last if event.reel == found["reel"]]
    if not named:
        trouble.habit(number, "found another reel on an M2, expected that of its event", "check the event's speed")
    (named or last)[-1].speed = Fraction(found["speed"])


def _comment(found: re.Match[str], span: Span, scanned: Scanned, trouble: Trouble) -> None:
    key, text = found["key"].upper(), found["text"].strip()
    event = scanned.events[-1] if scanned.events else None
    if key == "LOC":
        if not found[0].startswith("* "):
            message = "found “*LOC:”, expected “* LOC:” with a blank"
            trouble.habit(span.line, message, "nothing to fix, the marker is read", harmless=True)
        _location(text, span, event, scanned, trouble)
    elif event is None:
        trouble.habit(span.line, "found a comment before the first event, expected it under one", "check whose it is")
    elif key == "COMMENT":
        event.comments.append(text)
    elif key == "TO CLIP NAME" or not event.is_transition:
        event.clip = text
    elif len(scanned.events) > 1 and scanned.events[-2].number == event.number:
        scanned.events[-2].clip = text


def _location(text: str, span: Span, event: Event | None, scanned: Scanned, trouble: Trouble) -> None:
    found = _LOCATION.fullmatch(text)
    if not found:
        message = f"found “{text[:40]}”, expected a time after LOC"
        trouble.error(span.line, message, "write “* LOC: 01:00:20:00 RED     Goblet squat”")
        return
    colour, _, words = (found["text"] or "").partition(" ")
    if colour.upper() not in _COLOURS:
        words = found["text"] or ""
        message = "found no colour after the time of a LOC, expected one"
        trouble.habit(span.line, message, "nothing to fix, all its words are the marker's name", harmless=True)
    elif not colour.isupper():
        message = "found small letters, expected a marker's colour in capitals"
        trouble.habit(span.line, message, "nothing to fix, the marker is read", harmless=True)
    if not words.strip():
        message = "found no name after the time of a LOC, expected one"
        trouble.habit(span.line, message, "name the marker after the exercise it shows, or delete it")
        return
    scanned.locations.append(Location(found["label"], words.strip(), span, event))
