"""Starting a teardown: sheet, machine, people and why, with nothing lost and every reason beside its question."""

from pathlib import Path
from typing import Any

import pytest
from screens import touch
from screens.at_the_desk import Phone

from checklists.facts import Person
from mobileapp.widgets.field import Field
from mobileapp.widgets.row import ChoiceRow


@pytest.fixture
def phone(kivy_window: Any, tmp_path: Path) -> Phone:
    phone = Phone(tmp_path)
    phone.show()
    phone.act()
    return phone


def field(phone: Phone, label: str) -> Any:
    return next(w for w in touch.find_all(phone.shell, cls=Field) if w.label == label)


def fill(phone: Phone, label: str, text: str) -> None:
    touch.type_into(field(phone, label), text)


def chosen(phone: Phone) -> list[str]:
    return [row.text for row in touch.find_all(phone.shell, cls=ChoiceRow) if row.chosen]


def test_from_the_sheet_to_the_cautions(phone):
    phone.tap(text="Rocker cover off")
    phone.act()
    fill(phone, "Which machine?", "Port engine")
    fill(phone, "Your name", "Ada Berg")
    fill(phone, "Your role", "fitter")
    fill(phone, "Another person, if there is one", "Jonas Wieland")
    phone.act()
    fill(phone, "Why is it opened?", "oil leak")
    fill(phone, "What was found so far?", "gasket hard as glass")
    phone.act()
    assert phone.name == "cautions"
    state = phone.desk.state
    assert (state.sheet.name, state.machine) == ("Rocker cover off", "Port engine")
    assert state.people == [Person("Ada Berg", "fitter"), Person("Jonas Wieland", "")]
    assert (state.reason, state.found) == ("oil leak", "gasket hard as glass")
    assert phone.desk.who == "Ada Berg"
    assert [card.machine for card in phone.journal.teardowns()] == ["Port engine"]


def test_no_sheet_chosen_means_no_way_on(phone):
    phone.act()
    assert phone.screen.title == "Choose a sheet"


def test_what_is_not_said_is_asked_for_beside_its_question(phone):
    phone.tap(text="Blank sheet")
    phone.act()
    phone.act()
    assert phone.screen.title == "Machine and people"
    texts = phone.texts()
    machine, name = texts.index("Which machine?"), texts.index("Your name")
    assert "The machine is not named. Say which machine is opened." in texts[machine:name]
    assert any("Name at least the person who starts it." in text for text in texts[name:])
    fill(phone, "Which machine?", "Port engine")
    fill(phone, "Your name", "Ada Berg")
    phone.act()
    assert phone.screen.title == "Why it is opened"
    phone.act()
    assert phone.says("It is not said why the machine is opened.")
    assert phone.journal.teardowns() == []


def test_two_people_of_one_name_are_told_apart(phone):
    phone.tap(text="Rocker cover off")
    phone.act()
    fill(phone, "Which machine?", "Port engine")
    fill(phone, "Your name", "Ada Berg")
    fill(phone, "Another person, if there is one", "Ada Berg")
    phone.act()
    texts = phone.texts()
    assert any("Two people have the same name." in text for text in texts[texts.index("Your role"):])


def test_a_killed_app_comes_back_with_what_was_typed(phone):
    phone.tap(text="Rocker cover off")
    phone.act()
    fill(phone, "Which machine?", "Port eng")
    phone.kill_and_start()
    assert phone.screen.title == "Machine and people"
    assert field(phone, "Which machine?").text == "Port eng"
    phone.back()
    assert chosen(phone) == ["Rocker cover off"]


def test_a_blank_sheet_starts_with_nothing_on_it(phone):
    phone.tap(text="Blank sheet")
    phone.act()
    fill(phone, "Which machine?", "Pump")
    fill(phone, "Your name", "Ada Berg")
    phone.act()
    fill(phone, "Why is it opened?", "it knocks")
    phone.act()
    assert phone.desk.state.lines == {}
    assert phone.says("Countback only counts")
    phone.act()
    assert phone.name == "board"
    assert phone.says("Add the first closure you will take off")


def test_a_broken_sheet_of_ones_own_is_listed_and_says_why(phone):
    sheets = phone.folder / "sheets"
    sheets.mkdir()
    (sheets / "pump.toml").write_text('name = "Pump"\nmashine = "pump"\n')
    phone.desk.again()
    touch.settle()
    phone.tap(text="pump.toml")
    assert phone.screen.title == "This sheet cannot be used"
    assert phone.says("mashine: this key is not known here")
    phone.act()
    assert phone.screen.title == "Choose a sheet"
    assert chosen(phone) == []


def test_a_sheet_of_ones_own_can_be_used(phone):
    sheets = phone.folder / "sheets"
    sheets.mkdir()
    text = (Path(__file__).parents[2] / "checklists" / "sheets" / "rocker-cover.toml").read_text()
    (sheets / "mine.toml").write_text(text.replace("Rocker cover off", "My rocker cover"))
    phone.desk.again()
    touch.settle()
    phone.tap(text="My rocker cover")
    phone.act()
    fill(phone, "Which machine?", "Tractor")
    fill(phone, "Your name", "Ada Berg")
    phone.act()
    fill(phone, "Why is it opened?", "valve clearances")
    phone.act()
    assert phone.desk.state.sheet.name == "My rocker cover"


def test_leaving_by_the_way_back_keeps_what_was_typed_also_over_a_restart(phone):
    phone.tap(text="Rocker cover off")
    phone.act()
    fill(phone, "Which machine?", "Port engine")
    phone.back()
    phone.back()
    assert phone.name == "teardowns"
    phone.kill_and_start()
    phone.act()
    assert chosen(phone) == ["Rocker cover off"]
    phone.act()
    assert field(phone, "Which machine?").text == "Port engine"
    fill(phone, "Your name", "Ada Berg")
    phone.act()
    fill(phone, "Why is it opened?", "oil leak")
    phone.act()
    assert phone.desk.state.machine == "Port engine"
    phone.desk.to_teardowns()
    phone.desk.go("start")
    touch.settle()
    assert chosen(phone) == [], "what was started is done with"
