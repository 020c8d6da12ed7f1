"""What a disagreement comes to: an error, a doubt about our own reading, or something that a template may leave out.

The one place that `build` and `audit` both ask, so that they say the same of the same bytes.

- **Templates of the user's own** may leave out what nobody trains wrongly or gets hurt without: MAY_OMIT. It is said
  once for a file. Cautions, the notice, the disclosure, an exercise, its sets, its work and its load, the rounds and
  the clock of a block may not be left out: who reads this page alone would train another workout, or not know what to
  look out for. What a style sheet hides, on any device or on paper, is left out. An article has each dose twice, in
  its list and in its parts; one of the two is enough. What is shown has to be right, whatever may be left out.
  Anything else is an error, at the build and ever after.
- **Our own templates** show everything. Where a file that nobody has touched still does not read like the episode, our
  reader is at fault more likely than the file, and no build is refused for that: a warning asks for a look.
- **A file changed by hand**, or older than its sources, has to say what the episode says: an error. What its template
  left out when it was built it may still do without.

"Nobody has touched" is what the record says of bytes and sources. Who forges the record with the file fools only
themselves: whoever can do that can as well publish a page that nobody audits.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from types import MappingProxyType

from repslate.proof.differences import LEFT_OUT, UNSEEN, Disagreement, Omission
from repslate.proof.listing import BLOCK, EXERCISE, LIST, PARTS
from repslate.source.finding import Finding, Severity
from repslate.source.span import Span

DOUBT = "audit-doubt"
#: What a template may leave out, and how it is called in a sentence.
MAY_OMIT: Mapping[str, str] = MappingProxyType(
    {
        "title": "the title",
        "number": "the number of the episode",
        "presenter": "the presenter",
        "facts": "the line of facts",
        "goal": "the goal",
        "level": "the level",
        "the duration": "the duration",
        "the number of exercises": "the number of exercises",
        "the length of the film": "the length of the film",
        "equipment": "the equipment",
        "muscles": "the muscles",
        "date of publication": "the date of publication",
        "date of recording": "the date of recording",
        BLOCK: "the names of blocks",
        "effort": "the effort",
        "tempo": "the tempo",
        "rest": "the rest",
        "link into the film": "the link into the film",
        "the code": "the QR code",
        "the address": "the address",
        "head": "meta tags",
        "JSON-LD": "the JSON-LD",
        "introduction": "the introduction",
        "instructions": "the instructions",
        "cues": "the cues",
        "easier": "the easier version",
        "harder": "the harder version",
        "pictures": "pictures",
        "loads": "the table of loads",
        "times": "the times of work and rest",
        "sets per muscle": "the sets per muscle",
        "notes": "the notes",
        "film": "the line on the film",
        "numbers": "the numbers of chapters",
        "start times": "the times of chapters",
    }
)
_NEEDED = {EXERCISE: "the exercises", "sets": "the sets", "work": "the work", "load": "the load", "clock": "the clock"}
_MADE_BY = {
    "article.html": ("article.html", "article.css"),
    "card-a4.pdf": ("card.html", "card.css"),
    "card-letter.pdf": ("card.html", "card.css"),
    "cut.html": ("cut.html", "cut.css"),
}
_TWICE = frozenset({"article.html"})  # has each exercise in its list and in its parts
_FONTS = "templates/fonts/"
_FIX = (
    "put it into your template as it was, or take the template away to have ours; what a style sheet hides or makes "
    "faint or tiny, be it in the dark or on paper alone, counts as left out"
)


@dataclass(frozen=True, slots=True)
class Made:
    """How a file came to be: `own` by templates of the user's; `fresh` while its bytes and its sources are the build's.

    One that was drawn `here`, in this process and by our own templates, is no stranger's and can be read in it too.
    `omitted` is what it left out when it was built, as `Verdicts.omitted` has it.
    """

    own: bool = False
    fresh: bool = False
    omitted: Sequence[str] = ()
    here: bool = False


@dataclass(frozen=True, slots=True)
class Verdict:
    """A finding, and where the episode says what was expected."""

    finding: Finding
    source: Span | None = None


@dataclass(slots=True)
class Verdicts:
    """Every verdict on the files of a build, in their order; `omitted` is what each file leaves out, for the record."""

    all: list[Verdict] = field(default_factory=list)
    omitted: dict[str, list[str]] = field(default_factory=dict)


def is_own(name: str, inputs: Collection[str]) -> bool:
    """Tell whether the file `name` is made by templates of the user's, from the `inputs` that a build records."""
    used = _MADE_BY.get(name, ())
    return any(f"templates/{one}" in inputs for one in used) or (
        bool(used) and any(one.startswith(_FONTS) and one.endswith(".woff2") for one in inputs)
    )


