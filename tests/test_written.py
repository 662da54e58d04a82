"""Writing the pages on disk: a whole set or the old one, and nobody else's file touched."""

from __future__ import annotations

import errno
import os
import re
from contextlib import suppress
from pathlib import Path

import pytest

from conftest import CARD, Run, runner
from generator import written
from generator.errors import Faults
from generator.written import LIST, NewSet, NotWritten, listed, write_set

ONE = {"index.md": "one\n", "cards/a.md": "a\n", "cards/a/sizes.csv": "1\n"}
TWO = {"index.md": "two\n", "cards/b.md": "b\n"}
THREE = {"index.md": "three\n", "cards/b.md": "c\n", "more.md": "more\n"}


def there(folder: Path) -> dict[str, str]:
    """Every file of a folder but the list; and no trace of a run stands beside it."""
    assert not [path.name for path in folder.parent.iterdir() if path.name.startswith(".")]
    return {
        path.relative_to(folder).as_posix(): path.read_text(encoding="utf-8")
        for path in folder.rglob("*")
        if path.is_file() and path.name != LIST
    }


def test_a_set_replaces_what_was_written_and_keeps_what_was_not(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_set(out, ONE)
    assert there(out) == ONE
    assert listed(out) == {*ONE, LIST}
    (out / "mine.md").write_text("mine", encoding="utf-8")
    (out / "cards/a/note.txt").write_text("mine too", encoding="utf-8")
    (out / "empty").mkdir()
    (out / "link").symlink_to("mine.md")
    write_set(out, TWO)
    assert there(out) == {**TWO, "mine.md": "mine", "cards/a/note.txt": "mine too", "link": "mine"}
    assert (out / "empty").is_dir()
    assert (out / "link").is_symlink()


def test_what_somebody_has_changed_is_theirs(tmp_path: Path) -> None:
    """In the way of a page it is a fault, and all stays as it was; where no page comes any more, it stays."""
    out = tmp_path / "out"
    write_set(out, ONE)
    changed = {**ONE, "index.md": "one, and a word of my own\n", "cards/a.md": "a, mended\n"}
    for name in ("index.md", "cards/a.md"):
        (out / name).write_text(changed[name], encoding="utf-8")
    with pytest.raises(Faults, match="was changed since") as told:
        write_set(out, TWO)
    assert [fault.file for fault in told.value.faults] == [str(out / "index.md")]
    assert there(out) == changed
    (out / "index.md").rename(out / "mine.md")
    write_set(out, TWO)
    assert there(out) == {**TWO, "mine.md": changed["index.md"], "cards/a.md": changed["cards/a.md"]}


def test_what_nobody_has_changed_is_replaced(tmp_path: Path) -> None:
    """Also what was taken away, what Git has given other ends of lines, and what a version wrote whose list has names alone."""
    out = tmp_path / "out"
    write_set(out, ONE)
    (out / "cards/a.md").write_bytes(b"a\r\n")
    (out / "cards/a/sizes.csv").unlink()
    write_set(out, TWO)
    assert there(out) == TWO
    names = [line.split("  ")[-1] for line in (out / LIST).read_text(encoding="utf-8").splitlines()]
    (out / LIST).write_text("\n".join(names) + "\n", encoding="utf-8")
    (out / "index.md").write_text("changed\n", encoding="utf-8")
    write_set(out, ONE)
    assert there(out) == ONE


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("index.md", "was not written from here"),
        (LIST, "was not written from here"),
        ("index.md/", "that is a folder"),
        ("cards", "a folder is wanted here"),
    ],
)
def test_what_is_in_the_way_is_a_fault_and_stays(tmp_path: Path, name: str, words: str) -> None:
    out = tmp_path / "out"
    out.mkdir()
    path = out / name
    if name.endswith("/"):
        path.mkdir()
    else:
        path.write_text("mine", encoding="utf-8")
    with pytest.raises(Faults, match=words) as told:
        write_set(out, ONE)
    assert str(told.value).startswith(f"{path}:1:1: ")
    assert [one.name for one in out.iterdir()] == [path.name]


