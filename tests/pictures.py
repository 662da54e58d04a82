"""The pictures of the README, made anew from a built site: `PYTHONPATH=.:tests python tests/pictures.py SITE`."""

from __future__ import annotations

import sys
from pathlib import Path

from playwright.sync_api import Page, sync_playwright
from test_browser import served

from conftest import CARD, CHROMIUM, HOUSE, QUIET

OUT = HOUSE / ".pictures"


def card_on_a_phone(page: Page) -> None:
    """The top of a card, set to the reader's thread."""
    page.set_viewport_size({"width": 390, "height": 760})


def bench_side(page: Page) -> None:
    """The front of the printed sheet, as wide as the paper."""
    page.set_viewport_size({"width": 760, "height": 1060})
    page.emulate_media(media="print")


def drawing(page: Page) -> None:
    """The drawing of the finished joint alone, above the bar at the foot of the window."""
    page.set_viewport_size({"width": 640, "height": 1400})


def timeline(page: Page) -> None:
    """A job sheet's plan."""
    page.set_viewport_size({"width": 1000, "height": 700})


# Where each stands, how it is shown, and the part of the page that is taken; without one it is what the window shows.
PICTURES = {
    "card": (f"cards/{CARD}/?thread=M10", card_on_a_phone, ""),
    "bench": (f"cards/{CARD}/", bench_side, ".bw-bench"),
    "drawing": (f"cards/{CARD}/", drawing, "article svg.bw-figure >> nth=0"),
    "timeline": ("jobs/class-dinghy/", timeline, "svg.bw-timeline"),
}


def main(site: Path) -> None:
    """Make each picture light and dark."""
    OUT.mkdir(exist_ok=True)
    with sync_playwright() as driver, served(site) as address:
        chromium = driver.chromium.launch(executable_path=CHROMIUM, args=QUIET)
        for scheme in ("light", "dark"):
            for name, (path, show, part) in PICTURES.items():
                if (scheme, name) == ("dark", "bench"):
                    continue  # paper is white
                context = chromium.new_context(color_scheme=scheme, service_workers="block")  # type: ignore[arg-type]
                page = context.new_page()
                show(page)
                page.goto(f"{address}/{path}", wait_until="networkidle")
                file = OUT / f"{name}-{scheme}.jpg"
                whole = page.locator(part) if part else page
                whole.screenshot(path=file, type="jpeg", quality=45)
                print(file.name, file.stat().st_size)
                context.close()
        chromium.close()


if __name__ == "__main__":
    main(Path(sys.argv[1]))
