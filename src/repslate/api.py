"""The recipe: read, check, publish, read back. The only module that sees all stages.

Each step takes an episode as the path of its folder or of its workout.md, or as the text of a workout.md itself, which
then lies in no folder and so has no series, no pictures, no chapters and no cut. Each gives a Result. Nothing that a
trainer writes raises; what is wrong with it is a finding.
"""

from __future__ import annotations

import os
from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Generic, TypeVar

from repslate import checks
from repslate.checks.quiet import Quieted
from repslate.cut.folder import FILMS, Cut, read_cut, read_spoken
from repslate.cut.formats import SUBTITLES
from repslate.cut.formats.transcript_txt import is_transcript
from repslate.facts import Facts
from repslate.model.build import build as build_episode
from repslate.model.episode import Episode
from repslate.model.library import Library
from repslate.model.library import load as load_library
from repslate.model.own_exercises import read_library
from repslate.model.prescription import Prescription, parse
from repslate.model.series import Series, read_series
from repslate.model.stills import FOLDER, Trouble, adopt, examine, shown
from repslate.source import bounds
from repslate.source.finding import Finding, Severity, has_error
from repslate.source.outline import read_outline
from repslate.source.places import beneath, inside, is_file, is_folder, is_there, real
from repslate.source.span import Span
from repslate.source.text import checked_text, file_empty, name_as_text, read_data, read_text
from repslate.training.volume import Week
from repslate.training.volume import week as add_up

if TYPE_CHECKING:
    from repslate.cut.cue import Cue
    from repslate.cut.retime.chapters import Retimed
    from repslate.model.notes.gathered import TypedDay
    from repslate.proof.published import Copy
    from repslate.proof.verdict import Verdict
    from repslate.speech.draft import Draft
    from repslate.speech.heard import Heard

WORKOUT = "workout.md"
_TIMED = (".srt", ".vtt")  # of subtitles; a .txt may be a transcript or notes
T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Result(Generic[T]):
    """What a step gives, None where it could not, and every finding.

    Findings of `check` and `build` stand in the order of their places. `quieted` are those that the trainer silenced,
    each with the reason given.
    """

    value: T | None
    findings: tuple[Finding, ...] = ()
    quieted: tuple[Quieted, ...] = ()

    @property
    def failed(self) -> bool:
        """Whether any finding is an error."""
        return has_error(self.findings)


@dataclass(frozen=True, slots=True)
class Build:
    """A build in `folder`: the names of the files written, and of those that this machine cannot make."""

    folder: Path
    written: tuple[str, ...]
    skipped: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Audit:
    """What was read back: `files` in `folder` by name, and of them those whose bytes `changed` since the build.

    The findings' places are in `folder`. `stale` are the sources that changed since the build.
    """

    folder: Path
    files: tuple[str, ...]
    changed: tuple[str, ...] = ()
    stale: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Drafted:
    """What was drafted, and the files to be written for it, by name: from talk a `draft`, from notes their `days`.

    Of notes with several days each has a folder of its own.
    """

    files: Mapping[str, bytes]
    draft: Draft | None = None
    days: tuple[TypedDay, ...] = ()


@dataclass(frozen=True, slots=True)
class Moved:
    """Chapters moved to a new cut; `kept_as` is the name of the old file of markers, None if nothing was written."""

    chapters: tuple[Retimed, ...]
    written: bool = False
    kept_as: str | None = None


@dataclass(frozen=True, slots=True)
class _Workout:
    """What workout.md, series.yaml and exercises.yaml say; `settings` are the files of the latter two."""

    episode: Episode
    library: Library
    settings: tuple[str, ...]
    findings: tuple[Finding, ...]


def _name(folder: Path) -> str:
    return name_as_text(real(folder).name)


def read(episode: str | Path) -> Result[Facts]:
    """Read an episode and everything beside it. No value where workout.md cannot be read.

    Times are exact fractions of seconds, loads exact decimals of kilograms or pounds.
    """
    folder = _folder_of(episode)
    workout = _read_text(str(episode)) if folder is None else _read_workout(folder)
    if not isinstance(workout, _Workout):
        return Result(None, workout)
    if folder is None:
        none = dict.fromkeys((picture.path for picture in shown(workout.episode)), Trouble.MISSING)
        facts = Facts(workout.episode, inputs=(WORKOUT,), spoilt=none, library=workout.library)
        return Result(facts, workout.findings)
    files = frozenset(_files(folder))
    adopted = adopt(workout.episode, files)
    cut, in_cut = read_cut(folder, adopted)
    many = _too_many_pictures(adopted)
    inputs = {WORKOUT, *cut.inputs, *workout.settings, *(picture.path for picture in shown(adopted))}
    facts = Facts(
        adopted,
        cut.chapters,
        has_markers=cut.has_markers,
        files=files,
        inputs=tuple(sorted(inputs)),
        spoilt={} if many else examine(folder, adopted),
        cues=cut.cues,
        film=cut.film,
        edit=cut.edit,
        heard=_hear(workout.library, adopted, cut) if cut.cues else None,
        library=workout.library,
    )
    return Result(facts, (*workout.findings, *many, *in_cut))


