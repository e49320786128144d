"""A small sound sheet as text, for tests that spoil one thing in it."""

SMALL = """\
name = "Thermostat housing off"
machine = "inline-four diesel"

[[caution]]
id = "heat"
text = "Let it cool."

[[space]]
id = "head-coolant"
name = "Coolant passage in the head"
harm = "A blocked passage."

[[space]]
id = "block-coolant"
name = "Coolant jacket of the block"
harm = "A blocked water pump."

[[passage]]
from = "head-coolant"
to = "block-coolant"
clear = { shape = "circle", mm = [11.5] }
way = "falls"

[[opening]]
id = "outlet"
name = "Coolant outlet"
space = "head-coolant"
clear = { shape = "oval", mm = [42, 34.5] }
closure = "housing"
cover = "Coolant plug."

[[opening]]
id = "stub"
name = "Hose stub"
space = "head-coolant"
clear = { shape = "circle", mm = [32] }
closure = "hose"
cover = "Coolant plug."

[[closure]]
id = "hose"
name = "Top hose"
lies_over = ["housing"]
second_count = false

  [[closure.fastener]]
  id = "clip"
  spec = "Hose clip 40 mm"
  quantity = 2

[[closure]]
id = "housing"
name = "Thermostat housing"
torque = "10 N.m"

  [[closure.fastener]]
  id = "bolt-m6"
  spec = "M6 x 25 flange bolt"
  quantity = 4

  [[closure.part]]
  id = "gasket"
  name = "Housing gasket"
  quantity = 1

[[line]]
id = "rag"
name = "Rag"
kind = "rag"
quantity = 6
"""


def spoilt(*edits: tuple[str, str]) -> str:
    """SMALL with each old text replaced, once, by a new one."""
    text = SMALL
    for old, new in edits:
        assert old in text, f"the small sheet no longer holds {old!r}"
        text = text.replace(old, new, 1)
    return text
