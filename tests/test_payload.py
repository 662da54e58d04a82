"""One hostile text in every field that a page prints, whatever file and kind it stands in, found by the fields' types."""

from __future__ import annotations

import csv
import json
import re
from collections import Counter
from collections.abc import Iterator
from copy import deepcopy
from html import unescape
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any, Literal, get_args, get_origin
from xml.etree import ElementTree

import pytest
import yaml
from babel.messages.catalog import Catalog
from pydantic import AfterValidator, BaseModel, BeforeValidator, StringConstraints
from test_any_generator import ATTRIBUTE, TAG
from test_browser import served

from conftest import CARD, HOUSE, copy_house, mkdocs_here, node
from generator.catalogue import _of_the_program, as_text
from generator.language import _CODE, has_words
from generator.model.kinds import Answer, Words, Woven
from generator.model.library import Reader, load
from generator.model.prose import Prose
from generator.model.schema import HANDS, Drawings, InputName, Threads
from generator.model.yaml_text import read_document

if TYPE_CHECKING:
    from playwright.sync_api import Browser

# What begins a tag stands as its entity: the sign itself is refused in every text. One that is read once more than it was
# written shows a tag, one that is read twice runs.
SIGNS = "zqx&lt;img/src=x/onerror=ran()>\"'*i*`b`&quot;i>|_j_~s~$m$"
# In a text without values braces and brackets are letters too, those also that open nothing.
MORE = SIGNS + "[l](javascript:ran()){k}{[n_m > 0: }"
SHORT = "zqx&lt;b>*i"
TINY = "wqx&lt;b>*i"  # where there is room for no number
WOVEN = get_args(Woven)[
    -2
]  # what a text has that is put into another one: it may hold no sign that marks a value or a turn
# What begins a list, a heading, a table, a note or a definition in Markdown, or a formula in a spreadsheet. Each text begins
# with one of them, told by its number.
LEADS = ("- ", "1. ", "# ", "> ", "+ ", "* ", "2) ", ": ", "=1+", "-2+", "@", "!!! ", "??? ", "| ", "~~~", "```", "---", "[^1]: ",
    "*[x]: ", "=== ", "$$ ", "%")  # fmt: skip
DIGIT = re.compile("[0-9]")


def texts(
    kind: Any, data: Any, path: tuple[Any, ...] = (), marks: tuple[Any, ...] = (), field: str = ""
) -> Iterator[tuple[tuple[Any, ...], tuple[Any, ...], str]]:
    """Every text of a file that a page prints, with its path, the marks of its type and the field of the schema."""
    origin = get_origin(kind)
    if origin is Annotated:
        own, *more = get_args(kind)
        yield from texts(own, data, path, (*marks, *more), field)
    elif isinstance(kind, type) and issubclass(kind, BaseModel):
        if isinstance(data, dict):
            for key, info in kind.model_fields.items():
                if key in data:
                    own_field = f"{kind.__name__}.{key}"
                    yield from texts(info.annotation, data[key], (*path, key), tuple(info.metadata), own_field)
    elif origin is list:
        for place, one in enumerate(data) if isinstance(data, list) else ((None, data),):
            yield from texts(get_args(kind)[0], one, path if place is None else (*path, place), (), field)
    elif origin is dict:
        for key, one in data.items():
            yield from texts(get_args(kind)[1], one, (*path, key), (), field)
    elif get_args(kind):
        for one in get_args(kind):
            yield from texts(one, data, path, marks, field)
    elif isinstance(data, str) and any(isinstance(mark, Words) for mark in marks):
        yield path, (kind, *marks), field


def fields(kind: Any, seen: set[Any], field: str = "", marks: tuple[Any, ...] = ()) -> Iterator[str]:
    """Every field of a model, and of those in it, that holds a text which a page prints."""
    inside = get_args(kind)
    if get_origin(kind) is Annotated:
        yield from fields(inside[0], seen, field, (*marks, *inside[1:]))
    elif isinstance(kind, type) and issubclass(kind, BaseModel):
        if kind not in seen:
            seen.add(kind)
            for key, info in kind.model_fields.items():
                yield from fields(info.annotation, seen, f"{kind.__name__}.{key}", tuple(info.metadata))
    elif get_origin(kind) is not Literal and inside:
        held = marks if get_origin(kind) not in (list, dict) else ()
        for one in inside:
            yield from fields(one, seen, field, held)
    elif any(isinstance(mark, Words) for mark in marks):
        yield field


