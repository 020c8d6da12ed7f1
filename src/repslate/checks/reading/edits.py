"""Pages of what is found in edit lists, timelines, and the markers that are taken through them."""

from __future__ import annotations

from repslate.source.finding import Severity

_WORKOUT = """\
---
format: 1
title: A sample
presenter: Robin
goal: hypertrophy
level: intermediate
frame rate: 25
---
## Straight sets
### Goblet squat
3 × 10, rest 90 s
"""
_EDIT = """\
cut.edl:
TITLE: SESSION CUT
FCM: NON-DROP FRAME
001  CAM1     V     C        00:00:10:00 00:01:10:00 01:00:00:00 01:01:00:00
002  CAM1     V     C        00:02:00:00 00:04:00:00 01:01:00:00 01:03:00:00
003  CAM1     V     C        00:05:00:00 00:06:00:00 01:03:00:00 01:03:30:00
M2   CAM1           050.0                00:05:00:00
004  CAM1     V     C        00:00:30:00 00:00:40:00 01:03:30:00 01:03:40:00
"""
_CMX = "SMPTE ST 258 by way of public manuals, and common practice."
_OWN = "what the edit says; no standard."


def _page(asks: str, why: str, source: str, mend: str, *, examples: tuple[str, str]) -> str:
    bad, good = examples
    return f"{asks}\n\nWhy: {why}\nSource: {source}\nBad:\n{_shown(bad)}\nGood:\n{_shown(good)}\nMend: {mend}\n"


def _shown(files: str) -> str:
    return "\n".join(f"    {line}" for line in files.splitlines())


def _list(*lines: str, rate: bool = True) -> str:
    """Return the files of a page on a list of three lines."""
    workout = _WORKOUT if rate else _WORKOUT.replace("frame rate: 25\n", "")
    head = "cut.edl:\nTITLE: SESSION CUT\nFCM: NON-DROP FRAME\n"
    return workout + head + "".join(f"{line}\n" for line in lines)


def _marked(source: str, label: str, edit: str = _EDIT) -> str:
    """Return the files of a page on a marker at a moment of some footage."""
    event = f"001  {source:8} V     C        {label} {label[:-1]}1 {label} {label[:-1]}1\n* COMMENT: Goblet squat\n"
    return f"{_WORKOUT}{edit}markers.edl:\nTITLE: MARKERS\nFCM: NON-DROP FRAME\n{event}"


_CUT = "001  CAM1     V     C        00:00:10:00 00:01:10:00 01:00:00:00 01:01:00:00"
_DISSOLVE = "002  CAM2     V     D    050 00:02:00:00 00:04:00:00 01:01:00:00 01:03:00:00"

PAGES = {
    "edit-unreadable": (
        Severity.ERROR,
        _page(
            "Every event of an edit says which footage is shown when, in times that exist and agree.",
            "an event that is misread moves every chapter after it.",
            f"{_CMX} Timecode: SMPTE ST 12-1. Timelines: OpenTimelineIO.",
            "export the list or the timeline again; a list that is mended by hand has as much footage as cut, or an M2 "
            "line with the speed.",
            examples=(_list(_CUT.replace("00:01:10:00", "00:00:40:00")), _list(_CUT)),
        ),
    ),
    "edit-irregular": (
        Severity.WARNING,
        _page(
            "An edit keeps to its format, follows the cut from its start and leaves no gaps.",
            "what is irregular was read all the same, but may mean something else. Only a note where it cannot.",
            _CMX,
            "look at the lines that the finding names; export the edit again where they are not meant.",
            examples=(
                _list(
                    _CUT, _DISSOLVE.replace("D    050", "C       ").replace("01:01:00:00 01:03", "01:02:00:00 01:04")
                ),
                _list(_CUT, _DISSOLVE.replace("D    050", "C       ")),
            ),
        ),
    ),
    "edit-rate": (
        Severity.ERROR,
        _page(
            "The frame rate of an edit list is known.",
            "a list counts frames and does not say how many make a second. Only a warning where drop-frame counting "
            "says it.",
            _CMX,
            "write the rate of the cut into the front matter: frame rate: 25, or 29.97 drop.",
            examples=(_list(_CUT, rate=False), _list(_CUT)),
        ),
    ),
    "marker-removed": (
        Severity.WARNING,
        _page(
            "The footage that a marker names is in the cut.",
            "what was cut away cannot be a chapter.",
            _OWN,
            "move the marker to the footage that the finding proposes, or leave it out.",
            examples=(_marked("CAM1", "00:01:30:00"), _marked("CAM1", "00:02:00:00")),
        ),
    ),
    "marker-reused": (
        Severity.WARNING,
        _page(
            "The cut shows a marked moment once.",
            "a chapter has one time; of several the first counts.",
            _OWN,
            "look whether the first time is the one that is meant.",
            examples=(_marked("CAM1", "00:00:30:00"), _marked("CAM1", "00:00:20:00")),
        ),
    ),
    "marker-under-transition": (
        Severity.WARNING,
        _page(
            "A chapter starts where the picture stands whole.",
            "viewers who jump there see two pictures at once.",
            _OWN,
            "move the marker to the moment that the finding proposes.",
            examples=(
                _marked("CAM2", "00:02:01:00", _list(_CUT, _DISSOLVE).removeprefix(_WORKOUT)),
                _marked("CAM2", "00:02:02:00", _list(_CUT, _DISSOLVE).removeprefix(_WORKOUT)),
            ),
        ),
    ),
    "marker-speed": (
        Severity.WARNING,
        _page(
            "Marked footage plays forwards at its own speed.",
            "lists differ on which end of backwards footage their times name. Other speeds are only a note: they are "
            "counted in.",
            _OWN,
            "look at the cut at the time that the finding says.",
            examples=(_marked("CAM1", "00:05:30:00", _EDIT.replace("050.0", "-050.0")), _marked("CAM1", "00:02:30:00")),
        ),
    ),
    "marker-source-unknown": (
        Severity.ERROR,
        _page(
            "A marker names footage as the edit does.",
            "without the footage there is no time in the cut.",
            _OWN,
            "give the footage the same name in both files.",
            examples=(_marked("CAM7", "00:02:00:00"), _marked("CAM1", "00:02:00:00")),
        ),
    ),
}
