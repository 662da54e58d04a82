"""The generated pages in a folder on disk: always a whole set, the old one or the new one.

A list in the folder says what was written. Only that is replaced or removed, as long as it is what was written; what
somebody else put there or changed stays, and in the way of a page it is a fault. The new set is made beside the folder
and takes its place in one go, if no other run's did in the meantime.
"""

from __future__ import annotations

import atexit
import errno
import os
import shutil
import signal
import threading
import time
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from glob import escape
from hashlib import sha256
from pathlib import Path
from tempfile import mkdtemp

from .errors import BondwrightError, Fault, Faults

LIST = "bondwright-files.txt"
_HEAD = "# Written by the generator and its own to replace or remove:"
_TWO = "another run writes there at the same time; write again when it has done"
_REASONS = {
    errno.ENOSPC: "the disk is full", errno.EDQUOT: "the disk is full", errno.EISDIR: "that is a folder",
    errno.EEXIST: _TWO, errno.ENOTEMPTY: _TWO,
}  # fmt: skip
# A set is written in seconds; what is this old was left by a run that was cut off.
_LEFT_AFTER = 3600


class NotWritten(BondwrightError):
    """A file that could not be written, and why."""

    def __init__(self, path: Path, error: OSError):
        super().__init__(f"{path}: cannot be written: {_REASONS.get(error.errno or 0, error.strerror)}")


def write_set(folder: Path, files: Mapping[str, str | bytes]) -> None:
    """Make the folder hold these files and what is not ours. Raises Faults, or NotWritten, and leaves all as it was."""
    _stands_outside(folder)
    whole, old = _places(folder)
    _mend(whole, old)
    began, ours = _which(whole), listed(whole)
    if faults := [*_in_the_way(folder, ours, files)]:
        raise Faults(faults)
    own = _own_place(folder, whole)
    new = own / whole.name
    try:
        _make(folder, new, files)
        _keep(folder, whole, new, ours)
        _swap(folder, whole, new, old, began)
    finally:
        shutil.rmtree(own, ignore_errors=True)
    shutil.rmtree(old, ignore_errors=True)


def listed(folder: Path) -> set[str]:
    """The files in the folder that were written before, but for those that somebody has changed since."""
    try:
        lines = (folder / LIST).read_text(encoding="utf-8").splitlines()
    except (FileNotFoundError, IsADirectoryError, NotADirectoryError, UnicodeDecodeError):
        return set()
    except OSError as error:
        raise NotWritten(folder / LIST, error) from None
    if lines[:1] != [_HEAD]:
        return set()
    was = {name: digest for digest, _, name in (line.rpartition("  ") for line in lines[1:])}
    return {LIST, *(name for name, digest in was.items() if _as_written(folder / name, digest))}


def _as_written(path: Path, digest: str) -> bool:
    """Whether nobody's work is lost with the file. A list of an older version has no digests."""
    try:
        return not digest or _digest(path.read_bytes()) == digest
    except (FileNotFoundError, IsADirectoryError, NotADirectoryError):
        return True
    except OSError as error:
        raise NotWritten(path, error) from None


def _digest(content: bytes) -> str:
    """By what a file is known again. However its lines end, for Git may end them in another way."""
    return sha256(content.replace(b"\r\n", b"\n")).hexdigest()[:16]


def _places(folder: Path) -> tuple[Path, Path]:
    """The folder by its full path, and beside it where the old set waits."""
    whole = folder.absolute()
    whole = whole.parent.resolve() / whole.name if whole.name not in ("", "..") else whole.resolve()
    return whole, whole.with_name(f".{whole.name}.old")


def _stands_outside(folder: Path) -> None:
    """A set takes the whole place of its folder: whoever stands in there would find himself nowhere. Raises Faults."""
    try:
        here = Path.cwd()
    except FileNotFoundError as error:
        raise NotWritten(folder, error) from None
    if folder.resolve() in (here, *here.parents):
        message = "cannot be written: you stand in that folder, and it is replaced as a whole; name another one"
        raise Faults([Fault(str(folder), 1, 1, message)])


def _which(folder: Path) -> int | None:
    """Which folder it is on the disk, whatever its name; none where there is none."""
    return folder.stat().st_ino if folder.is_dir() else None


def _own_place(folder: Path, whole: Path) -> Path:
    """A new folder beside the whole one, this run's alone, where its set is made."""
    try:
        whole.parent.mkdir(parents=True, exist_ok=True)
        return Path(mkdtemp(prefix=f".{whole.name}.new-", dir=whole.parent))
    except OSError as error:
        raise NotWritten(folder, error) from None


def _clear(halves: Iterable[Path]) -> None:
    """Take away the halves of a set that nobody can be at work on any more."""
    for half in halves:
        with suppress(FileNotFoundError):  # its own run has just cleared it
            if time.time() - half.stat().st_mtime > _LEFT_AFTER:
                shutil.rmtree(half, ignore_errors=True)


def _mend(whole: Path, old: Path) -> None:
    """What a run that was cut off left: its half of a set goes, and the old set comes back."""
    _clear(whole.parent.glob(f".{escape(whole.name)}.new-*"))
    if old.is_dir():
        if whole.exists():
            shutil.rmtree(old, ignore_errors=True)
        else:
            old.rename(whole)


