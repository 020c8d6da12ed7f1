"""What stands under a heading, sorted: prose, labelled words, silenced checks. The same for every kind of section."""

from __future__ import annotations

from collections.abc import Collection
from dataclasses import dataclass

from repslate.model.episode import Prose, Quiet, Words
from repslate.source.finding import Finding, Severity
from repslate.source.markdown import Label
from repslate.source.outline import Labelled, Node
from repslate.source.page import Passage, Phrase


@dataclass(frozen=True, slots=True)
class Content:
    """What stands under one heading; `labelled` holds the labels that have a meaning there and words after them."""

    passages: tuple[Passage, ...]
    labelled: tuple[Labelled, ...]
    quiets: tuple[Quiet, ...]
    findings: tuple[Finding, ...]

    @property
    def prose(self) -> tuple[Prose, ...]:
        """Return the passages as prose."""
        return tuple(Prose("\n".join(text for _, text in one.rows()), one.span) for one in self.passages)


def sort_content(
    nodes: tuple[Node, ...], first: int, last: int, *, labels: Collection[Label] = (), where: str = ""
) -> Content:
    """Sort what stands on the lines `first` to `last`.

    Labels other than `labels` and Quiet are prose there, with a warning if `where` says in words where that is. An
    exercise, which takes every label, is the only one that shows the pictures in its words.
    """
    has_pictures = len(labels) == len(Label)
    passages: list[Passage] = []
    labelled: list[Labelled] = []
    quiets: list[Quiet] = []
    findings: list[Finding] = []
    for node in nodes:
        if isinstance(node, Passage):
            passages.append(node)
        elif node.label is Label.QUIET:
            read = _read_quiet(node, first, last)
            if isinstance(read, Quiet):
                quiets.append(read)
                findings += _pictures_lost(node.passage, f"in the words of “{node.label}:”")
            else:
                passages.append(node.passage)
                findings.append(read)
        elif node.label not in labels:
            passages.append(node.passage)
            findings += [_misplaced(node, where)] if where else []
        elif node.items:
            labelled.append(node)
            findings += _pictures_lost(node.passage, f"in the words of “{node.label}:”") if not has_pictures else []
        else:
            passages += [node.passage] if node.passage.images else []
            findings.append(_empty(node))
    if not has_pictures:
        findings += [lost for passage in passages for lost in _pictures_lost(passage, "outside any exercise")]
    return Content(tuple(passages), tuple(labelled), tuple(quiets), tuple(findings))


def words(phrase: Phrase) -> Words:
    """Return a phrase of the outline as words of the trainer's."""
    return Words(phrase.text, phrase.span)


def _read_quiet(node: Labelled, first: int, last: int) -> Quiet | Finding:
    reason = " ".join(item.text for item in node.items)
    check = node.topic.text if node.topic else ""
    if not check:
        message = "“Quiet” names no check; expected the name of one in brackets"
        help_ = "type “Quiet (name-of-the-check): why”, with the name that the finding shows"
        return Finding("quiet-without-check", Severity.ERROR, node.span, message, help_)
    if not reason:
        message = f"“{check}” is silenced without a reason; expected why, in words, after the colon"
        help_ = f"type “Quiet ({check}): why it is right here”, or take the line out"
        because = "whoever reads the file next has to know why nobody is warned"
        return Finding("quiet-without-reason", Severity.ERROR, node.span, message, help_, because)
    return Quiet(check, reason, node.span, first, last)


def _misplaced(node: Labelled, where: str) -> Finding:
    message = f"“{node.label}:” stands {where}, so it is prose; expected it under an exercise"
    help_ = "move it under the “###” heading of the exercise it belongs to"
    return Finding("label-misplaced", Severity.WARNING, node.span, message, help_)


def _pictures_lost(passage: Passage, where: str) -> list[Finding]:
    """Tell of pictures in words that no exercise shows."""
    message = f"this picture stands {where}, where none is shown; expected it under an exercise"
    help_ = "move it to a line of its own under the “###” heading of the exercise it shows"
    return [Finding("picture-misplaced", Severity.WARNING, one.span, message, help_) for one in passage.images]


def _empty(node: Labelled) -> Finding:
    message = f"“{node.label}:” has nothing after it; expected words on the same line or a list under it"
    help_ = f"type “{node.label}: …” on one line, or take the line out"
    return Finding("label-empty", Severity.WARNING, node.span, message, help_)
