"""`countback prove` hashes every photo beside the journal again."""

import pytest
from photos.photo_maker import encoded, jpeg

from checklists import builders
from checklists.facts import Person
from mobileapp import evidence
from mobileapp.cli import main
from mobileapp.journal import open_journal
from mobileapp.photos import PhotoStore, beside
from mobileapp.service import TeardownService
from mobileapp.shelf import load_sheet

ADA = Person("Ada Berg", "fitter")


@pytest.fixture
def proven(tmp_path):
    """A journal with one photo: its path, the store and the photo's hash."""
    path = tmp_path / "journal.sqlite"
    store = PhotoStore(beside(path))
    with open_journal(path) as journal:
        job = TeardownService(journal, lambda: "2026-03-02T08:15:30.250+01:00", "job-1", ADA.name)
        assert job.record(
            builders.start(load_sheet("rocker-cover"), "Port engine", (ADA,), "it knocks", "")
        ).done
        sha = evidence.keep_photo(job, store, jpeg(), "teardown:", "baseline").entry.fact.photo
    return path, store, sha


def test_photos_are_proven_with_the_journal(proven, capsys):
    path, _, _ = proven
    assert main(["prove", str(path)]) == 0
    assert (
        capsys.readouterr().out
        == f"{path}: 2 entries of 1 teardown and 1 photo proven; nothing is wrong.\n"
    )


def test_a_missing_photo_and_an_orphan_are_told(proven, capsys):
    path, store, sha = proven
    store.path(sha).unlink()
    orphan = store.keep(encoded("PNG"), "later")
    assert main(["prove", str(path)]) == 1
    told = capsys.readouterr().out
    assert f"entry 2, photo {sha[:12]}: the photo is missing from the store\n" in told
    assert (
        f"remark on photo {orphan.sha[:12]}: is kept but belongs to nothing yet; the app offers it\n" in told
    )
    assert f"{path}: 1 wrong (2 entries of 1 teardown and 1 photo read)." in told
