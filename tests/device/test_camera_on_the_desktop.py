"""The desktop's cameras: a chooser, and a folder watched with a stepped clock."""

import os
import threading

from photos.photo_maker import encoded, jpeg, scene

from mobileapp.device.camera import CANCELLED, NO_CHOOSER, Purpose
from mobileapp.device.camera_awaited import AwaitedPhotos
from mobileapp.device.camera_chooser import ChooserCamera
from mobileapp.device.camera_left import BesideLeft
from mobileapp.device.camera_watched import WatchedFolder
from mobileapp.photos import PhotoStore

INLET = Purpose("job-1", "opening:inlet-2", "closeout")
FIND = Purpose("job-1", "find:f-1", "before")


def chooser(choose):
    return ChooserCamera(lambda act: act(), choose, lambda work: work())


def test_a_chosen_photo(tmp_path):
    shots = []
    chooser(lambda: [str(tmp_path / "a.jpg")]).take(INLET, shots.append)
    assert [(shot.purpose, shot.path) for shot in shots] == [(INLET, tmp_path / "a.jpg")]


def test_a_chooser_that_was_closed():
    shots = []
    for nothing in (None, []):
        chooser(lambda nothing=nothing: nothing).take(INLET, shots.append)
    assert [(shot.path, shot.words) for shot in shots] == [(None, CANCELLED)] * 2


def test_where_there_is_no_chooser_that_is_said():
    def broken():
        raise NotImplementedError

    shots = []
    chooser(broken).take(INLET, shots.append)
    assert [(shot.path, shot.words) for shot in shots] == [(None, NO_CHOOSER)]


def test_the_chooser_does_not_hold_the_main_thread():
    threads, done = [], threading.Event()

    def choose():
        threads.append(threading.current_thread())
        return []

    camera = ChooserCamera(lambda act: (act(), done.set()), choose)
    camera.take(INLET, lambda shot: None)
    assert done.wait(10)
    assert threads[0] is not threading.main_thread()


class Bench:
    """A folder being watched, and a clock."""

    def __init__(self, folder):
        self.folder, self.now, self.shots = folder, 0.0, []
        self.folder.mkdir()
        self.camera = WatchedFolder(folder)

    def asks(self, purpose=INLET):
        self.camera.take(purpose, self.shots.append)

    def polls(self, seconds=1.0, times=1):
        for _ in range(times):
            self.now += seconds
            self.camera.poll(self.now)

    def names(self):
        return [shot.path.name for shot in self.shots]


def test_the_next_new_photo_is_taken_once_it_has_come_to_rest(tmp_path):
    bench = Bench(tmp_path / "card")
    (bench.folder / "old.jpg").write_bytes(jpeg())
    bench.asks()
    bench.polls(times=3)
    (bench.folder / "new.jpg").write_bytes(jpeg())
    bench.polls()
    assert bench.shots == []
    bench.polls(0.5)
    assert bench.shots == []
    bench.polls(0.5)
    assert [(shot.purpose, shot.path) for shot in bench.shots] == [(INLET, bench.folder / "new.jpg")]
    bench.polls(times=3)
    assert len(bench.shots) == 1


