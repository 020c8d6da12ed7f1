"""Makes the film of samples/harbour-cut, its edit list, markers and subtitles, and a later cut. By hand, from the root:

    .venv/bin/python -m samples.make_cut

Every shot stands in SHOTS, every word in SPEECH; all files come from these two, so that they agree to the frame. The
figures are those of draw_pictures.py. The voice is a row of tones, one pitch a word: enough to tell two cuts by ear.
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, fields
from fractions import Fraction
from functools import cache
from itertools import accumulate
from pathlib import Path
from zlib import crc32

import av
import numpy as np
from PIL import Image
from samples import draw_pictures as draw

from repslate.cut.cue import Cue
from repslate.cut.formats.subtitles_srt import write as write_srt
from repslate.cut.timecode import RATES, write_timecode
from repslate.source.span import Span

FOLDER = Path(__file__).parent / "harbour-cut"
RATE = RATES["25"]
FPS = RATE.nominal
HOUR = 3600 * FPS
SIZE = (640, 360)
STEPS = 30  # drawings from one end of a movement to the other, one a frame
SOUND = 24_000  # samples a second
SEA, STONE = (176, 200, 200), (214, 204, 186)


@dataclass(frozen=True, slots=True)
class Shot:
    """A shot: what is seen, on which card from which timecode (frames), for how many frames of the cut.

    `dissolve` is how many frames the shot before lasts on under its beginning.
    """

    scene: str
    reel: str
    source: int
    frames: int
    close: bool = False
    dissolve: int = 0


def at(minutes: int, seconds: int, frames: int = 0) -> int:
    """Return the frame number of a label in the cards' hour, 10:MM:SS:FF."""
    return 10 * HOUR + (minutes * 60 + seconds) * FPS + frames


SHOTS = (
    Shot("welcome", "CAM1", at(0, 20), 360),
    Shot("march", "CAM1", at(4, 5), 240),
    Shot("march", "CAM2", at(4, 14, 15), 200, close=True),
    Shot("squat", "CAM1", at(9, 30), 300),
    Shot("squat", "CAM2", at(9, 42), 180, close=True),
    Shot("push-up", "CAM1", at(15, 2, 10), 440),
    Shot("lunge", "CAM1", at(21, 40), 250),
    Shot("lunge", "CAM2", at(21, 50), 210, close=True),
    Shot("black", "BL", 0, 25),
    Shot("calf", "CAM1", at(30, 0, 12), 385),
    Shot("goodbye", "CAM1", at(33, 11), 310, dissolve=20),
)
STARTS = (*accumulate((shot.frames for shot in SHOTS), initial=0),)

# Frame of the cut, title. Goodbye begins in the middle of its dissolve.
CHAPTERS = (
    (0, "Welcome"),
    (STARTS[1], "March on the spot"),
    (STARTS[3], "Bodyweight squat"),
    (STARTS[5], "Incline push-up"),
    (STARTS[6], "Reverse lunge"),
    (STARTS[9], "Calf stretch"),
    (STARTS[10] + 10, "Goodbye"),
)
# Marks that were made while filming and whose footage the cut does not use.
UNUSED = (("CAM1", at(19, 4), "Water"),)

# Seconds of the cut at which a line begins; a word lasts as its letters do.
SPEECH = (
    ("0.6", "hello from the harbour wall and welcome"),
    ("4.0", "you need a bit of floor and something firm to lean on"),
    ("8.6", "I show every movement once and you do the rounds in your own time"),
    ("14.8", "we begin with a march on the spot for sixty seconds"),
    ("19.2", "tall body soft feet let your arms swing"),
    ("24.6", "left right left right left right"),
    ("28.4", "breathe and lift your knees a little higher"),
    ("32.3", "next the bodyweight squat eight to ten reps"),
    ("36.4", "sit down between your heels and stand up tall"),
    ("40.4", "one two three four"),
    ("44.6", "your knees follow your toes"),
    ("47.4", "only go as deep as feels fine today"),
    ("51.5", "now the incline push-up with your hands on the wall"),
    ("55.8", "eight to ten reps and your body in one line"),
    ("60.0", "one two three four"),
    ("64.0", "if your wrists hurt use your fists"),
    ("69.1", "reverse lunge six on each side"),
    ("72.6", "step back bend both knees and push through the front foot"),
    ("77.6", "one two three"),
    ("80.2", "now the other side one two three"),
    ("84.4", "stay near the wall if you sway"),
    ("88.6", "last one the calf stretch thirty seconds on each side"),
    ("93.4", "back heel down and lean in until you feel it"),
    ("98.0", "breathe out slowly and stay there"),
    ("104.5", "that was the tour now do two rounds and rest a minute between them"),
    ("110.4", "see you at the harbour goodbye"),
)

