"""The workshop and its tables wait until they are needed: starting the app and the first tap read none of it."""

import subprocess
import sys
from pathlib import Path

import checklists

ROOT = Path(checklists.__file__).parent.parent
TELL = """
import sys
from checklists import builders, gate, next_act
from checklists.facts import Entry, Person
from checklists.judge import judge
from checklists.teardown import fold
from mobileapp.service import TeardownService
from checklists.sheet import Closure, Line, Opening, Shape, Sheet, Space
from decimal import Decimal
sheet = Sheet("s", "m", spaces=(Space("a", "a", "harm"),),
    openings=(Opening("o", "o", "a", Shape("circle", (Decimal(9),)), "c", "cap"),),
    closures=(Closure("c", "c", (), (), "", (), False),), items=(Line("rag", "rag", "rag", 2, "stores"),))
start = builders.start(sheet, "m", [Person("Ines", "fitter")], "why", "")
now = "2026-03-02T08:00:00.000+01:00"
assert not [r for r in judge(fold(()), start, now, "Ines") if r.code != "none"]
t = fold([Entry(start, now, "Ines", "d", 1, 1)])
assert not judge(t, builders.count_out(t, "rag"), now, "Ines")
next_act.next_act(t, now), gate.why_not_close(t)
late = ("checklists.workshop", "checklists.whereabouts", "mobileapp.tables")
print(*sorted(m for m in sys.modules if m.startswith(late)))
"""


def test_a_tap_and_the_board_import_nothing_of_the_workshop():
    done = subprocess.run([sys.executable, "-c", TELL], cwd=ROOT, capture_output=True, text=True, check=True)
    assert done.stdout.split() == []
