"""The command line, `bondwright COMMAND`; in a clone `python -m generator COMMAND` is the same.

What only some commands need is imported by these: a card is worked in half the time that it takes to import all that
makes pages.
"""

from __future__ import annotations

import argparse
import io
import json
import os
import sys
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from copy import deepcopy
from dataclasses import dataclass, replace
from difflib import get_close_matches
from pathlib import Path
from typing import Any, TypeVar

from .bench import clock, numbers, standing
from .check import JobSheets, load_checked, shop_warnings, warnings
from .editor import FILES, drawings, schema, schema_files, set_in
from .errors import STOPPED, BondwrightError, Fault, Faults
from .evidence import own_tests
from .formula import FORMULARY, Formula
from .kept import Kept, all_kept
from .language import ENGLISH, Language, read_language, speaking, tr
from .model.jobsheet import Conditions, JobSheet, OwnLesson
from .model.library import Library, library_in, load
from .model.schema import Card, parse
from .model.yaml_text import Document, OnePlace, Path_
from .notation import formula_text, numbers_text, working_number
from .pages.options import PAPERS, UNITS, SiteOptions
from .reckoning import InputError, Reckoning, UnknownInput, given_span, in_words, reckon
from .settings import Options, layers_of, one_shop, options_in, settings_in, site_options
from .shipped import PROCEDURES, VERSION
from .starter import STARTS, put, start
from .terminal import answer, busy, remark
from .units import clip, from_base, label, plain, with_unit
from .working import Step
from .written import write_set