# The later cut: frames of the first cut that it keeps, in its own order, behind a new title of 75 frames.
TITLE = 75
KEPT = (
    (0, STARTS[1] - 110),  # the last words of the welcome are gone
    (STARTS[1], STARTS[2]),  # without the close shot
    (STARTS[5], STARTS[6]),  # the push-up has moved in front of the squat
    (STARTS[3] + 60, STARTS[5]),  # whose first seconds are cut away
    (STARTS[6], STARTS[7]),
    (STARTS[9], STARTS[11]),
)


# ---- pictures


def stand(**changes: object) -> draw.Pose:
    """Return a standing figure with what differs."""
    pose: dict[str, object] = {
        "hip": (0.0, 0.512), "lean": 2.0, "chest": 0.0, "gaze": 3.0, "ankles": ((0.03, 0.041), (-0.03, 0.041)),
        "hands": ((0.05, 0.43), (0.04, 0.43)), "hair": "short",
    }  # fmt: skip
    return draw.Pose(**(pose | changes))  # type: ignore[arg-type]


UP_RAISED, UP_SWAYED = ((0.20, 0.86), (0.04, 0.43)), ((0.29, 0.83), (0.04, 0.43))
MOVES: dict[str, tuple[draw.Pose, draw.Pose]] = {
    "welcome": (stand(), stand(hands=((0.22, 0.60), (0.20, 0.62)))),
    "march": (
        stand(ankles=((0.06, 0.26), (-0.02, 0.041)), hands=((-0.10, 0.50), (0.17, 0.58))),
        stand(ankles=((0.02, 0.041), (0.06, 0.26)), hands=((0.17, 0.58), (-0.10, 0.50))),
    ),
    "squat": (
        stand(hands=((0.16, 0.55), (0.15, 0.56))),
        stand(hip=(-0.155, 0.225), lean=28, chest=18, gaze=6, hands=((0.25, 0.48), (0.26, 0.49))),
    ),
    "push-up": (
        stand(hip=(-0.09, 0.41), lean=54, chest=56, gaze=46, ankles=((-0.48, 0.13), (-0.50, 0.13)), soles=(48, 48),
              hands=((0.36, 0.335), (0.38, 0.335)), elbows=(-1, -1)),
        stand(hip=(-0.06, 0.355), lean=62, chest=64, gaze=54, ankles=((-0.48, 0.13), (-0.50, 0.13)), soles=(48, 48),
              hands=((0.36, 0.335), (0.38, 0.335)), elbows=(-1, -1)),
    ),
    "lunge": (
        stand(hip=(0.05, 0.505), ankles=((0.10, 0.041), (0.00, 0.041))),
        stand(hip=(0.0, 0.315), lean=5, ankles=((0.235, 0.041), (-0.30, 0.098)), soles=(0, 62),
              hands=((-0.075, 0.435), (0.215, 0.525))),
    ),
    "calf": (
        stand(hip=(-0.07, 0.475), lean=12, chest=10, ankles=((0.14, 0.041), (-0.27, 0.041)),
              hands=((0.345, 0.66), (0.345, 0.69))),
        stand(hip=(-0.03, 0.468), lean=14, chest=10, ankles=((0.14, 0.041), (-0.27, 0.041)),
              hands=((0.345, 0.66), (0.345, 0.69))),
    ),
    "goodbye": (stand(hands=UP_RAISED, elbows=(-1, 1)), stand(hands=UP_SWAYED, elbows=(-1, 1))),
}  # fmt: skip


