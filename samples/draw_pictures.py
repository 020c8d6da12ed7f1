"""Draws the samples' pictures: a quiet cut-paper figure, posed from joint angles. Run by hand; the PNGs are committed.

    .venv/bin/python samples/draw_pictures.py [FOLDER/NAME …]

Lengths are shares of body height (common drawing proportions, no source); y points up, the floor is y = 0.
"""

from __future__ import annotations

import math
import sys
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path

from PIL import Image, ImageDraw

WIDTH, HEIGHT, OVERSAMPLE = 1280, 720, 3
LARGEST = 60_000  # bytes a picture may have

PAPER = (246, 242, 233)
WALL = (234, 228, 215)
LINE = (206, 198, 181)
WOOD = (190, 172, 140)
INK = (45, 56, 60)
SHADE = (126, 132, 128)
CLOTH = (31, 90, 82)
CLOTH_FAR = (112, 146, 138)
SKIN = (196, 150, 116)
SKIN_FAR = (214, 184, 158)

THIGH, SHANK, UPPER_ARM, FOREARM, TRUNK = 0.245, 0.235, 0.165, 0.150, 0.285

Point = tuple[float, float]
Colour = tuple[int, int, int]


def along(start: Point, angle: float, length: float) -> Point:
    """Return the point `length` away from `start`; `angle` in degrees, 0 straight up, 90 to the right."""
    radians = math.radians(angle)
    return start[0] + length * math.sin(radians), start[1] + length * math.cos(radians)


