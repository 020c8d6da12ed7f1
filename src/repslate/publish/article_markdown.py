"""The article once more, as CommonMark for pasting into a website's own editor: same words, same order."""

from __future__ import annotations

from collections.abc import Iterator

from repslate.publish.look import Look
from repslate.publish.markdown import escape, to_markdown
from repslate.publish.typeset import isolated
from repslate.publish.view import BlockView, CautionView, ExerciseView, View


def render(view: View, _look: Look) -> bytes:
    """Render article.md: UTF-8, one blank line between blocks, no images and no raw HTML."""
    return ("\n\n".join(part for part in _article(view) if part) + "\n").encode()


def _article(view: View) -> Iterator[str]:
    if view.disclosure:
        yield f"**{escape(view.disclosure)}**"
    yield f"# {escape(view.title)}"
    yield " · ".join(escape(isolated(words)) for words in view.origin)
    yield f"**{escape(' · '.join(view.facts))}**"
    yield "\n".join(f"- {term}: {escape(isolated(words))}" for term, words in view.needs)
    yield "## The workout"
    for block in view.blocks:
        yield from _overview(block)
    yield from map(to_markdown, view.lead)
    yield "## Before you train"
    yield from (f"**{escape(term)}** {escape(words)}" for term, words in view.notice)
    yield from map(to_markdown, view.safety)
    for block in view.blocks:
        yield from _block(block)
    for title, texts in view.notes:
        yield f"## {escape(title)}"
        yield from map(to_markdown, texts)
    yield "---"
    yield escape(view.notice_short)


def _overview(block: BlockView) -> Iterator[str]:
    yield f"**{escape(isolated(block.name))}**" + "".join(f" · {escape(fact)}" for fact in block.facts)
    yield "\n".join(
        f"- {e.label} {escape(isolated(e.name))}" + (f": {escape(e.prescription)}" if e.prescription else "")
        for e in block.exercises
    )


def _block(block: BlockView) -> Iterator[str]:
    yield f"## {escape(block.name)}"
    yield escape(" · ".join(block.facts))
    yield from map(to_markdown, block.prose)
    yield from map(_caution, block.cautions)
    for exercise in block.exercises:
        yield from _exercise(exercise)


def _exercise(exercise: ExerciseView) -> Iterator[str]:
    yield f"### {exercise.label} {escape(isolated(exercise.name))}"
    if exercise.parts:
        yield "\n".join(f"- **{escape(part.whole)}**" for part in exercise.parts)
    elif exercise.prescription:
        yield f"**{escape(exercise.prescription)}**"
    if exercise.jump:
        words = f"Watch from {exercise.jump.clock}"
        yield f"[{words}](<{exercise.jump.address}>)" if exercise.jump.address else f"{words} in the video"
    yield from map(to_markdown, exercise.prose)
    if exercise.cues:
        yield "Cues:"
        yield "\n".join(f"- {to_markdown(cue)}" for cue in exercise.cues)
    yield from (f"Easier: {to_markdown(item)}" for item in exercise.easier)
    yield from (f"Harder: {to_markdown(item)}" for item in exercise.harder)
    yield from map(_caution, exercise.cautions)


def _caution(caution: CautionView) -> str:
    topic = f" ({escape(caution.topic)})" if caution.topic else ""
    return f"**Caution{topic}:** {to_markdown(caution.words)}"