T = TypeVar("T")
# The settings of the site whose folder the program is called in.
SETTINGS = Path("mkdocs.yml")


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command. Returns the exit code: 0 done, 1 something is wrong in what was given."""
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(encoding="utf-8")
    given = list(sys.argv[1:] if arguments is None else arguments)
    try:
        code = _run(given)
        sys.stdout.flush()
        return code
    except Faults as error:
        remark(error.shown())
        remark(f"{len(error.faults)} to mend")
    except BondwrightError as error:
        remark(str(error))
    except KeyboardInterrupt:
        remark("stopped; nothing is left half written")
        return STOPPED
    except BrokenPipeError:  # the reader, head or less, has seen enough
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115  stands until the program ends
        return 0
    return 1


def _run(given: list[str]) -> int:
    """The command is the first word that names one; its options may stand anywhere."""
    place = next((place for place, word in enumerate(given) if word in {*COMMANDS, *PASSED_ON}), None)
    if place is None:
        _front_door().parse_args(given or ["--help"])
        return 0
    rest = given[:place] + given[place + 1 :]
    if given[place] in PASSED_ON:
        from .plugin import with_mkdocs

        return with_mkdocs(given[place], rest)
    with all_kept():
        return _command(given[place], rest)


def _command(name: str, rest: list[str]) -> int:
    """Run a command of our own."""
    command = COMMANDS[name]
    parser = argparse.ArgumentParser(prog=f"bondwright {name}", description=command.does)
    _asks_all(command, parser)
    options = parser.parse_intermixed_args(rest)
    if not command.reads:
        return command.run(None, options)
    options.site = _site_in(Path())
    options.kept = Kept()
    root = Path(options.procedures) if options.procedures else layers_of(options.site.procedures, Path())
    try:
        with busy("checking"):
            library = load_checked(
                root,
                options.kept,
                site_units=one_shop(options.site),
                job_sheets=command.job_sheets,
                prove_units=command.proves_units,
                card=getattr(options, "card", None),
                jobs=options.site.jobs,
            )
    except Faults as error:
        raise _as_given(error, options.procedures) if options.procedures else error from None
    named = {getattr(options, name, None) for name in ("card", "name")}
    of_all = shop_warnings(library) if command.job_sheets != "none" else ()
    for warning in (*warnings(library), *of_all):
        if command.job_sheets != "none" or Path(warning.file).stem in named:  # of the whole all, else what is asked for
            remark(f"mind: {warning}")
    language, library = library_in(library, getattr(options, "spoken", ENGLISH))
    with speaking(language):
        return command.run(library, options)


def _asks_all(command: Command, parser: argparse.ArgumentParser) -> None:
    command.asks(parser)
    if command.reads:
        parser.add_argument(
            "--procedures", metavar="DIR", help="the folder of cards and data (that of the site here, or what ships)"
        )


def _as_given(error: Faults, folder: str) -> Faults:
    """The faults with their files as they are found from here, through the folder that was named."""
    inside = f"{Path(folder).name}/"
    return Faults(
        replace(fault, file=(Path(folder) / fault.file.removeprefix(inside)).as_posix())
        if fault.file.startswith(inside)
        else fault
        for fault in error.faults
    )


def _front_door() -> argparse.ArgumentParser:
    """What is said of the program as a whole, and of a word that is no command."""
    does = {name: command.does for name, command in COMMANDS.items()} | PASSED_ON
    listed = "\n".join(f"  {name:<8} {what}" for name, what in does.items())
    parser = argparse.ArgumentParser(
        prog="bondwright",
        description="Worked procedure cards for fixing hardware to wooden and wood-cored boats.",
        epilog=f"commands:\n{listed}\n\n`bondwright COMMAND --help` tells what a command takes.",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--version", action="version", version=f"bondwright {VERSION}")
    parser.add_argument("command", metavar="COMMAND", choices=does, help="one of those below")
    return parser


def _site_in(folder: Path) -> Options:
    """The options of the site whose settings are in a folder; without a site they are as they come."""
    return options_in(folder / SETTINGS) if (folder / SETTINGS).is_file() else Options()


def _check(library: Library, options: argparse.Namespace) -> int:
    from .pages.tongues import libraries_in, unplanned

    site_options(options.site, library)  # names nothing that is not there
    with busy("checking the languages"):
        faults = unplanned(libraries_in(library, options.site.languages, options.kept))
    if faults:
        raise Faults(faults)
    checks = sum(len(sheet.checks) for _, sheet in library.sheets())
    print(
        f"cards: {len(library.cards)}, tables: {len(library.reference)}, job sheets: {len(library.job_sheets)}, "
        f"formulas and rules with units proved: {len(FORMULARY.formulas) + len(FORMULARY.rules)}, "
        f"check values within tolerance: {checks}, sources: {len(library.sources)}. Nothing to mend."
    )
    return 0


def _new(_: None, options: argparse.Namespace) -> int:
    from .catalogue import first_file

    site = Path(options.name if options.what == "site" else "")
    if options.what == "site":
        with speaking(_language(options.spoken, PROCEDURES)):
            made = start("site", options.name, {"language": options.spoken}, first_file)
        given = _site_in(site)
        library = load(layers_of(given.procedures, site), one_shop(given))
    else:
        given = _site_in(site)
        library = load(layers_of(given.procedures, site), one_shop(given))
        # In a site of one language its own pages are written in it.
        [first, *more] = given.languages
        with speaking(_language(ENGLISH if more else first, PROCEDURES, *library.layers)):
            made = start(options.what, options.name, set_in(library), first_file)
    put({site / "mine" / path: text for path, text in schema_files(library).items()})
    print("\n".join(made))
    kind = f"{options.what}s"
    shown = getattr(given, kind, None)
    if shown is not None and options.name not in shown:
        print(f"The site shows the {kind} that {SETTINGS} chooses: write {options.name} into '{kind}' there too.")
    return 0


def _language(name: str, *folders: Path) -> Language | None:
    """A language by the catalogues in these folders; none for English. Raises BondwrightError."""
    return None if name == ENGLISH else read_language(name, dict.fromkeys(folders))


def _drawings(library: Library, _: argparse.Namespace) -> int:
    for one in drawings(library):
        print(f"{one.name}: {one.title}")
        print(f"    needs {', '.join(one.needs) or 'no value'}; on {', '.join(one.cards)}")
    return 0


def _schema(library: Library, options: argparse.Namespace) -> int:
    if options.into:
        put({options.into / path: text for path, text in schema_files(library).items()})
    if options.kind:
        print(json.dumps(schema(options.kind, library), indent=2, ensure_ascii=False))
    return 0


def _completion(library: Library, options: argparse.Namespace) -> int:
    """Print the script by which a shell completes the commands, their options and the names that there are now."""
    import shtab

    parser = argparse.ArgumentParser(prog="bondwright")
    parser.add_argument("--version", action="store_true")
    commands = parser.add_subparsers()
    for name, does in (PASSED_ON | {name: command.does for name, command in COMMANDS.items()}).items():
        one = commands.add_parser(name, help=does)
        if name in COMMANDS:
            _asks_all(COMMANDS[name], one)
        for action in one._actions:
            if name in _NAMED and action.dest in ("card", "name"):
                action.choices = _NAMED[name](library)
    print(shtab.complete(parser, shell=options.shell))
    return 0


# Whose argument is the name of a card or of a job sheet.
_NAMED: dict[str, Callable[[Library], list[str]]] = {
    "work": lambda library: [*library.cards],
    "inputs": lambda library: [*library.cards],
    "job": lambda library: [*library.job_sheets],
}


def _list(library: Library, options: argparse.Namespace) -> int:
    sheets: dict[str, Mapping[str, Any]] = {
        "cards": library.cards,
        "tables": library.reference,
        "job sheets": library.job_sheets,
    }
    for what, named in sheets.items():
        print(f"{what}:")
        print("\n".join(f"  {name:<22} {sheet.title}" for name, sheet in named.items()))
    return 0


def _inputs(library: Library, options: argparse.Namespace) -> int:
    card = _named(library.cards, options.card, "card")
    systems = [*site_options(options.site, library).systems.values()]
    for name, given in card.givens.items():
        own = " or ".join(dict.fromkeys(given.text(system) for system in systems))
        ranged = name in FORMULARY.symbols and (given.min or given.max)
        spans = dict.fromkeys(given_span(name, given, system) for system in systems if ranged)
        print(plain(f"  {name:<12} {given.ask}: {own}{', ' if spans else ''}{' or '.join(spans)}"))
        there = library.choices[name].rows if name in library.choices else {}
        if len(rows := [row for row in there if row not in given.elsewhere]) > 1:
            print(f"  {'':<12} one of {', '.join(rows)}")
    return 0


def _write(library: Library, options: argparse.Namespace) -> int:
    from .pages.folder import settings_of, whole_folder
    from .pages.tongues import tongues, unplanned

    for name in ("units", "paper", "threads"):
        if value := getattr(options, name):
            options.site[name] = value
    settings = settings_in(SETTINGS) if SETTINGS.is_file() else {}
    chosen_ones = site_options(options.site, library, settings.get("site_url") or "", flat=True)
    with busy("making the pages"):
        made = tongues(library, chosen_ones, options.site.languages, options.kept)
    files = whole_folder(made, settings, Path())
    write_set(Path(options.folder), files)
    calls = [f"`mkdocs build{f' -f {settings_of(one)}' if one.folder else ''}`" for one in made]
    print(f"{len(files)} files written to {options.folder}; {', then '.join(calls)} there makes the site")
    for spoken in [one.spoken for one in made if one.spoken and one.spoken.missing]:
        print(spoken.told)
    if faults := unplanned(one.library for one in made):
        raise Faults(faults)
    return 0


def _words(library: Library, options: argparse.Namespace) -> int:
    from .catalogue import as_text, brought_up, part_of

    catalogue, file, count = brought_up(library, options.language, [Path(one) for one in options.take])
    file.parent.mkdir(exist_ok=True)
    file.write_bytes(as_text(catalogue))
    if options.take:
        print(f"{count} texts taken over")
    missing = [message for message in catalogue if message.id and (not message.string or message.fuzzy)]
    print(f"{file}: {len(missing):,} of {len(catalogue):,} texts missing")
    if options.give:
        part = part_of(catalogue, options.of)
        Path(options.give).write_bytes(as_text(part))
        print(f"{options.give}: {len(part):,} texts to translate")
    read_language(options.language, [library.root])
    return 0


def _work(library: Library, options: argparse.Namespace) -> int:
    card = _named(library.cards, options.card, "card")
    # Not even a thread of the other units leaves one's own epoxy and drills.
    inputs = ({"shop": library.own_shop} if library.own_shop else {}) | read_inputs(options.inputs)
    try:
        reckoning = reckon(library, card, inputs)
    except InputError as error:
        raise Faults([_argument_fault(error, inputs, options.card)]) from None
    own = own_tests(library, card, inputs, reckoning)
    if options.json:
        print(as_json(reckoning, own))
    else:
        answer(as_trail(reckoning, own) if options.trail else as_answer(card, reckoning, own))
    for name in reckoning.unused(inputs):
        meant = f"{name}, {in_words(name)}, is nothing that this card works with: it changes none of its numbers"
        remark(f"mind: {meant}; what may be set: bondwright inputs {options.card}")
    return 0


def _job(library: Library, options: argparse.Namespace) -> int:
    from .pages.job_sheet import JobPage

    given = read_inputs(options.conditions)
    if options.name in library.spoilt and not given:
        raise Faults(library.spoilt[options.name])
    _named({**library.job_sheets, **library.spoilt}, options.name, "job sheet")
    print(JobPage(_with_conditions(library, options.name, given), options.name, SiteOptions()).text)
    return 0


def _with_conditions(library: Library, name: str, given: Mapping[str, str]) -> Library:
    """The library with the sheet as its file has it, but some conditions as given: `set.temperature=12 °C`,
    `set.stock.clamp=2`; an empty one is left out. What is wrong with one is told at its argument. Raises Faults."""
    file = f"jobs/{name}.yaml"
    document = library.documents[file]
    if not given:
        return library
    whole: Path_ = ("conditions",)
    own = deepcopy(document.data["conditions"])
    origins: dict[Path_, tuple[Document, Path_]] = {(*whole, key): (document, (*whole, key)) for key in own}
    for argument, text in given.items():
        place = Document(
            f"argument '{clip(f'{argument}={text}')}'",
            places=OnePlace({(): (1, len(argument) + 2)}, {(): (1, 1)}),
        )
        _, *path = _condition(library, place, argument).split(".")
        *around, key = path
        inside = own
        for one in around:
            inside = inside.setdefault(one, {})
        listed = [part.strip() for part in text.split(",")] if path[0] in _LISTED else text
        inside[key] = listed
        if not text:
            del inside[key]
        origins |= {(*whole, *path[:depth]): (place, ()) for depth in range(len(path) + 1)}
    changed = replace(document, data={**document.data, "conditions": own}, origins=document.origins | origins)
    sheets = {**library.job_sheets, name: parse(JobSheet, changed)}
    return replace(library, job_sheets=sheets, documents={**library.documents, file: changed})


# Conditions that are lists; in an argument their entries stand between commas.
_LISTED = ("breaks", "days", "days_off")


def _condition(library: Library, place: Document, name: str) -> str:
    """The name of an argument that is a condition. Raises Faults with what there is."""
    assert library.shop_sizes
    inside: dict[str, Iterable[str]] = {"stock": library.shop_sizes.shared, "lesson": OwnLesson.model_fields}
    names = [
        ".".join(("set", key, *more))
        for key in Conditions.model_fields
        for more in ([(one,) for one in inside[key]] if key in inside else [()])
    ]
    if name not in names:
        group = ".".join(name.split(".")[:2])
        within = [one for one in names if one.startswith(f"{group}.")] or names
        by_last = {one.rpartition(".")[2]: one for one in within}
        close = get_close_matches(name.rpartition(".")[2], by_last, n=1)
        hint = f"did you mean '{by_last[close[0]]}'? " if close else ""
        message = f"'{clip(name)}' is no condition of a job sheet; {hint}conditions: {', '.join(within)}"
        raise Faults([place.fault((), message, at_key=True)])
    return name


def _named(there: Mapping[str, T], name: str, what: str) -> T:
    """What is there under a name. Raises BondwrightError with what is near it."""
    if name not in there:
        close = get_close_matches(name, there, n=1) or list(there)
        raise BondwrightError(f"no {what} '{clip(name)}'; {what}s: {', '.join(close)}")
    return there[name]


def read_inputs(arguments: Sequence[str]) -> dict[str, str]:
    """name=value arguments. Raises Faults for one that is not, or that names an input twice."""
    inputs: dict[str, str] = {}
    for argument in arguments:
        name, sign, value = (part.strip() for part in argument.partition("="))
        if not sign or not name:
            raise Faults([Fault(f"argument '{clip(argument)}'", 1, 1, "write name=value, for instance thread=M8")])
        if name in inputs:
            raise Faults([Fault(f"argument '{clip(argument)}'", 1, 1, f"'{name}' is given twice; keep one")])
        inputs[name] = value
    return inputs


def _argument_fault(error: InputError, inputs: Mapping[str, str], card: str) -> Fault:
    """A fault at the argument that gave the input; at the card when it was none of them."""
    name, message = error.name, plain(str(error))
    if name not in inputs:
        return Fault(f"card '{card}'", 1, 1, message)
    column = 1 if isinstance(error, UnknownInput) else len(name) + 2
    return Fault(f"argument '{clip(f'{name}={inputs[name]}')}'", 1, column, message)


def as_json(reckoning: Reckoning, own: Sequence[str] = ()) -> str:
    """Values in shown units, not rounded, the trail that led to them, and why what was asked for has no number."""
    symbols = FORMULARY.symbols
    values = {
        step.symbol: {
            "value": json_number(from_base(step.value, symbols[step.symbol].unit, reckoning.unit(step.symbol))),
            "unit": label(reckoning.unit(step.symbol)),
            "name": symbols[step.symbol].meaning,
            "shown": reckoning.shop(step.symbol),
        }
        for step in reckoning.working.trail
    }
    document = {
        "card": reckoning.sheet.title,
        "shop": reckoning.shop_name,
        "choices": reckoning.titles,
        "values": values,
        "trail": [trail_entry(reckoning, step) for step in reckoning.working.trail],
        "refused": {symbol: str(reckoning.working.refused[symbol]) for symbol in refused(reckoning)},
        "warnings": reckoning.working.warnings,
        "own_tests": list(own),
    }
    return plain(json.dumps(document, ensure_ascii=False, indent=2))


def refused(reckoning: Reckoning) -> list[str]:
    """What the card works and has no number for."""
    return [symbol for symbol in reckoning.sheet.outputs if symbol in reckoning.working.refused]


def json_number(value: float) -> float:
    """Without binary noise: 14.0, not 14.000000000000002."""
    return float(f"{value:.12g}")


def trail_entry(reckoning: Reckoning, step: Step) -> dict[str, object]:
    """One step of the trail for a program."""
    entry: dict[str, object] = {"symbol": step.symbol, "source": step.source}
    if step.by is None:
        return {**entry, "kind": "given"}
    entry["from"] = list(step.by.parameters)
    if isinstance(step.by, Formula):
        return {
            **entry,
            "kind": "formula",
            "formula": plain(formula_text(step.by)),
            "worked": plain(worked(reckoning, step)),
        }
    return {**entry, "kind": "lookup", "rule": step.by.meaning}


def worked(reckoning: Reckoning, step: Step) -> str:
    """A formula with the numbers put in and its answer."""
    assert isinstance(step.by, Formula)
    return numbers_text(step.by, reckoning.working.values, FORMULARY.symbols, reckoning.system)


def as_trail(reckoning: Reckoning, own: Sequence[str] = ()) -> str:
    """The trail as it is read in a terminal."""
    symbols = FORMULARY.symbols
    lines = [f"{reckoning.sheet.title} ({', '.join(reckoning.titles.values())})", "", tr("Given")]
    for step in reckoning.working.trail:
        if step.by is None:
            value = with_unit(*working_number(symbols[step.symbol], step.value, reckoning.system))
            lines.append(f"  {step.symbol:<8}{value:<14}{symbols[step.symbol].meaning} [{step.source}]")
    lines += ["", tr("Worked")]
    for step in reckoning.working.trail:
        if isinstance(step.by, Formula):
            lines.append(f"  {step.symbol:<8}{symbols[step.symbol].meaning} [{step.source}]")
            lines.append(f"  {'':<8}= {formula_text(step.by)}")
            lines.append(f"  {'':<8}= {worked(reckoning, step)}")
        elif step.by is not None:
            lines.append(f"  {step.symbol:<8}{symbols[step.symbol].meaning} [{step.source}]")
            lines.append(f"  {'':<8}{step.by.meaning} {reckoning.shop(step.symbol)}")
    lines += ["", tr("For the shop")]
    for symbol in reckoning.sheet.outputs:
        lines.append(f"  {symbol:<8}{reckoning.said_alone(symbol):<14} {symbols[symbol].meaning}")
    return plain("\n".join([*lines, *_told(reckoning, own)]))


def _told(reckoning: Reckoning, own: Sequence[str]) -> Iterator[str]:
    """What has no number and why, what to mind, and what the shop's own tests say."""
    yield from (
        ["", *(tr("No number: {reason}.", reason=reason) for reason in reckoning.reasons)] if reckoning.reasons else []
    )
    for warning in reckoning.working.warnings:
        yield from ("", tr("Mind: {warning}.", warning=warning))
    yield from ["", *own] if own else []


