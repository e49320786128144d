"""Pictures of the demo's screens, drawn without a display: board, count pad, openings, refusal and sign-off."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

from checklists import gate
from checklists.next_act import next_act
from checklists.state import Teardown
from mobileapp import kivy_env
from mobileapp.demo import STORY

kivy_env.prepare(offscreen=True, smooth=True)

from mobileapp import offscreen  # noqa: E402  Kivy reads its environment on import, so that comes first
from mobileapp.app import make_desk  # noqa: E402
from mobileapp.desk import HOME, Desk  # noqa: E402
from mobileapp.screens.lead import way_to_act  # noqa: E402
from mobileapp.shell import screen_class  # noqa: E402


class Scene(NamedTuple):
    """One picture: its file's stem, the moment of the story it shows, and the screen."""

    stem: str
    moment: str
    screen: str


SCENES = (
    Scene("board", "openings", "board"),
    Scene("count-pad", "counting", "count_pad"),
    Scene("openings", "openings", "openings"),
    Scene("refusal", "refusal", "refusal"),
    Scene("sign-off", "sign-off", "sign_off"),
)


def render_demo_screens(data_dir: Path, out_dir: Path) -> list[Path]:
    """Draw the demo in `data_dir` into PNG files in `out_dir`, and answer which. The journal is left as it was.

    Raises LookupError where the demo's teardowns are not in the journal.
    """
    desk = make_desk(data_dir)
    mark = desk.journal.bookmark()
    try:
        return list(_draw_all(desk, out_dir))
    finally:
        desk.journal.set_bookmark(mark or {})
        desk.journal.close()


def _draw_all(desk: Desk, out_dir: Path) -> Iterator[Path]:
    for scene in SCENES:
        desk.open(f"{STORY}-{scene.moment}")
        if desk.service is None:
            raise LookupError(f"The demo's teardown for {scene.moment!r} is not in {desk.journal.path}. Make it anew.")
        args = _args(desk.state, scene.screen, desk.clock())
        yield _draw(desk, scene.screen, args, out_dir / f"{scene.stem}.png")


def _args(t: Teardown, screen: str, now: str) -> dict[str, Any]:
    """What the screen is to show: what the next act leads to, or the closure with most against it."""
    name, args = way_to_act(next_act(t, now), t)
    if screen == name:
        return args
    if screen == "refusal":
        return {"about": "closure", "closure": max(t.closures, key=lambda closure: len(gate.why_not(t, closure)))}
    return {}


def _draw(desk: Desk, screen: str, args: dict[str, Any], path: Path) -> Path:
    desk.trail = [HOME, ("board", {}), (screen, args)]
    made: list[Any] = []

    def make() -> Any:
        made.append(screen_class(screen)(desk, **{key: value for key, value in args.items() if key != "draft"}))
        return made[0]

    offscreen.render(make, path)
    made[0].leave()
    return path
