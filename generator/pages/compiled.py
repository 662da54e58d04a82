"""Templates compiled once: kept where Python keeps this package's compiled modules, and under the same rules. A theme's
stand there too, for in its own folders nothing may lie that it did not bring."""

from __future__ import annotations

import hashlib
import os
import sys
from contextlib import suppress
from importlib.util import cache_from_source
from pathlib import Path

from jinja2.bccache import Bucket, BytecodeCache

HERE = Path(__file__).parent


class Compiled(BytecodeCache):
    """The code of templates on disk, or in this process alone where Python may write none. It is taken where it was
    made from the same source by the same version; one that is spoilt is made again."""

    def __init__(self, language: str = "") -> None:
        self.language = language
        self.codes: dict[str, bytes] = {}

    def get_cache_key(self, name: str, filename: str | None = None) -> str:
        """Where the code stands: a template in another language is another."""
        mark = hashlib.sha256(f"{filename or name} {self.language}".encode()).hexdigest()[:16]
        return cache_from_source(str(HERE / f"template-{mark}.py"))

    def load_bytecode(self, bucket: Bucket) -> None:
        """Take the code that was made from the same source. Whatever keeps it from being read, then there is none: a
        file that was cut short or is another's raises whatever its bytes happen to say."""
        with suppress(Exception):
            bucket.bytecode_from_string(self.codes.get(bucket.key) or Path(bucket.key).read_bytes())

    def dump_bytecode(self, bucket: Bucket) -> None:
        """Keep the code; another process may do so too, and reads none that is half written."""
        code, path = bucket.bytecode_to_string(), Path(bucket.key)
        if sys.dont_write_bytecode:
            self.codes[bucket.key] = code
            return
        half = path.with_suffix(f".{os.getpid()}")
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            half.write_bytes(code)
            half.replace(path)
        except OSError:
            self.codes[bucket.key] = code
