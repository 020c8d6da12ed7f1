"""What machines read in the article: schema.org JSON-LD made from the same words and seconds as the visible page."""

from __future__ import annotations

import json
from typing import Any

from repslate.publish.markdown import to_plain
from repslate.publish.view import ClipView, ExerciseView, View


def json_ld(view: View) -> str:
    """Return the page's JSON-LD (schema.org 30.0: Article, VideoObject with Clips, ExercisePlan), safe inside a script.

    "<" is written as an escape, or a title holding "</script>" would end the block (HTML standard, script data state).
    """
    article = _kept(
        {
            "@context": "https://schema.org",
            "@type": "Article",
            "headline": view.title,
            "description": view.description,
            "inLanguage": "en",
            "url": view.address,
            "mainEntityOfPage": view.address,
            "image": view.picture_address,
            "datePublished": view.published_date,
            "author": _kept({"@type": "Person", "name": view.presenter}) if view.presenter else None,
            "publisher": _kept({"@type": "Organization", "name": view.brand, "url": view.series.site})
            if view.brand
            else None,
            "video": _video(view) if view.video else None,
            "hasPart": [_plan(exercise, view) for exercise in view.exercises],
        }
    )
    return json.dumps(article, ensure_ascii=False, indent=1).replace("<", "\\u003c")


def _video(view: View) -> dict[str, Any]:
    return _kept(
        {
            "@type": "VideoObject",
            "name": view.title,
            "description": view.description,
            "url": view.video,
            "contentUrl": view.video,
            "thumbnailUrl": view.picture_address,
            "uploadDate": view.published_date,
            "duration": view.length_iso,
            "isFamilyFriendly": True,
            "hasPart": [_clip(clip) for clip in view.clips],
        }
    )


def _clip(clip: ClipView) -> dict[str, Any]:
    return _kept(
        {
            "@type": "Clip",
            "name": clip.title,
            "startOffset": clip.start,
            "endOffset": clip.end,
            "url": clip.address,
        }
    )


def _plan(exercise: ExerciseView, view: View) -> dict[str, Any]:
    return _kept(
        {
            "@type": "ExercisePlan",
            "name": exercise.name,
            "url": f"{view.address}#{exercise.id}" if view.address else None,
            "exerciseType": exercise.name,
            "description": "\n".join(to_plain(text) for text in exercise.prose),
            "workload": exercise.prescription,
        }
    )


def _kept(values: dict[str, Any]) -> dict[str, Any]:
    return {key: value for key, value in values.items() if value not in (None, "", [])}
