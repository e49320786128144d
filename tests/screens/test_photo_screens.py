"""Choosing a photo on the phone: it is kept on the store's thread, recorded, and the form names it by its hash."""

from pathlib import Path

import pytest
from device.fake_camera import FakeCamera
from photos.photo_maker import jpeg, scene
from screens import touch
from screens.counting_phone import CountingPhone

from checklists.facts import Lifted, Photographed
from mobileapp.desk import Desk
from mobileapp.device.camera import CAME_EMPTY, Purpose, Shot
from mobileapp.device.camera_chooser import ChooserCamera
from mobileapp.device.camera_watched import WatchedFolder
from mobileapp.photos import PhotoStore, beside
from mobileapp.shell import Shell

LABEL = "Photo: nothing loose on it"


class PhotoPhone(CountingPhone):
    """A counting phone that keeps its photos, and may have a camera."""

    camera = None

    def _switch_on(self):
        from kivy.clock import Clock

        old, _ = super()._switch_on()
        photos = PhotoStore(beside(old.journal.path), lambda act: Clock.schedule_once(lambda _: act()))
        given = (old.journal, old.clock, old.make_id, old.signals, old.photo_folders)
        desk = Desk(*given, lambda: photos, self.camera)
        return desk, Shell(desk)

    def wait(self):
        """Until the store has done what was begun and its answer is on the screen."""
        self.desk.photos.close()
        touch.settle(5)

    def at_the_lift_check(self):
        self.begin()
        self.closure = self.until("lift").closure
        self.go("lift", closure=self.closure)

    def last(self):
        return self.desk.state.last_entry.fact


@pytest.fixture
def phone(kivy_window, tmp_path):
    made = PhotoPhone(tmp_path)
    yield made
    made.desk.photos.close()
    made.journal.close()


def kept(phone) -> Photographed:
    (photo,) = taken(phone)
    return photo


def taken(phone) -> list[Photographed]:
    """Every photo but the one of the machine as it was found."""
    return [fact for fact, _ in phone.desk.state.photos.values() if fact.moment != "baseline"]


def test_a_chosen_photo_is_kept_recorded_and_named_by_its_hash(phone):
    path = phone.take_photo("IMG_0001.jpg")
    phone.at_the_lift_check()
    phone.tap(LABEL)
    phone.tap(has="IMG_0001.jpg")
    phone.wait()
    fact = kept(phone)
    assert (fact.about, fact.moment, fact.name) == (f"closure:{phone.closure}", "lift check", "IMG_0001.jpg")
    assert phone.desk.photos.path(fact.photo).read_bytes() == path.read_bytes()
    assert phone.name == "lift"
    assert phone.says("IMG_0001.jpg, kept")
    phone.act()
    assert phone.last() == Lifted(phone.closure, fact.photo)


def test_a_spoilt_photo_is_said_and_the_form_stands(phone):
    (phone.photos / "half.jpg").write_bytes(jpeg()[:-900])
    phone.at_the_lift_check()
    phone.tap(LABEL)
    phone.tap(has="half.jpg")
    phone.wait()
    assert phone.name == "photos"
    assert phone.says("half.jpg is damaged or cut off")
    assert taken(phone) == []


def test_a_photo_with_a_torn_middle_is_kept_and_the_form_says_to_look_at_it(phone):
    whole = jpeg(scene(1600, 1200))
    half = len(whole) // 2
    (phone.photos / "torn.jpg").write_bytes(whole[:half] + bytes(2048) + whole[half + 2048 :])
    phone.at_the_lift_check()
    phone.tap(LABEL)
    phone.tap(has="torn.jpg")
    phone.wait()
    assert phone.name == "lift"
    assert phone.says("torn.jpg, kept")
    assert phone.says("zeros in a row in its picture data")
    assert phone.desk.draft["photo"] == kept(phone).photo


def test_who_goes_back_meanwhile_is_not_pulled_about(phone):
    phone.take_photo("IMG_0001.jpg")
    phone.at_the_lift_check()
    phone.tap(LABEL)
    path = str(phone.photos / "IMG_0001.jpg")
    phone.screen.take(path)
    phone.back()
    phone.desk.to_board()
    phone.wait()
    assert phone.name == "board"
    assert kept(phone).name == "IMG_0001.jpg"
    phone.go("lift", closure=phone.closure)  # chosen again, it is the same photo
    phone.tap(LABEL)
    phone.screen.take(path)
    phone.wait()
    assert phone.desk.draft["photo"] == kept(phone).photo


def test_a_photo_that_belongs_to_nothing_is_offered_and_taken_in(phone):
    orphan = phone.desk.photos.keep(jpeg(scene(seed=4)), "earlier")
    phone.at_the_lift_check()
    phone.tap(LABEL)
    phone.tap("Photos that belong to nothing yet")
    phone.tap(has="belongs to nothing yet")
    phone.wait()
    assert kept(phone).photo == orphan.sha
    assert phone.desk.draft["photo"] == orphan.sha


@pytest.fixture
def with_camera(kivy_window, tmp_path):
    made = PhotoPhone(tmp_path)
    made.camera = FakeCamera(tmp_path, [jpeg(scene(seed=9)), None])
    made.desk.camera = made.camera
    yield made
    made.desk.photos.close()
    made.journal.close()


def test_a_photo_is_taken_with_the_camera(with_camera):
    phone = with_camera
    phone.at_the_lift_check()
    phone.tap(LABEL)
    phone.tap("Take a photo")
    phone.wait()
    assert phone.camera.asked == [Purpose(phone.desk.work.id, f"closure:{phone.closure}", "lift check")]
    assert phone.desk.draft["photo"] == kept(phone).photo
    assert phone.camera.recover() == []


