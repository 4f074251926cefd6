"""Bench sheets on the disk: read with care, written whole or not at all, never lost."""

import contextlib
import os
import re
import secrets
import shutil
import stat
from difflib import get_close_matches
from pathlib import Path

from mechkit.drive.sheet.faults import SheetError

#: A bench sheet with fifty runs is 15 kB.
LARGEST = 200_000
_BOMS = {b"\xff\xfe": "UTF-16", b"\xfe\xff": "UTF-16"}


def target(path: str | Path) -> Path:
    """The file behind a path, links followed, so that a link stays a link."""
    try:
        return Path(path).resolve()
    except (OSError, RuntimeError, ValueError) as error:
        raise SheetError(f"{path}: {_reason(error)}") from None


def _reason(error):
    """An operating-system error in words."""
    return (getattr(error, "strerror", None) or str(error)).lower()


def read_text(path: Path) -> tuple[bytes, str]:
    """The bytes of a sheet and their text, refused in one line if they are no such thing."""
    raw = _read(path)
    if any(raw.startswith(bom) for bom in _BOMS) or _every_other_is_zero(raw[:64]):
        raise SheetError(f"{path} is saved as UTF-16; save it as UTF-8 in the editor")
    if b"\x00" in raw:
        raise SheetError(f"{path} is a binary file, not a bench sheet")
    try:
        return raw, raw.decode("utf-8")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        raise SheetError(
            f"{path}, line {line}: has a byte (0x{raw[error.start]:02x}) that is not UTF-8; "
            "save the file as UTF-8 in the editor"
        ) from None


def _every_other_is_zero(raw):
    """True for plain letters in UTF-16, which need only one byte of each two."""
    return len(raw) > 1 and (not any(raw[::2]) or not any(raw[1::2]))


def _read(path):
    """The bytes of an ordinary file of sane size; nothing else is opened."""
    try:
        mode = path.stat().st_mode
        if stat.S_ISDIR(mode):
            raise SheetError(f"{path} is a folder, not a bench sheet")
        if not stat.S_ISREG(mode):
            raise SheetError(f"{path} is not an ordinary file (a pipe or a device)")
        with path.open("rb") as file:
            raw = file.read(LARGEST + 1)
    except FileNotFoundError:
        raise SheetError(f"{path} is not there{_nearest(path)}") from None
    except (OSError, ValueError) as error:
        raise SheetError(f"{path} cannot be read: {_reason(error)}") from None
    if len(raw) > LARGEST:
        raise SheetError(f"{path} is larger than {LARGEST // 1000} kB; that is no bench sheet")
    return raw


def _nearest(path):
    """A sheet in the same folder whose name is much like it."""
    with contextlib.suppress(OSError, ValueError):
        near = get_close_matches(path.name, [p.name for p in path.parent.glob("*.toml")], n=1)
        return f"; did you mean {near[0]}?" if near else ""
    return ""


def replace(path: Path, raw: bytes, seen: bytes | None):
    """Put ``raw`` in the place of a file; what stood there becomes ``NAME.bak-1``, ``-2`` ...

    ``seen`` is what the file held when it was read: anything else means other hands.
    """
    try:
        old = path.read_bytes() if path.exists() else None
        if old == raw:
            return
        if old is not None and seen is not None and old != seen:
            raise SheetError(
                f"{path} was changed on disk since it was loaded; load it again, or save a copy"
            )
        if old is not None and not path.stat().st_mode & 0o222:
            raise SheetError(f"{path} is read-only; save under another name")
        with _whole(path, raw) as fresh:
            if old is not None:
                fresh.chmod(stat.S_IMODE(path.stat().st_mode))
                backup = _second_name(path, _backups(path))
            try:
                fresh.replace(path)
            except OSError:
                if old is not None:
                    backup.unlink()
                raise
    except (OSError, ValueError) as error:
        if isinstance(error, SheetError):
            raise
        raise SheetError(f"{path} cannot be written: {_reason(error)}") from None


def add_copy(path: Path, raw: bytes) -> Path:
    """Write ``raw`` beside a file under the next free name, ``NAME-copy``, ``NAME-copy-2`` ..."""
    try:
        with _whole(path, raw) as fresh:
            if path.exists():
                fresh.chmod(stat.S_IMODE(path.stat().st_mode) | stat.S_IWUSR)
            return _second_name(fresh, _copies(path))
    except OSError as error:
        raise SheetError(f"{path}: no copy can be written here: {_reason(error)}") from None


def _backups(path):
    return (path.with_name(f"{path.name}.bak-{n}") for n in range(1, 10000))


def _copies(path):
    stem = re.sub(r"-copy(-[0-9]+)?$", "", path.stem)
    return (
        path.with_name(f"{stem}-copy{f'-{n}' if n > 1 else ''}{path.suffix}")
        for n in range(1, 10000)
    )


@contextlib.contextmanager
def _whole(path, raw):
    """A new file beside ``path`` with all bytes on the disk; gone at the end unless renamed."""
    fresh = path.with_name(f".{path.name}.{secrets.token_hex(4)}")
    try:
        with fresh.open("xb") as file:
            file.write(raw)
            file.flush()
            os.fsync(file.fileno())
        yield fresh
        _settle(path.parent)
    finally:
        fresh.unlink(missing_ok=True)


def _settle(folder):
    """Bring a folder's new names to the disk where the system can."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _second_name(file, names):
    """Give a file the first name that is free as a second one; no name in use is overwritten."""
    for name in names:
        try:
            os.link(file, name)
            return name
        except FileExistsError:
            continue
        except OSError:  # no hard links here, as on a memory stick: claim the name, then fill it
            if _claimed(name):
                with _whole(name, file.read_bytes()) as fresh:
                    shutil.copymode(file, fresh)
                    fresh.replace(name)
                return name
    raise SheetError(f"{file.parent} holds too many backups or copies; clear some away")


def _claimed(name):
    """True where the name was free and is now ours."""
    try:
        name.touch(exist_ok=False)
    except FileExistsError:
        return False
    return True
