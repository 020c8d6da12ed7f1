"""The body's outlines, front and back, drawn for this project, and which muscle shows where.

A figure is 7½ heads tall, a head 40 units; x runs outwards from the middle of the body, and the other side is its
mirror image.
"""

from __future__ import annotations

from repslate.model import library

Point = tuple[float, float]
Shapes = dict[str, tuple[tuple[Point, ...], ...]]

# Half of the outline, from the crown to the crotch. A point that stands twice is a corner; all else is smooth.
OUTLINE: tuple[Point, ...] = (
    (0, 0), (5.6, 0.9), (10.6, 4.6), (13.4, 11), (13.6, 19), (12.2, 26.4), (9.6, 33), (8.6, 37), (8.6, 43),
    (10.6, 48.6),
    (17.6, 53), (28, 56.4), (37, 59.6), (43.2, 65.4), (46.2, 74), (47.4, 86), (49.4, 99), (51.2, 110), (54.6, 119),
    (57, 130), (58.2, 143), (59, 152), (61.4, 158), (63, 166), (63, 174), (61, 181), (58.4, 183), (56.4, 179.6),
    (56, 172), (55, 168), (53.8, 171.4), (52.2, 171.6), (51.2, 167), (51.2, 160), (51.8, 153), (49.8, 144.6),
    (45.8, 134), (42.6, 124), (41, 113), (38, 99), (34.6, 84), (34.6, 84), (33, 94), (29.8, 106), (27.8, 117),
    (27.8, 127), (30, 138), (32.8, 150), (34, 165), (33, 184), (30, 202), (27.4, 215), (27, 224), (28.6, 237),
    (27.6, 252), (24.2, 268), (21.8, 281), (22.6, 288), (25.8, 294.5), (25.8, 298.4), (20, 299.6), (14.8, 298.6),
    (13.4, 292), (14.6, 284), (14.4, 274), (12.4, 260), (10.6, 246), (11, 234), (12.4, 224), (12.2, 214), (9.8, 200),
    (6, 182), (2.4, 165), (0, 157),
)  # fmt: skip

CHIN: tuple[Point, ...] = ((9.2, 33.6), (6.2, 38), (2.4, 40.4), (0, 40.8))