def joint(start: Point, end: Point, first: float, second: float, bend: int) -> Point:
    """Return the middle joint of two bones from `start` towards `end`, bent to the left (-1) or right (1)."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    reach = min(math.hypot(dx, dy), (first + second) * 0.9995)
    at = math.degrees(math.atan2(dx, dy))
    inner = math.degrees(math.acos((first**2 + reach**2 - second**2) / (2 * first * reach)))
    return along(start, at + bend * inner, first)


@dataclass(frozen=True, slots=True)
class Pose:
    """One figure, seen from its right side and looking to the right.

    `lean` and `chest` are the angles of the lower and upper half of the trunk, `gaze` of the neck, in degrees from
    upright. Hands and ankles are points; `soles` are the pitch of each foot in degrees (positive: heel up). The near
    limb comes first. `elbows` and `knees` say to which side they bend.
    """

    hip: Point
    lean: float
    chest: float
    gaze: float
    ankles: tuple[Point, Point]
    hands: tuple[Point, Point]
    soles: tuple[float, float] = (0, 0)
    knees: tuple[int, int] = (-1, -1)
    elbows: tuple[int, int] = (1, 1)
    hair: str = "bun"
    tint: Colour = INK


class Sheet:
    """A picture in the making; draws in body heights through one scale and origin."""

    def __init__(self, *, scale: float, origin: float, floor: float = 610) -> None:
        self.image = Image.new("RGB", (WIDTH * OVERSAMPLE, HEIGHT * OVERSAMPLE), PAPER)
        self.draw = ImageDraw.Draw(self.image)
        self.scale, self.origin, self.floor = scale, origin, floor

    def at(self, point: Point) -> Point:
        return ((self.origin + point[0] * self.scale) * OVERSAMPLE, (self.floor - point[1] * self.scale) * OVERSAMPLE)

    def disc(self, centre: Point, radius: float, colour: Colour) -> None:
        x, y = self.at(centre)
        r = radius * self.scale * OVERSAMPLE
        self.draw.ellipse((x - r, y - r, x + r, y + r), fill=colour)

    def shape(self, points: Sequence[Point], colour: Colour) -> None:
        self.draw.polygon([self.at(p) for p in points], fill=colour)

    def stroke(self, points: Sequence[Point], width: float, colour: Colour) -> None:
        """Draw a line of even `width` with round ends."""
        self.sweep(points, [width / 2] * len(points), colour)

    def sweep(self, points: Sequence[Point], radii: Sequence[float], colour: Colour, *, grow: float = 0.0) -> None:
        """Draw the shape that a disc leaves behind as it runs through `points` while its radius follows `radii`."""
        for (a, b), (r, s) in zip(pairwise(points), pairwise(radii), strict=True):
            steps = max(2, int(math.dist(a, b) * self.scale))
            for step in range(steps + 1):
                t = step / steps
                centre = a[0] + (b[0] - a[0]) * t, a[1] + (b[1] - a[1]) * t
                self.disc(centre, r + (s - r) * t + grow, colour)

    def save(self, path: Path) -> None:
        """Write the picture as a PNG of few colours; it must not be larger than LARGEST."""
        small = self.image.resize((WIDTH, HEIGHT), Image.Resampling.LANCZOS)
        small.quantize(48, dither=Image.Dither.NONE).save(path, optimize=True)
        size = path.stat().st_size
        if size > LARGEST:
            raise SystemExit(f"{path}: {size} bytes, at most {LARGEST}")


HALO = 0.0085


def curve(points: Sequence[Point], parts: int = 10) -> list[Point]:
    """Return a smooth line through `points` (Catmull-Rom)."""
    padded = [points[0], *points, points[-1]]
    line: list[Point] = []
    for p, q, r, s in zip(padded, padded[1:], padded[2:], padded[3:], strict=False):
        for step in range(parts):
            t = step / parts
            line.append(
                tuple(  # type: ignore[arg-type]
                    0.5
                    * (
                        2 * q[i]
                        + (r[i] - p[i]) * t
                        + (2 * p[i] - 5 * q[i] + 4 * r[i] - s[i]) * t**2
                        + (3 * q[i] - p[i] - 3 * r[i] + s[i]) * t**3
                    )
                    for i in (0, 1)
                )
            )
    return [*line, points[-1]]


def spread(values: Sequence[float], count: int) -> list[float]:
    """Return `count` values that run evenly through `values`."""
    out = []
    for index in range(count):
        place = index * (len(values) - 1) / (count - 1)
        low = min(int(place), len(values) - 2)
        out.append(values[low] + (values[low + 1] - values[low]) * (place - low))
    return out


def between(a: Point, b: Point, share: float) -> Point:
    return a[0] + (b[0] - a[0]) * share, a[1] + (b[1] - a[1]) * share


def leg(sheet: Sheet, pose: Pose, side: int) -> None:
    """Draw one leg (side 0 near, 1 far): shorts to above the knee, calf, shoe."""
    ankle = pose.ankles[side]
    knee = joint(pose.hip, ankle, THIGH, SHANK, pose.knees[side])
    ankle = along(knee, math.degrees(math.atan2(ankle[0] - knee[0], ankle[1] - knee[1])), SHANK)
    skin, cloth = ((SKIN, pose.tint), (SKIN_FAR, SHADE))[side]
    calf = between(knee, ankle, 0.3)
    bones = [pose.hip, between(pose.hip, knee, 0.5), knee, calf, ankle]
    radii = [0.072, 0.062, 0.044, 0.045, 0.025]
    line = [pose.hip, knee, calf, ankle]
    fat = [0.072, 0.046, 0.046, 0.026]
    if side == 0:
        sheet.sweep(bones[1:], radii[1:], PAPER, grow=HALO)
    sheet.sweep(line, fat, skin)
    hem = between(pose.hip, knee, 0.72)
    sheet.sweep([pose.hip, between(pose.hip, knee, 0.4), hem], [0.073, 0.068, 0.058], cloth)
    shoe(sheet, ankle, pose.soles[side], INK if side == 0 else SHADE)


def shoe(sheet: Sheet, ankle: Point, pitch: float, colour: Colour) -> None:
    """Draw a shoe under `ankle`, turned by `pitch` degrees with the heel up."""
    turn = math.radians(pitch)

    def put(x: float, y: float) -> Point:
        return ankle[0] + x * math.cos(turn) + y * math.sin(turn), ankle[1] - x * math.sin(turn) + y * math.cos(turn)

    upper = [
        put(-0.030, 0.012),
        put(-0.036, -0.030),
        put(0.030, -0.030),
        put(0.098, -0.030),
        put(0.100, -0.018),
        put(0.070, -0.004),
        put(0.030, 0.012),
    ]
    sheet.shape(upper, colour)
    sheet.sweep([put(-0.028, -0.026), put(0.096, -0.026)], [0.011, 0.011], colour)
    sheet.sweep([put(0.0, 0.0), put(0.04, -0.012), put(0.09, -0.022)], [0.027, 0.022, 0.015], colour)


def arm(sheet: Sheet, pose: Pose, side: int, *, halo: bool = True) -> None:
    """Draw one arm (side 0 near, 1 far): short sleeve, forearm, fist."""
    shoulder = shoulder_of(pose)
    hand = pose.hands[side]
    elbow = joint(shoulder, hand, UPPER_ARM, FOREARM + 0.02, pose.elbows[side])
    wrist = between(elbow, hand, 0.86)
    skin, cloth = ((SKIN, CLOTH), (SKIN_FAR, CLOTH_FAR))[side]
    line = [shoulder, elbow, between(elbow, wrist, 0.3), wrist]
    fat = [0.044, 0.030, 0.031, 0.019]
    if halo:
        sheet.sweep([shoulder, elbow, wrist, hand], [0.044, 0.031, 0.02, 0.024], PAPER, grow=HALO)
    sheet.sweep(line, fat, skin)
    sheet.sweep([between(elbow, hand, 0.84), hand], [0.019, 0.026], skin)
    sheet.sweep([shoulder, between(shoulder, elbow, 0.62)], [0.047, 0.040], cloth)


def spine(pose: Pose) -> tuple[Point, Point]:
    """Return waist and neck base."""
    waist = along(pose.hip, pose.lean, TRUNK * 0.45)
    return waist, along(waist, pose.chest, TRUNK * 0.62)


def shoulder_of(pose: Pose) -> Point:
    waist, _ = spine(pose)
    return along(waist, pose.chest, TRUNK * 0.47)


def trunk(sheet: Sheet, pose: Pose) -> None:
    """Draw pelvis and ribcage in one smooth shape."""
    waist, neck = spine(pose)
    ribs = between(waist, neck, 0.45)
    line = curve([pose.hip, waist, ribs, between(waist, neck, 0.72)])
    sheet.sweep(line, spread([0.076, 0.070, 0.071, 0.079, 0.074, 0.060], len(line)), CLOTH)
    top = between(waist, neck, 0.7)
    sheet.sweep([top, neck], [0.058, 0.030], CLOTH)
    sheet.sweep([pose.hip, between(pose.hip, waist, 0.28)], [0.077, 0.072], pose.tint)


def head(sheet: Sheet, pose: Pose) -> None:
    """Draw neck, head, hair, ear; the face is left blank."""
    _, neck = spine(pose)
    base = along(neck, pose.gaze, 0.045)
    centre = along(base, pose.gaze + 8, 0.062)
    turn = math.radians(pose.gaze)

    def put(x: float, y: float) -> Point:
        return centre[0] + x * math.cos(turn) + y * math.sin(turn), centre[1] - x * math.sin(turn) + y * math.cos(turn)

    sheet.sweep([along(neck, pose.gaze + 180, 0.01), base], [0.032, 0.029], SKIN)
    sheet.sweep([put(0.0, 0.022), put(0.004, -0.012), put(0.022, -0.044)], [0.058, 0.052, 0.026], SKIN)
    sheet.shape([put(0.054, 0.010), put(0.073, -0.016), put(0.052, -0.020)], SKIN)  # nose
    grey = pose.hair == "grey"
    tone = SHADE if grey else INK
    sheet.sweep([put(-0.012, 0.030), put(0.018, 0.048)], [0.058, 0.040], tone)
    sheet.sweep([put(-0.030, 0.018), put(-0.042, -0.022)], [0.040, 0.022], tone)
    if pose.hair == "bun":
        sheet.disc(put(-0.078, 0.052), 0.030, tone)
    if grey:
        sheet.sweep([put(-0.040, 0.0), put(-0.040, -0.040)], [0.034, 0.026], tone)
    sheet.disc(put(-0.006, -0.010), 0.013, SKIN_FAR)


def figure(
    sheet: Sheet, pose: Pose, *, held: Callable[[], None] | None = None, behind: Callable[[], None] | None = None
) -> None:
    """Draw the whole figure, far side first; `behind` lies in the far hand, `held` in front of the trunk."""
    leg(sheet, pose, 1)
    arm(sheet, pose, 1, halo=False)
    if behind:
        behind()
    trunk(sheet, pose)
    head(sheet, pose)
    leg(sheet, pose, 0)
    if held:
        held()
    arm(sheet, pose, 0)


def kettlebell(sheet: Sheet, grip: Point, angle: float = 180, *, colour: Colour = INK, size: float = 1.0) -> None:
    """Draw a kettlebell that hangs from `grip` in the direction `angle` (180 hangs straight down)."""
    body = along(grip, angle, 0.095 * size)
    left, right = along(grip, angle - 90, 0.042 * size), along(grip, angle + 90, 0.042 * size)
    low_left, low_right = along(body, angle - 125, 0.052 * size), along(body, angle + 125, 0.052 * size)
    ring = curve([low_left, left, along(grip, angle + 180, 0.016 * size), right, low_right])
    sheet.disc(body, 0.066 * size + HALO, PAPER)
    sheet.stroke(ring, 0.020 * size, colour)
    sheet.disc(body, 0.066 * size, colour)
    foot = along(body, angle, 0.056 * size)
    sheet.sweep([along(foot, angle - 90, 0.028 * size), along(foot, angle + 90, 0.028 * size)], [0.012, 0.012], colour)


def room(sheet: Sheet, *, wall: bool = True) -> None:
    """Draw the floor line and a wall tone."""
    floor = sheet.floor * OVERSAMPLE
    if wall:
        sheet.draw.rectangle((0, 0, WIDTH * OVERSAMPLE, floor), fill=WALL)
    sheet.draw.rectangle((0, floor, WIDTH * OVERSAMPLE, floor + 2 * OVERSAMPLE), fill=LINE)


def mat(sheet: Sheet, left: float, right: float) -> None:
    sheet.stroke([(left, -0.012), (right, -0.012)], 0.020, CLOTH_FAR)


def chair(sheet: Sheet, front: float, *, seat: float = 0.265, back: bool = True, facing: int = 1) -> None:
    """Draw a plain chair whose seat's front edge is at x = `front`; it faces right (1) or left (-1)."""
    rear = front - facing * 0.27
    for x, lean in ((front - facing * 0.03, 0.012), (rear + facing * 0.02, -0.018)):
        sheet.stroke([(x, seat), (x + facing * lean, 0.012)], 0.022, WOOD)
    if back:
        sheet.stroke([(rear + facing * 0.012, seat), (rear - facing * 0.03, seat + 0.30)], 0.024, WOOD)
        for height in (0.17, 0.25):
            x = rear + facing * (0.012 - 0.042 * height / 0.30)
            sheet.stroke([(x, seat + height - 0.02), (x - facing * 0.004, seat + height + 0.03)], 0.034, WOOD)
    sheet.stroke([(rear, seat), (front, seat)], 0.030, WOOD)


