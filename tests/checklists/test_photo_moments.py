"""Every form that asks for a photo can have it kept, whatever it belongs to and whenever it was taken."""

import pytest
from workboat_model import NUT, Job, codes

from checklists.facts import Photographed


def photo(about: str, moment: str) -> Photographed:
    return Photographed("a" * 64, about, moment, "IMG_0001.jpg", "image/jpeg", "", "", 640, 480, 1)


@pytest.mark.parametrize(
    ("about", "moment"),
    [
        (f"line:{NUT}", "search"),
        (f"line:{NUT}", "piece"),
        ("closure:nozzle", "lift check"),
        ("closure:nozzle", "empty hole"),
        ("find:f-1", "before"),
        ("find:f-1", "after"),
        ("opening:inlet-1", "closeout"),
        ("teardown:", "baseline"),
        ("handover:", "handover"),
    ],
)
def test_a_photo_is_kept_for_each_form(about, moment):
    job = Job()
    job.do(photo(about, moment))
    assert job.t.photos["a" * 64][0] == photo(about, moment)


@pytest.mark.parametrize(("about", "moment"), [("line:no such", "search"), (f"line:{NUT}", "tea"), ("", "piece")])
def test_a_photo_of_nothing_known_is_refused(about, moment):
    assert codes(Job().refused(photo(about, moment))) == ["belongs to nothing"]
