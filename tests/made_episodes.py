"""Episodes that nobody wrote: any title, any name, any number of exercises in any form of block, from a seed.

Each is right, so it must build. The words mean nothing; lengths, scripts, signs and forms are what is tried.
"""

from __future__ import annotations

import json
import random
import re
from collections.abc import Iterator
from pathlib import Path

#: Words in eight scripts, with letters that join, stack, take marks or are written from the right.
SCRIPTS = {
    "Latin": "Squat Row Press über Étirement Łydki Ağırlık Zdrowie knee-tap Schulterblattstabilisierungsübung",
    "Greek": "Κάθισμα Πιέσεις ώμων Έλξεις αλτήρες Γέφυρα",
    "Cyrillic": "Приседания Выпады Жим гантелей Планка йод съёмка",
    "Hebrew": "סקוואט לחיצת כתפיים חתירה מתיחה גשר בעיטות",
    "Arabic": "تمرين القرفصاء ضغط الأكتاف لا إطالة جسر الخلف",
    "Devanagari": "स्क्वाट व्यायाम कंधे शक्ति पुल क्षमता",
    "Han": "深蹲 推举 划船训练 臀桥 自宅 トレーニング スクワット",
    "Hangul": "스쿼트 어깨 밀기 로우 다리 운동",
}
SIGNS = (
    "!\"#$%&'()*+,-./:;<=>?@[\\]^_`{|}~°²³¹½¼¾×÷±µ§¶©®™€£¥¢¿¡«»“”‘’„‚‹›–—…•·†‡←→↑↓≤≥≠≈∞√∑✓★♥♪№ªº´¨^¯¸"
    "\u00a0\u00ad\u2011\u200d"
)
WRAPS = (
    "{} ({})",
    "{} “{}”",
    "{} [{}]",
    "{} / {}",
    "{} & {}",
    "{} – {}",
    "{}: {}",
    "{} <b>{}</b>",
    "*{}* {}",
    "{} #{}",
)
ENDS = (
    "!", "?", "…", "… etc.", "°", "%", " 45°", " to 90%", " (2 bells)", " 3 × 10", " ½", ".", ":", "”", "®", "*", "`",
    "@",
)  # fmt: skip
DOSES = (
    "3 × 10", "3 × 8–12 @ 20 kg", "2 × 30 s", "3 × 40 m", "4 × 6 per side @ 2 × 16 kg", "3 × max", "5 × 5 @ 75%",
    "3 × 10 @ bodyweight, tempo 3-1-1-0", "2 × 12 @ band, leave 2 in reserve", "3 × 8 @ RPE 8", "3 × 10/8/6 @ 50 lb",
)  # fmt: skip
WORK = ("10 reps", "8–12 reps @ 16 kg", "30 s", "40 m", "6 reps per side", "12 reps, tempo 2-0-2-0", "10 reps @ band")
BLOCKS = (
    ("Straight sets", "", (1, 6)), ("Superset", "3 rounds · rest 75–90 s", (2, 2)),
    ("Tri-set", "2–3 rounds · rest 90 s", (3, 3)), ("Giant set", "3 rounds · rest 2 min", (4, 6)),
    ("Circuit", "4 rounds · rest 60 s", (2, 8)), ("Every minute for 10 min", "", (1, 4)),
    ("As many rounds as possible in 8 min", "", (2, 5)), ("Finisher", "2 rounds · rest 60 s", (1, 3)),
    ("Cool-down", "", (1, 4)),
)  # fmt: skip
#: The same of forms whose headings say more than rounds, a rest and a clock.
MORE_BLOCKS = (
    ("Every 2 min for 8 rounds", "all every turn", (1, 3)), ("Every 90 s for 9 min", "alternating", (2, 3)),
    ("For time", "21-15-9 · cap 12 min", (1, 4)), ("Rounds for time", "4 rounds · cap 20 min · rest 60 s", (1, 4)),
    ("Chipper", "cap 30 min", (2, 8)), ("Intervals", "8 × 20 s on / 10 s off · each exercise", (1, 4)),
    ("Circuit", "3 rounds · 30 s on / 15 s off", (4, 6)), ("Ladder in 8 min", "3-6-9-…", (1, 3)),
    ("Ladder", "10-8-6-4-2", (1, 2)), ("Complex", "4 rounds · rest 2 min", (1, 3)), ("Flow", "3 rounds", (1, 5)),
    ("Partner", "6 rounds · in teams of 3", (1, 3)), ("Test", "", (1, 2)),
    ("As many repetitions as possible in 3 min", "in pairs", (1, 1)),
)  # fmt: skip
CAUTION = "Caution ({}): Stop at once if it hurts, and keep {} steady. Do not hurry."
_ACTIVE = re.compile(r"([!-/:-@\[-`{-~])")


def words(dice: random.Random, script: str, length: int) -> str:
    """Return about `length` characters in a script, with a sign here and there."""
    text = ""
    while len(text) < length:
        word = dice.choice(SCRIPTS[script].split())
        text += ("" if not text or dice.random() < 0.04 else " ") + word
        if dice.random() < 0.15:
            text += dice.choice(SIGNS)
        if dice.random() < 0.1:
            text += f" {dice.randrange(1, 100)}"
        if dice.random() < 0.08:
            text += f" {dice.choice(SCRIPTS['Latin'].split())}"
    return text[:length].strip()


