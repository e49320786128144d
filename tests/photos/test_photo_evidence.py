"""A photo becomes evidence: kept, then recorded by its hash; and proven afterwards, every byte."""

import threading
from dataclasses import replace

import pytest
from careful_worker import START, CarefulWorker
from photos.photo_maker import OFFSET, TAKEN, encoded, exif_block, jpeg, scene

from checklists import builders
from checklists.facts import FindLogged, Lifted, Looked, Person, Photographed
from checklists.next_act import next_act
from checklists.photo_places import place_of_photo
from checklists.times import seconds_after
from mobileapp import evidence
from mobileapp.journal import examine, open_journal, prove
from mobileapp.photos import PhotoStore, errors
from mobileapp.photos.proving import prove_photos
from mobileapp.service import TeardownService
from mobileapp.shelf import load_sheet

ADA, JONAS = Person("Ada Berg", "fitter"), Person("Jonas Wieland", "second counter")


class Clock:
    """Steps a second at every reading."""

    def __init__(self):
        self.now = START

    def __call__(self):
        self.now = seconds_after(self.now, 1)
        return self.now


@pytest.fixture
def journal(tmp_path):
    with open_journal(tmp_path / "journal.sqlite") as opened:
        yield opened


@pytest.fixture
def service(journal):
    """A teardown of the rocker cover, just started."""
    job = TeardownService(journal, Clock(), "job-1", ADA.name)
    assert job.record(
        builders.start(load_sheet("rocker-cover"), "Port engine", (ADA, JONAS), "it knocks", "")
    ).done
    return job


def opening_of(service):
    return next(iter(service.state.openings))


def test_a_photo_is_kept_and_recorded_with_all_that_is_known_of_it(service, store):
    about = f"opening:{opening_of(service)}"
    data = jpeg(exif=exif_block())
    outcome = evidence.keep_photo(service, store, data, about, "baseline", "before.jpg")
    fact = outcome.entry.fact
    assert fact == Photographed(
        fact.photo,
        about,
        "baseline",
        "before.jpg",
        "image/jpeg",
        TAKEN + OFFSET,
        fact.received,
        640,
        480,
        len(data),
    )
    assert store.path(fact.photo).read_bytes() == data
    assert fact.received > START
    assert service.state.photos[fact.photo][0] == fact
    assert service.journal.entries("job-1")[-1].fact == fact
    assert evidence.known_photos(service.journal) == {fact.photo}
    assert evidence.orphans(service.journal, store) == []


def test_a_photo_that_cannot_be_taken_is_answered_and_not_recorded(service, store):
    before = service.journal.entries("job-1")
    answer = evidence.keep_photo(service, store, b"", "teardown:", "baseline")
    assert isinstance(answer, errors.EmptyPhoto)
    assert service.journal.entries("job-1") == before


@pytest.mark.parametrize(
    ("about", "moment"), [("opening:no such", "baseline"), ("", "closeout"), ("teardown:", "tea")]
)
def test_what_the_rules_refuse_is_not_even_stored(service, store, about, moment):
    outcome = evidence.keep_photo(service, store, jpeg(), about, moment)
    assert [reason.code for reason in outcome.reasons] == ["belongs to nothing"]
    assert store.photos() == []


def test_the_same_photo_for_something_else_is_refused_and_makes_no_orphan(service, store):
    assert evidence.keep_photo(service, store, jpeg(), "teardown:", "baseline").done
    outcome = evidence.keep_photo(service, store, jpeg(), f"opening:{opening_of(service)}", "other")
    assert [reason.code for reason in outcome.reasons] == ["photo known"]
    assert evidence.orphans(service.journal, store) == []


def test_the_same_photo_again_for_the_same_thing_is_the_one_kept_until_something_names_it(service, store):
    """Chosen, gone back, and chosen again: one photo. Once a find names it, it is spent."""
    first = evidence.keep_photo(service, store, jpeg(), "find:f-1", "before").entry
    assert evidence.keep_photo(service, store, jpeg(), "find:f-1", "before").entry == first
    assert service.state.last_entry == first
    assert service.record(FindLogged("f-1", "old washer", "", first.fact.photo)).done
    outcome = evidence.keep_photo(service, store, jpeg(), "find:f-1", "after")
    assert [reason.code for reason in outcome.reasons] == ["photo known"]


def test_two_teardowns_may_show_the_same_photo(service, store, journal):
    other = TeardownService(journal, Clock(), "job-2", ADA.name)
    assert other.record(
        builders.start(load_sheet("rocker-cover"), "Starboard engine", (ADA,), "same", "")
    ).done
    for job in (service, other):
        assert evidence.keep_photo(job, store, jpeg(), "teardown:", "baseline").done
    assert len(store.photos()) == 1
    assert prove_photos(journal.path, store) == ([], [], 1)