def between(one: object, other: object, share: float) -> object:
    """Return what lies `share` of the way between two figures, points or anything that does not change."""
    if isinstance(one, tuple) and isinstance(other, tuple):
        return tuple(between(a, b, share) for a, b in zip(one, other, strict=True))
    if isinstance(one, int | float) and isinstance(other, int | float) and one != other:
        return one + (other - one) * share
    return one


def harbour(sheet: draw.Sheet, shift: float) -> None:
    """Draw sky, sea and boats; `shift` is where the camera looks."""
    draw.room(sheet)
    sheet.shape([(-2, 0.22), (2, 0.22), (2, 0.66), (-2, 0.66)], SEA)
    sheet.shape([(-2, 0.0), (2, 0.0), (2, 0.22), (-2, 0.22)], STONE)
    for x in (shift - 1.7, shift - 0.95, shift + 0.75, shift + 1.5):
        sheet.sweep([(x - 0.12, 0.42), (x + 0.14, 0.42)], [0.020, 0.034], draw.WOOD)
        sheet.stroke([(x, 0.42), (x, 1.0)], 0.012, draw.SHADE)
        sheet.shape([(x + 0.02, 0.47), (x + 0.20, 0.50), (x + 0.02, 0.96)], draw.PAPER)


WHERE = {"welcome": 0.1, "march": -0.2, "squat": 0.45, "push-up": -0.55, "lunge": 0.25, "calf": -0.4, "goodbye": 0.0}