def _too_many_pictures(episode: Episode) -> tuple[Finding, ...]:
    pictures = list(shown(episode))
    if len(pictures) <= bounds.PICTURES:
        return ()
    place = pictures[bounds.PICTURES].span
    return (bounds.too_much(place, "pictures", len(pictures), bounds.PICTURES, "take some out: none of them is read"),)


def _folder_of(episode: str | Path) -> Path | None:
    """Return the folder of an episode, None where it is given as text: a text of more than one line is no path."""
    if _is_text(episode):
        return None
    path = Path(episode)
    return path.parent if path.name == WORKOUT and not is_folder(path) else path


def _is_text(given: str | Path) -> bool:
    return isinstance(given, str) and "\n" in given


def _read_workout(folder: Path) -> _Workout | tuple[Finding, ...]:
    """Read an episode without its pictures, its chapters and its cut; only findings if workout.md cannot be read."""
    text, unread = read_text(folder / WORKOUT, WORKOUT, most=bounds.WORKOUT)
    if text is None:
        return unread
    series, in_series = read_series(folder)
    library, own, in_library = read_library(folder, load_library())
    settings = tuple(span.file for span in (series.span, own) if span)
    workout = _workout(text, series, library, _name(folder))
    if not isinstance(workout, _Workout):
        return (*unread, *workout)
    in_settings = (*in_series, *in_library)
    return replace(workout, settings=settings, findings=(*unread, *in_settings, *workout.findings))


def _read_text(text: str) -> _Workout | tuple[Finding, ...]:
    """Read the text of a workout.md that lies in no folder."""
    text, unread = checked_text(text, WORKOUT)
    workout = _workout(text, Series(), load_library(), "workout")
    if not isinstance(workout, _Workout):
        return (*unread, *workout)
    return replace(workout, findings=(*unread, *workout.findings))


def _workout(text: str, series: Series, library: Library, folder_name: str) -> _Workout | tuple[Finding, ...]:
    if not text.strip():
        return (file_empty(WORKOUT),)
    if long := tuple(bounds.too_long(text, WORKOUT)):
        return long
    outline, in_outline = read_outline(text, WORKOUT)
    episode, in_episode = build_episode(outline, series, library, folder_name=folder_name, file=WORKOUT)
    return _Workout(episode, library, (), (*in_outline, *in_episode))


def _hear(library: Library, episode: Episode, cut: Cut) -> Heard:
    """Return what the subtitles say; what hears it loads only where there are any."""
    from repslate.speech.heard import listen

    return listen(cut.cues, library, episode, cut.chapters, coarse=cut.coarse)


def hear(spoken: str | Path) -> Result[Heard]:
    """Hear an episode, by its plan where it has a workout.md, or subtitles by themselves: a file or its text.

    No value where nothing is said. Times are seconds, confidence goes from 0 to 1. The findings are those of the
    subtitles; what else is wrong with the episode is for `check` to tell.
    """
    from repslate.cut.subtitles import is_coarse, read_subtitles
    from repslate.speech.heard import listen

    if _is_text(spoken):
        name = _name_for(str(spoken))
        cues, findings = read_subtitles(*_plain(str(spoken), name))
        return Result(listen(cues, load_library(), coarse=is_coarse(name)) if cues else None, findings)
    path = Path(spoken)
    folder = path if is_folder(path) else path.parent
    workout = _read_workout(path) if is_folder(path) and is_there(path / WORKOUT) else None
    if isinstance(workout, _Workout):
        cut, in_cut = read_cut(path, workout.episode, with_film=False)
        told = tuple(finding for finding in in_cut if finding.span.file in SUBTITLES)
        return Result(_hear(workout.library, workout.episode, cut) if cut.cues else None, told)
    cues, name, findings = read_spoken(path) if is_folder(path) else _subtitles(path)
    library, _, in_library = read_library(folder, load_library())
    heard = listen(cues, library, coarse=is_coarse(name)) if cues else None
    return Result(heard, (*(workout or ()), *findings, *in_library))


