"""Every command and option is in its help with an example, in the README, and needs nothing heavy to start."""

import argparse
import os
import re
import signal
import subprocess
import sys
from pathlib import Path

import pytest

import checklists
from mobileapp.cli import make_parser
from mobileapp.exit_codes import WHEN_BAD

ROOT = Path(checklists.__file__).parent.parent
COMMANDS = {
    "demo", "rehearse", "sheets", "tally", "closing-sheet", "prove", "pack", "unpack", "export", "backup", "restore",
    "whereabouts", "pieces", "weigh", "limits", "torque", "order",
}  # fmt: skip


def sub_parsers() -> dict[str, argparse.ArgumentParser]:
    (words,) = [a for a in make_parser()._actions if isinstance(a, argparse._SubParsersAction)]
    return words.choices


def run(*words: str, **env: str) -> subprocess.CompletedProcess[str]:
    """The command line in a process of its own, as a person runs it."""
    return subprocess.run(
        [sys.executable, "-m", "mobileapp.cli", *words], cwd=ROOT, env={**os.environ, **env}, capture_output=True,
        encoding="utf-8", check=False, timeout=60,
    )  # fmt: skip


def test_these_are_the_commands():
    assert set(sub_parsers()) == COMMANDS
    told = make_parser().format_help()
    assert all(re.search(rf"^    {command}\s", told, re.MULTILINE) for command in COMMANDS)
    assert "COUNTBACK_HOME" in told


@pytest.mark.parametrize("command", sorted(COMMANDS))
def test_every_option_has_its_words_and_every_command_its_examples(command):
    parser = sub_parsers()[command]
    told = parser.format_help()
    assert f"  countback {command}" in parser.epilog
    for action in parser._actions:
        assert action.help
        assert (action.option_strings or [action.metavar])[-1] in told


@pytest.mark.parametrize("command", sorted(COMMANDS))
def test_every_command_says_its_exit_codes(command):
    told = sub_parsers()[command].format_help()
    assert "exit codes:\n  0  " in told
    assert "\n  2  no answer: something typed is not understood" in told
    assert (f"\n  1  {WHEN_BAD[command]}\n" if command in WHEN_BAD else "") in told
    assert set(WHEN_BAD) < COMMANDS


def test_the_examples_can_be_parsed():
    for parser in sub_parsers().values():
        for example in re.findall(r"^  countback (.*)$", parser.epilog, re.MULTILINE):
            assert make_parser().parse_args(example.split()).run


@pytest.mark.parametrize("command", sorted(COMMANDS))
def test_the_readme_names_every_command(command):
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert f"countback {command}" in readme


def test_nothing_heavy_is_imported_before_a_command_asks_for_it():
    tell = "import sys, mobileapp.cli; print(*{m.partition('.')[0] for m in sys.modules})"
    done = subprocess.run([sys.executable, "-c", tell], cwd=ROOT, capture_output=True, text=True, check=True)
    assert {"kivy", "PIL", "sqlite_utils", "sqlite3", "rfc8785", "checklists"}.isdisjoint(done.stdout.split())


def test_rehearsing_does_not_touch_kivy():
    tell = "import sys; from mobileapp.cli import main; main(['rehearse', 'blank-sheet']); print('kivy' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", tell], cwd=ROOT, capture_output=True, encoding="utf-8", check=True)
    assert done.stdout.splitlines()[-1] == "False"


def test_exit_codes_reach_the_shell(tmp_path):
    assert run("rehearse", "blank-sheet").returncode == 0
    assert run("rehearse", str(tmp_path / "none.toml")).returncode == 2
    assert run("limits", "0.4mm", "--most", "0.3mm", "--reads-to", "0.01mm").returncode == 1
    assert run("limits", "-0.4mm", "--most", "0.3mm", "--reads-to", "0.01mm").returncode == 0
    assert run("limits", "wide", "--most", "0.3mm", "--reads-to", "0.01mm").returncode == 2
    assert run("fly").returncode == 2
    assert run("--help").returncode == 0


def test_a_locale_without_letters_still_gets_them_all():
    done = run("rehearse", "valley-cover", LC_ALL="C", LANG="C", PYTHONUTF8="0", PYTHONCOERCECLOCALE="0")
    assert done.returncode == 0
    assert "0 × socket 10 mm" in done.stdout


def test_a_reader_that_goes_away_is_no_trouble():
    command = f"{sys.executable} -m mobileapp.cli rehearse workboat valley-cover | head -n 1"
    done = subprocess.run(command, shell=True, cwd=ROOT, capture_output=True, encoding="utf-8", check=True, timeout=60)
    assert done.stdout.count("\n") == 1
    assert done.stderr == ""


def test_stopping_it_by_hand_is_no_trouble():
    words = [sys.executable, "-m", "mobileapp.cli", "rehearse", *["workboat"] * 500]
    pipes = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE}
    env = {**os.environ, "PYTHONUNBUFFERED": "1"}
    with subprocess.Popen(words, cwd=ROOT, encoding="utf-8", env=env, **pipes) as run:
        assert "opens a teardown" in run.stdout.readline()
        run.send_signal(signal.SIGINT)
        run.stdout.read()
        assert run.stderr.read() == "countback: stopped.\n"
    assert run.returncode == 130