# Region: its outlines on one half of the body.
FRONT: Shapes = {
    "neck": (((1, 42.6), (6.4, 40), (7, 45.6), (4.8, 51), (1, 54)),),
    "upper traps": (((8.4, 48.6), (17, 54.4), (27, 57.8), (20, 59.2), (10, 57.4), (6.6, 54)),),
    "front shoulder": (((28, 60), (34, 60.4), (37.6, 69), (39.8, 80), (40.4, 89), (36.6, 82.6), (31.6, 73)),),
    "side shoulder": (((36.4, 60.8), (41.6, 65.6), (44.8, 74), (46, 86), (42.8, 93.6), (41.6, 81), (39.4, 69.6)),),
    "chest": (
        (
            (1, 62.6), (1, 62.6), (10, 60), (24.6, 60.6), (29.6, 69), (34.2, 78.6), (33.4, 84), (27.6, 89.8),
            (17, 91), (7, 88.6), (1, 85), (1, 85),
        ),
    ),
    "ribs": (((32.6, 87.6), (31.2, 96.4), (28.6, 105), (24.6, 98.6), (25.4, 92.6)),),
    "abdomen": (
        ((1, 87.6), (1, 87.6), (8, 91), (12.8, 93), (13, 102), (1, 103), (1, 103)),
        ((1, 104.6), (1, 104.6), (13, 103.6), (13.2, 110), (12.8, 116), (1, 117), (1, 117)),
        ((1, 118.6), (1, 118.6), (12.6, 117.6), (11.8, 130), (8.4, 142), (1, 150), (1, 150)),
    ),
    "side of the abdomen": (
        (
            (14.8, 93.4), (22.6, 94), (24, 101), (28, 108), (26.2, 117), (26.4, 127), (28.4, 136.4), (19, 136.4),
            (13.4, 130.6), (14.8, 114),
        ),
    ),
    "front of the hip": (((11.4, 138), (18, 138.8), (26.6, 139.6), (21, 149), (12, 154.6), (4, 153)),),
    "outer hip": (((28.8, 140.4), (31.4, 150), (32.6, 163), (31.8, 174), (28.6, 160), (25.4, 148.4)),),
    "front of the thigh": (
        (
            (23.4, 149), (27.6, 161), (31.2, 177), (30.6, 190), (28, 204), (25, 213.4), (22, 211), (20.6, 196),
            (20.4, 172), (21.4, 156),
        ),
        ((20, 156), (18.8, 172), (19, 190), (20, 208), (17, 214.4), (13.2, 211), (12.4, 200), (13.4, 184), (16, 166)),
    ),
    "inner thigh": (((3.2, 158.6), (9, 158.4), (17, 154.6), (13.8, 170), (11.4, 194), (8.2, 184), (4.8, 168)),),
    "shin": (((20.4, 225), (24.2, 229), (25, 242), (22.8, 258), (19.4, 275), (19, 258), (19.2, 242)),),
    "outer lower leg": (((26, 230), (27.4, 240), (25.8, 254), (21.6, 273), (24.2, 255), (26, 242)),),
    "calf": (((13.6, 229), (17.4, 231), (17.8, 246), (17.4, 262), (16.2, 272), (14, 260), (12, 246), (12.2, 236)),),
    "front of the upper arm": (
        (
            (37.4, 87.6), (41, 91.6), (43.4, 95.4), (46.8, 94), (48.4, 101), (49, 109), (45.4, 112.6),
            (42.4, 110), (39.6, 101),
        ),
    ),
    "top of the forearm": (((50, 112.4), (53.4, 120.6), (55.6, 131), (57, 146), (53, 137), (49.6, 124), (48.6, 116)),),
    "inner forearm": (
        (
            (42.4, 113.4), (46.8, 115.6), (48.2, 125), (51.8, 137.6), (55.8, 149), (52.4, 148), (47.2, 134.6),
            (43.8, 123),
        ),
    ),
}  # fmt: skip
BACK: Shapes = {
    "upper traps": (
        (
            (1, 37.6), (1, 37.6), (7, 39), (7.6, 45), (16, 54.4), (27.6, 58), (20, 61),
            (1, 62.4), (1, 62.4),
        ),
    ),
    "upper back": (((1, 64), (1, 64), (20, 62.6), (22, 65.4), (17.6, 73), (13, 82), (1, 85), (1, 85)),),
    "lower traps": (((1, 86.6), (1, 86.6), (11.8, 83.6), (7, 96), (1, 108), (1, 108)),),
    "rear shoulder": (((25.4, 61.2), (34, 60.4), (37.6, 69), (39.8, 80), (40.4, 89), (36, 80), (29.6, 70)),),
    "side shoulder": (((36.4, 60.8), (41.6, 65.6), (44.8, 74), (46, 86), (42.8, 93.6), (41.6, 81), (39.4, 69.6)),),
    "shoulder blade": (((24, 66.4), (30, 73), (35, 80.4), (33, 84), (23, 83.8), (14.8, 82), (19, 73)),),
    "lats": (
        (
            (12.8, 84.4), (22, 85.6), (33, 86.2), (31.8, 95.6), (28.6, 107), (21, 115), (12, 120),
            (7.6, 109), (8.8, 96),
        ),
    ),
    "lower back": (((1, 110), (1, 110), (6.2, 109.6), (10.8, 121), (11.4, 132), (7, 138), (1, 142.4), (1, 142.4)),),
    "side of the abdomen": (
        ((12.8, 121.6), (20.6, 117), (27.4, 110.4), (26.2, 118), (26.2, 126.6), (20, 130), (13.2, 132.6)),
    ),
    "side of the hip": (((13, 135), (26.6, 129.4), (29, 139), (31.8, 150), (32.2, 157), (25, 147), (15.6, 140.6)),),
    "glutes": (
        (
            (1, 145.6), (1, 145.6), (8.4, 140), (17, 143), (26, 150.4), (32, 160), (32.2, 167.6), (25, 173.6),
            (13, 173.6), (4.4, 168), (1, 159), (1, 159),
        ),
    ),
    "hamstrings": (
        ((20.4, 175.6), (27, 174.8), (32.2, 171), (31.6, 184), (28.6, 202), (26, 215), (22.6, 206), (20.2, 192)),
        ((8.6, 174.6), (18.8, 175.6), (18.8, 192), (17.2, 206), (13.8, 215), (11.4, 200), (8.4, 186)),
    ),
    "inner thigh": (((4.2, 170), (7.2, 173.4), (7.2, 182), (5.8, 177.6)),),
    "calf": (
        ((12.6, 229), (18.4, 226), (19, 240), (17.8, 252), (14.4, 256.6), (11.8, 248), (11.8, 237)),
        ((20.4, 226), (26.2, 229), (27.4, 239), (26.2, 251), (23, 255), (20.4, 250), (20.4, 238)),
        ((15, 259), (19.4, 253.6), (25.2, 257), (22.6, 268), (20, 282), (16.6, 282), (16, 270)),
    ),
    "back of the upper arm": (
        (
            (36.4, 86), (40.6, 91.2), (43.2, 95.4), (46.8, 94), (48.5, 101), (49.2, 108), (46.4, 112),
            (43, 110), (39.6, 101),
        ),
    ),
    "outer forearm": (
        ((42.6, 113.6), (49.6, 112.6), (53.8, 121), (56, 132), (57.2, 148), (52.8, 147), (47.2, 134), (43.8, 123)),
    ),
}  # fmt: skip