def hostile(text: str, marks: tuple[Any, ...], names: dict[str, str], *, braces: str) -> str:
    """The hostile text in place of another one; the same for the same, and never twice the same."""
    longest = min(mark.max_length for mark in marks if isinstance(mark, StringConstraints) and mark.max_length)
    if longest < 2 * len(TINY):
        return TINY
    if WOVEN in marks:
        return SHORT
    number = names.setdefault(text, "".join("abcdefghij"[int(digit)] for digit in str(len(names))))
    values = "".join(re.findall(r"\{\w+\}", text)) if braces == "cases" else ""
    signs = next(
        signs for signs in (SIGNS if braces else MORE, SHORT) if len(f"{signs}-{number}{values}") <= longest - 6
    )
    begin = "- " if braces == "cases" and DIGIT.search(lead(number)) else lead(number)  # a drawing has no typed number
    return f"{begin}{signs}-{number}{values}"


def lead(number: str) -> str:
    """What the text of a number begins with."""
    return LEADS[
        sum(10**place * "abcdefghij".index(digit) for place, digit in enumerate(reversed(number))) % len(LEADS)
    ]


def kinds_of_files(root: Path) -> dict[str, type[BaseModel]]:
    """The type of every file under a folder, as it is loaded."""
    kinds: dict[str, type[BaseModel]] = {}

    class Noting(Reader):
        def read(self, name: str, model: Any) -> Any:
            kinds[name] = model
            return super().read(name, model)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("generator.model.library.Reader", Noting)
        load(root)
    files = {path.relative_to(root).as_posix() for path in root.rglob("*.yaml")}
    assert files == kinds.keys() & files
    return {name: kind for name, kind in kinds.items() if name in files}


def to_change(path: Path) -> Any:
    """What a file holds, to be changed: what was read is kept for who reads the same text again."""
    return deepcopy(read_document(path, path.name).data)


def spoil_all(root: Path) -> int:
    """Put the hostile text into every field of every file; tells how many there were."""
    names: dict[str, str] = {}
    count = 0
    sheets = dict(load(root).sheets())
    for name, kind in kinds_of_files(root).items():
        path = root / name
        data = to_change(path)
        if name in sheets:  # the hostile texts name nothing to work
            data["wanted"] = [symbol for symbol in sheets[name].outputs if symbol != HANDS]
        for place, marks, _ in [*texts(kind, data)]:
            holder = data
            for key in place[:-1]:
                holder = holder[key]
            old, at = holder[place[-1]], place[-1]
            if kind is Threads and at == "size":  # the name that the inputs ask for it by
                holder["also"] = [*holder.get("also", []), old]
            braces = "cases" if kind is Drawings else "values" if Prose in marks or at == "purpose" else ""
            holder[at] = hostile(old, marks, names, braces=braces)
            count += 1
        path.write_text(yaml.safe_dump(data, allow_unicode=True, sort_keys=False, width=1000), encoding="utf-8")
    return count


SHOP = """
name: our shop
rules: nobody drills alone
epoxy: {title: our epoxy, resin: 1.13 g/mL, hardener: 0.97 g/mL, ratio: "100:38 by weight"}
hardeners: {slow: {title: our hardener, lasts: 45 min}}
fillers: {dense-mineral: {title: our filler, loose: 0.75 g/mL}}
"""
# Texts that may be written and that no file which ships has.
RARE: dict[str, dict[tuple[Any, ...], Any]] = {
    "cards/mixing.yaml": {("revision",): "2"},
    "data/drills.yaml": {("stock", 0, "of"): "this shop"},
    "data/shops.yaml": {("rows", "metric", "note"): "a note"},
    "jobs/class-dinghy.yaml": {
        ("conditions", "helper"): "a neighbour",
        ("conditions", "lesson"): {"meanwhile": "sweep"},
        ("fittings", 0, "no_designer"): "a word",
    },
    "jobs/launch-refit.yaml": {("no_trials",): "made last winter"},
}
SERIES = {("note",): "a note", ("trust",): {"by": "me", "on": "2027-03-01", "why": "seen"}, ("joints", 0, "by"): "me"}


