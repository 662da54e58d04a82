"""What comes with the program: the procedures, and the folder of hand-written pages, style sheets and scripts."""

from __future__ import annotations

from pathlib import Path


def _shipped(name: str) -> Path:
    """A folder that is installed inside the package; in a clone it stands beside it."""
    package = Path(__file__).resolve().parent
    return package / name if (package / name).is_dir() else package.parent / name


VERSION = "0.2.0"
PROCEDURES = _shipped("procedures")
DOCS = _shipped("docs")
HAND_WRITTEN = [path.name for path in DOCS.glob("*.md")]
# The name by which a site's options call the procedures that come with the program.
BUILTIN = "builtin"