def _in_the_way(folder: Path, ours: set[str], files: Mapping[str, str | bytes]) -> Iterator[Fault]:
    """What stands where a file is to be written, and was not written from here."""
    if folder.is_symlink():
        yield Fault(str(folder), 1, 1, "cannot be written: that is a link; name the folder that it leads to")
        return
    for at in (folder, *folder.parents):
        if at.exists() and not at.is_dir():
            yield Fault(str(at), 1, 1, "cannot be written: that is a file; name a folder")
            return
    seen: set[Path] = set()
    for name in (*files, LIST):
        path = folder / name
        if path.is_dir() and not path.is_symlink():
            yield Fault(str(path), 1, 1, "cannot be written: that is a folder; move it away")
        elif os.path.lexists(path) and name not in ours:
            yield Fault(
                str(path),
                1,
                1,
                f"was not written from here, or was changed since (see {LIST}); move it away, or name another folder",
            )
        for above in path.relative_to(folder).parents:
            at = folder / above
            if at != folder and at not in seen and os.path.lexists(at) and (at.is_symlink() or not at.is_dir()):
                yield Fault(str(at), 1, 1, "a folder is wanted here, and that is a link or a file; move it away")
            seen.add(at)


def _make(folder: Path, new: Path, files: Mapping[str, str | bytes]) -> None:
    """The new set in full."""
    contents = {name: text if isinstance(text, bytes) else text.encode() for name, text in files.items()}
    names = "\n".join((_HEAD, *(f"{_digest(contents[name])}  {name}" for name in sorted(contents))))
    for name, content in {**contents, LIST: f"{names}\n".encode()}.items():
        try:
            (new / name).parent.mkdir(parents=True, exist_ok=True)
            with (new / name).open("wb") as file:
                file.write(content)
        except OSError as error:
            raise NotWritten(folder / name, error) from None


def _keep(folder: Path, whole: Path, new: Path, ours: set[str]) -> None:
    """What is not ours goes along as it is."""
    try:
        found = sorted(whole.rglob("*")) if whole.is_dir() else []
    except OSError as error:
        raise NotWritten(folder, error) from None
    for path in found:
        name = path.relative_to(whole)
        try:
            if path.is_symlink():
                (new / name).parent.mkdir(parents=True, exist_ok=True)
                (new / name).symlink_to(path.readlink())
            elif path.is_dir():
                if not any(one.is_file() or one.is_symlink() for one in path.rglob("*")):
                    (new / name).mkdir(parents=True, exist_ok=True)
            elif name.as_posix() not in ours:
                (new / name).parent.mkdir(parents=True, exist_ok=True)
                _linked(path, new / name)
        except OSError as error:
            raise NotWritten(folder / name, error) from None


def _linked(path: Path, there: Path) -> None:
    """The same file in another place, a copy where the disk knows no such thing."""
    try:
        os.link(path, there)
    except OSError:
        shutil.copy2(path, there)


def _swap(folder: Path, whole: Path, new: Path, old: Path, began: int | None) -> None:
    """The new set in the place of the old one, which comes back when anything stops it: another run's set too, that
    stands there since this one began."""
    try:
        found = _which(whole)
        if found is not None:
            new.chmod(whole.stat().st_mode)
            whole.rename(old)
            found = _which(old)
        if found != began:
            raise FileExistsError(errno.EEXIST, _TWO)
        new.rename(whole)
    except BaseException as error:
        if old.exists() and not whole.exists():
            old.rename(whole)
        if isinstance(error, OSError):
            raise NotWritten(folder, error) from None
        raise


class NewSet:
    """A whole set made by others, that takes its place in one go: until then the folder is as it was, whatever stops
    them. It is made inside the folder, so on the same disk, where a link or a server that looks into it stays right.
    Hidden files of the folder are not of the set and stay."""

    def __init__(self, folder: Path) -> None:
        """Raises NotWritten."""
        self.folder, self.was_there = folder, folder.is_dir()
        try:
            folder.mkdir(parents=True, exist_ok=True)
            _clear(folder.glob(".new-*"))
            self._own = Path(mkdtemp(prefix=".new-", dir=folder))
            self.place = self._own / "set"
            (self._own / "old").mkdir()
            self.place.mkdir()
        except OSError as error:
            raise NotWritten(folder, error) from None
        atexit.register(self.drop)  # Ctrl-C is told to nobody

    def take_place(self) -> None:
        """Put the new set where the old one is. Raises NotWritten, and the old one stays."""
        new = {path.name: path for path in self.place.iterdir()}
        old = [path for path in self.folder.iterdir() if path.name in new or not path.name.startswith(".")]
        moves = [(path, self._own / "old" / path.name) for path in old]
        moves += [(path, self.folder / name) for name, path in new.items()]
        done: list[tuple[Path, Path]] = []
        with _uninterrupted():
            try:
                for source, target in moves:
                    source.rename(target)
                    done.append((source, target))
            except BaseException as error:
                for source, target in reversed(done):
                    target.rename(source)
                if isinstance(error, OSError):
                    raise NotWritten(self.folder, error) from None
                raise
        self.was_there = True
        self.drop()

    def drop(self) -> None:
        """Leave the folder without what is not of a whole set."""
        atexit.unregister(self.drop)
        shutil.rmtree(self._own, ignore_errors=True)
        if not self.was_there:
            with suppress(OSError):
                self.folder.rmdir()


@contextmanager
def _uninterrupted() -> Iterator[None]:
    """Without Ctrl-C, for some thousandths of a second."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGINT, signal.SIG_IGN)
    try:
        yield
    finally:
        signal.signal(signal.SIGINT, before)