def with_all_fields(house: Path) -> Path:
    """A site's procedures with a text in every field that may hold one."""
    root = house / "procedures"
    (root / "shop.yaml").write_text(SHOP, encoding="utf-8")
    demo = to_change(root / "tests/white-oak-demo.yaml")
    own = {key: part for key, part in demo.items() if key != "invented"}
    files = {name: (to_change(root / name), more) for name, more in RARE.items()}
    for name, (data, more) in {**files, "tests/ours.yaml": (own, SERIES)}.items():
        for path, value in more.items():
            holder = data
            for key in path[:-1]:
                holder = holder[key]
            holder[path[-1]] = value
        (root / name).write_text(yaml.safe_dump(data, allow_unicode=True, sort_keys=False), encoding="utf-8")
    return root


def without_alike(root: Path) -> None:
    """Leave of a job sheet's fittings that say the same fields the first: a page tells of the others in the same places."""
    for path in (root / "jobs").glob("*.yaml"):
        sheet, first = to_change(path), dict[frozenset[str], Any]()
        for fitting in sheet["fittings"]:
            first.setdefault(frozenset(fitting), fitting)
        assert len(first) > 5
        sheet["fittings"] = [*first.values()]
        path.write_text(yaml.safe_dump(sheet, allow_unicode=True, sort_keys=False), encoding="utf-8")


def test_the_hostile_text_comes_into_every_field_of_the_schema(tmp_path: Path) -> None:
    """A field that comes later and that no file uses would be tried by nobody: give it a text above."""
    house = copy_house(HOUSE, tmp_path)
    without_alike(house / "procedures")
    root = with_all_fields(house)
    kinds, seen = kinds_of_files(root), set[Any]()
    tried = {field for name, kind in kinds.items() for *_, field in texts(kind, read_document(root / name, name).data)}
    assert {field for kind in kinds.values() for field in fields(kind, seen)} == tried
    assert len(tried) > 100


# A translation, which comes to stand in templates, attributes and scripts. More than quotes it may not hold.
SAID = "zqy\"'"


def said_hostile(text: str) -> str:
    """The hostile translation of a text, with its values, conditions, tags and links where they are."""
    pieces = re.split(rf"({_CODE.pattern}|[\[\]`*|()<\\])", text)
    pieces[::2] = [re.sub(r"\S(?:.*\S)?", SAID, one) if has_words(one) else one for one in pieces[::2]]
    return "".join(pieces)


