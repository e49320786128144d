"""The closing sheet as a PDF. The same account, photos and paper give the same bytes, whenever and wherever.

    pdf = closing_sheet(account, prepare_all(store, shas_of(account)), "A4")
    write_closing_sheet(journal, teardown, store, target)      # all at once, durable when it returns
"""

from __future__ import annotations

import hashlib
import json
import zlib
from collections.abc import Iterator, Mapping
from datetime import UTC, datetime
from functools import cache
from importlib.metadata import PackageNotFoundError, version
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from PIL import features

from checklists.account.parts import Account
from checklists.closing_account import make_account
from mobileapp.journal.store import Journal
from mobileapp.paper.blocks import Setter
from mobileapp.paper.flow import Page, onto_pages
from mobileapp.paper.front import front_slabs
from mobileapp.paper.letters import Letters
from mobileapp.paper.measures import SIZES, PaperSize
from mobileapp.paper.pictures import NotShown, Photos, Pictured, Prepared, prepare_all
from mobileapp.paper.press import Colophon, Press
from mobileapp.paper.running import dress
from mobileapp.photos.safe_file import write_safely
from mobileapp.record_files import leave_the_record

#: Counted up where the letters of assets/fonts change: a sheet with others is not the same to the byte.
_FONTS = 5
_NOT_PREPARED = NotShown("This photo was not at hand when the sheet was made.")


def closing_sheet(account: Account, pictures: Mapping[str, Pictured], paper: str = "A4") -> bytes:
    """The PDF. `pictures` are the prepared photos by hash; for one that is not shown the sheet says why."""
    press = Press(SIZES[paper], colophon(account, paper))
    return press.print(sheet_pages(account, pictures, SIZES[paper], press.letters), printable(pictures))


def sheet_pages(
    account: Account, pictures: Mapping[str, Pictured], size: PaperSize, letters: Letters
) -> list[Page]:
    """The pages as they are printed, and as the preview draws them."""

    def shown(sha: str) -> Pictured:
        return pictures.get(sha, _NOT_PREPARED)

    setter = Setter(letters, size.inner, shown)
    slabs = front_slabs(account, setter, letters.strangers(_texts(account)))
    for section in account.sections:
        slabs += setter.section(section)
    return dress(onto_pages(slabs, size), account, letters, size)


def printable(pictures: Mapping[str, Pictured]) -> dict[str, Prepared]:
    """Those that are shown."""
    return {sha: one for sha, one in pictures.items() if isinstance(one, Prepared)}


def shas_of(account: Account) -> list[str]:
    """The hashes of the photos that the sheet shows, in its order."""
    return [picture.sha for picture in account.pictures() if picture.kept]


def write_closing_sheet(journal: Journal, teardown: str, photos: Photos, target: Path, paper: str = "A4") -> Account:
    """Make the closing sheet of a teardown as it stands and write it safely; answers the account it tells.

    Raises InTheRecord, or another OSError; then nothing was written.
    """
    leave_the_record(target, journal.path)
    account = make_account(teardown, journal.entries(teardown), journal.heads(teardown))
    pdf = closing_sheet(account, prepare_all(photos, shas_of(account)), paper)
    target.parent.mkdir(parents=True, exist_ok=True)
    write_safely(target, pdf)
    return account


# --- what the file says about itself


def colophon(account: Account, paper: str) -> Colophon:
    """The document's own information, by which `prove` knows it."""
    told = account_hash(account)
    words = {
        "countback-sheet": "1",
        "teardown": account.teardown,
        "state": account.state,
        "paper": paper,
        "heads": ",".join(f"{device}:{head}" for device, head in account.heads),
        "account": told,
        "made-with": made_with(),
    }
    return Colophon(
        f"Closing sheet: {account.machine}",
        f"{account.state}, {account.entries} entries",
        urlencode(words, safe=":,"),
        f"Countback {_version('countback')}",
        _moment(account.last_at),
        told[:32].upper(),
    )


def account_hash(account: Account) -> str:
    """The SHA-256 of everything the account says."""
    return hashlib.sha256(json.dumps(account, ensure_ascii=True).encode("ascii")).hexdigest()


@cache
def made_with() -> str:
    """What decides about bytes: other versions of it may write the same sheet otherwise."""
    libraries = [f"{name}:{_version(name)}" for name in ("fpdf2", "fonttools", "pillow", "qrcode")]
    jpeg = features.version_feature("libjpeg_turbo") or features.version_codec("jpg") or "unknown"
    return ",".join([*libraries, f"zlib:{zlib.ZLIB_RUNTIME_VERSION}", f"jpeg:{jpeg}", f"fonts:{_FONTS}"])


def _version(name: str) -> str:
    try:
        return version(name)
    except PackageNotFoundError:  # on the phone there may be no metadata
        return "unknown"


def _moment(stamp: str) -> datetime:
    """The newest entry's time, as the sheet's date; the beginning of time for a journal without entries."""
    try:
        return datetime.fromisoformat(stamp).replace(microsecond=0)
    except ValueError:
        return datetime.fromtimestamp(0, UTC)


def _texts(part: Any) -> Iterator[str]:
    """Every text in an account."""
    if isinstance(part, str):
        yield part
    elif isinstance(part, tuple):
        for one in part:
            yield from _texts(one)