def judge(found: Iterable[tuple[str, Iterable[Disagreement]]], made: Mapping[str, Made]) -> Verdicts:
    """Return the verdicts on the disagreements of each file; one of which nothing is known has been changed."""
    verdicts = Verdicts()
    omissions: dict[str, list[Omission]] = {}
    for name, said in found:
        how = made.get(name, Made())
        told = list(dict.fromkeys(said))
        gone = _everywhere(name, told)
        recorded = None if how.fresh else Counter(how.omitted)
        for one in told:
            if how.own and one.lacks is not None and _may(one.lacks, gone, recorded):
                omissions.setdefault(name, []).append(one.lacks)
            elif one.check != LEFT_OUT:
                verdicts.all.append(Verdict(_finding(one, how), one.source))
    verdicts.omitted = {name: sorted(key for one in lacks for key in _keys(one)) for name, lacks in omissions.items()}
    verdicts.all += [Verdict(one) for one in _told_once(omissions)]
    return verdicts


def _finding(one: Disagreement, how: Made) -> Finding:
    finding = one.finding()
    if one.check == UNSEEN:
        return replace(finding, severity=Severity.WARNING)
    if how.own and how.fresh:
        return replace(finding, help=_FIX)
    if not how.fresh:
        return finding
    return Finding(
        DOUBT,
        Severity.WARNING,
        finding.span,
        f"this could not be read back as written: {finding.message}",
        "look at it before you publish, and report it: it should not happen",
    )


def _everywhere(name: str, told: Iterable[Disagreement]) -> set[tuple[str, str]]:
    """Return the part and the owner of everything that stands nowhere in a file."""
    among: dict[tuple[str, str], set[str]] = {}
    for one in told:
        if lacks := one.lacks:
            for part in lacks.parts:
                among.setdefault((part, lacks.of), set()).add(lacks.among)
    places = {LIST, PARTS} if name in _TWICE else {LIST}
    return {key for key, where in among.items() if where - {LIST, PARTS} or where >= places}


def _may(lacks: Omission, gone: Collection[tuple[str, str]], recorded: Counter[str] | None) -> bool:
    """Tell whether something may be left out; of a changed file only what is `recorded`, which is counted down."""
    if any(part not in MAY_OMIT and (part, lacks.of) in gone for part in lacks.parts):
        return False
    if recorded is None:
        return True
    keys = Counter(_keys(lacks))
    if keys - recorded:
        return False
    recorded -= keys
    return True


def _keys(lacks: Omission) -> Iterator[str]:
    for part in sorted(lacks.parts):
        yield ", ".join(filter(None, (part, lacks.of, lacks.among)))


def _told_once(omissions: Mapping[str, Sequence[Omission]]) -> Iterator[Finding]:
    """Yield one finding for all files that leave out the same."""
    files: dict[str, list[str]] = {}
    for name, lacks in omissions.items():
        files.setdefault(_sentence(name, lacks), []).append(name)
    for sentence, names in files.items():
        leave = "leaves" if len(names) == 1 else "leave"
        text = f"{' and '.join(names)} {leave} out {sentence}, as your templates do, and safety needs none of it"
        used = " and ".join(dict.fromkeys(template for name in names for template in _MADE_BY[name]))
        help_ = f"nothing, if that is meant; else put it back into {used}"
        yield Finding(LEFT_OUT, Severity.NOTE, Span(names[0]), text, help_)


def _sentence(name: str, lacks: Sequence[Omission]) -> str:
    """Return what is left out, in words, each kind once with how many exercises or blocks it is missing of."""
    among: dict[tuple[str, str], set[str]] = {}
    for one in lacks:
        whole = one.parts & {EXERCISE, BLOCK}
        for part in whole or one.parts:
            among.setdefault((part, one.of), set()).add(one.among)
    kinds: dict[tuple[str, str], int] = {}
    for (part, of), where in among.items():
        twice = name in _TWICE and where in ({LIST}, {PARTS})
        kind = (part, f" in {next(iter(where))}" if twice else "")
        kinds[kind] = kinds.get(kind, 0) + bool(of)
    called = {**_NEEDED, **MAY_OMIT}
    order = {part: at for at, part in enumerate(called)}
    said = []
    for (part, place), count in sorted(kinds.items(), key=lambda kind: (order.get(kind[0][0], len(order)), kind[0])):
        times = f" ({count} times)" if count > 1 else ""
        said.append(f"{called.get(part, f'the {part}')}{place}{times}")
    return " and ".join(filter(None, (", ".join(said[:-1]), said[-1])))