def goblet_squat() -> Sheet:
    sheet = Sheet(scale=800, origin=610, floor=640)
    room(sheet, wall=False)
    mat(sheet, -0.42, 0.48)
    pose = Pose(
        hip=(-0.155, 0.225),
        lean=26,
        chest=16,
        gaze=4,
        ankles=((0.02, 0.041), (0.065, 0.041)),
        hands=((0.205, 0.475), (0.215, 0.475)),
    )
    figure(sheet, pose, held=lambda: kettlebell(sheet, (0.195, 0.497), 176))
    return sheet


def one_arm_row() -> Sheet:
    sheet = Sheet(scale=760, origin=620, floor=640)
    room(sheet, wall=False)
    mat(sheet, -0.55, 0.60)
    pose = Pose(
        hip=(-0.05, 0.42),
        lean=64,
        chest=62,
        gaze=52,
        ankles=((-0.31, 0.041), (0.19, 0.041)),
        hands=((0.030, 0.422), (0.158, 0.300)),
    )
    figure(sheet, pose, held=lambda: kettlebell(sheet, (0.030, 0.417), 180, size=0.88))
    return sheet


def kettlebell_swing() -> Sheet:
    sheet = Sheet(scale=590, origin=560, floor=640)
    room(sheet, wall=False)
    mat(sheet, -0.40, 0.62)
    pose = Pose(
        hip=(0.0, 0.515),
        lean=-2,
        chest=-3,
        gaze=2,
        ankles=((-0.03, 0.041), (0.03, 0.041)),
        hands=((0.335, 0.665), (0.340, 0.672)),
    )
    figure(sheet, pose, behind=lambda: kettlebell(sheet, (0.352, 0.668), 98))
    return sheet


