"""Says where the chapters of an old cut start in a new one."""

from __future__ import annotations

from collections.abc import Iterator

from repslate.api import Moved
from repslate.model.clock import write_clock


def listing(moved: Moved) -> Iterator[str]:
    """Yield a line for each chapter and one that sums up."""
    for one in moved.chapters:
        to = "cut out" if one.to is None else write_clock(one.to, thousandths=None)
        near = "" if one.offer is None else write_clock(one.offer, thousandths=None)
        offer = near and f"; the nearest moment kept is {near}"
        because = f" ({one.reason}{offer})" if one.reason else ""
        yield f"{write_clock(one.start, thousandths=None)} → {to}  {one.title}{because}"
    if not moved.chapters:
        return
    found = sum(one.to is not None for one in moved.chapters)
    yield f"{found} of {len(moved.chapters)} chapters start in the new cut"
    if moved.written:
        yield "chapters.txt is written" + (f", the old one is kept as {moved.kept_as}" if moved.kept_as else "")
    elif found:
        yield "nothing is written; --write writes chapters.txt and keeps the old one beside it"
