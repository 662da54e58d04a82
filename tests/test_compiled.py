"""Templates are compiled once, by the rules of Python's own compiled modules."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from jinja2 import Environment, FileSystemLoader
from jinja2.bccache import bc_magic

from conftest import HOUSE
from generator.pages.compiled import Compiled


class Counting(Environment):
    """Counts how many templates it compiles."""

    compiled = 0

    def compile(self, *args: object, **named: object) -> object:  # type: ignore[override]
        """Compile, and count it."""
        type(self).compiled += 1
        return super().compile(*args, **named)  # type: ignore[call-overload]


def says(folder: Path, language: str = "") -> tuple[str, int]:
    """What a new environment has the template say, and how many templates it compiled for that."""
    before = Counting.compiled
    env = Counting(loader=FileSystemLoader(folder), bytecode_cache=Compiled(language))
    return env.get_template("page.md.j2").render(), Counting.compiled - before


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A template beside which code may be kept."""
    monkeypatch.setattr(sys, "dont_write_bytecode", False)
    monkeypatch.setattr(sys, "pycache_prefix", str(tmp_path / "compiled"))
    (tmp_path / "page.md.j2").write_text("{{ 1 + 1 }} holes", encoding="utf-8")
    return tmp_path


def test_a_template_is_compiled_once(folder: Path) -> None:
    assert [says(folder), says(folder), says(folder, "de"), says(folder, "de"), says(folder)] == [
        ("2 holes", compiled) for compiled in (1, 0, 1, 0, 0)
    ]
    (folder / "page.md.j2").write_text("{{ 1 + 2 }} holes", encoding="utf-8")
    assert [says(folder), says(folder)] == [("3 holes", 1), ("3 holes", 0)]


def test_code_stands_in_this_package_alone(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A theme's folders are read as they lie: MkDocs takes whatever stands beside a template for one more."""
    monkeypatch.setattr(sys, "pycache_prefix", None)
    key = Path(Compiled().get_cache_key("page.md.j2", str(folder / "page.md.j2")))
    assert key.parent == HOUSE / "generator/pages/__pycache__"


def test_spoilt_code_is_made_again(folder: Path) -> None:
    says(folder)
    (code,) = (path for path in (folder / "compiled").rglob("*") if path.is_file())
    for spoilt in (b"", b"nothing", code.read_bytes()[:16], code.read_bytes()[:-20]):
        code.write_bytes(spoilt)
        assert [says(folder), says(folder)] == [("2 holes", 1), ("2 holes", 0)]


def test_code_cut_at_any_length_or_of_another_is_none(folder: Path) -> None:
    says(folder)
    cache, env = Compiled(), Environment(loader=FileSystemLoader(folder))
    source = (folder / "page.md.j2").read_text(encoding="utf-8")
    bucket = cache.get_bucket(env, "page.md.j2", str(folder / "page.md.j2"), source)
    path, whole = Path(bucket.key), Path(bucket.key).read_bytes()
    assert bucket.code
    # After the sign of the version: what pickle calls a module, a name, a call and a mark that there is none of.
    others = [bc_magic + said for said in (b"cnot.there\nx\n.", b"cos\nnot_there\n.", b"t.", b"h\x07.", b"\x80\xff")]
    for spoilt in [*(whole[:length] for length in range(len(whole))), *others]:
        path.write_bytes(spoilt)
        bucket.reset()
        cache.load_bytecode(bucket)
        assert bucket.code is None, spoilt


def test_nothing_is_written_where_python_writes_nothing(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(sys, "dont_write_bytecode", True)
    assert [says(folder), says(folder)] == [("2 holes", 1)] * 2
    assert not (folder / "compiled").exists()