def test_a_folder_inside_a_file_is_refused_as_the_file_itself(tmp_path: Path) -> None:
    file = tmp_path / "file"
    file.write_text("mine", encoding="utf-8")
    for folder in (file, file / "out", file / "deep/out"):
        with pytest.raises(Faults, match="that is a file; name a folder") as told:
            write_set(folder, ONE)
        assert str(told.value).startswith(f"{file}:1:1: ")
    assert file.read_text(encoding="utf-8") == "mine"


@pytest.mark.parametrize("name", ["", ".", "..", "/", "../link"])
def test_nobody_stands_in_what_is_replaced(tmp_path: Path, monkeypatch: pytest.MonkeyPatch, name: str) -> None:
    here = tmp_path / "here"
    here.mkdir()
    (tmp_path / "link").symlink_to(here)
    monkeypatch.chdir(here)
    with pytest.raises(Faults, match="you stand in that folder"):
        write_set(Path(name), ONE)
    assert {path.name for path in tmp_path.iterdir()} == {"here", "link"}
    assert not [*here.iterdir()]


def test_from_a_folder_that_is_gone_nothing_is_written(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    here = tmp_path / "here"
    here.mkdir()
    monkeypatch.chdir(here)
    here.rmdir()
    with pytest.raises(NotWritten, match="No such file or directory"):
        write_set(Path("out"), ONE)


def test_no_link_is_followed(tmp_path: Path) -> None:
    elsewhere = tmp_path / "elsewhere"
    elsewhere.mkdir()
    (tmp_path / "out").symlink_to(elsewhere)
    with pytest.raises(Faults, match="that is a link"):
        write_set(tmp_path / "out", ONE)
    out = tmp_path / "in"
    out.mkdir()
    (out / "cards").symlink_to(elsewhere)
    with pytest.raises(Faults, match="a link or a file"):
        write_set(out, ONE)
    assert not [*elsewhere.iterdir()]


@pytest.mark.parametrize("stop", [KeyboardInterrupt(), OSError(errno.ENOSPC, "no space")])
@pytest.mark.parametrize("after", range(6))
def test_whatever_stops_it_leaves_a_whole_set(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, stop: BaseException, after: int
) -> None:
    """Stopped at any opening of a file and at any renaming: the old set, or the new one."""
    out = tmp_path / "out"
    write_set(out, ONE)
    steps = 0

    def counted(function: object) -> object:
        def step(*arguments: object, **more: object) -> object:
            nonlocal steps
            steps += 1
            if steps == after + 1:
                raise stop
            return function(*arguments, **more)  # type: ignore[operator]

        return step

    with monkeypatch.context() as patched:
        patched.setattr(Path, "open", counted(Path.open))
        patched.setattr(Path, "rename", counted(Path.rename))
        full = re.escape(str(out)) + ".*: cannot be written: the disk is full"
        with pytest.raises((NotWritten, KeyboardInterrupt), match=full if isinstance(stop, OSError) else "^$"):
            write_set(out, TWO)
    assert there(out) == ONE
    write_set(out, TWO)
    assert there(out) == TWO


@pytest.mark.parametrize("before", [ONE, {}], ids=["a site", "none"])
@pytest.mark.parametrize("stop", [KeyboardInterrupt(), OSError(errno.ENOSPC, "no space")])
@pytest.mark.parametrize("after", range(6))
def test_a_site_that_others_make_takes_its_place_whole(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, before: dict[str, str], stop: BaseException, after: int
) -> None:
    """Stopped before all is made or at any renaming, the old one stands; what is hidden in it stays."""
    out = tmp_path / "out"
    old = {**before, ".git": "mine"} if before else {}
    for name, text in old.items():
        (out / name).parent.mkdir(parents=True, exist_ok=True)
        (out / name).write_text(text, encoding="utf-8")
    rename, steps = Path.rename, 0

    def counted(*arguments: Path) -> Path:
        nonlocal steps
        steps += 1
        if steps == after:
            raise stop
        return rename(*arguments)

    new = NewSet(out)
    for name, text in TWO.items():
        (new.place / name).parent.mkdir(parents=True, exist_ok=True)
        (new.place / name).write_text(text, encoding="utf-8")
    assert {name: (out / name).read_text(encoding="utf-8") for name in old} == old
    done = 0 < after > 2 + 2 * bool(before)  # two entries go, where there were any, and two come
    with monkeypatch.context() as patched:
        patched.setattr(Path, "rename", counted)
        if after and not done:
            with pytest.raises((NotWritten, KeyboardInterrupt)):
                new.take_place()
        elif done:
            new.take_place()
    new.drop()
    if not done and not before:
        assert not out.exists()
    else:
        assert there(out) == ({**TWO, **{key: old[key] for key in old if key == ".git"}} if done else old)


def test_a_run_that_was_killed_is_mended_by_the_next(tmp_path: Path) -> None:
    out = tmp_path / "out"
    write_set(out, ONE)
    out.rename(tmp_path / ".out.old")
    half = tmp_path / ".out.new-half"
    (half / "out").mkdir(parents=True)
    write_set(out, TWO)
    assert half.is_dir(), "it may be another run's that goes on"
    os.utime(half, (0, 0))
    write_set(out, TWO)
    assert there(out) == TWO


@pytest.mark.parametrize("first", [True, False], ids=["before what is kept", "after it"])
@pytest.mark.parametrize("cut", [True, False], ids=["cut off", "done"])
def test_two_runs_at_once_leave_a_whole_set(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, first: bool, cut: bool
) -> None:
    """The second runs while the first is at what it keeps: cut off itself it is as if it had not been, and done it has
    the last word. What is not ours is there in the end."""
    out = tmp_path / "out"
    write_set(out, ONE)
    (out / "own.txt").write_text("mine", encoding="utf-8")
    keep, swap = written._keep, written._swap

    def stopped(*_: object) -> None:
        raise KeyboardInterrupt

    def another() -> None:
        monkeypatch.setattr(written, "_keep", keep)
        monkeypatch.setattr(written, "_swap", stopped if cut else swap)
        with suppress(KeyboardInterrupt):
            write_set(out, THREE)
        monkeypatch.setattr(written, "_swap", swap)

    def busy(folder: Path, whole: Path, new: Path, ours: set[str]) -> None:
        if first:
            another()
        keep(folder, whole, new, ours)
        if not first:
            another()

    monkeypatch.setattr(written, "_keep", busy)
    if cut:
        write_set(out, TWO)
    else:
        with pytest.raises(NotWritten, match="another run writes there at the same time"):
            write_set(out, TWO)
    assert there(out) == {**(TWO if cut else THREE), "own.txt": "mine"}
    assert listed(out) == {*(TWO if cut else THREE), LIST}


@pytest.mark.parametrize(
    ("command", "at"),
    [
        ("write out", "generator.pages.tongues.tongues"),
        ("check", "generator.pages.tongues.unplanned"),
        (f"work {CARD}", "generator.cli.reckon"),
        ("build", "mkdocs.commands.build.build"),
    ],
)
def test_ctrl_c_is_one_line(
    house: Path, generator: Run, monkeypatch: pytest.MonkeyPatch, command: str, at: str
) -> None:
    def stop(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(at, stop)
    before = {*house.iterdir()}
    done = generator(*command.split())
    assert done.returncode == 130
    assert done.stderr.endswith("stopped; nothing is left half written\n")
    assert "Traceback" not in done.stderr
    assert {*house.iterdir()} == before


def test_ctrl_c_is_how_serving_ends(generator: Run, monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("mkdocs.commands.serve.build", lambda *_, **__: None)
    monkeypatch.setattr("mkdocs.livereload.LiveReloadServer.serve", stop)
    assert generator("serve", "-a", "127.0.0.1:0").returncode == 130
    assert generator("serve", "--help").returncode == 0
    assert generator("serve", "--nonesuch").returncode == 2


def test_a_hand_written_page_keeps_its_name(small_house: Path) -> None:
    page = small_house / "docs/cards/index.md"
    page.parent.mkdir()
    page.write_text("# Mine\n", encoding="utf-8")
    done = runner(small_house, "mkdocs")("build")
    assert done.returncode == 1
    assert "docs/cards/index.md; give them other names" in done.stderr + done.stdout
