"""The command line: `python -m generator check | work | job | write`."""

from __future__ import annotations

import argparse
import io
import json
import os
import sys
from collections.abc import Mapping, Sequence
from difflib import get_close_matches
from pathlib import Path

from .check import load_checked
from .errors import BondwrightError, Fault, Faults
from .evidence import own_tests
from .formula import FORMULARY, Formula
from .job import InputError, Job, UnknownInput, do_job
from .kept import Kept
from .model.library import Library
from .notation import formula_text, numbers_text, working_number
from .pages.job_sheet import JobPage
from .pages.options import PAPERS, UNITS, SiteOptions
from .pages.site import site_files
from .units import clip, from_base, label, plain, with_unit
from .working import Step
from .written import write_set


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command. Returns the exit code: 0 done, 1 something is wrong in what was given."""
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(encoding="utf-8")
    options = _parse(arguments)
    options.kept = Kept()
    try:
        library = load_checked(Path(options.procedures), options.kept)
        code = int(options.command(library, options))
        sys.stdout.flush()
        return code
    except Faults as error:
        print(error, file=sys.stderr)
        print(f"{len(error.faults)} to mend", file=sys.stderr)
    except BondwrightError as error:
        print(error, file=sys.stderr)
    except KeyboardInterrupt:
        print("stopped; what was there before is as it was", file=sys.stderr)
        return 130
    except BrokenPipeError:  # the reader, head or less, has seen enough
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: SIM115  stands until the program ends
        return 0
    return 1


def _parse(arguments: Sequence[str] | None) -> argparse.Namespace:
    """Options may stand between the inputs as well as after them."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    last = [argument for argument in given if argument == "--json"]
    return _parser().parse_args([argument for argument in given if argument != "--json"] + last[:1])


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(prog="python -m generator", description="Worked procedure cards.")
    parser.add_argument(
        "--procedures", default="procedures", metavar="DIR", help="the folder of cards and data (procedures)"
    )
    commands = parser.add_subparsers(required=True, metavar="COMMAND")

    check = commands.add_parser("check", help="validate everything; exit code 1 with the list of faults")
    check.set_defaults(command=_check)

    work = commands.add_parser("work", help="work a card on your own inputs and print the trail")
    work.add_argument("card", metavar="CARD", help="the card's id, the name of its file")
    work.add_argument("inputs", nargs="*", metavar="name=value", help='such as thread=M8 T="90 mm" N=2 shop=metric')
    work.add_argument("--json", action="store_true", help="print values and trail as JSON")
    work.set_defaults(command=_work)

    job = commands.add_parser("job", help="plan a job sheet: what falls short, the mixes and the clock")
    job.add_argument("name", metavar="NAME", help="the sheet's id, the name of its file in jobs")
    job.set_defaults(command=_job)

    write = commands.add_parser("write", help="write the generated pages as plain Markdown and CSV")
    write.add_argument("folder", metavar="DIR", help="where to write")
    write.add_argument("--units", choices=UNITS, default="both", help="the shops the pages are made for (both)")
    write.add_argument("--paper", choices=PAPERS, default="A4", help="the paper they print on (A4)")
    write.add_argument("--threads", nargs="*", default=[], metavar="SERIES", help="thread series in the tables (all)")
    write.set_defaults(command=_write)
    return parser


def _check(library: Library, options: argparse.Namespace) -> int:
    checks = sum(len(sheet.checks) for _, sheet in library.sheets())
    print(
        f"cards: {len(library.cards)}, tables: {len(library.reference)}, job sheets: {len(library.job_sheets)}, "
        f"formulas with units proved: {len(FORMULARY.formulas)}, "
        f"check values within tolerance: {checks}, sources: {len(library.sources)}. Nothing to mend."
    )
    return 0


def _write(library: Library, options: argparse.Namespace) -> int:
    unknown = [series for series in options.threads if series not in library.series]
    if unknown:
        raise BondwrightError(f"unknown thread series {', '.join(unknown)}; series: {', '.join(library.series)}")
    files = site_files(library, SiteOptions(options.units, options.paper, tuple(options.threads)), options.kept)
    write_set(Path(options.folder), files)
    print(f"{len(files)} files written to {options.folder}")
    return 0


def _work(library: Library, options: argparse.Namespace) -> int:
    name = options.card
    if name not in library.cards:
        close = get_close_matches(name, library.cards, n=1) or list(library.cards)
        raise BondwrightError(f"no card '{clip(name)}'; cards: {', '.join(close)}")
    inputs = read_inputs(options.inputs)
    try:
        job = do_job(library, library.cards[name], inputs)
    except InputError as error:
        raise Faults([_argument_fault(error, inputs, name)]) from None
    own = own_tests(library, library.cards[name], inputs, job)
    print(as_json(job, own) if options.json else as_text(job, own))
    return 0


