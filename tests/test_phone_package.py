"""What is packed for the phone: every library it needs by name, and a tree that starts.

No Android build could be made where this was written; what can be checked without one is checked here.
Source for the traps of the requirements list: the buildozer and python-for-android sources, read, not run.
"""

from __future__ import annotations

import configparser
import re
import subprocess
import sys
import tomllib
from importlib.metadata import requires
from pathlib import Path

import pytest

from mobileapp.phone_tree import lay_out

ROOT = Path(__file__).resolve().parent.parent

#: Built by a python-for-android recipe, which brings what it needs itself.
RECIPES = {"python3", "sqlite3", "kivy", "pillow"}
#: Named by sqlite-utils for its command that installs plugins; the phone has no use for it.
NOT_ON_THE_PHONE = {"pip"}


def plain(requirement: str) -> str:
    return re.split(r"[\s;<>=!~\[(]", requirement, maxsplit=1)[0].lower().replace("_", "-")


def needed(name: str) -> set[str]:
    """A library and everything it needs, without extras; recipes are taken as whole."""
    if name in RECIPES:
        return {name}
    named = [r.replace('"', "'") for r in requires(name) or []]
    further = [r for r in named if "extra ==" not in r and "sys_platform == 'win32'" not in r]
    return {name}.union(*(needed(plain(r)) for r in further if plain(r) not in NOT_ON_THE_PHONE))


def spec() -> configparser.ConfigParser:
    parser = configparser.ConfigParser(interpolation=None)
    parser.read(ROOT / "buildozer.spec", encoding="utf-8")
    return parser


def test_the_phone_gets_every_library_the_project_needs_and_no_other():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    wanted = {"python3", "sqlite3"}.union(*(needed(plain(r)) for r in project["dependencies"]))
    assert set(spec()["app"]["requirements"].split(",")) == wanted


def test_androids_own_backup_never_brings_a_journal_to_a_second_phone():
    """It would come with its device's name, and two phones would write under one."""
    assert spec()["app"]["android.allow_backup"] == "False"


def test_no_requirement_is_pinned_since_a_pin_hides_its_recipe():
    assert not re.search(r"[<>=]", spec()["app"]["requirements"])


def test_the_version_on_the_phone_is_the_projects():
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert spec()["app"]["version"] == project["version"]


def test_every_kind_of_file_the_app_reads_is_packed():
    packed = set(spec()["app"]["source.include_exts"].split(","))
    files = [f for part in ("checklists", "mobileapp", "assets") for f in (ROOT / part).rglob("*.*")]
    kinds = {f.suffix[1:] for f in files if f.is_file() and "__pycache__" not in f.parts and f.suffix != ".pyc"}
    assert kinds <= packed


def test_the_laid_out_tree_imports_from_itself_alone(tmp_path):
    tree = tmp_path / "phone"
    lay_out(tree)
    probe = "import mobileapp.app, checklists.judge; print(mobileapp.app.__file__)"
    done = subprocess.run([sys.executable, "-c", probe], cwd=tree, capture_output=True, text=True, check=True)
    assert done.stdout.strip() == str(tree / "mobileapp" / "app.py")


def test_a_folder_with_something_else_in_it_is_left_alone(tmp_path):
    (tmp_path / "holiday.jpg").write_bytes(b"not ours")
    with pytest.raises(FileExistsError, match="holds something else"):
        lay_out(tmp_path)
    assert (tmp_path / "holiday.jpg").read_bytes() == b"not ours"
