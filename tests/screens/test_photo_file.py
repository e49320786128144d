"""Photo files of every bad kind: each gets its own words, and nothing is taken that would not open."""

from __future__ import annotations

import os
from pathlib import Path

import pytest
from PIL import Image

from mobileapp import photo_file
from mobileapp.photo_file import fault_of, newest
from mobileapp.photos.errors import UnknownKind
from mobileapp.photos.kinds import OFFERED
from mobileapp.photos.looking import look_at


def picture(path: Path, size: tuple[int, int] = (640, 480)) -> Path:
    Image.effect_noise(size, 60).convert("RGB").save(path)
    return path


@pytest.mark.parametrize("name", ["a.jpg", "a.png", "a.webp"])
def test_a_whole_photo_has_no_fault(tmp_path: Path, name: str) -> None:
    assert fault_of(str(picture(tmp_path / name))) == ""


@pytest.mark.parametrize("name", ["a.jpg", "a.png"])
@pytest.mark.parametrize("share", [0.3, 0.6, 0.95])
def test_a_photo_that_was_cut_off(tmp_path: Path, name: str, share: float) -> None:
    path = picture(tmp_path / name)
    data = path.read_bytes()
    path.write_bytes(data[: int(len(data) * share)])
    assert fault_of(str(path)) == f"{name} is damaged or cut off. Take the photo again, or choose another file."


def test_a_photo_with_its_middle_overwritten(tmp_path: Path) -> None:
    path = picture(tmp_path / "a.png")
    data = bytearray(path.read_bytes())
    data[len(data) // 2 : len(data) // 2 + 4000] = bytes(4000)
    path.write_bytes(data)
    assert "damaged or cut off" in fault_of(str(path))


def test_an_empty_file(tmp_path: Path) -> None:
    path = tmp_path / "a.jpg"
    path.touch()
    assert fault_of(str(path)) == "a.jpg is empty (0 bytes): it was not saved to the end. Take the photo again."


def test_a_file_that_is_no_photo(tmp_path: Path) -> None:
    path = tmp_path / "a.jpg"
    path.write_text("dear diary")
    assert fault_of(str(path)) == "a.jpg is not a photo that can be opened. Choose a JPEG, PNG or WebP file."


@pytest.mark.parametrize(("name", "kind"), [("a.bmp", "BMP"), ("a.tif", "TIFF or raw"), ("a.gif", "GIF")])
def test_a_picture_of_a_kind_that_is_not_kept_is_not_offered_and_said_when_it_is_named(
    tmp_path: Path, name: str, kind: str
) -> None:
    path = picture(tmp_path / name)
    assert newest([str(tmp_path)]).photos == ()
    said = f"{name} is a {kind} file; Countback keeps JPEG, PNG and WebP. Save it as JPEG and choose that."
    assert fault_of(str(path)).startswith(said)
    with pytest.raises(UnknownKind) as refused:
        look_at(path.read_bytes(), name)
    assert str(refused.value) == fault_of(str(path)), "typed on a desk that keeps photos it is the same"


@pytest.mark.parametrize("ending", OFFERED)
def test_whatever_is_offered_can_be_kept(tmp_path: Path, ending: str) -> None:
    path = picture(tmp_path / f"a{ending}")
    assert [photo.path for photo in newest([str(tmp_path)]).photos] == [str(path)]
    assert fault_of(str(path)) == ""
    assert look_at(path.read_bytes(), path.name).width == 640


def test_a_file_that_is_not_there_and_a_path_that_is_none() -> None:
    assert fault_of("/nowhere/a.jpg").startswith("There is no file /nowhere/a.jpg.")
    assert fault_of("a\0b").startswith("There is no file")
    assert fault_of("  ").startswith("No file is named.")


def test_a_folder(tmp_path: Path) -> None:
    assert "is a folder or a device, not a photo" in fault_of(str(tmp_path))


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    pipe = tmp_path / "a.jpg"
    os.mkfifo(pipe)
    assert "is a folder or a device, not a photo" in fault_of(str(pipe))
    assert newest([str(tmp_path)]).photos == ()


def test_a_huge_file_is_not_read(tmp_path: Path) -> None:
    path = tmp_path / "a.jpg"
    with path.open("wb") as file:
        file.truncate(photo_file.MOST_BYTES + 1)
    assert fault_of(str(path)) == "a.jpg has 100 MB: too large for a photo. Choose another file."


def test_a_small_file_that_unpacks_to_too_much(tmp_path: Path) -> None:
    path = tmp_path / "a.png"
    Image.new("1", (20_000, 20_000)).save(path)
    assert "too large for a photo" in fault_of(str(path))


def test_newest_first_from_every_folder_and_only_images(tmp_path: Path) -> None:
    for number, name in enumerate(["old.jpg", "notes.txt", ".hidden.jpg", "new.PNG"]):
        folder = tmp_path / ("one" if number < 2 else "other")
        folder.mkdir(exist_ok=True)
        (folder / name).write_bytes(b"x")
        os.utime(folder / name, (1_700_000_000 + number, 1_700_000_000 + number))
    (tmp_path / "one" / "folder.jpg").mkdir()
    found = newest([str(tmp_path / "one"), str(tmp_path / "other"), str(tmp_path / "not there")])
    assert [photo.name for photo in found.photos] == ["new.PNG", "old.jpg"]
    assert found.faults == ()


def test_no_more_than_a_screen_can_use(tmp_path: Path) -> None:
    for number in range(60):
        (tmp_path / f"{number}.jpg").write_bytes(b"x")
    assert len(newest([str(tmp_path)], most=40).photos) == 40


def test_what_is_a_file_where_a_folder_should_be_is_said(tmp_path: Path) -> None:
    file = tmp_path / "photos"
    file.write_text("")
    assert newest([str(file)]).faults == (f"The folder {file} cannot be read: Not a directory.",)


@pytest.mark.skipif(os.geteuid() == 0, reason="root may read everything")
def test_a_folder_that_may_not_be_read(tmp_path: Path) -> None:
    barred = tmp_path / "barred"
    barred.mkdir(mode=0o000)
    assert "may not be read" in newest([str(barred)]).faults[0]
