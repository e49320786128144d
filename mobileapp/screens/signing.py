"""A signature on a form: whose it is, and kept in the draft, so that a killed app comes back with it.

It stands under what was said as it was drawn, and under nothing else: another name, reason, search, torque or note
takes it away.
"""

from __future__ import annotations

from collections.abc import Callable

from mobileapp.desk import Desk
from mobileapp.screens.form_parts import remember
from mobileapp.widgets.signature_pad import SignaturePad

_KEY, _UNDER = "signature", "signed under"
#: What a person says on a form that is signed, by its keys in the draft.
_SAID = ("name", "reason", "search", "torque", "turned", "note", "own notes")


def signature_pad(desk: Desk, changed: Callable[[], None]) -> SignaturePad:
    """A pad for whose name was touched, with what was drawn on it so far under the same words."""
    if not _still_under(desk):
        unsign(desk)
    pad = SignaturePad(whose=name_and_role(desk, name_of_signer(desk)), strokes=desk.draft.get(_KEY, []))

    def drawn(*_: object) -> None:
        desk.draft[_UNDER] = _said(desk)
        remember(desk, _KEY, [list(stroke) for stroke in pad.strokes])
        changed()

    pad.bind(on_signed=drawn)
    return pad


def said_anew(desk: Desk, pad: SignaturePad | None) -> None:
    """Something may be said otherwise now, or by another: what was drawn before is no signature of that."""
    if pad is None:
        unsign(desk)
        return
    pad.whose = name_and_role(desk, name_of_signer(desk))
    if pad.strokes and not _still_under(desk):
        pad.clear()


def unsign(desk: Desk) -> None:
    """Nothing is signed: whoever comes to the field again draws anew."""
    for key in (_KEY, _UNDER):
        desk.draft.pop(key, None)
    desk.keep()


def _still_under(desk: Desk) -> bool:
    return bool(desk.draft.get(_UNDER) == _said(desk))


def _said(desk: Desk) -> list[str]:
    return [str(desk.draft.get(key, "")).strip() for key in _SAID]


def name_of_signer(desk: Desk) -> str:
    """Whose name was touched on this form."""
    return str(desk.draft.get("name", ""))


def name_and_role(desk: Desk, name: str) -> str:
    """"Ada Berg, fitter"; empty while no name was touched."""
    roles = {person.name: person.role for person in desk.state.people}
    return ", ".join(filter(None, (name, roles.get(name, ""))))