def draft(source: str | Path, title: str = "Workout") -> Result[Drafted]:
    """Draft a workout.md from notes, or with a chapters.txt from what is said: a file, or its text.

    Subtitles and transcripts with times are talk, any other text is notes. Nothing is written: the value holds the
    files. No value where nothing is said.
    """
    if _is_text(source):
        text, name = str(source), _name_for(str(source))
        if name == "transcript.txt" and not is_transcript(text):
            return _draft_notes(*checked_text(text, "notes.txt"), title)
        return _draft_talk(source, title, name, text.encode(), name)
    path = Path(source)
    if path.suffix.lower() not in _TIMED:
        shown = name_as_text(path.name)
        read_, findings = read_text(path, shown)
        if read_ is None or not (path.suffix.lower() == ".txt" and is_transcript(read_)):
            return _draft_notes(read_, findings, title)
    beside = next(name for name in SUBTITLES if name.endswith(path.suffix.lower()))
    return _draft_talk(path, title, beside, None, name_as_text(path.name))


def _draft_talk(source: str | Path, title: str, beside: str, data: bytes | None, name: str) -> Result[Drafted]:
    """Draft from talk; `beside` is the name under which it lies in the episode."""
    from repslate.speech.draft import draft as write_down

    listened = hear(source)
    if listened.value is None:
        return Result(None, listened.findings)
    drafted = write_down(listened.value, title=title, source=name)
    told = Path(source).read_bytes() if data is None else data
    files = {WORKOUT: drafted.workout.encode(), "chapters.txt": drafted.chapters.encode(), beside: told}
    return Result(Drafted(files, draft=drafted), listened.findings)


def _draft_notes(text: str | None, findings: tuple[Finding, ...], title: str) -> Result[Drafted]:
    from repslate.model.notes.plan import read_notes
    from repslate.model.notes.workout_md import workout_md

    if text is None:
        return Result(None, findings)
    days = tuple(read_notes(text))
    several = len(days) > 1
    files = {
        f"day-{number}/{WORKOUT}" if several else WORKOUT: workout_md(day, title).encode()
        for number, day in enumerate(days, 1)
    }
    return Result(Drafted(files, days=days), findings)


def _name_for(spoken: str) -> str:
    """Return the name under which a text of what is said would lie beside an episode: it tells how to read it."""
    if spoken.lstrip("\ufeff").startswith("WEBVTT"):
        return "subtitles.vtt"
    return "subtitles.srt" if "-->" in spoken else "transcript.txt"


def _plain(text: str, name: str) -> tuple[str, str]:
    return checked_text(text, name)[0], name


def _subtitles(path: Path) -> tuple[tuple[Cue, ...], str, tuple[Finding, ...]]:
    """Read one file of subtitles; its own name stands in the findings."""
    from repslate.cut.subtitles import read_subtitles

    text, unread = read_text(path, path.name)
    cues, findings = read_subtitles(text, path.name) if text is not None else ((), ())
    return cues, path.name, (*unread, *findings)


def check(episode: str | Path) -> Result[Facts]:
    """Read an episode and check it like an experienced colleague. No value where workout.md cannot be read."""
    reading = read(episode)
    if reading.value is None:
        return reading
    findings, quieted = checks.run(reading.value, read=reading.findings)
    return Result(reading.value, findings, quieted)


def parse_prescription(text: str) -> Result[Prescription]:
    """Read one line in the notation of prescriptions, "3 × 8–10 per side @ 16 kg, rest 90 s"; no value on an error.

    Repetitions and sets are whole, times exact seconds, distances metres, loads exact decimals with their unit.
    """
    prescription, findings = parse(text, Span("prescription"))
    return Result(prescription, findings)


def week(folder: Path, facts: Facts) -> Week | None:
    """Return what the episodes beside this one add up to in its week; None where it has no date.

    The others are the folders of the same parent; one that cannot be read is left out, as its own check says why.
    """
    episodes = [facts.episode]
    for path in beneath(real(folder).parent, WORKOUT):
        if path.parent != real(folder) and isinstance(other := _read_workout(path.parent), _Workout):
            episodes.append(other.episode)
    weeks, _ = add_up(episodes, facts.library)
    return next((one for one in weeks if facts.episode.slug in one.episodes), None)


