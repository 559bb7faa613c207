"""Files and folders that appear whole or not at all, and what killed commands leave of them."""

from __future__ import annotations

import errno
import os
import re
import shutil
import sys
import tempfile
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

# What is being written is called so, and nothing else is.
_FIRST, _LAST = ".stampwork-", ".unfinished"
_UNFINISHED = re.compile(re.escape(_FIRST) + "[a-z0-9_]{8}" + re.escape(_LAST))


def place(path: Path, data: bytes) -> None:
    """Write a file in one step. Raises OSError, which names `path`, and leaves the old file.

    It is written beside its place and then moved there. A link to nothing and what is no file, such as a device, are
    refused: a file in their place would lose them.
    """
    try:
        _refuse_losing(path)
        clear(path.parent)
        with _file_beside(path.parent) as new:
            with new.open("wb") as file:
                file.write(data)
                file.flush()
                os.fsync(file.fileno())  # a disk may tell only now that it is full
            new.chmod(0o666 & ~_umask())
            os.replace(new, path)
    except OSError as error:
        raise OSError(error.errno, error.strerror or str(error), str(path)) from None


@contextmanager
def folder_beside(folder: Path) -> Iterator[Path]:
    """A new folder within `folder` to make things ready in; it goes with what is still in it. Raises OSError."""
    clear(folder)
    new, handle = _begun(lambda: Path(tempfile.mkdtemp(_LAST, _FIRST, folder)))
    try:
        yield new
    finally:
        shutil.rmtree(new)
        _let_go(handle)


def clear(folder: Path) -> None:
    """Remove what killed commands left unfinished in a folder: what is called so and no command holds any more.

    What may not be removed stays: it is in nobody's way. Raises OSError if the folder cannot be read.
    """
    if not os.access(folder, os.W_OK):
        return
    for path in (each for each in folder.iterdir() if _UNFINISHED.fullmatch(each.name)):
        if path.is_symlink() or not (path.is_file() or path.is_dir()):
            continue
        # Another command may have removed it first, or another user made it.
        with suppress(FileNotFoundError, PermissionError):
            handle = _hold(path, wait=False)
            if handle is None:
                continue
            try:
                shutil.rmtree(path) if path.is_dir() else path.unlink()
            finally:
                os.close(handle)


def unfit(path: Path) -> str:
    """Why no file takes that place; "" if one may."""
    if path.is_symlink() and not path.exists():
        return "is a link to nothing"
    return "is not a file" if path.exists() and not path.is_file() else ""


def _refuse_losing(path: Path) -> None:
    if why := unfit(path):
        raise OSError(errno.EINVAL if path.exists() else errno.ENOENT, why)


@contextmanager
def _file_beside(folder: Path) -> Iterator[Path]:
    """A new file within `folder`; it goes if it is still there."""
    new, handle = _begun(lambda: _new_file(folder))
    try:
        yield new
    finally:
        new.unlink(missing_ok=True)
        _let_go(handle)


def _new_file(folder: Path) -> Path:
    handle, name = tempfile.mkstemp(_LAST, _FIRST, folder)
    os.close(handle)
    return Path(name)


def _begun(make: Callable[[], Path]) -> tuple[Path, int | None]:
    """What `make` makes, and the handle that holds it against `clear` of other commands."""
    while True:
        new = make()
        with suppress(FileNotFoundError):  # another command took it for left before it was held
            handle = _hold(new, wait=True)
            if new.exists():
                return new, handle
            _let_go(handle)


def _hold(path: Path, wait: bool) -> int | None:
    """Lock a file or folder for this command alone, until the handle is closed or the command ends, however it ends.

    None where another has it, or where nothing can be locked: nothing is cleared there. Raises OSError.
    """
    if sys.platform == "win32":  # it locks no folder, and moves no file that is open
        return None
    import fcntl

    handle = os.open(path, os.O_RDONLY)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | (0 if wait else fcntl.LOCK_NB))
    except OSError:
        os.close(handle)
        return None
    return handle


def _let_go(handle: int | None) -> None:
    if handle is not None:
        os.close(handle)


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
