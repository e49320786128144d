"""The command line: `countback`. With no word it opens the app."""

from __future__ import annotations

import argparse
import errno
import os
import re
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import Any

from mobileapp import cli_commands as commands
from mobileapp import cli_packs as packs
from mobileapp import cli_paper as paper
from mobileapp import cli_workshop as workshop
from mobileapp.exit_codes import NO_ANSWER, Trouble, codes_of
from mobileapp.opening_app import open_app

_JOURNAL = "the journal's file; the app's own where none is named"


def make_parser() -> argparse.ArgumentParser:
    """Every command and option, with help and examples."""
    parser = argparse.ArgumentParser(
        prog="countback",
        description="Counts back every bolt, rag, cover, tool and broken piece before an opened engine may close. "
        "With no command it opens the app.",
        epilog="examples:\n  countback\n  countback --watch /media/camera/DCIM\n  countback demo\n"
        "  countback rehearse workboat\n\n"
        "exit codes:\n  0  done, or the answer is a good one\n  1  the answer is a bad one; each command's help says "
        "when\n  2  no answer: not understood, or what is named is not there or cannot be used\n\n"
        "COUNTBACK_HOME names the folder where the app keeps its journal.",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.add_argument("--watch", type=Path, metavar="FOLDER",
                        help="open the app; it takes the next photo that comes into this folder where one is asked for"
                        )  # fmt: skip
    words = parser.add_subparsers(dest="command", metavar="COMMAND", title="commands")
    for add in (_add_demo, _add_rehearse, _add_sheets, _add_tally, _add_closing_sheet, _add_prove):
        add(words)
    packs.add_commands(words, _add)
    workshop.add_commands(words, _add)
    return parser


def _add(
    words: Any, name: str, what: str, examples: Sequence[str], run: Callable[..., int]
) -> argparse.ArgumentParser:
    parser: argparse.ArgumentParser = words.add_parser(
        name,
        help=what,
        description=what[0].upper() + what[1:] + ".",
        epilog="examples:\n" + "\n".join(f"  {example}" for example in examples) + f"\n\n{codes_of(name)}",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    parser.set_defaults(run=run)
    return parser


def _add_demo(words: Any) -> None:
    parser = _add(
        words, "demo", "play the workboat story and open the app on it; without a screen, draw the screens to files",
        ("countback demo", "countback demo --no-window --folder /tmp/countback-demo"),
        lambda said: commands.demo(said.folder, window=not said.no_window),
    )  # fmt: skip
    parser.add_argument("--folder", type=Path, default=Path("countback-demo"), metavar="FOLDER",
                        help="where the demo's journal and pictures go (default: ./countback-demo)")  # fmt: skip
    parser.add_argument("--no-window", action="store_true", help="draw the screens to files though there is a screen")


def _add_rehearse(words: Any) -> None:
    parser = _add(
        words, "rehearse", "play stories against the real rules and a real journal, and say whether all is as expected",
        ("countback rehearse workboat", "countback rehearse my-story.toml --journal rehearsed.sqlite"),
        lambda said: commands.rehearse(said.stories, said.journal),
    )  # fmt: skip
    parser.add_argument("stories", nargs="+", metavar="FILE", help="a story's file, or the name of a shipped story")
    parser.add_argument("--journal", type=Path, metavar="PATH",
                        help="keep the journal in this file (default: a temporary one)")  # fmt: skip


def _add_sheets(words: Any) -> None:
    parser = _add(
        words, "sheets", "list the shipped teardown sheets, or check the named ones",
        ("countback sheets", "countback sheets rocker-cover my-sheet.toml"),
        lambda said: commands.sheets(said.sheets),
    )  # fmt: skip
    parser.add_argument("sheets", nargs="*", metavar="NAME|FILE", help="a shipped sheet's name, or a sheet's file")


def _add_tally(words: Any) -> None:
    parser = _add(
        words, "tally", "print where every item is: the balances of a journal's teardowns",
        ("countback tally", "countback tally countback-demo/journal.sqlite --teardown workboat"),
        lambda said: commands.tally(_journal(said.journal), said.teardown),
    )  # fmt: skip
    parser.add_argument("journal", nargs="?", type=Path, metavar="JOURNAL", help=_JOURNAL)
    parser.add_argument("--teardown", default="", metavar="ID", help="only this teardown")


def _add_closing_sheet(words: Any) -> None:
    parser = _add(
        words, "closing-sheet", "write the closing sheet of a teardown as a PDF; a draft while it is still open",
        ("countback closing-sheet", "countback closing-sheet countback-demo/journal.sqlite --teardown workboat",
         "countback closing-sheet --paper Letter --to sheet.pdf"),
        lambda said: paper.closing_sheet(_journal(said.journal), said.teardown, said.paper, said.to,
                                         replace=said.replace),
    )  # fmt: skip
    parser.add_argument("journal", nargs="?", type=Path, metavar="JOURNAL", help=_JOURNAL)
    parser.add_argument("--teardown", default="", metavar="ID", help="which teardown, where there are several")
    parser.add_argument("--paper", type=paper.paper_named, choices=paper.PAPERS, default="A4",
                        help="A4 (default) or Letter")  # fmt: skip
    parser.add_argument("--to", type=Path, metavar="FILE", help="the file to write (default: closing-sheet-ID.pdf)")
    parser.add_argument("--replace", action="store_true", help="replace the file where there is one")


def _add_prove(words: Any) -> None:
    parser = _add(
        words, "prove", "prove a journal, or a closing sheet against it, and say exactly what is wrong",
        ("countback prove", "countback prove countback-demo/journal.sqlite",
         "countback prove closing-sheet-workboat.pdf countback-demo/journal.sqlite"),
        lambda said: paper.prove_files(said.files),
    )  # fmt: skip
    parser.add_argument("files", nargs="*", type=Path, metavar="FILE",
                        help=f"a closing sheet (PDF) and its journal, or {_JOURNAL}")  # fmt: skip


def _journal(named: Path | None) -> Path:
    from mobileapp.data_folder import journal_path

    return named or journal_path()


def main(argv: Sequence[str] | None = None) -> int:
    """Do what the command line says; the exit code, as `exit_codes` says it."""
    _speak_utf8()
    said = parse(sys.argv[1:] if argv is None else argv)
    try:
        code = said.run(said) if said.command else open_app(said.watch)
        sys.stdout.flush()
    except BrokenPipeError:
        # Whoever read our output has gone; Python must not complain again when it closes the pipe.
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 141
    except KeyboardInterrupt:
        print("countback: stopped.", file=sys.stderr)
        return 130
    except _our_errors() as fault:
        print(f"countback: {_told(fault)}", file=sys.stderr)
        return fault.code if isinstance(fault, Trouble) else NO_ANSWER
    return code


#: A figure below zero, such as -5,0 or -0.1mm: no option begins with a digit.
_BELOW_ZERO = re.compile(r"-[0-9.,]")


def parse(words: Sequence[str]) -> argparse.Namespace:
    """What a command line says. A figure below zero is a figure, not an option.

    argparse takes a word for an option only where the dash is its first sign, so such a figure goes in behind a space,
    and the space is taken away again.
    """
    said = make_parser().parse_args([f" {word}" if _BELOW_ZERO.match(word) else word for word in words])
    for name, value in vars(said).items():
        setattr(said, name, _unspaced(value))
    return said


def _unspaced(value: Any) -> Any:
    if isinstance(value, str):
        return value.strip(" ") if _BELOW_ZERO.match(value.lstrip(" ")) else value
    return [_unspaced(each) for each in value] if isinstance(value, list) else value


def _our_errors() -> tuple[type[Exception], ...]:
    """What is told in one message. Asked for only when something went wrong, so that starting stays quick."""
    from mobileapp.journal.errors import JournalError

    return Trouble, JournalError, OSError


def _told(fault: Exception) -> str:
    """An error of ours says what to do; one of the system is put into words."""
    if not isinstance(fault, OSError) or not fault.strerror:
        return str(fault)
    if fault.errno in (errno.ENOSPC, errno.EDQUOT):
        said = f"{fault.filename} was not written" if fault.filename else "nothing was written"
        return f"The storage is full, so {said}. Free some space, then try again."
    what = fault.filename or "The storage"
    return f"{what} cannot be used ({fault.strerror}). Check its name and place, or name another."


def _speak_utf8() -> None:
    """Tell in UTF-8 whatever the locale says; what cannot be written at all is spelt out."""
    for stream in (sys.stdout, sys.stderr):
        if hasattr(stream, "reconfigure"):
            stream.reconfigure(encoding="utf-8", errors="backslashreplace")


if __name__ == "__main__":
    sys.exit(main())
