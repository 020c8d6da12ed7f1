"""Contrast of two colours by WCAG 2.2, for the accent of a series.

Formulas: https://www.w3.org/TR/WCAG22/#dfn-relative-luminance and #dfn-contrast-ratio. Decimal, so that a ratio that
just fails is never rounded into passing.
"""

from __future__ import annotations

import re
from decimal import ROUND_DOWN, Decimal
from functools import lru_cache

TEXT_RATIO = Decimal("4.5")  # WCAG 2.2 success criterion 1.4.3 (AA), text of ordinary size
PAPER = "#ffffff"  # the light scheme's and the card's background
_RED, _GREEN, _BLUE = Decimal("0.2126"), Decimal("0.7152"), Decimal("0.0722")


def full_hex(colour: str) -> str | None:
    """Return "#rgb" or "#rrggbb" as "#rrggbb" in lower case, None for anything else."""
    if re.fullmatch(r"#[0-9a-fA-F]{3}", colour):
        colour = "#" + "".join(digit * 2 for digit in colour[1:])
    return colour.lower() if re.fullmatch(r"#[0-9a-fA-F]{6}", colour) else None


def luminance(colour: str) -> Decimal:
    """Return the relative luminance of "#rrggbb", from 0 (black) to 1 (white)."""
    red, green, blue = (_linear(channel) for channel in bytes.fromhex(colour[1:]))
    return _RED * red + _GREEN * green + _BLUE * blue


def ratio(one: str, other: str) -> Decimal:
    """Return the contrast ratio of two "#rrggbb" colours, from 1 to 21, in either order."""
    darker, lighter = sorted((luminance(one), luminance(other)))
    return (lighter + Decimal("0.05")) / (darker + Decimal("0.05"))


def ratio_words(value: Decimal) -> str:
    """Return a ratio to two decimals, rounded down, so that 4.499 is not shown as the 4.5 it fails."""
    return f"{value.quantize(Decimal('0.01'), rounding=ROUND_DOWN)}:1"


def lighten_until(colour: str, background: str, least: Decimal) -> str:
    """Return the colour moved towards white just as far as it takes to reach the ratio on a dark background.

    In 255 steps. Raises ValueError if white itself does not reach it: then the background is not dark, our own fault.
    """
    return _move_until(colour, 255, background, least)


def darken_until(colour: str, background: str, least: Decimal) -> str:
    """Return the colour moved towards black in the same way, on a light background."""
    return _move_until(colour, 0, background, least)


def _move_until(colour: str, goal: int, background: str, least: Decimal) -> str:
    channels = bytes.fromhex(colour[1:])
    for step in range(256):
        # c + (goal - c) · step/255, rounded half up
        moved = "#" + bytes((510 * c + 2 * (goal - c) * step + 255) // 510 for c in channels).hex()
        if ratio(moved, background) >= least:
            return moved
    raise ValueError(f"moving {colour} to {'white' if goal else 'black'} never reaches {least}:1 on {background}")


@lru_cache(maxsize=256)
def _linear(channel: int) -> Decimal:
    share = Decimal(channel) / 255
    if share <= Decimal("0.04045"):
        return share / Decimal("12.92")
    return Decimal(((share + Decimal("0.055")) / Decimal("1.055")) ** Decimal("2.4"))
