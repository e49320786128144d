"""A phone's Java side for the camera's tests: what pyjnius would give, written by hand. It takes no photos."""

from __future__ import annotations

from pathlib import Path
from typing import Any


class JavaException(Exception):
    """As pyjnius raises it."""

    def __init__(self, classname: str) -> None:
        super().__init__(f"JVM exception occurred: {classname}")
        self.classname = classname


class Intent:
    """A question to another app, with all that was put in it."""

    def __init__(self, action: str) -> None:
        self.action, self.extras, self.flags, self.clip = action, {}, 0, None

    def putExtra(self, key: str, value: Any) -> None:
        self.extras[key] = value

    def setClipData(self, clip: Any) -> None:
        self.clip = clip

    def addFlags(self, flags: int) -> None:
        self.flags |= flags


class MediaStore:
    ACTION_IMAGE_CAPTURE = "android.media.action.IMAGE_CAPTURE"
    EXTRA_OUTPUT = "output"


class ClipData:
    @staticmethod
    def newRawUri(label: str, uri: str) -> tuple[str, str]:
        return (label, uri)


class FileProvider:
    @staticmethod
    def getUriForFile(context: Phone, authority: str, file: str) -> str:
        assert isinstance(context, Phone)
        return f"content://{authority}/awaited/{Path(file).name}"


class Phone:
    """The activity, the `android.activity` module and the `jnius` module in one; `refuses` names what Java throws."""

    def __init__(self, refuses: str = "") -> None:
        self.refuses = refuses
        self.mActivity = self
        self.started: list[tuple[Intent, int]] = []
        self.listeners: list[Any] = []
        self.on_start: Any = lambda: None

    def autoclass(self, name: str) -> Any:
        return {
            "org.kivy.android.PythonActivity": self, "java.io.File": str, "android.provider.MediaStore": MediaStore,
            "androidx.core.content.FileProvider": FileProvider, "android.content.Intent": Intent,
            "android.content.ClipData": ClipData,
        }[name]  # fmt: skip

    def cast(self, name: str, value: Any) -> Any:
        assert name == "android.os.Parcelable"
        return value

    def getPackageName(self) -> str:
        return "org.countback.countback"

    def bind(self, on_activity_result: Any) -> None:
        self.listeners.append(on_activity_result)

    def startActivityForResult(self, intent: Intent, request: int) -> None:
        self.on_start()
        if self.refuses:
            raise JavaException(self.refuses)
        self.started.append((intent, request))

    def comes_back(self, result: int, request: int = 0) -> None:
        """The other app is done."""
        for listener in self.listeners:
            listener(request or self.started[-1][1], result, None)
