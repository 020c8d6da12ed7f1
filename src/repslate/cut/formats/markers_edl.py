"""markers.edl: markers laid while filming, as a CMX 3600 list of the footage."""

from __future__ import annotations

from collections.abc import Sequence

from repslate.cut.edit import EditMarker
from repslate.cut.edit_list import Timed, record, settle, time_events
from repslate.cut.edit_list_lines import Location, scan
from repslate.cut.edit_trouble import Trouble
from repslate.cut.timecode import Rate, to_seconds
from repslate.source.finding import Finding


def read(text: str, file: str, rate: Rate | None = None) -> tuple[tuple[EditMarker, ...], tuple[Finding, ...]]:
    """Return the markers of a markers.edl in the timecode of their footage, and what could not be read.

    Each `* LOC:` names the moment of its event's footage that the event shows then. An event without one is itself a
    marker at its source in, named by its `* COMMENT:`.
    """
    trouble = Trouble(file)
    scanned = scan(text, trouble)
    rate = settle(rate, scanned, trouble)
    if rate is None:
        return (), trouble.findings()
    events = time_events(scanned, rate, trouble)
    markers = [_at_location(location, events, rate, trouble) for location in scanned.locations]
    marked = {id(location.event) for location in scanned.locations}
    for timed in events:
        event = timed.event
        name = next((comment for comment in event.comments if not comment.startswith("*")), "")
        if id(event) in marked or not event.has_picture:
            continue
        if name:
            markers.append(EditMarker(name, to_seconds(timed.si, rate), False, timed.source, event.span))
        else:
            message = "found events with neither LOC nor COMMENT, expected a name for each marker"
            trouble.habit(event.line, message, "write “* COMMENT: Goblet squat” under the event")
    found = [marker for marker in markers if marker is not None]
    return tuple(sorted(found, key=lambda marker: marker.span)), trouble.findings()


def _at_location(location: Location, events: Sequence[Timed], rate: Rate, trouble: Trouble) -> EditMarker | None:
    """Return a LOC of a markers.edl in source time: through its own event if that holds it, else through any."""
    at = record(location.label, location.span.line, events, rate, trouble)
    if at is None:
        return None
    own = sorted(events, key=lambda timed: timed.event is not location.event)
    for timed in own:
        if timed.event.has_picture and (timed.ri <= at < timed.ro or timed.ri == at):
            frames = timed.si + (at - timed.ri) * timed.speed
            return EditMarker(location.text, frames / rate.exact, False, timed.source, location.span)
    message = f"found “{location.label}” for “{location.text}” in no event, expected the time of a LOC inside one"
    trouble.error(location.span.line, message, "put the marker under an event whose record times hold it")
    return None
