"""Ready HTML cut out of a page and put in again: the page is the same."""

from __future__ import annotations

import re
from collections.abc import Mapping
from html.parser import HTMLParser

import markdown
import pytest
import yaml

from conftest import CARD, HOUSE
from generator.pages.ready import cut, in_frame, put_in, tight


@pytest.fixture(scope="module")
def pages(files: Mapping[str, str]) -> dict[str, str]:
    return {path: text for path, text in files.items() if path.endswith(".md")}


def test_every_page_is_whole_again(pages: dict[str, str]) -> None:
    for path, page in pages.items():
        rest, pieces = cut(page)
        assert put_in(rest, pieces) == page, path


def test_little_is_left_to_be_read(pages: dict[str, str]) -> None:
    whole, rest = (sum(map(len, texts)) for texts in (pages.values(), (cut(page)[0] for page in pages.values())))
    assert rest < whole / 5
    assert not re.search("<(svg|math)", "".join(cut(page)[0] for page in pages.values()))


class Said(HTMLParser):
    """Tags with their attributes in order, and words: what a browser makes of a page."""

    def __init__(self, html: str) -> None:
        super().__init__()
        self.said: list[object] = []
        self.feed(html)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        # `hidden` says the same as `hidden="hidden"`.
        self.said.append((tag, sorted(((name, None if value == name else value) for name, value in attrs), key=str)))

    def handle_endtag(self, tag: str) -> None:
        self.said.append(tag)

    def handle_data(self, data: str) -> None:
        self.said += data.split()


@pytest.mark.parametrize("path", [f"cards/{CARD}.md", "tables/woods.md", "print/wall-stepped-holes.md"])
def test_a_page_is_the_same_as_where_all_of_it_is_read(pages: dict[str, str], path: str) -> None:
    settings = yaml.load((HOUSE / "mkdocs.yml").read_text(encoding="utf-8").replace("!ENV", ""), yaml.SafeLoader)
    extensions = [one if isinstance(one, str) else next(iter(one)) for one in settings["markdown_extensions"]]
    # No plugin runs here, which this one would refuse.
    extensions = [name for name in extensions if name != "bondwright.guard"]
    rest, pieces = cut(pages[path])
    ours, plain = (markdown.markdown(text, extensions=[*extensions, "tables"]) for text in (rest, pages[path]))
    assert Said(put_in(ours, pieces)).said == Said(plain).said


def test_only_blanks_that_nobody_sees_are_taken_out() -> None:
    verbatim = "<pre>\n\n    a\n      b</pre>"
    script = '<script>\n\n    `<svg xmlns="http://www.w3.org/2000/svg">\n\n  <p>`</script>'
    assert tight(f"<p>\n\n   one\n    two </p>\n{verbatim}\n  {script}\n  <b>x</b>\n <i>y</i>") == (
        f"<p>one\ntwo </p>{verbatim}\n{script}\n<b>x</b>\n<i>y</i>"
    )
    menu = '<a href="x/" class="md-nav__link">\n  <span class="md-ellipsis">\n    x y\n  </span>\n</a>'
    assert tight(in_frame(menu)) == '<a href="x/" class="md-nav__link"><span class="md-ellipsis">x y</span></a>'
    assert tight("<details>\n<summary>x</summary>\n y</details>\n<details>") == (
        "<details><summary>x</summary>y</details>\n<details>"
    )
    assert in_frame("<a>&para;</a>") == "<a>¶</a>"
    assert tight('<svg class="x" xmlns="http://www.w3.org/2000/svg" role="img">') == '<svg class="x" role="img">'