def test_a_camera_that_was_left_without_a_photo_says_so(with_camera):
    phone = with_camera
    phone.camera.pictures = [None]
    phone.at_the_lift_check()
    phone.tap(LABEL)
    phone.tap("Take a photo")
    phone.wait()
    assert phone.says("No photo was taken.")
    assert phone.camera.recover() == []


def test_an_app_killed_by_its_camera_comes_back_with_the_photo_where_it_belongs(with_camera, tmp_path: Path):
    phone = with_camera
    phone.at_the_lift_check()
    phone.tap(LABEL)
    path = tmp_path / "awaited.jpg"
    path.write_bytes(jpeg(scene(seed=11)))
    purpose = Purpose(phone.desk.work.id, f"closure:{phone.closure}", "lift check")
    phone.camera.standing.append(Shot(purpose, path, note="awaited"))
    phone.desk.photos.close()
    phone.kill_and_start()
    phone.wait()
    assert phone.name == "lift"
    assert phone.desk.draft["photo"] == kept(phone).photo
    assert phone.camera.recover() == []


@pytest.mark.parametrize("about", ["find:never-logged", "teardown:"])
def test_a_photo_that_nobody_came_back_for_after_a_kill_is_offered(with_camera, tmp_path: Path, about):
    phone = with_camera
    phone.at_the_lift_check()
    path = tmp_path / "awaited.jpg"
    path.write_bytes(jpeg(scene(seed=12)))
    teardown = "" if about == "teardown:" else phone.desk.work.id
    phone.camera.standing.append(Shot(Purpose(teardown, about, "before"), path, note="awaited"))
    phone.tap(LABEL)
    phone.tap("Photos that belong to nothing yet")
    phone.tap(has="belongs to nothing yet")
    phone.wait()
    assert phone.desk.draft["photo"] == kept(phone).photo
    assert kept(phone).about == f"closure:{phone.closure}"
    assert phone.camera.recover() == []


def test_a_photo_awaited_by_another_open_teardown_is_left_to_it(with_camera, tmp_path: Path):
    phone = with_camera
    other = phone.begin("rocker-cover").id
    path = tmp_path / "awaited.jpg"
    path.write_bytes(jpeg(scene(seed=13)))
    phone.camera.standing.append(Shot(Purpose(other, "find:f", "before"), path, note="awaited"))
    phone.at_the_lift_check()
    phone.tap(LABEL)
    phone.tap("Photos that belong to nothing yet")
    assert phone.says("Every photo belongs to something.")


def test_a_photo_that_came_empty_before_a_kill_is_said_to_be_empty(with_camera):
    phone = with_camera
    phone.at_the_lift_check()
    purpose = Purpose(phone.desk.work.id, f"closure:{phone.closure}", "lift check")
    phone.camera.standing.append(Shot(purpose, None, CAME_EMPTY, "awaited"))
    phone.tap(LABEL)
    phone.wait()
    assert phone.says(CAME_EMPTY)
    assert phone.camera.recover() == []


def test_at_a_desktop_a_file_is_chosen(phone, tmp_path: Path):
    path = tmp_path / "from-the-camera.jpg"
    path.write_bytes(jpeg(scene(seed=21)))
    phone.desk.camera = ChooserCamera(lambda act: act(), lambda: [str(path)], lambda work: work())
    phone.at_the_lift_check()
    phone.tap(LABEL)
    phone.tap("Look through the files")
    phone.wait()
    assert phone.desk.draft["photo"] == kept(phone).photo
    assert kept(phone).name == "from-the-camera.jpg"
    assert path.exists()


def test_a_desktop_without_a_chooser_says_what_else_serves(phone):
    def none_here():
        raise NotImplementedError

    phone.desk.camera = ChooserCamera(lambda act: act(), none_here, lambda work: work())
    phone.at_the_lift_check()
    phone.tap(LABEL)
    phone.tap("Look through the files")
    phone.wait()
    assert phone.says("no file chooser")
    assert phone.name == "photos"


def test_the_next_photo_that_comes_into_the_watched_folder_is_taken(phone, tmp_path: Path):
    folder = tmp_path / "card"
    folder.mkdir()
    (folder / "old.jpg").write_bytes(jpeg(scene(seed=22)))
    phone.desk.camera = WatchedFolder(folder, phone.desk.photos.later)
    phone.at_the_lift_check()
    phone.tap(LABEL)
    phone.tap("Wait for the next photo")
    assert phone.says(f"Waiting for a new photo in {folder}")
    (folder / "new.jpg").write_bytes(jpeg(scene(seed=23)))
    phone.desk.camera.poll(10.0)
    phone.desk.camera.poll(12.0)
    phone.wait()  # it is opened, to see that it is whole
    phone.wait()  # it is kept
    assert phone.desk.draft["photo"] == kept(phone).photo
    assert kept(phone).name == "new.jpg"


def test_waiting_for_a_photo_can_be_stopped_and_ends_when_the_screen_is_left(phone, tmp_path: Path):
    phone.desk.camera = WatchedFolder(tmp_path / "card-not-in-yet", phone.desk.photos.later)
    phone.at_the_lift_check()
    phone.tap(LABEL)
    phone.tap("Wait for the next photo")
    phone.tap("Stop waiting")
    phone.wait()
    assert phone.says("No photo was taken.")
    phone.tap("Wait for the next photo")
    phone.desk.back()
    (tmp_path / "card-not-in-yet").mkdir()
    (tmp_path / "card-not-in-yet" / "late.jpg").write_bytes(jpeg(scene(seed=24)))
    phone.desk.camera.poll(10.0)
    phone.desk.camera.poll(12.0)
    phone.wait()
    assert phone.name == "lift"
    assert taken(phone) == []
