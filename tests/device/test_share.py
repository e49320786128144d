"""Sharing: a desktop says where the file is; the phone is asked by intent, with leave to read this one file."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any
from xml.etree import ElementTree

import pytest

from mobileapp.device.camera_awaited import FOLDER
from mobileapp.device.share import OFFERED, PDF, DesktopShare, where
from mobileapp.device.share_android import FOLDERS, AndroidShare

SHEET = Path("/data/files/sheets/closing-sheet-a.pdf")


class Intent:
    """android.content.Intent, as far as it is used."""

    ACTION_SEND, EXTRA_STREAM = "SEND", "stream"

    def __init__(self, action: str) -> None:
        self.action, self.media, self.extras, self.clip, self.flags = action, "", {}, None, 0

    def setType(self, media: str) -> None:
        self.media = media

    def putExtra(self, name: str, value: Any) -> None:
        self.extras[name] = value

    def setClipData(self, clip: Any) -> None:
        self.clip = clip

    def addFlags(self, flags: int) -> None:
        self.flags |= flags

    @staticmethod
    def createChooser(intent: Any, title: Any) -> tuple[Any, Any]:
        return intent, title


class Thrown(Exception):
    """What pyjnius raises."""

    classname = "java.lang.IllegalArgumentException"


class Bridge:
    """pyjnius with a phone behind it that keeps what was started."""

    def __init__(self, knows: bool = True) -> None:
        self.started: list[Any] = []
        self._knows = knows

    def autoclass(self, name: str) -> Any:
        ours = SimpleNamespace(getPackageName=lambda: "org.countback", startActivity=self.started.append)
        return {
            "org.kivy.android.PythonActivity": SimpleNamespace(mActivity=ours),
            "android.content.Intent": Intent,
            "android.content.ClipData": SimpleNamespace(newRawUri=lambda label, uri: (label, uri)),
            "androidx.core.content.FileProvider": SimpleNamespace(getUriForFile=self._uri),
            "java.io.File": str,
            "java.lang.String": str,
        }[name]

    def cast(self, name: str, value: Any) -> Any:
        return value

    def _uri(self, ours: Any, authority: str, file: str) -> str:
        if not self._knows:
            raise Thrown
        return f"content://{authority}{file}"


def test_a_desktop_says_where_the_file_is() -> None:
    assert DesktopShare().file(SHEET, PDF, "Closing sheet") == f"It is ready: {where(SHEET)}"


def test_the_phone_is_asked_with_leave_to_read_this_one_file() -> None:
    phone = Bridge()
    assert AndroidShare(phone).file(SHEET, PDF, "Closing sheet") == OFFERED.format(where=where(SHEET))
    ((intent, title),) = phone.started
    uri = f"content://org.countback.photos{SHEET}"
    assert (intent.action, intent.media, intent.extras, intent.clip) == ("SEND", PDF, {"stream": uri}, ("", uri))
    assert (intent.flags, title) == (1, "Closing sheet")


def test_a_file_the_provider_does_not_know_is_said_and_where_it_is() -> None:
    phone = Bridge(knows=False)
    said = AndroidShare(phone).file(SHEET, PDF, "Closing sheet")
    assert said.startswith("It could not be offered to another app (IllegalArgumentException)")
    assert said.endswith("closing-sheet-a.pdf in data / files / sheets")
    assert phone.started == []


@pytest.mark.parametrize("folder", [*FOLDERS, FOLDER])
def test_the_provider_knows_the_folder(folder: str) -> None:
    paths = ElementTree.parse(Path(__file__).parents[2] / "mobileapp/device/android_build/photo_paths.xml").getroot()
    assert f"{folder}/" in [path.get("path") for path in paths]
