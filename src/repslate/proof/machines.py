"""What machines read of a published page, held against what was built: addresses, meta tags, structured data."""

from __future__ import annotations

import html
import json
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from repslate.proof.differences import (
    FIGURE,
    LINK,
    MISSING,
    NAME,
    TALK,
    TIME,
    UNREADABLE,
    Claim,
    Disagreement,
    quoted,
)
from repslate.proof.reading import Datum, Document, Link, Place
from repslate.proof.words import Kind, address, words

_JSON_LD = "application/ld+json"
_META = re.compile(r"description|canonical|title|og:.*|article:.*|data-.*")
_DEEPEST = 50
_SECOND = re.compile(r"[#?&]t=\d+")


def compare_machines(built: Document, found: Document, base: str, *, copied: bool) -> Iterator[Disagreement]:
    """Yield what a page says to machines other than the one that was built.

    A website has meta tags and structured data of its own, and a page that is `copied` need have none of ours.
    """
    yield from _links(built, found, base, copied=copied)
    yield from _meta(built, found, base, copied=copied)
    yield from _structured(built, found, base, copied=copied)


def _links(built: Document, found: Document, base: str, *, copied: bool) -> Iterator[Disagreement]:
    if not found.links:
        return
    wanted = Counter(address(one.address, base) for one in built.links)
    keys = _placed(built, found, base)
    there = Counter(keys[one.address] for one in found.links)
    written = {word.key for piece in found.pieces if "://" in piece.text for word in words(piece.text, base)}
    gone, new = wanted - there, there - wanted
    gone = Counter({key: count for key, count in gone.items() if key not in written})
    lost, more = _first(built.links, gone, base), _first(found.links, new, base, keys)
    for link in lost:
        key = _said(link)
        other = next((one for one in more if _said(one) == key), None)
        if other is None:
            if not copied:
                claim = Claim(f"the link {quoted(link.words)}", "", _beside(found, link))
                yield Disagreement(LINK, claim, quoted(link.address))
            continue
        more.remove(other)
        is_time = bool(_SECOND.search(link.address) and _SECOND.search(other.address))
        claim = Claim(f"the link {quoted(link.words)}", other.address, other.place)
        yield Disagreement(TIME if is_time else LINK, claim, quoted(link.address))
    texts = {piece.text for piece in built.pieces}
    for link in more:
        if copied and keys[link.address].removeprefix("#") in built.ids:
            continue  # a table of contents
        piece = found.pieces[link.piece] if link.piece < len(found.pieces) else None
        if piece and not piece.around and (piece.text in texts or not copied):
            yield Disagreement(TALK, Claim("a link that was not built", link.address, link.place), "none")


def _placed(built: Document, found: Document, base: str) -> dict[str, str]:
    """Return how the addresses of a page compare: inside it and to files beside it, a website may have made them whole.

    It does so with all of them, on its own host, and all that lead into the page begin alike.
    """
    keys = {one.address: address(one.address, base) for one in found.links}
    near = {address(one.address, base) for one in built.links if "://" not in one.address}
    inside, host = {key for key in near if key[:1] == "#"}, base.partition("/")[0]
    whole = {key for key in keys.values() if host and key.startswith(f"{host}/")}
    pages = {page for key in whole for page, sign, place in [key.partition("#")] if sign + place in inside}
    moved = len(pages) == 1 and inside.isdisjoint(keys.values())
    for given, key in keys.items():
        page, sign, place = key.partition("#")
        ends = sign + place if sign else page.rpartition("/")[2]
        if key in whole and ends in near and (moved if sign else True):
            keys[given] = ends
    return keys


def _first(links: Sequence[Link], wanted: Counter[str], base: str, keys: Mapping[str, str] | None = None) -> list[Link]:
    """Return the links that a count of addresses is of."""
    left = wanted.copy()
    found = []
    for link in links:
        key = keys[link.address] if keys else address(link.address, base)
        if left[key] > 0:
            left[key] -= 1
            found.append(link)
    return found


def _said(link: Link) -> tuple[str, ...]:
    return tuple(word.key for word in words(link.words))


def _beside(found: Document, link: Link) -> Place:
    """Return where the words of a lost link stand, else the beginning."""
    return next((piece.place for piece in found.pieces if link.words and link.words in piece.text), Place(found.name))


