"""Raises children that count, and kills them. Run by test_kill as its own program, so that forking is safe.

Each line on standard input is `path delay`: a child opens the journal at path and counts one rag out and in
again for ever, writing the seq of each entry it was told is durable. After `delay` seconds it gets SIGKILL.
"""

import os
import signal
import sys
import time

from journal_workshop import WHO, at, start

from checklists.facts import Counted, Move
from mobileapp.journal import open_journal

OUT = Counted((Move("rag", 1, "stores", "tray"),))
BACK = Counted((Move("rag", 1, "tray", "stores"),))


def count_until_killed(path: str) -> None:
    """Never returns."""
    journal = open_journal(path)
    done = len(journal.entries("job-1"))
    while True:
        fact = start() if done == 0 else OUT if done % 2 else BACK
        entry = journal.append("job-1", fact, at(0), WHO)
        done += 1
        os.write(1, b"%d\n" % entry.seq)


def main() -> None:
    """One child after another."""
    for line in sys.stdin:
        path, delay = line.split()
        child = os.fork()
        if child == 0:
            count_until_killed(path)
        time.sleep(float(delay))
        os.kill(child, signal.SIGKILL)
        _, status = os.waitpid(child, 0)
        os.write(1, b"killed %d\n" % os.WTERMSIG(status))


if __name__ == "__main__":
    main()