def build(
    episode: str | Path, out: str | Path, *, templates: Path | None = None, taken: Collection[str] = ()
) -> Result[Build]:
    """Check an episode and publish it to `out`/<slug>/. With an error nothing is written and the earlier build stays.

    `templates` holds files that stand in for shipped ones of the same name. `taken` are slugs this run has written.
    No value where nothing was written.
    """
    folder, out = _folder_of(episode), Path(out)
    checked = check(episode)
    if checked.value is None or checked.failed:
        return Result(None, checked.findings, checked.quieted)
    if folder is None:
        from tempfile import TemporaryDirectory

        with TemporaryDirectory(prefix="repslate-") as around:
            alone = Path(around) / checked.value.episode.slug
            alone.mkdir()
            (alone / WORKOUT).write_text(str(episode), "utf-8", newline="")
            return _publish(checked, checked.value, alone, out, templates)
    from repslate.publish.record import built_from

    slug, name = checked.value.episode.slug, _name(folder)
    earlier = built_from(out / slug)
    if slug in taken or (earlier is not None and earlier != name):
        finding = _taken(checked.value.episode, out / slug, earlier)
        return Result(None, (*checked.findings, finding), checked.quieted)
    return _publish(checked, checked.value, folder, out, templates)


def audit(episode: str | Path, out: str | Path) -> Result[Audit]:
    """Read back what was built of an episode to `out`/<slug>/, and hold it against the episode as it is now.

    A text that was changed since, or built from other sources, is compared word by word with what would be built now,
    a card or picture as it is drawn; one made by templates of the user's is read as at its build. No value where
    there is no build, or no episode that can be read.
    """
    from hashlib import sha256

    from repslate.proof import READERS
    from repslate.proof import audit as hold_against
    from repslate.proof.published import TEXTS
    from repslate.proof.record import RECORD, changed, file_findings, read_record, stale_finding
    from repslate.publish.record import digests

    folder, out = _folder_of(episode), Path(out)
    reading = read(episode)
    if reading.value is None:
        return Result(None, reading.findings)
    slug = reading.value.episode.slug
    target = out / slug
    if not is_folder(target):
        return Result(None)
    names = [name.format(slug=slug) for name in READERS]
    files: dict[str, bytes] = {}
    unread: list[Finding] = []
    for name in [*names, RECORD]:
        if os.path.lexists(target / name):
            data, findings = read_data(target / name, name, most=bounds.published(name))
            files |= {name: data} if data is not None else {}
            unread += findings
    record = read_record(files.pop(RECORD, None))
    outputs = {name: sha256(data).hexdigest() for name, data in files.items()}
    if folder is None:
        sources = {WORKOUT: sha256(str(episode).encode("utf-8", "surrogatepass")).hexdigest()}
    else:
        sources = digests(folder, reading.value.inputs) if record else {}
    altered = changed(record.outputs, outputs) if record else ()
    stale = changed(record.inputs, sources) if record else ()
    made = record.made(outputs, sources) if record else {}
    edited = {name for name in files if not (name in made and (made[name].fresh or made[name].own))}
    built = _built(reading, folder, target, edited, beside=record.outputs if record else files) if edited else {}
    edited &= built.keys()
    if record and not stale:  # other fonts draw another card, other versions word a text otherwise: no measure of these
        digest = {name: sha256(built[name]).hexdigest() for name in edited}
        edited -= set(changed(record.outputs, digest))
    older = edited - set(altered) - set(TEXTS) if stale else set()  # their words tell more than where they are drawn
    again = {name: data for name, data in files.items() if name not in edited or name in older}
    found = [verdict.finding for verdict in hold_against(reading.value, again, made).all]
    pending = edited - {one.span.file for one in found}
    found += _compared(reading.value, {name: data for name, data in files.items() if name in pending}, built)
    there = {*files, *(finding.span.file for finding in unread)}
    reason = [stale_finding(stale)] if stale and found else []
    told = file_findings(record, there, altered, found)
    return Result(Audit(target, tuple(files), altered, tuple(sorted(stale))), (*unread, *reason, *found, *told))


def _compared(facts: Facts, files: Mapping[str, bytes], built: Mapping[str, bytes]) -> Iterator[Finding]:
    """Yield what files say, or show, other than those of their names that were built."""
    if not files:
        return
    from repslate.proof.expected import expect
    from repslate.proof.published import TEXTS, BuiltTexts
    from repslate.proof.rendered import compare_rendered

    expected = expect(facts)
    texts = BuiltTexts(expected, built)
    for name, data in files.items():
        if name in TEXTS:
            yield from texts.compare(name, data)
        else:
            yield from compare_rendered(name, data, built[name], expected)


