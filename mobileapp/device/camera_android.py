"""The phone's own camera, by intent. Written to the rules of the platform as read; it could not be run here.

The camera app gets a content:// address of a file in our own folder, from a FileProvider (a file:// address is refused
from target API 24 on), with leave to write to it. No camera permission is asked for, and none may be in the manifest:
an app that names it there needs it granted even to call another app's camera. What the FileProvider needs of the build
is in `device/android_build/` and `buildozer.spec`.

pyjnius and python-for-android's `android` are imported only where a photo is taken. The result comes on Android's own
thread and is handed to `deliver`, which brings it to the main one.
"""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from typing import Any

from mobileapp.device.camera import CANCELLED, NO_CAMERA, NOT_ALLOWED, TAKE, OnDone, Purpose, Shot, failed
from mobileapp.device.camera_awaited import Awaited, AwaitedPhotos, recovered, shot_of

#: What the manifest's provider adds to the package's name.
AUTHORITY = ".photos"
REQUEST = 0x0C0B
RESULT_OK = -1  # android.app.Activity.RESULT_OK
GRANT_READ, GRANT_WRITE = 0x1, 0x2  # android.content.Intent.FLAG_GRANT_READ_URI_PERMISSION, ..._WRITE_...
_PROVIDER = "androidx.core.content.FileProvider"
_WORDS = {
    "java.lang.SecurityException": NOT_ALLOWED,
    "android.content.ActivityNotFoundException": NO_CAMERA,
}

Deliver = Callable[[Callable[[], None]], None]


class AndroidCamera:
    """The system camera. `jnius` and `activity` (of the package `android`) are given by tests, else imported."""

    offer = TAKE
    waiting = ""

    def __init__(self, awaited: AwaitedPhotos, deliver: Deliver, jnius: Any = None, activity: Any = None) -> None:
        self._awaited = awaited
        self._deliver = deliver
        self._given = (jnius, activity)
        self._waiting: tuple[Awaited, OnDone] | None = None
        self._listens = False

    def take(self, purpose: Purpose, on_done: OnDone) -> None:
        """Note that a photo is awaited, then start the camera."""
        try:
            awaited = self._awaited.expect(purpose)
        except OSError as fault:
            on_done(Shot(purpose, None, failed(fault.strerror or str(fault))))
            return
        self._answer(late=True)  # one that never came back: what it left counts
        self._waiting = (awaited, on_done)
        try:
            self._start(awaited)
        except Exception as fault:  # pyjnius raises its own exception for whatever Java throws
            self._waiting = None
            on_done(Shot(purpose, None, _words(fault), awaited.note))

    def _start(self, awaited: Awaited) -> None:
        jnius, activity = self._bridge()
        if not self._listens:
            activity.bind(on_activity_result=self._came_back)
            self._listens = True
        ours = jnius.autoclass("org.kivy.android.PythonActivity").mActivity
        ours.startActivityForResult(_intent(jnius, ours, str(awaited.path)), REQUEST)

    def _bridge(self) -> tuple[Any, Any]:
        jnius, activity = self._given
        return jnius or import_module("jnius"), activity or import_module("android.activity")

    def _came_back(self, request: int, result: int, answer: Any) -> None:
        if request == REQUEST:
            self._deliver(lambda: self._answer(result))

    def _answer(self, result: int = RESULT_OK, *, late: bool = False) -> None:
        if self._waiting is None:
            return  # the answer to an earlier process: `recover` has what it left
        (awaited, on_done), self._waiting = self._waiting, None
        shot = recovered(awaited) if late else shot_of(awaited)
        if result != RESULT_OK and shot.path is None:  # some cameras say so though they wrote the photo
            shot = Shot(awaited.purpose, None, CANCELLED, awaited.note)
        on_done(shot)

    def cancel(self) -> None:
        """Do nothing: the camera's own screen stands before the person."""

    def poll(self, now: float) -> None:
        """Do nothing: the camera's answer comes by itself."""

    def recover(self) -> list[Shot]:
        """What an earlier process awaited, the camera having killed it. None of it is awaited in this one."""
        waiting = self._waiting[0].note if self._waiting else ""
        return [shot for shot in self._awaited.recover() if shot.note != waiting]

    def settle(self, shot: Shot) -> None:
        """Forget it."""
        if shot.note:
            self._awaited.settle(shot.note)

    def set_aside(self, shot: Shot) -> None:
        """Wait no longer for it, and keep its file."""
        if shot.note:
            self._awaited.set_aside(shot.note)


def _intent(jnius: Any, ours: Any, path: str) -> Any:
    """The question to the camera app: a photo into this file of ours, which it may write."""
    file = jnius.autoclass("java.io.File")(path)
    uri = jnius.autoclass(_PROVIDER).getUriForFile(ours, ours.getPackageName() + AUTHORITY, file)
    store = jnius.autoclass("android.provider.MediaStore")
    intent = jnius.autoclass("android.content.Intent")(store.ACTION_IMAGE_CAPTURE)
    intent.putExtra(store.EXTRA_OUTPUT, jnius.cast("android.os.Parcelable", uri))
    intent.setClipData(jnius.autoclass("android.content.ClipData").newRawUri("", uri))
    intent.addFlags(GRANT_READ | GRANT_WRITE)
    return intent


def _words(fault: Exception) -> str:
    named = str(getattr(fault, "classname", None) or "")
    return _WORDS.get(named) or failed(named.rpartition(".")[2] or type(fault).__name__)