@pytest.fixture(scope="module")
def hostile_site(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A site of hostile texts with a hostile shop, in a language of which the program's own texts are hostile and all
    others stand as they were written."""
    house = copy_house(HOUSE, tmp_path_factory.mktemp("hostile"))
    without_alike(house / "procedures")
    assert spoil_all(with_all_fields(house)) > 4000
    catalogue = Catalog(locale="de")
    for text in {" ".join(text.split()) for _, some in _of_the_program(load(house / "procedures")) for text in some}:
        if has_words(text):
            catalogue.add(text, said_hostile(text))
    (house / "procedures/languages/de.po").write_bytes(as_text(catalogue))
    for path in [*house.glob("docs/*.md"), *house.glob("docs/assets/*.js")]:
        path.unlink()  # what is said in a language is made
    settings = house / "mkdocs.yml"
    text, count = re.subn(
        r"(?m)^(site_name|site_description): .*",
        lambda told: f"{told[1]}: {json.dumps(f'{SIGNS}-{told[1]}')}",
        settings.read_text(encoding="utf-8"),
    )
    assert count == 2
    text, count = re.subn("(?m)^  - bondwright:$", r"\g<0>\n      languages: [de]", text)
    assert count == 1
    settings.write_text(text, encoding="utf-8")
    mkdocs_here(house, "build", "--strict")
    return house / "site"


def read(page: str) -> Iterator[str]:
    """Everything in a page that somebody reads, as a browser decodes it. Names for links are no text, what stands in a
    style sheet has signs of its own."""
    place = 0
    while tag := TAG.search(page, place):
        yield unescape(page[place : tag.start()])
        place, (closes, name, rest) = tag.end(), tag.groups()
        if closes or not name:
            continue
        given = ((key, text[1:-1] if text[:1] in ("'", '"') else text) for key, text in ATTRIBUTE.findall(rest))
        yield from (unescape(text) for key, text in given if key not in LINKS)
        if name in ("script", "style"):
            end = page.index(f"</{name}", place)
            yield page[place:end] if name == "script" else ""
            place = end
    yield unescape(page[place:])


LINKS = ("id", "href", "for", "aria-labelledby", "aria-describedby")


HOSTILE = re.compile("q[xy]")


def changed(text: str) -> list[str]:
    """The places where a hostile text is not as it was written."""
    if not HOSTILE.search(text):
        return []
    said = [] if text.startswith("{") else re.findall(rf"[zZ]qy(?!{SAID[3:]}).*", text)  # in JSON quotes are marked
    said += re.findall(rf"[wW]qx(?!{re.escape(TINY[3:])}).*", text)
    return said + [
        text[at.start() :][:80] for at in re.finditer("[zZ]qx", text) if not kept(text[: at.start()], text[at.end() :])
    ]


def kept(before: str, after: str) -> bool:
    """Whether the hostile text stands between what it was written with. Where it was the second sentence of a source, its
    beginning is the source's name."""
    written = next((after[len(signs) - 3 :] for signs in (SIGNS, SHORT) if after.startswith(signs[3:])), None)
    if written is None:
        return False
    number = re.match("-([a-j]+)", written.removeprefix(MORE.removeprefix(SIGNS)))
    if not number:
        return True
    began = lead(number[1])
    return before.endswith((began, "- " if DIGIT.search(began) else began)) or (
        not before and began[-2:] in (". ", ": ")
    )


def test_a_text_is_text_on_every_page(hostile_site: Path) -> None:
    seen, tiny = 0, 0
    for path in hostile_site.rglob("*.html"):
        for text in read(path.read_text(encoding="utf-8")):
            seen += text.count("zqx")
            tiny += text.lower().count("wqx")
            assert not changed(text), path
    assert seen > 15_000
    assert tiny > 10


# What the program reads and prints nothing of as it was written: answers, and names of what is there or is not.
READ = (Answer, InputName)


def test_every_text_is_told_or_read() -> None:
    """A text of no kind would be printed, or not, and nothing here would try it."""
    plain = {where for kind in {*kinds_of_files(HOUSE / "procedures").values()} for where in plain_texts(kind)}
    assert not plain


def plain_texts(kind: Any, where: str = "", marks: tuple[Any, ...] = ()) -> Iterator[str]:
    """The fields of a model that hold a text of no kind."""
    origin, inside = get_origin(kind), get_args(kind)
    if origin is Annotated:
        yield from plain_texts(inside[0], where, (*marks, *inside[1:]))
    elif isinstance(kind, type) and issubclass(kind, BaseModel):
        for key, info in kind.model_fields.items():
            yield from plain_texts(info.annotation, f"{kind.__name__}.{key}", tuple(info.metadata))
    elif origin in (list, dict):
        yield from plain_texts(inside[-1], where)
    elif origin is not Literal and inside:
        for one in inside:
            yield from plain_texts(one, where, marks)
    elif kind is str and marks not in [get_args(one)[1:] for one in READ]:
        bound = (Words, AfterValidator, BeforeValidator)
        if not any(isinstance(mark, bound) or getattr(mark, "pattern", None) for mark in marks):
            yield where


def test_a_text_is_text_in_every_other_file(hostile_site: Path) -> None:
    """What a spreadsheet, a calendar, a search, a map of the site or a worker in the browser reads."""
    seen: Counter[str] = Counter()
    for path in hostile_site.rglob("*"):
        kind = path.suffix
        if kind not in (".csv", ".ics", ".json", ".webmanifest", ".xml", ".txt"):
            continue
        text = path.read_text(encoding="utf-8")
        if kind == ".csv":
            cells = [cell for row in csv.reader(text.splitlines()) for cell in row]
            assert not [cell for cell in cells if cell.startswith(("=", "+", "-", "@", "\t")) and "zqx" in cell], path
        elif kind in (".json", ".webmanifest"):
            cells = leaves(json.loads(text))
        elif kind == ".xml":
            cells = [
                part for one in ElementTree.fromstring(text).iter() for part in (one.text or "", *one.attrib.values())
            ]
        else:
            cells = text.replace("\n ", "").replace("\\", "").splitlines()
        for cell in cells:
            seen[kind] += cell.count("zqx")
            assert not changed(cell), path
    assert min(seen[".csv"], seen[".ics"]) > 0, seen


def test_every_script_can_be_read(hostile_site: Path) -> None:
    """A translation ends no text of a script."""
    scripts = sorted(hostile_site.rglob("*.js"))
    read = "const { readFileSync } = require('fs'), { Script } = require('vm');"
    each = "for (const one of process.argv.slice(1)) new Script(readFileSync(one, 'utf-8'));"
    assert node(f"{read} {each} console.log(true)", scripts, None)
    assert sum(path.read_text(encoding="utf-8").count("zqy") for path in scripts) > 100


def leaves(data: Any) -> list[str]:
    """Every text in what was read."""
    if isinstance(data, str):
        return [data]
    inside = data.values() if isinstance(data, dict) else data if isinstance(data, list) else ()
    return [text for one in inside for text in leaves(one)]


# A page of each template.
PAGES = (
    "", "cards/", f"cards/{CARD}/", f"cards/{CARD}/working/", "cards/trial-joint/", "tables/", "tables/fillers/",
    "jobs/", "jobs/class-dinghy/", "print/", "print/handout/", "print/wall-stepped-holes/", "print/drilling-aids/",
    "which-fixing/", "reference/sources/", "pulled/", "trust/", "result/",
)  # fmt: skip
ALL_TEXTS = """links => {
    const found = [], walk = document.createTreeWalker(document, NodeFilter.SHOW_ELEMENT | NodeFilter.SHOW_TEXT);
    for (let node = walk.nextNode(); node; node = walk.nextNode()) {
        if (node.nodeType === 3) {
            const inside = node.parentElement?.tagName;
            if (!["SCRIPT", "STYLE", "TITLE"].includes(inside)) found.push(node.data);
        } else found.push(...[...node.attributes].filter(one => !links.includes(one.name)).map(one => one.value));
    }
    return found.filter(text => /[zw]qx/i.test(text));
}"""


def test_nothing_runs_in_a_browser(hostile_site: Path, browser: Browser) -> None:
    with served(hostile_site) as address:
        context = browser.new_context(service_workers="block")
        context.add_init_script("window.ran = () => { window.didRun = true }")
        page = context.new_page()

        def look(what: str) -> None:
            assert page.evaluate("window.didRun") is None, what
            texts = page.evaluate(ALL_TEXTS, list(LINKS))
            assert texts, what
            assert not [wrong for text in texts for wrong in changed(text)], what
            assert page.locator("a[href^=javascript]").count() == 0, what

        for path in PAGES:
            page.goto(f"{address}/{path}")
            look(path)
        page.goto(f"{address}/cards/{CARD}/")
        page.locator(".bw-live > details > summary").click()
        page.fill("#live-T", "95 mm")
        page.wait_for_function("document.querySelector('.bw-live-results').innerText.length > 100")
        look("a card as set")
        page.click(".bw-find-open")
        page.wait_for_selector(".bw-find[open]")
        page.keyboard.type("zqx")
        page.wait_for_selector(".bw-find li")
        found = page.locator(".bw-find li").all_text_contents()  # what was asked for is marked in it
        assert found
        assert not [wrong for text in found for wrong in changed(text.replace("¦", "|"))], found
        assert page.evaluate("window.didRun") is None
        context.close()
