"""Clock times: the one reader and the one writer, each the inverse of the other."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from repslate.model.clock import read_clock, write_clock, write_stamp

# Common practice on video hosts (no standard): hours only where needed, rounded down, strict on reading.
WRITTEN = [
    ("0", False, "0:00"),
    ("59.96", False, "0:59"),
    ("60", False, "1:00"),
    ("599.99", False, "9:59"),
    ("600", False, "10:00"),
    ("3599.9", False, "59:59"),
    ("3600", True, "1:00:00"),
    ("3723", True, "1:02:03"),
    ("65", True, "0:01:05"),
    ("3599.9", None, "59:59"),
    ("3600", None, "1:00:00"),
]
READ = [
    ("0:00", "0"),
    ("00:00", "0"),
    ("75:00", "4500"),
    ("1:02.5", "62.5"),
    ("1:02,5", "62.5"),
    ("1:02:03", "3723"),
    ("100:00:00", "360000"),
    ("0:00.040", "0.04"),
]
REFUSED = [
    ("1:60", "seconds from 00 to 59"),
    ("0:5", "two digits for the seconds"),
    ("0:005", "two digits for the seconds"),
    ("12:30:", "M:SS or H:MM:SS"),
    ("12:30:x", "M:SS or H:MM:SS"),
    ("1:5:00", "minutes from 00 to 59"),
    ("1:60:00", "minutes from 00 to 59"),
    ("-1:00", "M:SS or H:MM:SS"),
    ("1:00.", "M:SS or H:MM:SS"),
    ("٠:٣٠", "M:SS or H:MM:SS"),
    ("", "M:SS or H:MM:SS"),
    ("90", "M:SS or H:MM:SS"),
    ("9" * 5000 + ":00", "M:SS or H:MM:SS"),
]


@pytest.mark.parametrize(("seconds", "hours", "text"), WRITTEN)
def test_writes_whole_seconds_rounded_down(seconds: str, hours: bool | None, text: str) -> None:
    assert write_clock(Fraction(seconds), hours=hours) == text


@pytest.mark.parametrize(("text", "seconds"), READ)
def test_reads_exact_seconds(text: str, seconds: str) -> None:
    assert read_clock(text) == Fraction(seconds)


@pytest.mark.parametrize(("text", "reason"), REFUSED)
def test_refuses_with_a_reason(text: str, reason: str) -> None:
    found = read_clock(text)
    assert isinstance(found, str)
    assert reason in found


def test_a_time_before_the_start_is_our_own_fault() -> None:
    with pytest.raises(ValueError, match="before the start"):
        write_clock(Fraction(-1), hours=False)


@given(st.integers(0, 99_999 * 60), st.booleans())
def test_what_is_written_reads_the_same(seconds: int, hours: bool) -> None:
    assert read_clock(write_clock(Fraction(seconds), hours=hours)) == seconds


@given(st.fractions(0, 10**6), st.fractions(0, 10**6), st.booleans())
def test_later_is_never_written_earlier(one: Fraction, two: Fraction, hours: bool) -> None:
    early, late = (read_clock(write_clock(time, hours=hours)) for time in sorted((one, two)))
    assert isinstance(early, Fraction)
    assert isinstance(late, Fraction)
    assert early <= late
    assert late <= max(one, two) < late + 1


@given(st.integers(0, 10**8), st.sampled_from([None, True]), st.sampled_from(".,"))
def test_thousandths_come_back_exactly(milliseconds: int, always: bool | None, mark: str) -> None:
    seconds = Fraction(milliseconds, 1000)
    assert read_clock(write_clock(seconds, thousandths=always, mark=mark)) == seconds
    assert read_clock(write_stamp(seconds, mark)) == seconds


@pytest.mark.parametrize(
    ("seconds", "text", "stamp"),
    [
        ("65", "1:05", "00:01:05.000"),
        ("65.5", "1:05.500", "00:01:05.500"),
        ("3600.0019", "1:00:00.001", "01:00:00.001"),
    ],
)
def test_thousandths_stand_where_there_are_any(seconds: str, text: str, stamp: str) -> None:
    assert write_clock(Fraction(seconds), thousandths=None) == text
    assert write_stamp(Fraction(seconds)) == stamp
