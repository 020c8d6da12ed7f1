"""Make README's pictures from the real outputs: python samples/photograph.py (needs Chromium and pdftoppm)."""

from __future__ import annotations

import shutil
import subprocess
import tempfile
from pathlib import Path

from PIL import Image
from playwright.sync_api import sync_playwright

from repslate.api import build

SAMPLES = Path(__file__).parent
EPISODE = SAMPLES / "boathouse-kettlebells"
PICTURES = SAMPLES / "pictures"
BROWSER = (
    "--headless --no-sandbox --disable-gpu --no-first-run --disable-background-networking "
    "--disable-component-update --disable-sync"
).split()


def photograph_article(page_file: Path) -> None:
    """Take the article's first screen on a phone, light and dark, and an exercise, side by side."""
    chromium = shutil.which("chromium")
    if chromium is None:
        raise SystemExit("Chromium is missing: sudo apt-get install chromium")
    shots: list[Path] = []
    with sync_playwright() as driver, tempfile.TemporaryDirectory() as folder:
        browser = driver.chromium.launch(executable_path=chromium, args=BROWSER)
        for scheme, place in (("light", "h1"), ("dark", "h1"), ("light", "#goblet-squat")):
            phone = browser.new_page(
                viewport={"width": 390, "height": 800},
                color_scheme="dark" if scheme == "dark" else "light",
                device_scale_factor=1.5,
            )
            phone.goto(page_file.as_uri())
            if place != "h1":
                phone.locator(place).evaluate("part => part.scrollIntoView({behavior: 'instant'})")
            shots.append(Path(folder) / f"{len(shots)}.png")
            phone.screenshot(path=shots[-1])
        browser.close()
        _side_by_side(shots, PICTURES / "article.png")


def photograph_card(card: Path) -> None:
    """Draw the card's first page."""
    subprocess.run(["pdftoppm", "-r", "90", "-png", "-singlefile", "-gray", card, PICTURES / "card"], check=True)
    Image.open(PICTURES / "card.png").convert("L").quantize(16).save(PICTURES / "card.png", optimize=True)


def _side_by_side(shots: list[Path], to: Path) -> None:
    images = [Image.open(shot).convert("RGB") for shot in shots]
    gap = 24
    sheet = Image.new("RGB", (sum(i.width for i in images) + gap * (len(images) - 1), images[0].height), "#8a8a86")
    left = 0
    for image in images:
        sheet.paste(image, (left, 0))
        left += image.width + gap
    sheet.quantize(96).save(to, optimize=True)


if __name__ == "__main__":
    PICTURES.mkdir(exist_ok=True)
    with tempfile.TemporaryDirectory() as out:
        built = build(EPISODE, Path(out))
        if built.value is None:
            raise SystemExit("the sample did not build; run: repslate check samples/boathouse-kettlebells")
        photograph_article(built.value.folder / "article.html")
        photograph_card(built.value.folder / "card-a4.pdf")
