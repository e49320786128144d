"""After an act: back to what was refused, if the person came from there, else on to the next act."""

from __future__ import annotations

from checklists.next_act import Act, next_act
from mobileapp.desk import Desk
from mobileapp.screens.lead import way_to_act

#: Screens that list what stands against an act; a sign-off does so while the rules refuse it.
_REFUSALS = ("refusal", "sign_off")
BACK_TO_REFUSAL = Act("refusal", "Back to what was refused")


def what_next(desk: Desk) -> Act:
    """The act that follows: to see again what was refused, or the next one the rules name."""
    if len(desk.trail) > 1 and desk.trail[-2][0] in _REFUSALS:
        return BACK_TO_REFUSAL
    return next_act(desk.state, desk.clock())


def short_words(act: Act) -> str:
    """The act in as few words as a key has room for: how to cover an opening is said on its own screen."""
    return act.words.partition(": ")[0] if act.do == "cover" else act.words


def lead_on(desk: Desk, act: Act | None = None) -> None:
    """Show where `act` (or else what follows now) is done, in place of the present screen."""
    act = act or what_next(desk)
    if act is BACK_TO_REFUSAL:
        desk.back()
        return
    name, args = way_to_act(act, desk.state)
    if name == "board":
        desk.to_board()
    else:
        desk.instead(name, **args)