def name(dice: random.Random, scripts: tuple[str, ...]) -> str:
    """Return the name of an exercise: words in some script, often wrapped in signs or ending in one."""
    text = words(dice, dice.choice(scripts), dice.choice((3, 8, 14, 14, 20, 30, 60)))
    if dice.random() < 0.3:
        text = dice.choice(WRAPS).format(text, words(dice, dice.choice(scripts), 8))
    if dice.random() < 0.3:
        text += dice.choice(ENDS)
    if dice.random() < 0.05:
        text = dice.choice(SIGNS) + text
    return text


def write_episode(folder: Path, seed: int) -> None:
    """Write the episode of a seed into a new folder `folder`, its series beside it."""
    dice = random.Random(seed)  # noqa: S311 - the same episode every time, nothing secret
    folder.mkdir(parents=True)
    scripts = ("Latin", dice.choice(list(SCRIPTS)))
    title = words(dice, dice.choice(scripts), dice.randrange(1, 141)) or "T"
    front = {"format": 1, "title": title, "goal": "strength", "level": dice.choice(("beginner", "intermediate"))}
    if dice.random() < 0.7:
        front["presenter"] = dice.choice(("<b>P</b>", "Mo & Jo", "A. *Star*", words(dice, dice.choice(scripts), 12)))
    if dice.random() < 0.3:
        front["sponsor"] = words(dice, dice.choice(scripts), 14)
    if dice.random() < 0.5:
        front["equipment"] = [words(dice, dice.choice(scripts), 9) for _ in range(dice.randrange(1, 4))]
    if dice.random() < 0.5:
        front |= {"video": "https://video.example/watch/1", "length": "42:10"}
    if dice.random() < 0.5:
        front |= {"recorded": "2026-04-14", "published": "2026-05-04", "episode": dice.randrange(1, 300)}
    names: list[str] = []
    body = "\n".join(_blocks(dice, scripts, names))
    lead = f"{words(dice, dice.choice(scripts), 80)}\n\nFor everybody who likes to move."
    head = "\n".join(f"{key}: {json.dumps(value, ensure_ascii=False)}" for key, value in front.items())
    head = head.replace('"2026-04-14"', "2026-04-14").replace('"2026-05-04"', "2026-05-04")
    (folder / "workout.md").write_text(
        f"---\n{head}\n---\n{_literal(lead)}\n\n{body}\n\n## Safety\nClear the floor first.\n", "utf-8"
    )
    marks = [
        f"0:00 {dice.choice(('Welcome', 'Hello!'))}",
        *(f"{at // 2}:{30 * (at % 2):02} {one}" for at, one in enumerate(names, 1)),
    ]
    (folder / "chapters.txt").write_text("\n".join(marks) + "\n", "utf-8")
    series = {
        "disclosure": "Advertisement: {sponsor} paid for this.",
        "site": "https://heronwick.example",
        "address": "https://heronwick.example/workouts/{slug}",
        "units": dice.choice(("kg", "lb", "both")),
        "brand": words(dice, dice.choice(scripts), 10),
    }
    lines = "\n".join(f"{key}: {json.dumps(value, ensure_ascii=False)}" for key, value in series.items())
    (folder.parent / "series.yaml").write_text(f"{lines}\n", "utf-8")


def _blocks(dice: random.Random, scripts: tuple[str, ...], names: list[str]) -> Iterator[str]:
    most = dice.choice((1, 2, 3, 5, 8, 12, 12, 18, 24))
    if most > 2 and dice.random() < 0.5:
        yield from _block(dice, scripts, "Warm-up · 2 rounds", 1, names, WORK)
    while len(names) < most:
        kind, facts, (low, high) = dice.choice(BLOCKS + MORE_BLOCKS)
        count = min(dice.randrange(low, high + 1), most - len(names))
        if count < low:
            kind, facts = "Straight sets", ""
        title = f": {words(dice, dice.choice(scripts), 16)}" if dice.random() < 0.5 else ""
        has_sets = kind in ("Straight sets", "Cool-down")
        yield from _block(
            dice, scripts, f"{kind}{title}{f' · {facts}' if facts else ''}", count, names, DOSES if has_sets else WORK
        )


def _block(
    dice: random.Random, scripts: tuple[str, ...], heading: str, count: int, names: list[str], doses: tuple[str, ...]
) -> Iterator[str]:
    yield f"## {heading}"
    for _ in range(count):
        called = name(dice, scripts)
        names.append(called)
        dose = dice.choice(doses)
        yield f"\n### {called}"
        yield f"{dose}, rest 90 s" if doses is DOSES and "rest" not in dose else dose
        yield f"\nMove slowly.\n\n{CAUTION.format(dice.choice(('knees', 'back', 'breath')), 'your back')}\n"


def _literal(text: str) -> str:
    """Return a text as Markdown that shows it unchanged."""
    return _ACTIVE.sub(r"\\\1", text)