def _meta(built: Document, found: Document, base: str, *, copied: bool) -> Iterator[Disagreement]:
    there: dict[str, list[Datum]] = {}
    for datum in found.data:
        there.setdefault(datum.name, []).append(datum)
    sought: dict[str, list[Datum]] = {}
    for datum in built.data:
        if _META.fullmatch(datum.name):
            sought.setdefault(datum.name, []).append(datum)
    for name, data in sought.items():
        own = there.get(name, [])
        gone = [one for one in data if not any(_same(one.value, other.value, base) for other in own)]
        new = [one for one in own if not any(_same(one.value, other.value, base) for other in data)]
        for at, one in enumerate(gone):
            other = new[at] if at < len(new) else None
            if other is None and copied:
                continue
            if other is not None and copied and name == "title" and one.value.partition(" · ")[0] in other.value:
                continue
            claim = Claim(f"the tag {name} for machines", other.value if other else "", (other or one).place)
            if other is None:
                claim = Claim(claim.subject, "", Place(found.name))
            yield Disagreement(_check(name, one.value) if other else MISSING, claim, quoted(one.value))


def _same(one: str, other: str, base: str) -> bool:
    if one == other:
        return True
    if "://" in one:
        return address(one, base) == address(other, base)
    return [word.key for word in words(one)] == [word.key for word in words(other)]


def _check(name: str, value: str) -> str:
    """Return the check that tells a changed value."""
    if "://" in value or name.endswith(("url", "image", "canonical")):
        return TIME if _SECOND.search(value) else LINK
    if name.startswith("data-") or re.search(r"time|duration|[oO]ffset|[dD]ate", name):
        return TIME
    if name.endswith(("description", "alt")):
        return TALK
    return FIGURE if any(word.kind is Kind.NUMBER for word in words(value)) else NAME


# ---- structured data


def _structured(built: Document, found: Document, base: str, *, copied: bool) -> Iterator[Disagreement]:
    """Yield the values of the structured data that are not those that were built, one finding for each check."""
    ours = [_leaves(datum.value) for datum in built.data if datum.name == _JSON_LD]
    for wanted in filter(None, ours):
        theirs = [(datum, _leaves(datum.value)) for datum in found.data if datum.name == _JSON_LD]
        if not any(leaves for _, leaves in theirs):
            if theirs or not copied:
                place = theirs[0][0].place if theirs else Place(found.name)
                yield Disagreement(UNREADABLE, Claim("the JSON-LD", "", place), "that of the build")
            continue
        datum, leaves = max(theirs, key=lambda one: len(set(wanted.items()) & set((one[1] or {}).items())))
        leaves = leaves or {}
        if copied and leaves.get(("headline",)) != wanted.get(("headline",)):
            continue  # a website's own
        told: dict[str, list[tuple[str, str, str]]] = {}
        for path in [*wanted, *(path for path in leaves if path not in wanted)]:
            value, other = wanted.get(path, ""), leaves.get(path, "")
            if not _same(value, other, base):
                called = wanted.get((*path[:-1], "name"), "")
                name = f"{path[-1]} of {called}" if called and path[-1] != "name" else "/".join(path)
                told.setdefault(_check(path[-1], value or other), []).append((name, value, other))
        for check, values in told.items():
            name, value, other = values[0]
            more = f" (and {len(values) - 1} more values)" if values[1:] else ""
            yield Disagreement(check, Claim(f"{name} in the JSON-LD{more}", other, datum.place), quoted(value))


def _leaves(text: str) -> dict[tuple[str, ...], str] | None:
    """Return the values of a JSON text by their paths; None where it is none."""
    try:
        data = json.loads(text, parse_int=str, parse_float=str)
    except (ValueError, RecursionError):
        return None
    found: dict[tuple[str, ...], str] = {}
    _gather(data, (), found)
    return found


def _gather(data: Any, path: tuple[str, ...], found: dict[tuple[str, ...], str]) -> None:
    if len(path) > _DEEPEST:
        return
    if isinstance(data, dict):
        for key, value in data.items():
            _gather(value, (*path, str(key)), found)
    elif isinstance(data, list):
        for at, value in enumerate(data):
            _gather(value, (*path, str(at)), found)
    else:
        found[path] = html.unescape(str(data))  # as some websites write what stands in a script
