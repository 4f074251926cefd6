"""Bench sheets on the disk: read with care, written whole or not at all, never lost."""

import contextlib
import os
import re
import secrets
import shutil
import stat
from collections.abc import Callable, Iterable, Iterator
from difflib import get_close_matches
from pathlib import Path

from mechkit.drive.sheet.faults import SheetError

try:
    import fcntl
except ImportError:  # Windows, whose renaming never takes a name in use
    fcntl = None  # type: ignore[assignment]

#: A bench sheet with fifty runs is 15 kB.
LARGEST = 200_000
#: What a kill leaves beside a file: hidden, of a name that nobody else gives.
UNFINISHED = re.compile(r"\..*\.mechkit-[0-9a-f]{8}")
#: Age from which such a file belongs to no save that is still at work [s]; a save takes under one.
ABANDONED = 3600.0
_BOMS = {b"\xff\xfe": "UTF-16", b"\xfe\xff": "UTF-16"}


def target(path: str | Path) -> Path:
    """The file behind a path, links followed, so that a link stays a link."""
    try:
        return Path(path).resolve()
    except (OSError, RuntimeError, ValueError) as error:
        raise SheetError(f"{path}: {reason(error)}") from None


def reason(error: Exception) -> str:
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
        raise SheetError(f"{path} cannot be read: {reason(error)}") from None
    if len(raw) > LARGEST:
        raise SheetError(f"{path} is larger than {LARGEST // 1000} kB; that is no bench sheet")
    return raw


def _nearest(path):
    """A sheet in the same folder whose name is much like it."""
    with contextlib.suppress(OSError, ValueError):
        near = get_close_matches(path.name, [p.name for p in path.parent.glob("*.toml")], n=1)
        return f"; did you mean {near[0]}?" if near else ""
    return ""


def replace(path: Path, raw: bytes, seen: bytes | None, backup: bool = True):
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
        with whole(path, raw) as fresh:
            kept = None
            if old is not None:
                fresh.chmod(stat.S_IMODE(path.stat().st_mode))
                kept = _backed_up(path, old) if backup else None
            try:
                fresh.replace(path)
            except OSError:
                if kept and path.read_bytes() == old:
                    kept.unlink()
                raise
        clear_abandoned(path)
    except (OSError, ValueError) as error:
        if isinstance(error, SheetError):
            raise
        raise SheetError(f"{path} cannot be written: {reason(error)}") from None


def add_copy(path: Path, raw: bytes) -> Path:
    """Write ``raw`` beside a file under the next free name, ``NAME-copy``, ``NAME-copy-2`` ..."""

    def dress(fresh):
        if path.exists():
            fresh.chmod(stat.S_IMODE(path.stat().st_mode) | stat.S_IWUSR)

    try:
        copy = _under_next(_copies(path), raw, dress)
    except OSError as error:
        raise SheetError(f"{path}: no copy can be written here: {reason(error)}") from None
    clear_abandoned(copy)
    return copy


def _backed_up(path, old):
    """The backup of what a file holds, if it had to be made; a save that was cut short made one."""
    last = None
    for name in _backups(path):
        if not os.path.lexists(name):
            break
        last = name
    if last and last.is_file() and last.stat().st_size == len(old) and last.read_bytes() == old:
        return None
    return _under_next(_backups(path), old, lambda fresh: shutil.copystat(path, fresh))


def _backups(path):
    return (path.with_name(f"{path.name}.bak-{n}") for n in range(1, 10000))


def _copies(path):
    stem = re.sub(r"-copy(-[0-9]+)?$", "", path.stem)
    return (
        path.with_name(f"{stem}-copy{f'-{n}' if n > 1 else ''}{path.suffix}")
        for n in range(1, 10000)
    )


@contextlib.contextmanager
def whole(path: Path, raw: bytes) -> Iterator[Path]:
    """A new hidden file beside ``path`` with all bytes on the disk; gone at the end unless renamed."""
    # A name of 255 letters is legal; the hidden one must not be longer.
    fresh = path.with_name(f".{path.name[:40]}.mechkit-{secrets.token_hex(4)}")
    try:
        with fresh.open("xb") as file:
            file.write(raw)
            file.flush()
            os.fsync(file.fileno())
        yield fresh
        _settle(path.parent)
    finally:
        fresh.unlink(missing_ok=True)


def clear_abandoned(saved: Path):
    """Take away what killed saves left beside a file that has just been saved, and nothing else."""
    with contextlib.suppress(OSError):
        # By the clock of the disk that holds both: that of a memory stick may be hours off.
        fresh = saved.lstat()
        for path in saved.parent.glob(".*.mechkit-*"):
            left = path.lstat()
            ours = UNFINISHED.fullmatch(path.name) and left.st_uid == fresh.st_uid
            old = _touched(fresh) - _touched(left) > ABANDONED
            if ours and old and stat.S_ISREG(left.st_mode):
                path.unlink()


def _touched(stats):
    """When a file was last written or renamed; a backup keeps the older file's own time."""
    return max(stats.st_mtime, stats.st_ctime)


def _settle(folder):
    """Bring a folder's new names to the disk where the system can."""
    with contextlib.suppress(OSError):
        handle = os.open(folder, os.O_RDONLY)
        try:
            os.fsync(handle)
        finally:
            os.close(handle)


def _under_next(names: Iterable[Path], raw: bytes, dress: Callable[[Path], None]) -> Path:
    """Put ``raw`` under the first name that is free; no name in use is overwritten.

    The name appears with all bytes or not at all, with and without hard links.
    """
    for name in names:
        if os.path.lexists(name):
            continue
        with contextlib.suppress(FileExistsError), whole(name, raw) as fresh:
            dress(fresh)
            _rename_to_new(fresh, name)
            return name
    raise SheetError(f"{name.parent} holds too many backups or copies; clear some away")


def _rename_to_new(fresh, name):
    """Give a file a name that nobody has."""
    try:
        os.link(fresh, name)
    except FileExistsError:
        raise
    except OSError:  # no hard links here, as on a memory stick
        # Elsewhere than on Windows renaming takes a name in use, so other saves wait meanwhile.
        with _alone_in(name.parent):
            if os.path.lexists(name):
                raise FileExistsError(name) from None
            fresh.rename(name)


@contextlib.contextmanager
def _alone_in(folder):
    """Let no other save rename in a folder meanwhile; a kill sets it free."""
    if fcntl is None:
        yield
        return
    handle = os.open(folder, os.O_RDONLY)
    try:
        with contextlib.suppress(OSError):  # not every disk can
            fcntl.flock(handle, fcntl.LOCK_EX)
        yield
    finally:
        os.close(handle)
