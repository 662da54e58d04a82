"""Every generated file of the site, as text: path to content. Nothing here knows a site generator."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache, partial

from jinja2 import BaseLoader, Environment, PackageLoader, StrictUndefined
from markupsafe import Markup

from ..editor import drawings
from ..figures import figure
from ..formula import FORMULARY, Formula
from ..jobs.faults import worked_sheet
from ..jobs.sheet import WorkedSheet
from ..kept import Kept, Origins
from ..language import Language, day_in_words, spoken, tr
from ..live.card_script import card_script, drawings_script, drawn
from ..live.figure_script import aid_script, code_script, forget_sources, translate
from ..model.library import Library
from ..model.prose import Prose
from ..model.schema import Source
from ..notation import formula_line
from ..shipped import HAND_WRITTEN
from ..units import SYSTEMS, label, unbroken
from .card import CardPage
from .chooser import ChooserPage
from .chosen import chosen, named_sources, without_dead_links
from .compiled import Compiled
from .drawings import PATTERNS, lightened
from .home import HomePage
from .job_sheet import JobPage, job_list
from .options import SiteOptions
from .paper import first_sides, handout_style, page_style
from .print_sheets import aids, has_aid, own_aid, wall_sides
from .pulled import PulledPage
from .ready import VERBATIM
from .result import ResultPage
from .search import INDEX_FILE, NO_WORDS, Entry, card_entry, index_script, table_entry
from .table import TablePage
from .texts import Texts
from .worded import WordedLoader
from .words import (
    caution_html,
    for_each_shop,
    linked,
    markdown_text,
    no_markup,
    prose,
    shop_word,
    shown_apart,
    symbol_html,
    value,
    when_html,
)


def environment() -> Environment:
    """The templates in the language that is spoken."""
    language = spoken()
    return templates() if language is None else templates_in(language)


@cache
def templates() -> Environment:
    """Templates in which no text is markup, and that refuse an undefined name."""
    return _templates(PackageLoader(__name__.partition(".")[0], "templates"))


def templates_in(language: Language) -> Environment:
    """The same in another language."""
    return _templates(WordedLoader(PackageLoader(__name__.partition(".")[0], "templates"), language), language.name)


def _templates(loader: BaseLoader, language: str = "") -> Environment:
    env = Environment(
        loader=loader,
        bytecode_cache=Compiled(language),
        autoescape=True,
        finalize=no_markup,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        keep_trailing_newline=True,
        auto_reload=False,  # it would look at a template's file each time that a template names it
    )
    env.globals |= {"patterns": PATTERNS, "_": tr}
    env.filters |= {
        "prose": prose,
        "value": value,
        "cut": Prose,
        "caution": caution_html,
        "linked": linked,
        "when": when_html,
        "day": day_in_words,
        "upper_first": lambda text: text[:1].upper() + text[1:],
        "each_shop": for_each_shop,
        "shop": shop_word,
        "shown_apart": shown_apart,
        "symbol": symbol_html,
        "unit": label,
        "markdown": markdown_text,
    }
    return env


@dataclass(frozen=True)
class CardParts:
    """All that is made of a card: its files, and what other pages show of it."""

    page: CardPage
    front: Markup
    files: Texts
    found: Entry


def card_parts(env: Environment, library: Library, name: str, options: SiteOptions, pulled: PulledPage) -> CardParts:
    """A card worked and rendered."""
    page = CardPage(library, name, options)
    front = Markup(lightened(env.get_template("card_front.md.j2").render(page=page, card=page.card)))
    own = pulled.of(page.card)
    text = env.get_template("card.md.j2").render(page=page, card=page.card, front=front, own=own, pulled=pulled)
    working = env.get_template("card_working.md.j2").render(page=page, card=page.card)
    form = env.get_template("form.html.j2").render(page=page)
    files = {
        f"cards/{name}.md": lightened(page.led(tidy(text), options.working(name))),
        f"cards/{name}/form.js": form_script(page.led(tidy(form), options.working(name))),
        f"cards/{name}/working.md": tidy(working),
        **{f"cards/{name}/{file}": text for file, text in page.files.items()},
        f"cards/{name}/live.js": card_script(library, name, options.systems),
        f"cards/{name}/drawings.js": drawings_script(library, page.card),
    }
    led = Markup(page.led(str(front), options.working(name, up="../../cards/")))
    return CardParts(page, led, Texts(files), card_entry(page, library.search or NO_WORDS))


def form_script(form: str) -> str:
    """The form of a live card, put into its page: without scripts nobody sees it, so that the page is lighter by it."""
    place = 'document.querySelector(".bw-live-body")'
    return f'"use strict";\n{place}.insertAdjacentHTML("beforeend", {json.dumps(form, ensure_ascii=False)});\n'


def table_files(env: Environment, library: Library, name: str, options: SiteOptions) -> tuple[Texts, Entry]:
    """A reference table's page, its files, and the sheets that it is printed as; and what the search finds of it."""
    table = TablePage(library, name, options)
    files = {
        f"tables/{name}.md": tidy(env.get_template("table.md.j2").render(page=table, table=table.table)),
        **{f"tables/{name}/{file}": text for file, text in table.files.items()},
        **{path: tidy(text) for path, text in printed(env, table).items()},
    }
    return Texts(files), table_entry(table, library.search or NO_WORDS)