# Region: the muscles it shows, those under the skin and those that lie deep beneath it. Parts go with their whole.
SHOWN: dict[str, tuple[str, ...]] = {
    "neck": ("deep neck flexors",),
    "upper traps": ("trapezius", "upper trapezius", "levator scapulae"),
    "upper back": ("trapezius", "middle trapezius", "rhomboids"),
    "lower traps": ("trapezius", "lower trapezius"),
    "shoulder blade": ("rotator cuff", "teres major"),
    "lats": ("latissimus dorsi",),
    "lower back": ("erector spinae", "multifidus", "quadratus lumborum"),
    "chest": ("pectoralis major", "pectoralis minor"),
    "ribs": ("serratus anterior",),
    "abdomen": ("rectus abdominis", "transversus abdominis"),
    "side of the abdomen": ("obliques", "transversus abdominis"),
    "front shoulder": ("deltoid", "anterior deltoid"),
    "side shoulder": ("deltoid", "lateral deltoid"),
    "rear shoulder": ("deltoid", "posterior deltoid"),
    "front of the upper arm": ("biceps brachii", "brachialis", "coracobrachialis"),
    "back of the upper arm": ("triceps brachii",),
    "top of the forearm": ("brachioradialis",),
    "inner forearm": ("forearm flexors",),
    "outer forearm": ("forearm extensors", "anconeus"),
    "front of the hip": ("iliopsoas",),
    "outer hip": ("tensor fasciae latae",),
    "side of the hip": ("gluteus medius", "gluteus minimus"),
    "glutes": ("gluteus maximus", "piriformis"),
    "front of the thigh": ("quadriceps femoris", "sartorius"),
    "inner thigh": ("adductors",),
    "hamstrings": ("hamstrings",),
    "shin": ("tibialis anterior",),
    "calf": ("triceps surae",),
    "outer lower leg": ("fibularis",),
}
UNSEEN = {
    "diaphragm": "it lies inside the chest, under no muscle that a workout would show",
    "pelvic floor": "it closes the pelvis from below, which neither view shows",
}


def smooth(points: tuple[Point, ...], *, closed: bool) -> str:
    """Return an SVG path through `points`: a Catmull–Rom spline as Bézier curves, which needs no handles to be kept."""
    count = len(points)
    steps = []
    for index in range(count if closed else count - 1):
        before, start, end, after = (
            points[at % count] if closed else points[min(max(at, 0), count - 1)] for at in range(index - 1, index + 3)
        )
        if start != end:
            first = tuple(s + (e - b) / 6 for b, s, e in zip(before, start, end, strict=True))
            second = tuple(e - (a - s) / 6 for s, e, a in zip(start, end, after, strict=True))
            steps.append("C" + " ".join(f"{x:.1f} {y:.1f}" for x, y in (first, second, end)))
    return f"M{points[0][0]:.1f} {points[0][1]:.1f}" + "".join(steps) + ("Z" if closed else "")


def mirrored(points: tuple[Point, ...]) -> tuple[Point, ...]:
    """Return the same outline on the other half of the body."""
    return tuple((-x, y) for x, y in points)


def regions(muscle: str) -> tuple[str, ...]:
    """Return the regions that show a muscle of the library; () where none does. KeyError for any other name."""
    counted = library.load().muscles[muscle].counts_as
    return tuple(region for region, muscles in SHOWN.items() if muscle in muscles or counted in muscles)
