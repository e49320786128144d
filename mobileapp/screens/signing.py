"""A signature on a form: whose it is, and kept in the draft, so that a killed app comes back with it."""

from __future__ import annotations

from collections.abc import Callable

from mobileapp.desk import Desk
from mobileapp.screens.form_parts import remember
from mobileapp.widgets.signature_pad import SignaturePad

_KEY, _WHOSE = "signature", "signed as"


def signature_pad(desk: Desk, name: str, changed: Callable[[], None]) -> SignaturePad:
    """A pad for `name`, with what was drawn on it so far."""
    pad = SignaturePad(whose=name_and_role(desk, name), strokes=desk.draft.get(_KEY, []))

    def drawn(*_: object) -> None:
        desk.draft[_WHOSE] = name_of_signer(desk)
        remember(desk, _KEY, [list(stroke) for stroke in pad.strokes])
        changed()

    desk.draft.setdefault(_WHOSE, name)
    pad.bind(on_signed=drawn)
    return pad


def sign_as(desk: Desk, pad: SignaturePad, name: str) -> None:
    """Another name was touched: what somebody else drew is not this person's signature."""
    pad.whose = name_and_role(desk, name)
    if desk.draft.get(_WHOSE) not in ("", name):
        pad.clear()
    desk.draft[_WHOSE] = name


def name_of_signer(desk: Desk) -> str:
    """Whose name was touched on this form."""
    return str(desk.draft.get("name", ""))


def name_and_role(desk: Desk, name: str) -> str:
    """"Ada Berg, fitter"; empty while no name was touched."""
    roles = {person.name: person.role for person in desk.state.people}
    return ", ".join(filter(None, (name, roles.get(name, ""))))