def boathouse() -> Sheet:
    sheet = Sheet(scale=590, origin=560, floor=640)
    room(sheet)
    for x in (-0.66, 0.92):
        sheet.stroke([(x, 0.0), (x, 1.12)], 0.030, LINE)
    for height in (0.28, 0.66, 1.04):
        for x in (-0.66, 0.92):
            sheet.stroke([(x - 0.02, height), (x + 0.16, height)], 0.018, LINE)
        hull = [(-1.05 + i * 0.02, height + 0.034) for i in range(151)]
        sheet.sweep(hull, [0.038 * math.sin(math.pi * i / 150) ** 0.35 for i in range(151)], WOOD)
        sheet.stroke([(-0.98, height + 0.034), (1.88, height + 0.034)], 0.006, WALL)
    pose = Pose(
        hip=(0.02, 0.507),
        lean=3,
        chest=1,
        gaze=2,
        ankles=((0.165, 0.062), (-0.130, 0.085)),
        hands=((0.050, 0.42), (0.07, 0.42)),
        soles=(-14, 34),
        elbows=(1, 1),
    )
    figure(sheet, pose, behind=lambda: kettlebell(sheet, (0.075, 0.415), 180, colour=SHADE))
    kettlebell(sheet, (0.052, 0.410), 180)
    sheet.disc((0.050, 0.418), 0.026, SKIN)
    return sheet


