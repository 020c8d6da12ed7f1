"""SMPTE timecode and exact seconds."""

from __future__ import annotations

import re
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.cut.timecode import (
    RATES,
    Rate,
    read_rate,
    read_timecode,
    to_seconds,
    write_timecode,
)

# ---- SMPTE timecode. Source: SMPTE ST 12-1 (rules by way of public descriptions of it)

LABELS = [  # at the rate, the label is that many frames from 00:00:00:00
    ("29.97 drop", "00:00:59;29", 1799),
    ("29.97 drop", "00:01:00;02", 1800),
    ("29.97 drop", "00:09:59;29", 17_981),
    ("29.97 drop", "00:10:00;00", 17_982),
    ("29.97 drop", "00:10:00;01", 17_983),
    ("29.97 drop", "01:00:00;00", 107_892),
    ("59.94 drop", "00:01:00;04", 3600),
    ("59.94 drop", "00:10:00;00", 35_964),
    ("59.94 drop", "01:00:00;00", 215_784),
    *((name, "01:00:00:00", 86_400) for name in ("23.976", "24")),
    ("25", "00:01:00:00", 1500),
    ("25", "01:00:00:00", 90_000),
    *((name, "01:00:00:00", 108_000) for name in ("29.97", "30")),
    ("50", "01:00:00:00", 180_000),
    ("59.94", "01:00:00:00", 216_000),
]
NO_LABELS = [
    ("29.97 drop", "00:01:00;00", "expected 00:01:00;02 as the minute's first drop-frame label"),
    ("29.97 drop", "00:01:00;01", "which does not exist"),
    ("29.97 drop", "00:09:00;01", "expected 00:09:00;02"),
    ("29.97 drop", "00:01:00:01", "which does not exist"),  # a colon is common under FCM: DROP FRAME
    ("59.94 drop", "00:01:00;03", "expected 00:01:00;04"),
    ("25", "00:00:00:25", "found 25 in “00:00:00:25”, expected frames from 00 to 24"),
    ("25", "00:61:00:00", "found 61 in “00:61:00:00”, expected minutes from 00 to 59"),
    ("25", "00:00:60:00", "found 60 in “00:00:60:00”, expected seconds from 00 to 59"),
    ("25", "24:00:00:00", "found 24 in “24:00:00:00”, expected hours from 00 to 23"),
    ("25", "00:00:00;00", "expected a colon"),
    ("29.97", "00:00:00;00", "expected a colon"),
    ("25", "0:00:00:00", "expected HH:MM:SS:FF"),
    ("25", "00:00:00", "expected HH:MM:SS:FF"),
    ("25", "٠٠:٠٠:٠٠:٠٠", "expected HH:MM:SS:FF"),
]
DAYS = dict(  # frames in 24 h
    zip(
        RATES,
        (2_073_600, 2_073_600, 2_160_000, 2_592_000, 2_589_408, 2_592_000, 4_320_000, 5_184_000, 5_178_816),
        strict=True,
    )
)
LASTS = {"23.976": "3603.6", "29.97": "3603.6", "59.94": "3603.6", "29.97 drop": "3599.9964", "59.94 drop": "3599.9964"}


@pytest.mark.parametrize(("name", "label", "frames"), LABELS)
def test_a_label_is_so_many_frames(name: str, label: str, frames: int) -> None:
    assert read_timecode(label, RATES[name]) == frames
    assert write_timecode(frames, RATES[name]) == label


@pytest.mark.parametrize(("name", "label", "reason"), NO_LABELS)
def test_a_label_that_does_not_exist_is_refused(name: str, label: str, reason: str) -> None:
    found = read_timecode(label, RATES[name])
    assert isinstance(found, str)
    assert reason in found


@pytest.mark.parametrize("name", RATES)
def test_a_day_and_an_hour_last(name: str) -> None:
    rate = RATES[name]
    assert rate.day == DAYS[name]
    assert write_timecode(rate.day - 1, rate)[:8] == "23:59:59"
    frames = read_timecode("01:00:00:00", rate)
    assert isinstance(frames, int)
    assert to_seconds(frames, rate) == Fraction(LASTS.get(name, "3600"))


@pytest.mark.parametrize("name", RATES)
def test_labels_round_every_minute_of_the_day(name: str) -> None:
    """Labels differ from a plain count only at minutes: there all of them go up and read the same."""
    rate = RATES[name]
    minutes = [-(-minute * 60 * rate.exact.numerator // rate.exact.denominator) for minute in range(1441)]
    frames = sorted({frame for at in minutes for frame in range(at - 6, at + 7) if 0 <= frame < rate.day})
    labels = [write_timecode(frame, rate) for frame in frames]
    assert [read_timecode(label, rate) for label in labels] == frames
    assert labels == sorted(set(labels))


@given(
    st.sampled_from(list(RATES.values())).flatmap(lambda rate: st.tuples(st.just(rate), st.integers(0, rate.day - 1)))
)
def test_every_frame_of_the_day_has_its_label(at: tuple[Rate, int]) -> None:
    rate, frame = at
    assert read_timecode(write_timecode(frame, rate), rate) == frame


@given(st.sampled_from(list(RATES.values())), st.text() | st.from_regex(r"[0-9]{2}([:;.,][0-9]{2}){3}", fullmatch=True))
def test_any_label_is_read_or_refused(rate: Rate, label: str) -> None:
    found = read_timecode(label, rate)
    if isinstance(found, int):
        assert re.sub("[;.,]", ":", write_timecode(found, rate)) == re.sub("[;.,]", ":", label)


def test_a_frame_outside_of_the_day_is_our_own_fault() -> None:
    for frames in (-1, RATES["25"].day):
        with pytest.raises(ValueError, match="outside of the day"):
            write_timecode(frames, RATES["25"])


def test_drift_of_an_article_that_counts_seconds() -> None:
    begin, at = (read_timecode(label, RATES["29.97 drop"]) for label in ("01:00:00;00", "01:28:30;00"))
    assert isinstance(begin, int)
    assert isinstance(at, int)
    assert at - begin == 51_248
    assert round(float(to_seconds(at - begin, RATES["29.97 drop"])), 3) == 1709.975


@pytest.mark.parametrize(
    ("text", "name"),
    [
        *((name, name) for name in RATES),
        ("23.98", "23.976"),
        ("25.00", "25"),
        ("25 fps", "25"),
        ("29,97", "29.97"),
        ("29.97 fps DF", "29.97 drop"),
        ("29.97 non-drop", "29.97"),
        ("59.94  NDF", "59.94"),
        ("30000/1001", "29.97"),
    ],
)
def test_a_rate_is_read(text: str, name: str) -> None:
    assert read_rate(text) == RATES[name]


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("26", "expected one of 23.976, 24, 25, 29.97, 29.97 drop, 30"),
        ("", "expected one of"),
        ("fast", "found “fast”"),
        ("30 drop", "only at 29.97 and 59.94"),
        ("23.976 drop", "only at 29.97 and 59.94"),
    ],
)
def test_a_rate_that_is_none_is_refused(text: str, reason: str) -> None:
    found = read_rate(text)
    assert isinstance(found, str)
    assert reason in found
