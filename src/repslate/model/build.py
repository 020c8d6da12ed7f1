"""The outline and the library to an Episode: what each heading, label and line of workout.md means.

Reads on after every trouble, so that one run shows all of it.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from repslate.model.episode import Episode, FrontMatter
from repslate.model.front_matter import FORMATS, READS
from repslate.model.library import Library
from repslate.model.notation_share import SHARE_ASSUMED
from repslate.model.passages import sort_content
from repslate.model.sections import read_sections
from repslate.model.series import Series
from repslate.model.slug import slug
from repslate.model.training_max import ask_which, with_training_max
from repslate.source.finding import Finding, Severity
from repslate.source.mapping import Mapping, read_mapping
from repslate.source.models import is_empty, places, read_model, values
from repslate.source.outline import Outline
from repslate.source.span import Span


def build(
    outline: Outline, series: Series, library: Library, *, folder_name: str, file: str
) -> tuple[Episode, tuple[Finding, ...]]:
    """Build the episode from the outline of the file `file` in a folder called `folder_name`.

    What cannot be read is a finding and stays as prose; the findings of the outline itself are not repeated.
    """
    mapping, yaml_findings = read_mapping(outline.front or "", file, outline.front_line)
    front, front_findings = read_front_matter(mapping)
    if outline.front is None:
        front_findings = ()  # that all of it is missing has been told
    written = places(mapping)
    lead = sort_content(outline.lead, 1, outline.lead_last, where="before the first block")
    read = read_sections(outline, library)
    findings = [*yaml_findings, *front_findings, *lead.findings, *read.findings]
    if not any(block.exercises for block in read.blocks):
        findings.append(_no_exercises(file))
    episode = Episode(
        **values(front)
        | {
            "slug": _episode_slug(front, folder_name),
            "span": written.get("title", Span(file)),
            "series": series,
            "lead": lead.prose,
            "blocks": read.blocks,
            "safety": read.safety,
            "has_safety": read.has_safety,
            "notes": read.notes,
            "quiets": lead.quiets + read.quiets,
            "places": written,
        }
    )
    episode, unclear = ask_which(with_training_max(episode))
    asked = {finding.span.line for finding in unclear}
    findings = [one for one in findings if not (one.span.line in asked and one.message.endswith(SHARE_ASSUMED))]
    return episode, tuple(sorted((*findings, *unclear), key=lambda finding: finding.span))


def read_front_matter(mapping: Mapping) -> tuple[FrontMatter, tuple[Finding, ...]]:
    """Read every key of the front matter; what is wrong or missing is told in the findings, in the order of lines."""
    front, findings = read_model(FrontMatter, mapping, "the front matter")
    picture = front.picture and replace(front.picture, description=front.picture_description)
    told = (*findings, *_missing(mapping))
    return replace(front, picture=picture), tuple(sorted(told, key=lambda finding: finding.span))


def _missing(mapping: Mapping) -> Iterator[Finding]:
    """Tell of keys that others, or the reader, cannot do without."""
    absent = {key for key in ("format", "title", "picture") if key not in mapping or is_empty(mapping[key])}
    absent -= mapping.broken
    if "format" in absent:
        message = f"the front matter does not say its format, taken for {FORMATS[-1]}"
        help_ = f"type “format: {FORMATS[-1]}” as its first line"
        yield Finding("format-missing", Severity.WARNING, mapping.span, message, help_, READS)
    if "title" in absent:
        span = mapping["title"].key_span if "title" in mapping else mapping.span
        help_ = "type “title: Hinge, squat, carry”, in your own words"
        yield Finding("title-missing", Severity.ERROR, span, "the episode has no title", help_)
    described = mapping.get("picture description")
    if "picture" in absent and described and not is_empty(described):
        message = "“picture description” describes a picture that is not named"
        help_ = "type “picture: pictures/title.jpg” above it, or delete the line"
        yield Finding("wrong-value", Severity.ERROR, described.key_span, message, help_)


def _episode_slug(front: FrontMatter, folder_name: str) -> str:
    """Return the name of the output folder; a title in letters that ASCII cannot hold leaves it to the folder."""
    title = slug(front.title)
    if title and front.number is not None:
        title = slug(f"{front.number}-{title}")
    return front.slug or title or slug(folder_name) or "episode"


def _no_exercises(file: str) -> Finding:
    message = "the workout holds no exercise; expected at least one “###” heading under a “##” heading"
    help_ = "type “## Straight sets”, under it “### Goblet squat”, and under that “3 × 10–12 @ 24 kg, rest 90 s”"
    return Finding("no-exercises", Severity.ERROR, Span(file), message, help_)