def school_hall() -> Sheet:
    sheet = Sheet(scale=640, origin=620, floor=640)
    room(sheet)
    for x in (-0.95, -0.50, -0.05, 0.40, 0.85):
        sheet.shape([(x, 0.40), (x + 0.30, 0.40), (x + 0.30, 1.30), (x, 1.30)], PAPER)
        for y in (0.70, 1.0):
            sheet.stroke([(x, y), (x + 0.30, y)], 0.008, WALL)
        sheet.stroke([(x + 0.15, 0.40), (x + 0.15, 1.30)], 0.008, WALL)
    mat(sheet, -0.60, 0.60)
    pose = Pose(
        hip=(0.0, 0.315),
        lean=5,
        chest=3,
        gaze=3,
        ankles=((0.235, 0.041), (-0.300, 0.098)),
        soles=(0, 62),
        hands=((-0.075, 0.435), (0.215, 0.525)),
        hair="short",
    )
    figure(sheet, pose)
    return sheet


def mountain_climber() -> Sheet:
    sheet = Sheet(scale=820, origin=720, floor=620)
    room(sheet, wall=False)
    mat(sheet, -0.75, 0.62)
    pose = Pose(
        hip=(-0.10, 0.375),
        lean=78,
        chest=80,
        gaze=72,
        ankles=((0.02, 0.145), (-0.530, 0.098)),
        soles=(55, 72),
        hands=((0.262, 0.030), (0.290, 0.030)),
        elbows=(-1, -1),
        hair="short",
    )
    figure(sheet, pose)
    return sheet


def community_room() -> Sheet:
    sheet = Sheet(scale=660, origin=520, floor=640)
    room(sheet)
    sheet.shape([(0.42, 0.42), (1.0, 0.42), (1.0, 1.0), (0.42, 1.0)], PAPER)
    sheet.stroke([(0.71, 0.42), (0.71, 1.0)], 0.010, WALL)
    sheet.stroke([(0.42, 0.72), (1.0, 0.72)], 0.010, WALL)
    sheet.stroke([(0.39, 0.41), (1.03, 0.41)], 0.022, WOOD)
    chair(sheet, 0.12)
    pose = Pose(
        hip=(-0.04, 0.352),
        lean=-1,
        chest=6,
        gaze=8,
        ankles=((0.225, 0.041), (0.195, 0.041)),
        hands=((0.050, 0.310), (0.140, 0.890)),
        elbows=(1, -1),
        hair="grey",
    )
    figure(sheet, pose)
    return sheet


def sit_to_stand() -> Sheet:
    sheet = Sheet(scale=720, origin=580, floor=640)
    room(sheet, wall=False)
    chair(sheet, 0.0)
    pose = Pose(
        hip=(-0.10, 0.400),
        lean=44,
        chest=40,
        gaze=22,
        ankles=((0.035, 0.041), (0.075, 0.041)),
        hands=((0.420, 0.560), (0.440, 0.570)),
        elbows=(1, 1),
        hair="grey",
    )
    figure(sheet, pose)
    return sheet


PICTURES: dict[str, Callable[[], Sheet]] = {
    "boathouse-kettlebells/boathouse": boathouse,
    "boathouse-kettlebells/goblet-squat": goblet_squat,
    "boathouse-kettlebells/one-arm-row": one_arm_row,
    "boathouse-kettlebells/kettlebell-swing": kettlebell_swing,
    "school-hall-circuit/school-hall": school_hall,
    "school-hall-circuit/mountain-climber": mountain_climber,
    "chair-session/community-room": community_room,
    "chair-session/sit-to-stand": sit_to_stand,
}


def main(names: Sequence[str]) -> None:
    """Draw the named pictures, or all."""
    for name in names or PICTURES:
        folder, stem = name.split("/")
        PICTURES[name]().save(Path(__file__).parent / folder / "pictures" / f"{stem}.png")


if __name__ == "__main__":
    main(sys.argv[1:])
