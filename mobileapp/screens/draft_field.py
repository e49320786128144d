"""A field whose text is kept as it is typed, so that a killed app comes back with it."""

from __future__ import annotations

from typing import Any

from mobileapp.desk import Desk
from mobileapp.widgets.field import Field


class DraftField(Field):
    """Keeps its text under `key` of `draft`: the present screen's draft unless another is given."""

    def __init__(self, desk: Desk, key: str, draft: dict[str, Any] | None = None, **kwargs: Any) -> None:
        self._desk, self._key = desk, key
        self._draft = desk.draft if draft is None else draft
        super().__init__(text=str(self._draft.get(key, "")), **kwargs)
        self.fbind("text", self._typed)

    def _typed(self, _: object, text: str) -> None:
        self._draft[self._key] = text
        self._desk.keep()
