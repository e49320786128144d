"""The phone's own way of sharing a file, by intent, written to its rules as read; not run here.

The installed plyer (2.1) has no sharing for Android, and a file:// address is refused from target API 24 on: the other
app gets a content:// address from our FileProvider, with leave to read it. The provider hands out no other folders than
those named in `device/android_build/photo_paths.xml`.
"""

from __future__ import annotations

from importlib import import_module
from pathlib import Path
from typing import Any

from mobileapp.device.camera_android import AUTHORITY, GRANT_READ
from mobileapp.device.share import OFFERED, not_offered, where

#: The folders of the app's own that the provider may hand out, besides the camera's.
FOLDERS = ("sheets", "packs")
_PROVIDER = "androidx.core.content.FileProvider"


class AndroidShare:
    """The system's sheet of apps to share with. `jnius` is given by tests, else imported."""

    def __init__(self, jnius: Any = None) -> None:
        self._given = jnius

    def file(self, path: Path, media: str, title: str) -> str:
        """Show the sheet of apps."""
        try:
            self._send(str(path), media, title)
        except Exception as fault:  # pyjnius raises its own exception for whatever Java throws
            named = str(getattr(fault, "classname", None) or type(fault).__name__)
            return not_offered(path, named.rpartition(".")[2])
        return OFFERED.format(where=where(path))

    def _send(self, path: str, media: str, title: str) -> None:
        jnius = self._given or import_module("jnius")
        ours = jnius.autoclass("org.kivy.android.PythonActivity").mActivity
        intents = jnius.autoclass("android.content.Intent")
        file = jnius.autoclass("java.io.File")(path)
        uri = jnius.autoclass(_PROVIDER).getUriForFile(ours, ours.getPackageName() + AUTHORITY, file)
        intent = intents(intents.ACTION_SEND)
        intent.setType(media)
        intent.putExtra(intents.EXTRA_STREAM, jnius.cast("android.os.Parcelable", uri))
        intent.setClipData(jnius.autoclass("android.content.ClipData").newRawUri("", uri))
        intent.addFlags(GRANT_READ)
        words = jnius.cast("java.lang.CharSequence", jnius.autoclass("java.lang.String")(title))
        ours.startActivity(intents.createChooser(intent, words))
