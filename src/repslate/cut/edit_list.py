"""CMX 3600 edit lists, as editing programs write them: labels to frames.

Rules and tolerances: SMPTE ST 258 by way of public manuals; the irregular forms are common practice, no source.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from repslate.cut.edit_list_lines import Event, Scanned
from repslate.cut.edit_trouble import Trouble
from repslate.cut.timecode import RATES, Rate, read_timecode
from repslate.source.finding import Finding, Severity

_PACE = re.compile(r"(?P<figure>-?[0-9]{1,5}(?:\.[0-9]{1,6})?)\s*(?P<unit>FPS|%)", re.IGNORECASE)
_CLOSE = 3  # frames by which lengths may differ from the speed: public sample lists are up to 2.2 off
_ROUNDED = Fraction(1, 20)  # frames a second: M2 speeds have one decimal


@dataclass(frozen=True, slots=True)
class Timed:
    """An event in frames: `si` to `so` of the source, `ri` to `ro` of the record, and its speed."""

    event: Event
    si: int
    so: int
    ri: int
    ro: int
    speed: Fraction

    @property
    def source(self) -> str:
        """The footage's name: the reel, or the clip where AX stands for any source."""
        return self.event.clip if self.event.reel == "AX" and self.event.clip else self.event.reel


def settle(rate: Rate | None, scanned: Scanned, trouble: Trouble) -> Rate | None:
    """Return the rate with the counting of the record side; None, and told, where nothing says the rate."""
    if rate is None and scanned.drop:
        fast = any(int(label[-2:]) >= 30 for event in scanned.events for label in event.labels)
        name = "59.94 drop" if fast else "29.97 drop"
        message = f"found no frame rate, expected that of the cut; drop-frame counting says {name}"
        trouble.add(Finding("edit-rate", Severity.WARNING, trouble.span(1), message, _RATE_HELP.format(name)))
        return RATES[name]
    if rate is None:
        message = "found no frame rate, expected that of the cut, which an edit list does not say"
        trouble.add(Finding("edit-rate", Severity.ERROR, trouble.span(1), message, _RATE_HELP.format("25")))
        return None
    if scanned.drop and not rate.may_drop:
        message = f"found FCM: DROP FRAME, expected no drop-frame counting at {rate.nominal} frames a second"
        trouble.habit(1, message, "check the frame rate; the times are read without drop-frame")
    if scanned.drop is None:
        message = "found no FCM line, expected one"
        help_ = f"the times are read as {'drop' if rate.drop else 'non-drop'}-frame; check that"
        trouble.habit(1, message, help_, harmless=not rate.may_drop)
        return rate
    return rate.counted(drop=scanned.drop)


_RATE_HELP = "write “frame rate: {}” into the front matter of workout.md"


def _label(label: str, rate: Rate, line: int, trouble: Trouble) -> int | None:
    """Return the frames that a label says; None, and told, where there is no such label."""
    if label.isdigit():
        if int(label) < rate.day:
            return int(label)
        trouble.error(line, f"found {label}, expected a frame within 24 h", "export the list with timecode")
        return None
    if label[-3] != ":" and not rate.drop:
        message = "found the sign of drop-frame, expected colons before the frames, as FCM and frame rate say"
        help_ = "check the frame rate and the FCM line; "
        help_ += "these times are read as " + ("drop-frame" if rate.may_drop else "if they had colons")
        trouble.habit(line, message, help_)
        rate = rate.counted(drop=True)
        label = label if rate.drop else f"{label[:-3]}:{label[-2:]}"
    frames = read_timecode(label, rate)
    if isinstance(frames, str):
        trouble.error(line, frames, "correct the time, or export the list again", "SMPTE ST 12-1")
        return None
    return frames


def record(label: str, line: int, events: Sequence[Timed], rate: Rate, trouble: Trouble) -> int | None:
    """Return the frames of a label on the record side, on the day after where the record has passed midnight."""
    frames = _label(label, rate, line, trouble)
    first = events[0].ri if events else 0
    return frames + rate.day if frames is not None and frames < first - rate.day // 2 else frames


def time_events(scanned: Scanned, rate: Rate, trouble: Trouble) -> list[Timed]:
    """Return the events whose four labels are times, in frames."""
    timed: list[Timed] = []
    for event in scanned.events:
        own = rate if event.drop is None else rate.counted(drop=event.drop)
        rates = (own, own, rate, rate)
        found = [_label(label, one, event.line, trouble) for label, one in zip(event.labels, rates, strict=True)]
        frames = [one for one in found if one is not None]
        if len(frames) < 4:
            continue
        si, so, ri, ro = frames
        if event.speed is not None and event.speed < 0 and so < si:
            si, so = so, si
        if so < si or ro < ri:
            trouble.habit(event.line, "found times that pass midnight, expected times that go up", "check these events")
        so += rate.day if so < si else 0
        ro += rate.day if ro < ri else 0
        if timed and ri < timed[0].ri - rate.day // 2:
            trouble.habit(event.line, "found times that pass midnight, expected times that go up", "check these events")
            ri, ro = ri + rate.day, ro + rate.day
        speed = _pace(event, so - si, ro - ri, rate, trouble)
        timed.append(Timed(event, si, so, ri, ro, speed))
    return timed


def _pace(event: Event, source: int, record: int, rate: Rate, trouble: Trouble) -> Fraction:
    """Return the speed of an event from its lengths in frames, held against its M2 line or what its name says."""
    told = None if event.speed is None else event.speed / rate.nominal
    if told is None and source == record:
        return Fraction(1)
    if told is None:
        told = _pace_in_name(event, source, rate)
        if told is not None:
            trouble.habit(event.line, "found another speed in the name only, expected an M2 line for it", "check it")
    if told == 0:
        return told
    sign = -1 if told is not None and told < 0 else 1
    spare = _CLOSE + record * _ROUNDED / rate.nominal
    if told is not None and abs(source - record * abs(told)) <= spare:
        return sign * Fraction(source, record) if source and record else told
    message = f"found {source} frames of footage for {record} of the cut, expected as many"
    if told is None and abs(source - record) <= _CLOSE:
        trouble.habit(event.line, message, "check the event; it is read as played at normal speed")
        return Fraction(1)
    if told is not None:
        message = f"found {source} frames of footage, expected {float(record * abs(told)):.1f} for the M2 speed"
    help_ = f"correct the times, or add “M2   {event.reel}   "
    help_ += f"{float(rate.nominal * Fraction(source, max(1, record))):05.1f}   {event.labels[0]}” under the event"
    trouble.error(event.line, message, help_)
    return sign * Fraction(source or 1, record or 1)


def _pace_in_name(event: Event, source: int, rate: Rate) -> Fraction | None:
    """Return a speed that a clip's name or a comment says, "(50 FPS)" or "200 %"; an ending FF is a still."""
    if event.clip.endswith(" FF") and source <= 1:
        return Fraction(0)
    for words in (event.clip, *event.comments):
        if found := _PACE.search(words):
            return Fraction(found["figure"]) / (100 if found["unit"] == "%" else rate.nominal)
    return None
