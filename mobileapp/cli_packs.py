"""The command line's words about packs, backups and exports."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING, Any

from mobileapp.exit_codes import BAD, GOOD, BadAnswer, Trouble
from mobileapp.named_teardown import chosen_of

if TYPE_CHECKING:  # imported in each command instead: no command waits for what another one needs
    from mobileapp.journal import Journal
    from mobileapp.packs import Packed, Unpacked
    from mobileapp.photos.store import PhotoStore

_JOURNAL = "the journal's file; the app's own where none is named"


def pack(path: Path, teardown: str, target: Path | None, *, without_lost: bool = False, replace: bool = False) -> int:
    """Write one teardown with its photos into a pack."""
    from mobileapp.packs import write_pack

    with _open(path) as (journal, store):
        chosen = chosen_of(journal, teardown)
        to = target or Path(f"{chosen}.countback.zip")
        done = write_pack(journal, store, chosen, to, without_lost=without_lost, replace=replace)
    return _tell_packed(done)


def unpack(pack: Path, path: Path) -> int:
    """Take a pack or a backup in, merging it with what is there."""
    from mobileapp.packs import unpack as take_in

    with _nothing_left_of(path), _open(path, new=True) as (journal, store):
        done = take_in(pack, journal, store)
    return _tell_unpacked(done, path)


@contextmanager
def _nothing_left_of(path: Path) -> Iterator[None]:
    """What is refused leaves no empty journal, and no folder, where none was."""
    if path.exists():
        yield
        return
    folders = [folder for folder in path.parents if not folder.exists()]
    try:
        yield
    except BaseException:
        _clear_empty(path, folders)
        raise


def _clear_empty(path: Path, folders: list[Path]) -> None:
    from mobileapp.journal import open_journal
    from mobileapp.journal.errors import JournalError

    if path.exists():
        try:
            with open_journal(path) as journal:
                if journal.teardowns():
                    return  # another program has put something in meanwhile
        except JournalError:
            return
    with suppress(OSError):
        for ending in ("", "-wal", "-shm"):
            Path(f"{path}{ending}").unlink(missing_ok=True)
        for folder in folders:
            folder.rmdir()


def _entries(number: int) -> str:
    return f"{number} {'entry' if number == 1 else 'entries'}"


def look_into(pack: Path) -> int:
    """Say what a pack holds, verified, without taking it in."""
    from mobileapp.packs import check_pack

    with _in_our_words():
        contents = check_pack(pack)
    from checklists.words import how_many

    for held in contents.manifest.teardowns:
        print(f"{held.id}: {_entries(held.entries)} of {how_many(len(held.heads), 'phone')}")
    print(f"{pack}: {how_many(contents.photos, 'photo')}, {_size(contents.photo_bytes)}; verified, nothing is wrong.")
    _tell_awaited(contents.awaited)
    return _tell_lacking(contents.manifest.lacking)


def export(path: Path, teardown: str, folder: Path, kinds: tuple[str, ...], *, replace: bool = False) -> int:
    """Write tally and log for a spreadsheet."""
    from mobileapp.exports import export as write

    if file := next((one for one in (folder, *folder.parents) if one.exists() and not one.is_dir()), None):
        raise Trouble(f"{file} is a file: nothing was written. Name a folder with --folder.")
    with _open(path) as (journal, _):
        try:
            files = write(journal, chosen_of(journal, teardown), folder, kinds, replace=replace)
        except FileExistsError as fault:
            raise Trouble(f"{fault}: nothing was written. Name another folder, or say --replace.") from fault
    for file in files:
        print(file)
    return 0


def backup(path: Path, target: Path, *, replace: bool = False) -> int:
    """Write every teardown and every photo into one file."""
    from mobileapp.packs import write_backup

    with _open(path) as (journal, store):
        done = write_backup(journal, store, target, replace=replace)
    return _tell_packed(done)


def _tell_packed(done: Packed) -> int:
    from checklists.words import how_many

    print(
        f"{done.path}: {how_many(done.teardowns, 'teardown')}, {_entries(done.entries)}, "
        f"{how_many(done.photos, 'photo')}, {_size(done.size)}"
    )
    _tell_awaited(done.awaited)
    return _tell_lacking(done.lacking)


def _tell_unpacked(done: Unpacked, path: Path) -> int:
    for news in done.teardowns:
        what = "merged" if news.was_known and news.new_entries else "known already" if news.was_known else "new"
        print(f"{news.teardown}: {news.new_entries} new entries ({what})")
    print(f"{path}: {done.new_entries} new entries, {done.new_photos} new photos")
    _tell_awaited(done.awaited)
    return _tell_lacking(done.lacking)


def _tell_awaited(number: int) -> None:
    if number:
        from mobileapp.packs.words import awaited_words

        print(awaited_words(number))


def _tell_lacking(lacking: tuple[str, ...]) -> int:
    for sha in lacking:
        print(f"WITHOUT the photo {sha[:12]}: it was lost. Look for it in a backup or on the phone that took it.")
    return BAD if lacking else GOOD


def _size(size: int) -> str:
    return f"{size / 1_000_000:.1f} MB" if size >= 100_000 else f"{size} bytes"


@contextmanager
def _in_our_words() -> Iterator[None]:
    from mobileapp.packs import PackError
    from mobileapp.packs.errors import PackDamaged, PackRefused, PackTooLarge, PhotoLost

    try:
        yield
    except (PackDamaged, PackRefused, PackTooLarge, PhotoLost) as fault:
        raise BadAnswer(str(fault)) from fault
    except PackError as fault:
        raise Trouble(str(fault)) from fault


@contextmanager
def _open(path: Path, *, new: bool = False) -> Iterator[tuple[Journal, PhotoStore]]:
    from mobileapp.journal.store import open_journal, read_journal
    from mobileapp.photos.store import PhotoStore, beside

    if not new and not path.exists():
        raise Trouble(f"There is no journal at {path}. Name the file, or start a teardown in the app first.")
    with (open_journal if new else read_journal)(path) as journal, _in_our_words():
        yield journal, PhotoStore(beside(path))


# --- how they are called


def add_commands(words: Any, add: Callable[..., Any]) -> None:
    """Add `pack`, `unpack`, `export`, `backup` and `restore` to the command line by its own `add`."""
    for one in (_add_pack, _add_unpack, _add_export, _add_backup, _add_restore):
        one(words, add)


def _own(named: Path | None) -> Path:
    from mobileapp.data_folder import journal_path

    return named or journal_path()


def _add_pack(words: Any, add: Callable[..., Any]) -> None:
    parser = add(
        words, "pack", "write a teardown with its photos into one file, for another phone",
        ("countback pack", "countback pack countback-demo/journal.sqlite --teardown workboat --to workboat.zip"),
        lambda said: pack(_own(said.journal), said.teardown, said.to, without_lost=said.without_lost,
                          replace=said.replace),
    )  # fmt: skip
    parser.add_argument("journal", nargs="?", type=Path, metavar="JOURNAL", help=_JOURNAL)
    parser.add_argument("--teardown", default="", metavar="ID", help="which teardown, where there are several")
    parser.add_argument("--to", type=Path, metavar="FILE", help="the file to write (default: ID.countback.zip)")
    parser.add_argument("--without-lost", action="store_true",
                        help="pack though a photo is lost; the pack says which")  # fmt: skip
    parser.add_argument("--replace", action="store_true", help="replace the file where there is one")


def _add_unpack(words: Any, add: Callable[..., Any]) -> None:
    parser = add(
        words, "unpack", "take a pack in, verified whole first; what two phones recorded is merged",
        ("countback unpack workboat.countback.zip", "countback unpack workboat.zip --into journal.sqlite",
         "countback unpack workboat.zip --look"),
        lambda said: look_into(said.pack) if said.look else unpack(said.pack, _own(said.into)),
    )  # fmt: skip
    parser.add_argument("pack", type=Path, metavar="PACK", help="the pack's file")
    parser.add_argument("--into", type=Path, metavar="JOURNAL", help=_JOURNAL)
    parser.add_argument("--look", action="store_true", help="only verify it and say what it holds")


def _add_export(words: Any, add: Callable[..., Any]) -> None:
    parser = add(
        words, "export", "write a teardown's tally and log for a spreadsheet, as CSV and JSON",
        ("countback export", "countback export countback-demo/journal.sqlite --teardown workboat --folder out --csv"),
        lambda said: export(_own(said.journal), said.teardown, said.folder,
                            tuple(kind for kind in ("csv", "json") if getattr(said, kind)) or ("csv", "json"),
                            replace=said.replace),
    )  # fmt: skip
    parser.add_argument("journal", nargs="?", type=Path, metavar="JOURNAL", help=_JOURNAL)
    parser.add_argument("--teardown", default="", metavar="ID", help="which teardown, where there are several")
    parser.add_argument("--folder", type=Path, default=Path("."), metavar="FOLDER",
                        help="where the files go (default: here)")  # fmt: skip
    parser.add_argument("--csv", action="store_true", help="only CSV")
    parser.add_argument("--json", action="store_true", help="only JSON")
    parser.add_argument("--replace", action="store_true", help="replace files that are there")


def _add_backup(words: Any, add: Callable[..., Any]) -> None:
    parser = add(
        words, "backup", "write every teardown and every photo into one file, those that belong to nothing yet too",
        ("countback backup everything.countback.zip", "countback backup all.zip --journal journal.sqlite --replace"),
        lambda said: backup(_own(said.journal), said.file, replace=said.replace),
    )  # fmt: skip
    parser.add_argument("file", type=Path, metavar="FILE", help="the file to write")
    parser.add_argument("--journal", type=Path, metavar="JOURNAL", help=_JOURNAL)
    parser.add_argument("--replace", action="store_true", help="replace the file where there is one")


def _add_restore(words: Any, add: Callable[..., Any]) -> None:
    parser = add(
        words, "restore", "bring a backup back, into an empty place or merged with what is there",
        ("countback restore everything.countback.zip", "countback restore all.zip --into journal.sqlite"),
        lambda said: unpack(said.pack, _own(said.into)),
    )  # fmt: skip
    parser.add_argument("pack", type=Path, metavar="BACKUP", help="the backup's file")
    parser.add_argument("--into", type=Path, metavar="JOURNAL", help=_JOURNAL)