def _job(library: Library, options: argparse.Namespace) -> int:
    name = options.name
    if name not in library.job_sheets:
        close = get_close_matches(name, library.job_sheets, n=1) or list(library.job_sheets)
        raise BondwrightError(f"no job sheet '{clip(name)}'; job sheets: {', '.join(close)}")
    print(JobPage(library, name, SiteOptions()).text)
    return 0


def read_inputs(arguments: Sequence[str]) -> dict[str, str]:
    """name=value arguments. Raises Faults for one that is not, or that names an input twice."""
    inputs: dict[str, str] = {}
    for argument in arguments:
        name, sign, value = argument.partition("=")
        if not sign or not name.strip():
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


def as_json(job: Job, own: Sequence[str] = ()) -> str:
    """Values in shown units, not rounded, the trail that led to them, and why what was asked for has no number."""
    symbols = FORMULARY.symbols
    values = {
        step.symbol: {
            "value": json_number(from_base(step.value, symbols[step.symbol].unit, job.unit(step.symbol))),
            "unit": label(job.unit(step.symbol)),
            "name": symbols[step.symbol].meaning,
            "shown": plain(job.shop(step.symbol)),
        }
        for step in job.working.trail
    }
    document = {
        "card": job.sheet.title,
        "shop": job.shop_name,
        "choices": job.titles,
        "values": values,
        "trail": [trail_entry(job, step) for step in job.working.trail],
        "refused": {symbol: str(job.working.refused[symbol]) for symbol in refused(job)},
        "warnings": job.working.warnings,
        "own_tests": [plain(line) for line in own],
    }
    return json.dumps(document, ensure_ascii=False, indent=2)


def refused(job: Job) -> list[str]:
    """What the card works and has no number for."""
    return [symbol for symbol in job.sheet.outputs if symbol in job.working.refused]


def json_number(value: float) -> float:
    """Without binary noise: 14.0, not 14.000000000000002."""
    return float(f"{value:.12g}")


def trail_entry(job: Job, step: Step) -> dict[str, object]:
    """One step of the trail for a program."""
    entry: dict[str, object] = {"symbol": step.symbol, "source": step.source}
    if step.by is None:
        return {**entry, "kind": "given"}
    entry["from"] = list(step.by.parameters)
    if isinstance(step.by, Formula):
        return {**entry, "kind": "formula", "formula": plain(formula_text(step.by)), "worked": plain(worked(job, step))}
    return {**entry, "kind": "lookup", "rule": step.by.meaning}


def worked(job: Job, step: Step) -> str:
    """A formula with the numbers put in and its answer."""
    assert isinstance(step.by, Formula)
    return numbers_text(step.by, job.working.values, FORMULARY.symbols, job.system)


def as_text(job: Job, own: Sequence[str] = ()) -> str:
    """The trail as it is read in a terminal."""
    symbols = FORMULARY.symbols
    lines = [f"{job.sheet.title} ({', '.join(job.titles.values())})", "", "Given"]
    for step in job.working.trail:
        if step.by is None:
            value = with_unit(*working_number(symbols[step.symbol], step.value, job.system))
            lines.append(f"  {step.symbol:<8}{value:<14}{symbols[step.symbol].meaning} [{step.source}]")
    lines += ["", "Worked"]
    for step in job.working.trail:
        if isinstance(step.by, Formula):
            lines.append(f"  {step.symbol:<8}{symbols[step.symbol].meaning} [{step.source}]")
            lines.append(f"  {'':<8}= {formula_text(step.by)}")
            lines.append(f"  {'':<8}= {worked(job, step)}")
        elif step.by is not None:
            lines.append(f"  {step.symbol:<8}{symbols[step.symbol].meaning} [{step.source}]")
            lines.append(f"  {'':<8}{step.by.meaning} {job.shop(step.symbol)}")
    lines += ["", "For the shop"]
    for symbol in job.sheet.outputs:
        lines.append(f"  {symbol:<8}{job.said(symbol):<14}{symbols[symbol].meaning}")
    lines += ["", *(f"No number: {reason}." for reason in job.reasons)] if job.reasons else []
    for warning in job.working.warnings:
        lines += ["", f"Mind: {warning}."]
    lines += ["", *own] if own else []
    return plain("\n".join(lines))
