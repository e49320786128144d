"""Lay out the folder that buildozer packs for the phone: the rules, the app, the assets and an entry file.

    python -m mobileapp.phone_tree build/phone

Android's Python starts a `main.py` at the root of what is packed; nothing else needs one, so it is made here.
"""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

ENTRY = '''"""The phone starts here."""

from mobileapp.app import run_app

run_app(None)
'''
_NOT_FOR_THE_PHONE = shutil.ignore_patterns("__pycache__", "*.pyc")


def lay_out(target: Path) -> list[Path]:
    """Make `target` afresh; answers what lies in it. Raises FileExistsError where it holds anything not made here."""
    source = Path(__file__).resolve().parent.parent
    if target.exists() and any(target.iterdir()) and not (target / "main.py").exists():
        raise FileExistsError(f"{target} holds something else; name an empty folder.")
    shutil.rmtree(target, ignore_errors=True)
    for part in ("checklists", "mobileapp", "assets"):
        shutil.copytree(source / part, target / part, ignore=_NOT_FOR_THE_PHONE)
    (target / "main.py").write_text(ENTRY, encoding="utf-8")
    return sorted(target.iterdir())


if __name__ == "__main__":
    for path in lay_out(Path(sys.argv[1])):
        print(path)