def audit_copy(episode: str | Path, text: Path, kind: Copy) -> Result[Audit]:
    """Compare a text that was copied back from a website or a host, word by word, with what is built of the episode."""
    from repslate.proof.expected import expect
    from repslate.proof.published import TEXTS, BuiltTexts, is_page

    reading = read(episode)
    if reading.value is None:
        return Result(None, reading.findings)
    data, findings = read_data(text, text.name, most=bounds.PUBLISHED)
    if data is not None and not is_page(data):
        data, findings = read_data(text, text.name, most=bounds.PUBLISHED_TEXT)
    if data is not None:
        built = BuiltTexts(expect(reading.value), _built(reading, _folder_of(episode), text.parent, TEXTS))
        findings = tuple(built.compare_copy(text.name, data, kind))
    return Result(Audit(text.parent, (text.name,)), findings)


def _built(
    reading: Result[Facts],
    folder: Path | None,
    target: Path,
    names: Collection[str],
    beside: Collection[str] | None = None,
) -> Mapping[str, bytes]:
    """Return what would be built of an episode now to the folder `target`: the files of these names.

    Texts link the cards. Where one is not `beside` them, it is drawn to see whether it can be.
    """
    from tempfile import TemporaryDirectory

    from repslate.proof.published import TEXTS
    from repslate.publish import OUTPUTS
    from repslate.publish.render import Desk, render
    from repslate.publish.templates import find

    if folder is None:
        with TemporaryDirectory(prefix="repslate-") as around:
            return _built(reading, Path(around), target, names, beside)
    facts = reading.value
    if facts is None:
        return {}
    is_text = any(name in TEXTS for name in names)
    drawn = beside is None or all(output.name in beside for output in OUTPUTS if output.needs_pango)
    outputs = [
        output
        for output in OUTPUTS
        if output.name.format(slug=facts.episode.slug) in names or (is_text and (output.name in TEXTS or not drawn))
    ]
    findings = checks.run(facts, read=reading.findings)[0] if facts.cues or facts.film or facts.edit else ()
    return render(facts, folder, find(), desk=Desk(findings, real(target)), outputs=outputs).files


def retime(episode: str | Path, old: str | Path, new: str | Path, *, write: bool = False) -> Result[Moved]:
    """Move an episode's chapters from an old cut to a new one: `old` and `new` are both subtitles or both films.

    The chapters are those of chapters.txt or chapters.vtt, else those that the edit and its markers give. With `write`
    chapters.txt is written anew, unless there is an error or no chapter's start is in the new cut.
    """
    from repslate.cut.markers import Marker
    from repslate.cut.retime import files as cuts
    from repslate.cut.retime.chapters import place

    folder = _folder_of(episode) or Path()
    source, findings = cuts.read_source(folder)
    markers = source.markers if source else ()
    if source is None and not findings and (facts := read(folder).value) is not None:
        markers = tuple(Marker(one.start, one.title, one.exercise, one.span) for one in facts.chapters)
    if not markers and not findings:
        findings = (cuts.no_chapters(),)
    if has_error(findings):
        return Result(Moved(()), findings)
    kept, in_cuts = cuts.compare(folder, Path(old), Path(new))
    chapters = place(kept, markers) if kept is not None else ()
    findings = (*findings, *in_cuts, *([] if kept is None or kept else [cuts.nothing_kept()]))
    if not write or has_error(findings) or all(one.to is None for one in chapters):
        return Result(Moved(chapters), findings)
    kept_as, unwritten = cuts.save(folder, cuts.rewrite(source, chapters), instead_of=source.name if source else None)
    return Result(Moved(chapters, written=not unwritten, kept_as=kept_as), (*findings, *unwritten))


def write_cut_page(checked: Result[Facts], folder: Path, page: Path) -> tuple[Finding, ...]:
    """Write the editor's page of a checked episode to `page`, whatever errors it has; return what stood in the way.

    Nothing is written over but an earlier page of ours.
    """
    from repslate.publish import CUT_PAGE
    from repslate.publish.cut_page import save
    from repslate.publish.render import Desk, render
    from repslate.publish.templates import find

    if checked.value is None:
        return ()
    rendered = render(checked.value, folder, find(), desk=Desk(checked.findings, page.parent), outputs=(CUT_PAGE,))
    data = rendered.files.get(CUT_PAGE.name)
    if data is None:
        return rendered.findings or (_no_cut(),)
    refused = save(page, data)
    if refused is not None:
        help_ = "choose another place for the page, a name that ends in .html"
        return (Finding("page-not-written", Severity.ERROR, Span(WORKOUT), refused, help_),)
    return rendered.findings