def test_a_photo_still_being_copied_is_waited_for(tmp_path):
    bench, data = Bench(tmp_path / "card"), jpeg(scene(1600, 1200))
    bench.asks()
    for part in range(1, 6):
        (bench.folder / "slow.jpg").write_bytes(data[: len(data) * part // 6])
        bench.polls(times=3)  # the cable stops now and then
    assert bench.shots == []
    (bench.folder / "slow.jpg").write_bytes(data)
    bench.polls(times=2)
    assert bench.names() == ["slow.jpg"]


def test_what_is_no_photo_is_passed_over(tmp_path):
    bench = Bench(tmp_path / "card")
    bench.asks()
    (bench.folder / "notes.txt").write_bytes(jpeg())
    (bench.folder / ".hidden.jpg").write_bytes(jpeg())
    (bench.folder / "spoilt.jpg").write_bytes(jpeg()[:-300])
    (bench.folder / "empty.jpg").write_bytes(b"")
    (bench.folder / "folder.jpg").mkdir()
    bench.polls(times=4)
    assert bench.shots == []
    (bench.folder / "good.png").write_bytes(encoded("PNG"))
    bench.polls(times=3)
    assert bench.names() == ["good.png"]


def test_two_asks_get_two_photos_in_the_order_they_were_taken(tmp_path):
    bench = Bench(tmp_path / "card")
    bench.asks()
    bench.asks(FIND)
    for name, changed in (("z-first.jpg", 100), ("a-second.jpg", 200)):
        (bench.folder / name).write_bytes(jpeg())
        os.utime(bench.folder / name, (changed, changed))
    bench.polls(times=3)
    assert [(shot.purpose, shot.path.name) for shot in bench.shots] == [(INLET, "z-first.jpg"), (FIND, "a-second.jpg")]


def test_a_photo_that_came_while_nothing_was_asked_answers_no_later_ask(tmp_path):
    bench = Bench(tmp_path / "card")
    (bench.folder / "meanwhile.jpg").write_bytes(jpeg())
    bench.polls(times=3)
    bench.asks()
    bench.polls(times=3)
    assert bench.shots == []


def test_a_program_that_always_writes_the_same_name_answers_each_ask(tmp_path):
    """Some capture programs know one name only: a file written anew is a new photo."""
    bench = Bench(tmp_path / "card")
    (bench.folder / "capture.jpg").write_bytes(jpeg(scene(640, 480, seed=1)))
    bench.asks()
    bench.polls(times=3)
    assert bench.shots == [], "it lay there before"
    for seed, purpose in ((2, INLET), (3, FIND)):
        if seed == 3:
            bench.asks(FIND)  # and the shutter goes at once
        (bench.folder / "capture.jpg").write_bytes(jpeg(scene(640, 480, seed=seed)))
        bench.polls(times=3)
        assert bench.shots[-1].purpose == purpose
    bench.asks()
    bench.polls(times=4)
    assert len(bench.shots) == 2, "and the same file answers no further ask"


def test_a_photo_that_was_being_copied_when_it_was_asked_for_is_not_the_next_one(tmp_path):
    bench, data = Bench(tmp_path / "card"), jpeg(scene(1600, 1200))
    (bench.folder / "before.jpg").write_bytes(data[:-4000])
    bench.asks()
    for end in (-3000, -2000, -1000, len(data)):
        bench.polls(0.5)
        (bench.folder / "before.jpg").write_bytes(data[:end])
    bench.polls(times=4)
    assert bench.shots == []


def test_a_photo_written_over_while_it_was_looked_at_is_looked_at_again(tmp_path):
    looks, bench = [], Bench(tmp_path / "card")
    bench.camera = WatchedFolder(bench.folder, lambda work, then: looks.append((work, then)))
    bench.asks()
    (bench.folder / "capture.jpg").write_bytes(jpeg(scene(640, 480, seed=1)))
    bench.polls(times=2)
    ((work, then),) = looks
    whole = work()
    (bench.folder / "capture.jpg").write_bytes(b"half of the next")
    then(whole)
    assert bench.shots == []


def test_waiting_is_stopped(tmp_path):
    bench = Bench(tmp_path / "card")
    bench.asks()
    bench.camera.cancel()
    assert [(shot.path, shot.words) for shot in bench.shots] == [(None, CANCELLED)]
    (bench.folder / "late.jpg").write_bytes(jpeg())
    bench.polls(times=3)
    assert len(bench.shots) == 1


def test_a_folder_that_is_not_there_yet(tmp_path):
    bench = Bench(tmp_path / "card")
    bench.folder.rmdir()
    bench.asks()
    bench.polls(times=2)
    bench.folder.mkdir()
    (bench.folder / "first.jpg").write_bytes(jpeg())
    bench.polls(times=2)
    assert bench.names() == ["first.jpg"]


def test_files_are_looked_at_off_the_main_thread(tmp_path):
    arrived, acts = threading.Semaphore(0), []

    def deliver(act):
        acts.append((threading.current_thread(), act))
        arrived.release()

    store = PhotoStore(tmp_path / "kept-photos", deliver)
    bench = Bench(tmp_path / "card")
    bench.camera = WatchedFolder(bench.folder, store.later)
    bench.asks()
    (bench.folder / "new.jpg").write_bytes(jpeg())
    bench.polls(times=4)
    assert arrived.acquire(timeout=10)
    store.close()
    ((thread, act),) = acts
    assert thread is not threading.main_thread()
    assert bench.shots == []
    act()
    assert bench.names() == ["new.jpg"]


def test_a_desktop_offers_what_a_restored_backup_brought_of_a_phones_camera(tmp_path):
    notes = AwaitedPhotos(tmp_path / "awaited-photos", lambda: "2026-03-02T08:10:00.000+01:00", lambda: "a1")
    asked = Purpose("job-1", "opening:inlet-2", "closeout")
    notes.expect(asked).path.write_bytes(jpeg())
    mine = tmp_path / "mine.jpg"
    mine.write_bytes(jpeg())
    camera = BesideLeft(ChooserCamera(lambda act: act(), lambda: [str(mine)], lambda work: work()), notes)
    (left,) = camera.recover()
    assert (left.purpose, left.path.read_bytes()) == (asked, jpeg())
    chosen = []
    camera.take(asked, chosen.append)
    camera.set_aside(chosen[0])
    camera.settle(chosen[0])
    assert mine.exists(), "what a person chose is their own"
    camera.set_aside(left)
    assert camera.recover()[0].purpose.teardown == ""
    camera.settle(left)
    assert camera.recover() == []
    assert list(notes.folder.iterdir()) == []