def job_files(env: Environment, library: Library, name: str, options: SiteOptions, worked: WorkedSheet) -> Texts:
    """A job sheet's page and its files."""
    sheet = JobPage(library, name, options, worked)
    files = {f"jobs/{name}.md": tidy(env.get_template("job.md.j2").render(page=sheet, sheet=sheet.sheet))}
    return Texts(files | {f"jobs/{name}/{file}": text for file, text in sheet.files.items()})


def site_files(library: Library, options: SiteOptions, kept: Kept | None = None) -> Texts:
    """All generated files by their path below the docs folder. What is in `kept` from the same origins is not made
    again."""
    env, kept, origins = environment(), kept or Kept(), Origins(library)
    site = chosen(library, options)
    files = Texts()
    pulled = PulledPage(library, options)
    parts: dict[str, CardParts] = {}
    entries: list[Entry] = []
    translate({name for card in site.cards.values() for name in drawn(card)})
    for name in site.cards:
        key = (options, origins.sheet(f"cards/{name}.yaml"))
        parts[name] = kept.once(f"write cards/{name}", key, partial(card_parts, env, library, name, options, pulled))
        files.add(parts[name].files)
        entries.append(parts[name].found)
    for name in site.tables:
        key = (options, origins.sheet(f"tables/{name}.yaml"))
        own, found = kept.once(f"write tables/{name}", key, partial(table_files, env, library, name, options))
        files.add(own)
        entries.append(found)
    if options.address:
        files["print/code.js"] = code_script()
    forget_sources()
    prints = {
        "tables": {name: table for name, table in site.tables.items() if table.wall},
        "aids": any(table.aids for table in site.tables.values()),
        "cards": bool(site.cards),
    }
    if any(prints.values()):
        files["print/index.md"] = tidy(env.get_template("prints.md.j2").render(prints))
    if site.tables:
        files["tables/index.md"] = tidy(env.get_template("tables.md.j2").render(groups=site.tables_by_group))
    for name in site.jobs:
        worked = worked_sheet(library, name, kept, origins)
        key = (options, origins.job_sheet(name))
        files.add(kept.once(f"write jobs/{name}", key, partial(job_files, env, library, name, options, worked)))
    for name, faults in site.spoilt.items():
        files[f"jobs/{name}.md"] = tidy(env.get_template("spoilt.md.j2").render(name=name, faults=faults))
    if site.jobs or site.spoilt:
        files["jobs/index.md"] = tidy(env.get_template("jobs.md.j2").render(jobs=job_list(site.jobs, site.spoilt)))
    pages = {name: made.page for name, made in parts.items()}
    groups = {group: [pages[name] for name in cards] for group, cards in site.cards_by_group.items()}
    if groups:
        files["cards/index.md"] = lightened(tidy(env.get_template("cards.md.j2").render(groups=groups)), named=True)
    in_order = [page for group in groups.values() for page in group]
    if in_order:
        style = page_style(tr("Handout for a class"), tr("All cards"), library.dated, options)
        titles = {page.name: page.card.title for page in in_order}
        style += handout_style(titles)
        told = {"fronts": {name: made.front for name, made in parts.items()}, "sides": first_sides(titles)}
        files["print/handout.md"] = tidy(env.get_template("handout.md.j2").render(pages=in_order, style=style, **told))
    decided = list(library.designers.values())
    home = HomePage(library, library.home, site, options) if library.home else None
    text = env.get_template("home.md.j2").render(page=home, groups=groups, designers=decided, shop=library.shop_file)
    files["index.md"] = lightened(tidy(text), named=True)
    if site.chooser:
        chooser = ChooserPage(library, site.chooser, options)
        style = page_style(tr("Which fixing?"), tr("One sheet"), library.dated, options)
        files["which-fixing.md"] = tidy(env.get_template("which-fixing.md.j2").render(page=chooser, style=style))
    files["reference/symbols.md"] = kept.once("write reference/symbols.md", None, partial(symbols_page, env))
    files["reference/drawings.md"] = kept.once(
        "write reference/drawings.md", origins.drawn, partial(drawings_page, env, library)
    )
    files["pulled.md"] = tidy(env.get_template("pulled.md.j2").render(page=pulled))
    files.add(pulled.files, "pulled/")
    for name, file in pulled.entered.items():
        if name in site.cards:
            files[file] = tidy(env.get_template("result.md.j2").render(page=ResultPage(library, name, options)))
    files["trust.md"] = tidy(env.get_template("trust.md.j2").render(page=pulled))
    named = library.sources if site.whole else named_sources(files)
    bases = sources_by_basis({key: source for key, source in library.sources.items() if key in named})
    files["reference/sources.md"] = tidy(env.get_template("sources.md.j2").render(groups=bases))
    there = {*files, *HAND_WRITTEN}
    files[INDEX_FILE] = index_script(library, library.search or NO_WORDS, entries, options, there)
    return files if site.whole else Texts(without_dead_links(files, HAND_WRITTEN))