def as_answer(card: Card, reckoning: Reckoning, own: Sequence[str] = ()) -> str:
    """What is read at the bench: drills and flags, what is weighed and filled in, the times, and the loads."""
    parts = {tr("Drills, epoxy and what is set"): numbers(card), tr("Times"): clock(card)}
    lines = [f"{reckoning.sheet.title} ({', '.join(reckoning.titles.values())})"]
    for heading, entries in parts.items():
        rows = standing(card, entries, reckoning)
        told = [f"  {plain(what):<18} {value:<16} {more}".rstrip() for what, value, more in rows if value]
        lines += ["", heading, *told] if told else []
    if len(lines) == 1:  # nothing that a bench side has a row for
        others = [symbol for symbol in card.outputs if symbol not in card.loads]
        lines += [
            "",
            *(f"  {reckoning.said_alone(symbol):<16} {FORMULARY.symbols[symbol].meaning}" for symbol in others),
        ]
    if card.loads:
        loads = [(reckoning.said_alone(symbol), FORMULARY.symbols[symbol].meaning) for symbol in card.loads]
        lines += [
            "",
            tr("What it may be trusted with, as a starting model"),
            *(f"  {load:<12} {what}" for load, what in loads),
        ]
    lines += [
        *_told(reckoning, own),
        "",
        tr("For learning and planning. The whole working: --trail. What may be set: bondwright inputs CARD."),
    ]
    return plain("\n".join(lines))


