"""A table as a file for a spreadsheet: symbol and unit in the header, plain decimals in the cells."""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterable, Sequence


def csv_text(header: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """RFC 4180 text with newlines as line ends. No cell is one that a spreadsheet would work as a formula."""
    buffer = io.StringIO()
    writer = csv.writer(buffer, lineterminator="\n")
    writer.writerows([_as_text(cell) for cell in row] for row in (header, *rows))
    return buffer.getvalue()


_FORMULA = re.compile(r"[=+\-@\t\r]")
_NUMBER = re.compile(r"[+-]?\d+(?:\.\d+)?", re.ASCII)


def _as_text(cell: str) -> str:
    """The cell; where a spreadsheet would take it for a formula it begins with an apostrophe. Numbers stay numbers."""
    return f"'{cell}" if _FORMULA.match(cell) and not _NUMBER.fullmatch(cell) else cell
