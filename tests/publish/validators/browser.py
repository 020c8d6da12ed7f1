"""The article in a real Chromium: axe-core's rules, what the page asks for, and how wide it is."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Literal

from axe_playwright_python.sync_playwright import Axe  # type: ignore[import-untyped]
from playwright.sync_api import Browser, sync_playwright

from publish.validators.modules import module, program

Scheme = Literal["light", "dark"]
ARGUMENTS = [
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
]
LOOK_AT_EVERY_PICTURE = """async () => {
    let blank = 0
    for (const picture of document.images) {
        picture.scrollIntoView()
        try { await picture.decode() } catch { blank += 1 }
    }
    window.scrollTo(0, document.documentElement.scrollHeight)
    return blank
}"""


@dataclass(frozen=True, slots=True)
class Visit:
    """What was seen of a page.

    `text` is what the page shows, as one would copy it; `violations` are axe's; `requests` the addresses asked for;
    `console` what the browser complained of; `blank_pictures` how many pictures did not show; the widths are in CSS
    pixels.
    """

    text: str
    violations: tuple[str, ...]
    requests: tuple[str, ...]
    console: tuple[str, ...]
    blank_pictures: int
    content_width: int
    view_width: int


@contextmanager
def chromium() -> Iterator[Browser]:
    """Start the machine's own Chromium."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=program("chromium"), args=ARGUMENTS)
        yield browser
        browser.close()


def visit(browser: Browser, page_file: Path, *, width: int, scheme: Scheme) -> Visit:
    """Open a page at `width` CSS pixels, scroll through its pictures to its end, and run all axe rules on it."""
    context = browser.new_context(viewport={"width": width, "height": 800}, color_scheme=scheme)
    requests: list[str] = []
    console: list[str] = []
    context.on("request", lambda request: requests.append(request.url))
    page = context.new_page()
    page.on("console", lambda message: console.append(message.text))
    page.on("pageerror", lambda error: console.append(str(error)))
    page.goto(page_file.as_uri(), wait_until="load")
    blank_pictures = page.evaluate(LOOK_AT_EVERY_PICTURE)
    content_width, view_width = page.evaluate(
        "[document.documentElement.scrollWidth, document.documentElement.clientWidth]"
    )
    text = page.inner_text("body")
    seen = tuple(console)  # before axe, which writes to the console itself
    answer = Axe.from_file(module("axe-core/axe.min.js")).run(page).response
    context.close()
    violations = tuple(
        f"{rule['id']}: {node['html'][:200]} ({' '.join(node.get('failureSummary', '').split())})"
        for rule in answer["violations"]
        for node in rule["nodes"]
    )
    return Visit(text, violations, tuple(requests), seen, blank_pictures, content_width, view_width)
