"""A table as a file for a spreadsheet: symbol and unit in the header, plain decimals in the cells."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable, Sequence


def csv_text(header: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """RFC 4180 text with newlines as line ends."""
    buffer = io.StringIO()
    writer = csv.writer(buffer, lineterminator="\n")
    writer.writerow(header)
    writer.writerows(rows)
    return buffer.getvalue()