def drawings_page(env: Environment, library: Library) -> str:
    """The gallery of drawings."""
    drawn = [(one, Markup(figure(library, one.name, one.reckoning, one.name).svg)) for one in drawings(library)]
    titles = {name: card.title for name, card in library.cards.items()}
    return lightened(tidy(env.get_template("drawings.md.j2").render(drawn=drawn, titles=titles)))


def symbols_page(env: Environment) -> str:
    """The list of symbols, of which no file says anything."""
    return tidy(env.get_template("symbols.md.j2").render(entries=symbol_entries()))


def printed(env: Environment, page: TablePage) -> dict[str, str]:
    """The sheets that a reference table is printed as besides its page."""
    files: dict[str, str] = {}
    if page.table.wall:
        style = page_style(page.table.title, tr("For the wall"), page.library.dated, page.options)
        files[f"print/wall-{page.name}.md"] = env.get_template("wall.md.j2").render(
            page=page, sides=wall_sides(page), style=style
        )
    if page.table.aids:
        cards = {name: card for name, card in page.library.cards.items() if has_aid(card)}
        style = page_style(tr("Drilling aids at true size"), tr("Print at 100 %"), page.library.dated, page.options)
        files["print/drilling-aids.md"] = env.get_template("aids.md.j2").render(
            page=page, shops=aids(page), style=style, own=own_aid(page), cards=cards
        )
        files["print/aid.js"] = aid_script()
    return files


def tidy(text: str) -> str:
    """Without trailing blanks and doubled blank lines, which a template leaves behind, and, but where blanks mean
    something, with every number kept beside its unit."""
    text = _without_blanks(text)
    parts = VERBATIM.split(text)
    del text  # a long one is held as few times as can be
    for place in range(0, len(parts), 2):
        parts[place] = unbroken(parts[place])
    return "".join(parts)


def _without_blanks(text: str) -> str:
    """Without trailing blanks, and with single blank lines, none of them at either end."""
    kept: list[str] = []
    for line in map(str.rstrip, text.split("\n")):
        if line or (kept and kept[-1]):
            kept.append(line)
    if kept and kept[-1]:
        kept.append("")
    return "\n".join(kept)


def symbol_entries() -> list[dict[str, object]]:
    """Every symbol with its meaning, its units and the formulas that yield or use it."""
    entries: list[dict[str, object]] = []
    for name, symbol in FORMULARY.symbols.items():
        made_by = FORMULARY.yielding(name)
        entries.append(
            {
                "name": name,
                "letter": symbol_html(name),
                "meaning": symbol.meaning,
                **{system: label(symbol.shown(system).unit) for system in SYSTEMS},
                "formulas": [Markup(formula_line(step)) for step in made_by if isinstance(step, Formula)],
                "chosen": [step.meaning for step in made_by if not isinstance(step, Formula)],
                "used_in": FORMULARY.using(name),
            }
        )
    return entries


def sources_by_basis(sources: Mapping[str, Source]) -> dict[str, dict[str, Source]]:
    """Sources grouped by what stands behind them."""
    groups: dict[str, dict[str, Source]] = {}
    for key, source in sources.items():
        groups.setdefault(source.basis, {})[key] = source
    return groups
