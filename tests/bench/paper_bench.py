"""What the paper benchmark runs in a process of its own: one piece of work, its seconds and its peak memory as JSON.

    python paper_bench.py nothing|all|bare FOLDER
"""

from __future__ import annotations

import gc
import json
import pickle
import resource
import sys
from collections.abc import Callable
from pathlib import Path
from time import perf_counter, process_time

#: How often the bare library and ours take turns; the quickest of each counts, the one least disturbed.
TURNS = 9
MARGIN, GAP, ROWS = 16.0, 6.0, 3


def place(jpegs: list[bytes]) -> bytes:
    """The library placing the same prepared photos, six on a page, with nothing else."""
    import io

    from fpdf import FPDF

    pdf = FPDF(unit="mm", format="A4")
    pdf.set_auto_page_break(False)
    for number, jpeg in enumerate(jpegs):
        if number % (2 * ROWS) == 0:
            pdf.add_page()
        row, column = divmod(number % (2 * ROWS), 2)
        pdf.image(io.BytesIO(jpeg), MARGIN + column * (86 + GAP), MARGIN + row * 88, 86)
    return bytes(pdf.output())


def whole(folder: Path) -> dict[str, float]:
    """Everything once: hash and prepare 200 photos of 12 MP, lay out, print."""
    from checklists.closing_account import make_account
    from mobileapp.paper.closing_sheet import closing_sheet, shas_of
    from mobileapp.paper.pictures import prepare_all
    from mobileapp.photos import PhotoStore

    account = make_account("bench", pickle.loads((folder / "entries.pickle").read_bytes()), {"phone": "0" * 64})
    store = PhotoStore(folder / "kept-photos")
    started = perf_counter()
    prepared = prepare_all(store, shas_of(account))
    printed = perf_counter()
    pdf = closing_sheet(account, prepared)
    return {"preparing": printed - started, "printing": perf_counter() - printed, "photos": len(prepared),
            "bytes": len(pdf)}  # fmt: skip


def turns(folder: Path) -> dict[str, float]:
    """Printing against the bare library, taking turns, with photos that are prepared already."""
    from checklists.closing_account import make_account
    from mobileapp.paper.closing_sheet import closing_sheet, shas_of
    from mobileapp.paper.pictures import prepare_all
    from mobileapp.photos import PhotoStore

    entries = pickle.loads((folder / "entries.pickle").read_bytes())
    prepared = prepare_all(PhotoStore(folder / "kept-photos"), shas_of(make_account("bench", entries, {})))
    jpegs = [picture.jpeg for picture in prepared.values()]
    ours, theirs = [], []
    for _ in range(TURNS):
        theirs.append(seconds(lambda: place(jpegs)))
        ours.append(seconds(lambda: closing_sheet(make_account("bench", entries, {"phone": "0" * 64}), prepared)))
    return {"ours": min(ours), "theirs": min(theirs), "kilobytes": sum(map(len, jpegs)) / len(jpegs) / 1000}


def seconds(work: Callable[[], object]) -> float:
    """How long the processor works on it, with the waste of what went before cleared away. It waits for nothing."""
    gc.collect()
    started = process_time()
    work()
    return process_time() - started


def peak_mb() -> float:
    """The most memory this process has held, in MB.

    From the kernel's own figure where there is one: `ru_maxrss` counts what the parent held before it started us.
    """
    status = Path("/proc/self/status")
    if status.exists():
        (line,) = [line for line in status.read_text().splitlines() if line.startswith("VmHWM:")]
        return int(line.split()[1]) / 1024
    return resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024


if __name__ == "__main__":
    work = {"nothing": lambda folder: {}, "all": whole, "bare": turns}[sys.argv[1]]
    figures = work(Path(sys.argv[2]))
    print(json.dumps({**figures, "peak": peak_mb()}))
