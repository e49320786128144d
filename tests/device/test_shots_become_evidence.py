"""From the camera to the journal: a shot is kept, recorded, and only then forgotten by the camera."""

import pytest
from device.fake_camera import FakeCamera
from photos.photo_maker import jpeg, scene

from checklists import builders
from checklists.facts import Person, Photographed
from mobileapp import evidence
from mobileapp.device.camera import Purpose
from mobileapp.journal import open_journal
from mobileapp.journal.errors import JournalError
from mobileapp.photos import PhotoStore, errors
from mobileapp.service import TeardownService
from mobileapp.shelf import load_sheet

ADA = Person("Ada Berg", "fitter")
BASELINE = Purpose("job-1", "teardown:", "baseline")


@pytest.fixture
def service(tmp_path):
    with open_journal(tmp_path / "journal.sqlite") as journal:
        job = TeardownService(journal, lambda: "2026-03-02T08:15:30.250+01:00", "job-1", ADA.name)
        assert job.record(builders.start(load_sheet("rocker-cover"), "Port engine", (ADA,), "it knocks", "")).done
        yield job


@pytest.fixture
def store(tmp_path):
    return PhotoStore(tmp_path / "kept-photos")


def taken(service, store, camera, purpose=BASELINE):
    """Ask, keep and record."""
    answers = []
    camera.take(purpose, lambda shot: answers.append(evidence.keep_shot(service, store, camera, shot)))
    return answers[0]


def test_a_shot_is_kept_recorded_and_forgotten(service, store, tmp_path):
    camera = FakeCamera(tmp_path, [jpeg()])
    fact = taken(service, store, camera).entry.fact
    assert isinstance(fact, Photographed)
    assert (fact.about, fact.moment, fact.name) == ("teardown:", "baseline", "1.jpg")
    assert store.path(fact.photo).read_bytes() == jpeg()
    assert camera.recover() == []


@pytest.mark.parametrize("picture", [None, b""])
def test_no_photo_or_an_empty_one_is_answered_and_forgotten(service, store, tmp_path, picture):
    camera = FakeCamera(tmp_path, [picture])
    answer = taken(service, store, camera)
    assert isinstance(answer, errors.CannotTake)
    assert "again" in str(answer)
    assert camera.recover() == []
    assert store.photos() == []


@pytest.mark.parametrize("picture", [jpeg()[:-500], b"GIF89a" + bytes(40)], ids=["cut off", "another kind"])
def test_one_that_cannot_be_kept_is_answered_and_its_only_copy_stays(service, store, tmp_path, picture):
    camera = FakeCamera(tmp_path, [picture])
    answer = taken(service, store, camera)
    assert isinstance(answer, errors.CannotTake)
    (shot,) = camera.recover()
    assert shot.path.read_bytes() == picture
    assert shot.purpose.teardown == "", "nobody waits for it any more: it is not tried again by itself"
    assert store.photos() == []


def test_killed_after_it_was_recorded_recovery_records_nothing_twice(service, store, tmp_path):
    camera = FakeCamera(tmp_path, [jpeg(), jpeg()])
    assert taken(service, store, camera).done
    assert taken(service, store, camera).entry == service.state.last_entry
    assert camera.recover() == []
    assert len(service.state.photos) == 1


def test_what_the_rules_refuse_stands_until_somebody_says_what_it_belongs_to(service, store, tmp_path):
    camera = FakeCamera(tmp_path, [jpeg()])
    assert not taken(service, store, camera, Purpose("job-1", "opening:unheard of", "closeout")).done
    (shot,) = camera.recover()
    assert shot.path.read_bytes() == jpeg()


def test_a_shot_that_was_kept_but_not_recorded_comes_again(service, store, tmp_path):
    """The journal fails in between; the photo is an orphan then, and the camera still has its note."""
    camera = FakeCamera(tmp_path, [jpeg(scene(seed=5))])
    service.journal.close()
    with pytest.raises(JournalError):
        taken(service, store, camera)
    (shot,) = camera.recover()
    with open_journal(tmp_path / "journal.sqlite") as journal:
        assert len(evidence.orphans(journal, store)) == 1
        later = TeardownService(journal, service.clock, "job-1", ADA.name)
        assert evidence.keep_shot(later, store, camera, shot).done
        assert evidence.orphans(journal, store) == []
    assert camera.recover() == []
