"""Buzz and voice, so that the eyes can stay on the engine. A phone without either works as well.

The port is `Signals`. `PhoneSignals` uses plyer, which is first imported when something is to be felt or heard;
`SilentSignals` is the desktop twin. What plyer does on a phone could not be tried here.
"""

from __future__ import annotations

from typing import Protocol


class Signals(Protocol):
    """What a person feels and hears."""

    def counted(self, words: str) -> None:
        """One item was counted: a short buzz, and the new figure spoken."""

    def refused(self) -> None:
        """Something was refused: a long buzz."""


class SilentSignals:
    """The desktop twin: nothing to feel, nothing to hear."""

    def counted(self, words: str) -> None:
        """Do nothing."""

    def refused(self) -> None:
        """Do nothing."""


class PhoneSignals:
    """Vibration and speech through plyer. A device that has none, or denies it, is left alone from then on."""

    def __init__(self) -> None:
        self._can_buzz = self._can_speak = True

    def counted(self, words: str) -> None:
        """Buzz for 40 ms and say the figure."""
        self._buzz(0.04)
        self._speak(words)

    def refused(self) -> None:
        """Buzz for 400 ms."""
        self._buzz(0.4)

    def _buzz(self, seconds: float) -> None:
        if not self._can_buzz:
            return
        try:
            from plyer import vibrator

            vibrator.vibrate(time=seconds)
        except Exception:  # plyer raises whatever the platform raises; a count must not fail for a buzz
            self._can_buzz = False

    def _speak(self, words: str) -> None:
        if not self._can_speak:
            return
        try:
            from plyer import tts

            tts.speak(words)
        except Exception:  # as above
            self._can_speak = False