@cache
def picture(scene: str, step: int, *, close: bool) -> av.VideoFrame:
    """Return a drawing as a frame of the film."""
    if scene == "black":
        return frame(Image.new("RGB", SIZE))
    sheet = draw.Sheet(scale=620, origin=600, floor=640)
    harbour(sheet, WHERE.get(scene, 0.8))
    if scene in ("push-up", "calf"):
        height = 0.31 if scene == "push-up" else 1.1
        sheet.shape([(0.34, 0.0), (0.8, 0.0), (0.8, height), (0.34, height)], draw.LINE)
    if scene in MOVES:
        one, other = MOVES[scene]
        pose = {f.name: between(getattr(one, f.name), getattr(other, f.name), step / STEPS) for f in fields(one)}
        draw.figure(sheet, draw.Pose(**pose))  # type: ignore[arg-type]
    image = sheet.image
    if close:
        wide, high = image.size
        image = image.crop((wide * 20 // 100, high * 2 // 100, wide * 80 // 100, high * 62 // 100))
    return frame(image.resize(SIZE, Image.Resampling.LANCZOS))


def frame(image: Image.Image) -> av.VideoFrame:
    return av.VideoFrame.from_ndarray(np.asarray(image), format="rgb24").reformat(format="yuv420p")


def drawing(shot: Shot, source: int) -> av.VideoFrame:
    """Return what a shot shows at a frame of its footage: the movement runs to and fro."""
    phase = source % (2 * STEPS)
    return picture(shot.scene, min(phase, 2 * STEPS - phase), close=shot.close)


def blend(one: av.VideoFrame, other: av.VideoFrame, share: float) -> av.VideoFrame:
    mixed = one.to_ndarray() * (1 - share) + other.to_ndarray() * share
    return av.VideoFrame.from_ndarray(mixed.astype(np.uint8), format="yuv420p")


def first_cut() -> Iterator[av.VideoFrame]:
    """Yield the frames of the first cut."""
    for number, (shot, start) in enumerate(zip(SHOTS, STARTS, strict=False)):
        for n in range(shot.frames):
            shown = drawing(shot, shot.source + n)
            if n < shot.dissolve:
                before = SHOTS[number - 1]
                under = drawing(before, before.source + start - STARTS[number - 1] + n)
                shown = blend(under, shown, (n + 1) / (shot.dissolve + 1))
            yield shown


def later_cut() -> Iterator[av.VideoFrame]:
    """Yield the title, then what is kept of the first cut."""
    for _ in range(TITLE):
        yield picture("title", 0, close=False)
    every = list(first_cut())
    for start, end in KEPT:
        yield from every[start:end]


# ---- words and their tones


@dataclass(frozen=True, slots=True)
class Word:
    text: str
    start: Fraction
    end: Fraction


def words() -> list[Word]:
    """Return every word of the first cut with its times, in seconds."""
    said = []
    for start, line in SPEECH:
        now = Fraction(start)
        for text in line.split():
            length = Fraction(140 + 35 * len(text), 1000)
            said.append(Word(text, now, now + length))
            now += length
    return said


def moved(said: Sequence[Word]) -> list[Word]:
    """Return the words that the later cut keeps whole, at their new times."""
    kept = []
    for start, end, new in later():
        shift = new - start
        kept += [Word(w.text, w.start + shift, w.end + shift) for w in said if start <= w.start and w.end <= end]
    return kept


def later() -> Iterator[tuple[Fraction, Fraction, Fraction]]:
    """Yield old start, old end and new start of everything that is kept, in seconds."""
    now = TITLE
    for start, end in KEPT:
        yield Fraction(start, FPS), Fraction(end, FPS), Fraction(now, FPS)
        now += end - start


def cues(said: Sequence[Word], longest: int) -> list[Cue]:
    """Break words into cues of at most `longest` words, and wherever the voice pauses."""
    runs: list[list[Word]] = []
    for word in said:
        if runs and len(runs[-1]) < longest and word.start - runs[-1][-1].end < Fraction(1, 5):
            runs[-1].append(word)
        else:
            runs.append([word])
    return [Cue(run[0].start, run[-1].end, " ".join(word.text for word in run), Span("subtitles.srt")) for run in runs]


def tones(said: Sequence[Word], seconds: Fraction) -> np.ndarray[tuple[int, int], np.dtype[np.int16]]:
    """Return the sound: each word a pitch of its own with two overtones."""
    sound = np.zeros(int(seconds * SOUND))
    for word in said:
        start, end = int(word.start * SOUND), int(word.end * SOUND)
        pitch = 150 + crc32(word.text.encode()) % 300
        at = np.arange(end - start) / SOUND
        swell = np.sin(np.pi * np.arange(end - start) / (end - start)) ** 0.5
        sound[start:end] += swell * sum(np.sin(2 * np.pi * pitch * n * at) / n for n in (1, 2, 3))
    return (sound * 7000).astype(np.int16).reshape(1, -1)


# ---- files


def write_film(path: Path, pictures: Iterator[av.VideoFrame], said: Sequence[Word], frames: int) -> None:
    """Encode picture and sound; the first frame's timecode is 01:00:00:00."""
    with av.open(path, "w", options={"movflags": "+faststart"}) as film:
        video = film.add_stream("libx264", rate=FPS, options={"crf": "27", "preset": "slow"})
        video.width, video.height, video.pix_fmt = *SIZE, "yuv420p"
        video.metadata["timecode"] = write_timecode(HOUR, RATE)
        audio = film.add_stream("aac", rate=SOUND)
        audio.layout, audio.bit_rate = "mono", 24_000
        sound = tones(said, Fraction(frames, FPS))
        block = SOUND // FPS
        for number, shown in enumerate(pictures):
            shown.pts, shown.time_base = number, Fraction(1, FPS)
            film.mux(video.encode(shown))
            heard = av.AudioFrame.from_ndarray(sound[:, number * block : (number + 1) * block], "s16", "mono")
            heard.sample_rate, heard.pts, heard.time_base = SOUND, number * block, Fraction(1, SOUND)
            film.mux(audio.encode(heard))
        film.mux(video.encode())
        film.mux(audio.encode())


def edit_list() -> str:
    """Return the cut as a CMX 3600 list."""
    lines = ["TITLE: HARBOUR CUT", "FCM: NON-DROP FRAME", ""]
    for number, (shot, start) in enumerate(zip(SHOTS, STARTS, strict=False), 1):
        reel, kind = shot.reel, "C"
        if shot.dissolve:
            before = SHOTS[number - 2]
            out = before.source + before.frames
            lines.append(event(number, before.reel, kind, (out, out), (start, start)))
            kind = f"D    {shot.dissolve:03}"
            lines += [event(number, reel, kind, *spans(shot, start)), f"* FROM CLIP NAME:  {before.reel}_HARBOUR.MOV"]
            lines.append(f"* TO CLIP NAME:  {reel}_HARBOUR.MOV")
            continue
        lines.append(event(number, reel, kind, *spans(shot, start)))
        if reel != "BL":
            lines.append(f"* FROM CLIP NAME:  {reel}_HARBOUR.MOV")
    return "\n".join(lines) + "\n"


def spans(shot: Shot, start: int) -> tuple[tuple[int, int], tuple[int, int]]:
    """Return first frame and end on the card and in the cut."""
    return (shot.source, shot.source + shot.frames), (start, start + shot.frames)


def event(number: int, reel: str, kind: str, source: tuple[int, int], cut: tuple[int, int]) -> str:
    labels = (*source, *(HOUR + frame_ for frame_ in cut))
    times = " ".join(write_timecode(label, RATE) for label in labels)
    return f"{number:03}  {reel:<8} V     {kind:<8} {times}"


def source_markers() -> str:
    """Return the marks made while filming: the card's whole hour as one event, LOC in its own timecode."""
    marks = []
    for frame_, title in CHAPTERS:
        number = max(n for n, start in enumerate(STARTS[:-1]) if start <= frame_)
        marks.append((SHOTS[number].reel, SHOTS[number].source + frame_ - STARTS[number], title))
    whole = write_timecode(10 * HOUR, RATE), write_timecode(11 * HOUR, RATE)
    lines = ["TITLE: HARBOUR MARKERS", "FCM: NON-DROP FRAME", "", f"001  CAM1     V     C        {' '.join(whole * 2)}"]
    lines += [
        f"* LOC: {write_timecode(source, RATE)} GREEN   {title}" for _, source, title in sorted([*marks, *UNUSED])
    ]
    return "\n".join(lines) + "\n"


def clock(frames: int) -> str:
    minutes, rest = divmod(frames * 1000 // FPS, 60_000)
    seconds, thousandths = divmod(rest, 1000)
    return f"{minutes}:{seconds:02}" + (f".{thousandths:03}".rstrip("0") if thousandths else "")


def true_map() -> str:
    """Return what is kept and where each chapter has gone, null where its start was cut out; seconds."""
    kept = [[float(time) for time in part] for part in later()]
    chapters = []
    for frame_, title in CHAPTERS:
        now = [
            new + Fraction(frame_, FPS) - start for start, end, new in later() if start <= Fraction(frame_, FPS) < end
        ]
        chapters.append({"title": title, "old_t": frame_ / FPS, "new_t": float(now[0]) if now else None})
    return json.dumps({"kept": kept, "chapters": chapters}, indent=1) + "\n"


def main() -> None:
    """Make every file of the sample but workout.md."""
    recut, pictures = FOLDER / "recut", FOLDER / "pictures"
    for folder in (recut, pictures):
        folder.mkdir(parents=True, exist_ok=True)
    said = words()
    texts: dict[str, Callable[[], str]] = {
        "cut.edl": edit_list,
        "markers.edl": source_markers,
        "chapters.txt": lambda: "".join(f"{clock(frame_)} {title}\n" for frame_, title in CHAPTERS),
        "subtitles.srt": lambda: write_srt(cues(said, 7)),
        "recut/subtitles-recut.srt": lambda: write_srt(cues(moved(said), 5)),
        "recut/recut.json": true_map,
    }
    for name, text in texts.items():
        (FOLDER / name).write_text(text(), encoding="utf-8")
    sheet = draw.Sheet(scale=620, origin=600, floor=640)
    harbour(sheet, WHERE["squat"])
    draw.figure(sheet, MOVES["squat"][1])
    sheet.save(pictures / "harbour-wall.png")
    write_film(FOLDER / "cut.mp4", first_cut(), said, STARTS[-1])
    write_film(recut / "cut.mp4", later_cut(), moved(said), TITLE + sum(end - start for start, end in KEPT))


if __name__ == "__main__":
    main()
