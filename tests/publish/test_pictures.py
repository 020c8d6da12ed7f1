"""Every picture people have: what is accepted is published upright, in sRGB, as the web has it; the rest is told."""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Callable, Iterator
from io import BytesIO
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image, ImageCms

from repslate import api
from repslate.model.stills import FORMATS, LARGEST, WIDEST, Trouble, open_picture

DATA = Path(__file__).parents[1] / "data" / "pictures"
RED, BLUE = (200, 40, 40), (40, 60, 200)
EPISODE = """---
format: 1
title: Pictures
slug: pictures
presenter: Robin
goal: strength
level: intermediate
sponsor: none
length: "5:00"
picture: {0}
picture description: Two colours.
---
Short. Come warmed up.

## Straight sets

### Goblet squat
3 × 8–10 @ 24 kg, rest 90 s

Caution (knees): Stop where it hurts.

{1}

## Safety
Clear the floor.
"""


def halves(mode: str = "RGB", size: tuple[int, int] = (96, 64)) -> Image.Image:
    """Draw a picture whose left half is red and whose right half is blue."""
    image = Image.new("RGB", size, RED)
    image.paste(BLUE, (size[0] // 2, 0, *size))
    return image.convert(mode)


def saved(image: Image.Image, kind: str, **options: object) -> bytes:
    out = BytesIO()
    image.save(out, kind, **options)
    return out.getvalue()


def see_through() -> Image.Image:
    image = halves("RGBA")
    image.putalpha(Image.linear_gradient("L").resize(image.size))
    return image


def turned() -> Image.Exif:
    exif = Image.Exif()
    exif[0x0112] = 6  # the camera was held upright
    return exif


def deep(value: int) -> Image.Image:
    return Image.frombytes("I;16", (8, 8), value.to_bytes(2, "little") * 64)


# What people have, as which kind and mode it is published, and the colour of its upper left corner.
HAD: dict[str, tuple[Callable[[], bytes], str, str, tuple[int, ...] | int]] = {
    "jpeg": (lambda: saved(halves(), "JPEG"), "JPEG", "RGB", RED),
    "two pictures in one jpeg": (
        lambda: saved(halves(), "MPO", save_all=True, append_images=[halves().rotate(180)]), "JPEG", "RGB", RED,
    ),
    "jpeg for print": (lambda: saved(halves("CMYK"), "JPEG"), "JPEG", "RGB", RED),
    "grey jpeg": (lambda: saved(Image.new("L", (9, 9), 77), "JPEG"), "JPEG", "L", 77),
    "heic": ((DATA / "phone.heic").read_bytes, "JPEG", "RGB", RED),
    "avif": (lambda: saved(halves(), "AVIF"), "JPEG", "RGB", RED),
    "avif to see through": (lambda: saved(see_through(), "AVIF"), "WEBP", "RGBA", RED),
    "webp": (lambda: saved(halves(), "WEBP"), "WEBP", "RGB", RED),
    "moving webp": (
        lambda: saved(halves(), "WEBP", save_all=True, append_images=[halves().rotate(180)]), "WEBP", "RGB", RED,
    ),
    "png": (lambda: saved(halves(), "PNG"), "PNG", "RGB", RED),
    "moving png": (
        lambda: saved(halves(), "PNG", save_all=True, append_images=[halves().rotate(180)]), "PNG", "RGB", RED,
    ),
    "png of 16 bits": (lambda: saved(deep(0xC0C0), "PNG"), "PNG", "L", 0xC0),
    "png of one bit": (lambda: saved(Image.new("1", (8, 8), 1), "PNG"), "PNG", "L", 255),
    "palette": (lambda: saved(halves().quantize(4), "PNG"), "PNG", "P", RED),
    "palette to see through": (
        lambda: saved(halves().quantize(4), "PNG", transparency=halves().quantize(4).getpixel((0, 0))),
        "PNG", "RGBA", (*RED, 0),
    ),
    "one colour to see through": (lambda: saved(halves(), "PNG", transparency=RED), "PNG", "RGBA", (*RED, 0)),
    "needless transparency": (lambda: saved(halves("RGBA"), "PNG"), "PNG", "RGB", RED),
    "moving gif": (
        lambda: saved(halves().quantize(4), "GIF", save_all=True, append_images=[halves().rotate(180)]),
        "PNG", "P", RED,
    ),
    "tiff of 16 bits": (lambda: saved(deep(0xC0C0), "TIFF"), "JPEG", "L", 0xC0),
    "tiff for print": (lambda: saved(halves("CMYK"), "TIFF"), "JPEG", "RGB", RED),
    "bmp": (lambda: saved(halves(), "BMP"), "PNG", "RGB", RED),
    "no true profile": (lambda: saved(halves(), "JPEG", icc_profile=b"x" * 300), "JPEG", "RGB", RED),
    "jpeg larger than a page": (lambda: saved(halves(size=(3000, 2000)), "JPEG"), "JPEG", "RGB", RED),
}  # fmt: skip


@pytest.mark.parametrize("name", HAD)
def test_what_people_have_is_shown_as_the_web_shows_it(tmp_path: Path, name: str) -> None:
    make, kind, mode, corner = HAD[name]
    (tmp_path / "a.jpg").write_bytes(make())
    opened = open_picture(tmp_path, "a.jpg")
    assert not isinstance(opened, Trouble)
    image, found = opened
    pixel = (image.convert("RGB") if image.mode == "P" else image).getpixel((1, 1))
    near = zip(*((one if isinstance(one, tuple) else (one,)) for one in (pixel, corner)), strict=False)
    assert (found, image.mode) == (kind, mode)
    assert all(abs(one - other) < 12 for one, other in near)
    assert max(image.size) <= WIDEST
    assert not image.info
    assert Image.open(BytesIO(saved(image, found, quality=82))).size == image.size


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "AVIF", "TIFF"])
def test_picture_stands_upright(tmp_path: Path, kind: str) -> None:
    (tmp_path / "a").write_bytes(saved(halves(), kind, exif=turned()))
    opened = open_picture(tmp_path, "a")
    assert not isinstance(opened, Trouble)
    image = opened[0].convert("RGB")
    assert image.size == (64, 96)
    top, bottom = image.getpixel((32, 4)), image.getpixel((32, 91))
    assert isinstance(top, tuple)
    assert isinstance(bottom, tuple)
    assert top[0] > top[2]
    assert bottom[2] > bottom[0]