def test_off_the_main_thread_the_store_works_and_the_holder_of_the_journal_records(tmp_path, service):
    arrived, acts = threading.Semaphore(0), []

    def deliver(act):
        acts.append(act)
        arrived.release()

    store, answers = PhotoStore(tmp_path / "kept-photos", deliver), []
    for data, about in ((jpeg(), "teardown:"), (b"", "teardown:"), (jpeg(), "nothing")):
        evidence.keep_photo_later(
            service, store, data, about, "baseline", lambda record: answers.append(record())
        )
    for _ in range(2):
        assert arrived.acquire(timeout=10)
        acts.pop(0)()
    store.close()
    refused, kept, empty = answers
    assert (refused.done, kept.done, type(empty)) == (False, True, errors.EmptyPhoto)
    assert evidence.known_photos(service.journal) == {kept.entry.fact.photo}


class Photographer(CarefulWorker):
    """The careful worker on a real journal: every photo an act demands is taken, kept and named by its hash."""

    def __init__(self, service, store):
        self.service, self.store, self.acts, self.taken = service, store, [], 0

    @property
    def teardown(self):
        return self.service.state

    @property
    def now(self):
        return self.service.clock.now

    @now.setter
    def now(self, stamp):
        self.service.clock.now = stamp

    def record(self, fact, who):
        self.service.who = who
        outcome = self.service.record(fact)
        assert outcome.done, [reason.words for reason in outcome.reasons]

    def with_photo(self, fact):
        if isinstance(fact, Photographed):
            self.photograph(fact.about, fact.moment)
            return ()
        place = place_of_photo(fact)
        return (replace(fact, photo=self.photograph(*place)) if place else fact,)

    def photograph(self, about, moment):
        self.taken += 1
        data = jpeg(scene(64, 48, seed=self.taken))
        outcome = evidence.keep_photo(self.service, self.store, data, about, moment, f"{self.taken}.jpg")
        assert outcome.done
        return outcome.entry.fact.photo


def test_a_whole_teardown_that_names_its_kept_photos_is_proven(service, store, journal):
    worker = Photographer(service, store)
    worker.work()
    assert next_act(service.state, service.clock.now).do == "ended"
    kinds = {type(entry.fact) for entry in service.state.history if place_of_photo(entry.fact)}
    assert kinds == {Lifted, Looked}
    (as_found,) = service.state.photos.keys() - service.state.named_photos.keys()
    assert service.state.photos[as_found][0].moment == "baseline"
    assert prove(journal.path) == []
    assert prove_photos(journal.path, store) == ([], [], worker.taken)


def kept_three(service, store):
    return [
        evidence.keep_photo(service, store, jpeg(scene(seed=n)), "teardown:", "other").entry
        for n in (1, 2, 3)
    ]


def spoil(path, data):
    path.chmod(0o644)
    path.write_bytes(data)


def test_proving_finds_the_missing_the_altered_and_the_orphan(service, store, journal):
    missing, altered, sound = kept_three(service, store)
    store.path(missing.fact.photo).unlink()
    path = store.path(altered.fact.photo)
    spoil(path, path.read_bytes() + b"\0")
    orphan = store.keep(encoded("PNG"), "later")
    proof = prove_photos(journal.path, store)
    where = f"teardown job-1, device {journal.device}, entry"
    assert proof.faults == [
        (f"{where} {missing.seq}, photo {missing.fact.photo[:12]}", "the photo is missing from the store"),
        (f"{where} {altered.seq}, photo {altered.fact.photo[:12]}", proof.faults[1].what),
    ]
    assert f"{altered.fact.photo}.jpg was altered: its hash is now" in proof.faults[1].what
    assert proof.remarks == [
        (f"photo {orphan.sha[:12]}", "is kept but belongs to nothing yet; the app offers it")
    ]
    assert proof.photos == 3
    assert store.has(sound.fact.photo)


def test_one_flipped_bit_anywhere_is_found(service, store, journal):
    entry = kept_three(service, store)[1]
    path = store.path(entry.fact.photo)
    whole = path.read_bytes()
    for spot in range(0, len(whole), len(whole) // 50):
        spoil(path, whole[:spot] + bytes([whole[spot] ^ 1]) + whole[spot + 1 :])
        assert len(prove_photos(journal.path, store).faults) == 1
    spoil(path, whole)
    assert prove_photos(journal.path, store).faults == []


def test_a_folder_in_the_photos_place_is_no_photo(service, store, journal):
    entry = kept_three(service, store)[0]
    path = store.path(entry.fact.photo)
    path.unlink()
    path.mkdir()
    assert prove_photos(journal.path, store).faults[0].what == "the photo is missing from the store"


def test_an_entry_without_a_sensible_photo_is_a_fault(service, store, journal):
    kept_three(service, store)
    with journal.transaction() as conn:
        conn.execute("DROP TRIGGER event_never_changed")
        conn.execute("UPDATE event SET body = '[1]' WHERE kind = 'photographed'")
    assert [fault.what for fault in prove_photos(journal.path, store).faults] == [
        "the photo is missing from the store"
    ]
    assert examine(journal.path).faults


def test_an_orphan_is_offered_and_taken_in(service, store, journal):
    store.keep(jpeg(), "earlier")
    (orphan,) = evidence.orphans(journal, store)
    outcome = evidence.keep_photo(service, store, orphan.path, "teardown:", "other")
    assert outcome.entry.fact.photo == orphan.sha
    assert evidence.orphans(journal, store) == []