def write_chapters(folder: Path, film: Path | None, out: Path) -> tuple[Finding, ...]:
    """Write a copy of `film`, else of the cut in the episode's folder, that carries the episode's chapters."""
    from repslate.cut.media_chapters import write_into

    checked = check(folder)
    if checked.value is None or checked.failed:
        return tuple(finding for finding in checked.findings if finding.severity is Severity.ERROR)
    source = film or next((folder / name for name in FILMS if is_file(folder / name)), None)
    if source is None:
        text = f"the folder has no film, expected one of {', '.join(FILMS)}"
        return (Finding("film-not-written", Severity.ERROR, Span(WORKOUT), text, "put it there, or name it: --film"),)
    return write_into(source, checked.value.chapters, out)


def _publish(checked: Result[Facts], facts: Facts, folder: Path, out: Path, own: Path | None) -> Result[Build]:
    """Render, read back, record, write."""
    from repslate.proof import audit as hold_against
    from repslate.proof.verdict import Made, is_own
    from repslate.publish.folder import write
    from repslate.publish.record import Said, digests, with_record
    from repslate.publish.render import Desk, render
    from repslate.publish.templates import find

    target = real(out / facts.episode.slug)
    if real(folder).is_relative_to(target):
        return Result(None, (*checked.findings, _into_itself(facts.episode)), checked.quieted)
    templates = find(own)
    rendered = render(facts, folder, templates, desk=Desk(checked.findings, target))
    inputs = digests(folder, facts.inputs)
    if own is not None:
        inputs |= {f"templates/{name}": digest for name, digest in digests(own, templates.names()).items()}
    made = {name: Made(is_own(name, inputs), fresh=True, here=own is None) for name in rendered.files}
    verdicts = hold_against(facts, rendered.files, made)
    findings = (*checked.findings, *rendered.findings, *map(_unwritten, verdicts.all))
    if has_error(findings):
        return Result(None, findings, checked.quieted)
    said = Said(findings, checked.quieted, verdicts.omitted)
    files = with_record(_name(folder), rendered.files, inputs, said)
    written = write(out, facts.episode.slug, files)
    if has_error(written):
        return Result(None, (*findings, *written), checked.quieted)
    done = Build(out / facts.episode.slug, tuple(files), rendered.skipped)
    return Result(done, (*findings, *written), checked.quieted)


def _unwritten(verdict: Verdict) -> Finding:
    """Return a finding in an output that is not written yet: its place is where the episode says what was expected."""
    found = verdict.finding
    line = f", line {found.span.line}" if found.span.line > 1 else ""
    where = "" if found.message.startswith(found.span.file) else f"{found.span.file}{line}: "
    return replace(found, span=verdict.source or Span(WORKOUT), message=where + found.message)


def _files(folder: Path) -> Iterator[str]:
    """Yield the files of the folder and of pictures/ that really lie in it, relative, with forward slashes."""
    root = real(folder)
    for place, prefix in ((root, ""), (root / FOLDER, f"{FOLDER}/")):
        for path in inside(place):
            if is_file(path) and real(path).is_relative_to(root):
                yield prefix + path.name


def _taken(episode: Episode, output: Path, earlier: str | None) -> Finding:
    owner = f"the episode in the folder “{earlier}”" if earlier else "another episode of this run"
    return Finding(
        "slug-taken",
        Severity.ERROR,
        episode.places.get("slug", episode.span),
        f"{owner} is published as {episode.slug} too, expected a name of its own",
        f"write slug: {episode.slug}-2 in the front matter; if you have only renamed the folder, remove {output} first",
    )


def _no_cut() -> Finding:
    text = "there is nothing to compare the chapters with, expected a film, subtitles or an edit beside workout.md"
    help_ = "put cut.mp4, subtitles.srt or cut.edl into the episode's folder"
    return Finding("file-missing", Severity.ERROR, Span(WORKOUT), text, help_)


def _into_itself(episode: Episode) -> Finding:
    text = f"the output folder {episode.slug} is the one that holds the episode itself, expected a folder apart from it"
    return Finding("output-folder", Severity.ERROR, Span(WORKOUT), text, "choose another place with --out")