def test_colours_of_another_profile_are_those_of_the_screen(tmp_path: Path) -> None:
    lab = ImageCms.ImageCmsProfile(ImageCms.createProfile("LAB"))
    there = ImageCms.profileToProfile(halves(), ImageCms.createProfile("sRGB"), lab, outputMode="LAB")
    assert there is not None
    (tmp_path / "a.tif").write_bytes(saved(there, "TIFF", icc_profile=lab.tobytes()))
    opened = open_picture(tmp_path, "a.tif")
    assert not isinstance(opened, Trouble)
    pixel = opened[0].getpixel((1, 1))
    assert isinstance(pixel, tuple)
    assert all(abs(one - other) < 12 for one, other in zip(pixel, RED, strict=True))


@pytest.fixture
def open_folder() -> Iterator[Path]:
    """Give a folder that another user may look into."""
    with tempfile.TemporaryDirectory() as name:
        Path(name).chmod(0o755)
        yield Path(name)


def test_what_is_no_picture_is_told(open_folder: Path) -> None:
    whole = saved(halves(), "JPEG")
    larger = Image.new("1", (8000, LARGEST["WEBP"] * 2 // 8000 + 1))
    (open_folder / "empty.jpg").touch()
    (open_folder / "words.jpg").write_text("these are words")
    (open_folder / "half.jpg").write_bytes(whole[: len(whole) // 2])
    (open_folder / "folder.jpg").mkdir()
    (open_folder / "large.png").write_bytes(saved(larger, "PNG"))
    (open_folder / "locked.jpg").write_bytes(whole)
    (open_folder / "locked.jpg").chmod(0)
    os.mkfifo(open_folder / "pipe.jpg")
    with (open_folder / "heavy.jpg").open("wb") as file:
        file.truncate(1 << 40)
    user = os.geteuid()
    if user == 0:
        os.seteuid(65534)  # nothing is locked to the administrator
    try:
        found = {path.name: open_picture(open_folder, path.name) for path in open_folder.iterdir()}
    finally:
        os.seteuid(user)
    assert found == {
        "empty.jpg": Trouble.EMPTY,
        "words.jpg": Trouble.UNREADABLE,
        "half.jpg": Trouble.UNREADABLE,
        "folder.jpg": Trouble.NO_FILE,
        "pipe.jpg": Trouble.NO_FILE,
        "locked.jpg": Trouble.LOCKED,
        "large.png": Trouble.TOO_LARGE,
        "heavy.jpg": Trouble.TOO_HEAVY,
    }


@given(st.sampled_from(sorted(HAD)).map(lambda name: HAD[name][0]()), st.data())
def test_damaged_picture_is_told_or_shown(whole: bytes, data: st.DataObject) -> None:
    damaged = bytearray(whole)
    for at in data.draw(st.lists(st.integers(0, len(whole) - 1), min_size=1, max_size=8)):
        damaged[at] = data.draw(st.integers(0, 255))
    with tempfile.TemporaryDirectory() as name:
        (Path(name) / "a.jpg").write_bytes(damaged[: data.draw(st.integers(0, len(damaged)))])
        opened = open_picture(Path(name), "a.jpg")
    if not isinstance(opened, Trouble):
        image, kind = opened
        assert kind in FORMATS
        assert image.mode in ("L", "P", "RGB", "RGBA")
        saved(image, kind)


def test_phones_pictures_are_built(tmp_path: Path) -> None:
    folder = tmp_path / "episode"
    shutil.copytree(DATA, folder / "pictures")
    more = {f"{name.replace(' ', '-')}.jpg": make() for name, (make, *_) in HAD.items()}
    for name, data in more.items():
        (folder / "pictures" / name).write_bytes(data)
    shown = "\n\n".join(f"![Two colours.](pictures/{name})" for name in more)
    (folder / "workout.md").write_text(EPISODE.format("pictures/phone.heic", shown), "utf-8")
    built = api.build(folder, tmp_path / "out")
    assert built.value is not None, built.findings
    assert Image.open(BytesIO((built.value.folder / "pictures.jpg").read_bytes())).format == "JPEG"
    assert (built.value.folder / "article.html").read_text("utf-8").count("<img") >= len(more)