@dataclass(frozen=True)
class Command:
    """One command: what it does, what it asks for, whether it reads the procedures and how it takes job sheets, and
    whether it proves the units of formulas and rules."""

    does: str
    run: Callable[[Any, argparse.Namespace], int]
    asks: Callable[[argparse.ArgumentParser], None]
    reads: bool = True
    job_sheets: JobSheets = "none"
    proves_units: bool = False


def _asks_work(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("card", metavar="CARD", help="the card's id, the name of its file")
    parser.add_argument("inputs", nargs="*", metavar="name=value", help='such as thread=M8 T="90 mm" N=2 shop=metric')
    parser.add_argument("--trail", action="store_true", help="every step that led to the numbers, and all of them")
    parser.add_argument("--json", action="store_true", help="print values and trail as JSON")
    _asks_language(parser)


def _asks_language(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("--language", dest="spoken", default=ENGLISH, metavar="CODE", help="answer in it, as de")


def _asks_job(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("name", metavar="NAME", help="the sheet's id")
    parser.add_argument(
        "conditions", nargs="*", metavar="set.KEY=value", help='what if: set.temperature="12 °C" set.crew=3'
    )
    _asks_language(parser)


def _asks_write(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("folder", metavar="DIR", help="where to write")
    parser.add_argument(
        "--units", choices=UNITS, help="the shops the pages are made for (those of the site here, or both)"
    )
    parser.add_argument("--paper", choices=PAPERS, help="the paper they print on (that of the site here, or A4)")
    parser.add_argument("--threads", nargs="*", default=[], metavar="SERIES", help="thread series in the tables (all)")


def _asks_completion(parser: argparse.ArgumentParser) -> None:
    import shtab

    parser.add_argument("shell", choices=shtab.SUPPORTED_SHELLS, help="which shell")


def _asks_words(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("language", help="its code, as de")
    parser.add_argument("--take", nargs="*", default=[], metavar="FILE", help="take over what these catalogues say")
    parser.add_argument("--give", metavar="FILE", help="write what is still missing into this file, for a translator")
    parser.add_argument(
        "--of", nargs="*", default=[], metavar="PLACE", help="of it only the texts of these places, as 'cards/*'"
    )


def _asks_schema(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("kind", nargs="?", choices=[*FILES], help="which kind of file to print")
    parser.add_argument("--into", metavar="DIR", type=Path, help="write all kinds into DIR/schema, as files name them")


def _asks_new(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("what", choices=[*STARTS], help="what to begin")
    parser.add_argument("name", help="its name: small letters, digits and single hyphens")
    parser.add_argument("--language", dest="spoken", default=ENGLISH, metavar="CODE", help="of a new site, as de")


def _asks(name: str, help_: str) -> Callable[[argparse.ArgumentParser], None]:
    """A command that asks for one name."""

    def ask(parser: argparse.ArgumentParser) -> None:
        parser.add_argument(name, metavar=name.upper(), help=help_)

    return ask


def _nothing(_: argparse.ArgumentParser) -> None:
    """A command that asks for nothing."""


# What MkDocs does, with its own options.
PASSED_ON = {
    "serve": "show the site of this folder in the browser, and follow each change",
    "build": "make the site of this folder, as plain files to host",
}
COMMANDS = {
    "new": Command("begin a site, a card, a table or a job sheet of your own", _new, _asks_new, reads=False),
    "check": Command(
        "validate everything; exit code 1 with the list of faults",
        _check,
        _nothing,
        job_sheets="all",
        proves_units=True,
    ),
    "list": Command("list the cards, tables and job sheets", _list, _nothing),
    "inputs": Command("list what may be set on a card", _inputs, _asks("card", "the card's id, the name of its file")),
    "drawings": Command("list the drawings, with the values that each needs", _drawings, _nothing),
    "schema": Command("print or write the JSON Schema of a kind of file, for an editor", _schema, _asks_schema),
    "completion": Command(
        "print what has a shell complete all this: commands, options and names", _completion, _asks_completion
    ),
    "work": Command("work a card on your own inputs", _work, _asks_work),
    "job": Command("plan a job sheet: what falls short, the mixes and the clock", _job, _asks_job),
    "words": Command("bring the catalogue of a language up to date: every text that is printed", _words, _asks_words),
    "write": Command(
        "write the whole site as a folder that other generators build too", _write, _asks_write, job_sheets="sound"
    ),
}
