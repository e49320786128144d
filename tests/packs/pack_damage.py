"""Ways to damage a pack, by the dice."""

import json
import random
import zipfile
from pathlib import Path

from pack_workshop import lines_of, members, rezip, with_manifest

from mobileapp.packs.form import JOURNAL, MANIFEST, PHOTOS


class Damage:
    """Ways to damage a pack: of its bytes, of its members, and of its members with a manifest made to fit."""

    def __init__(self, pack: Path, dice: random.Random) -> None:
        self.data, self.inside, self.dice = pack.read_bytes(), members(pack), dice

    def any(self, target: Path) -> str:
        ways = [self.flip, self.cut, self.drop_bytes, self.swap_bytes, self.add, self.rename, self.leave_out,
                self.member_bytes, self.lines, self.swap_members, self.manifest_bytes]  # fmt: skip
        way = self.dice.choice(ways)
        way(target)
        return way.__name__

    def _place(self) -> int:
        """A place in the file: often in what is not photo."""
        if self.dice.random() < 0.5:
            return self.dice.randrange(len(self.data))
        start = self.dice.choice([0, len(self.data) - 900, self.data.index(b"PK\x01\x02")])
        return min(len(self.data) - 1, max(0, start + self.dice.randrange(900)))

    def flip(self, target: Path) -> None:
        raw = bytearray(self.data)
        for _ in range(self.dice.choice([1, 1, 1, 2, 8])):
            raw[self._place()] ^= 1 << self.dice.randrange(8)
        target.write_bytes(raw)

    def cut(self, target: Path) -> None:
        target.write_bytes(self.data[: self._place()])

    def drop_bytes(self, target: Path) -> None:
        at = self._place()
        target.write_bytes(self.data[:at] + self.data[at + self.dice.randint(1, 300) :])

    def swap_bytes(self, target: Path) -> None:
        one, other = sorted((self._place(), self._place()))
        size = self.dice.randint(1, 100)
        middle = self.data[one + size : other]
        target.write_bytes(
            self.data[:one] + self.data[other : other + size] + middle + self.data[one : one + size]
            + self.data[other + size :]
        )  # fmt: skip

    def add(self, target: Path) -> None:
        at = self._place()
        target.write_bytes(self.data[:at] + self.dice.randbytes(self.dice.randint(1, 300)) + self.data[at:])

    def _fitted(self, inside: dict[str, bytes], target: Path) -> None:
        packing = self.dice.choice([zipfile.ZIP_STORED, zipfile.ZIP_DEFLATED])
        rezip(target, with_manifest(inside) if self.dice.random() < 0.6 and MANIFEST in inside else inside, packing)

    def rename(self, target: Path) -> None:
        name = self.dice.choice(list(self.inside))
        other = self.dice.choice([name.upper(), "../" + name, name + "x", PHOTOS + "0" * 64, JOURNAL, "x" * 300])
        self._fitted({other if known == name else known: data for known, data in self.inside.items()}, target)

    def leave_out(self, target: Path) -> None:
        name = self.dice.choice(list(self.inside))
        self._fitted({known: data for known, data in self.inside.items() if known != name}, target)

    def member_bytes(self, target: Path) -> None:
        name = self.dice.choice([name for name in self.inside if name != MANIFEST])
        raw = bytearray(self.inside[name])
        raw[self.dice.randrange(len(raw))] ^= 1 << self.dice.randrange(8)
        self._fitted({**self.inside, name: bytes(raw)}, target)

    def manifest_bytes(self, target: Path) -> None:
        raw = bytearray(self.inside[MANIFEST])
        raw[self.dice.randrange(len(raw))] = self.dice.randrange(256)
        rezip(target, {**self.inside, MANIFEST: bytes(raw)})

    def lines(self, target: Path) -> None:
        lines = lines_of(self.inside)
        one, other = self.dice.randrange(len(lines)), self.dice.randrange(len(lines))
        what = self.dice.choice(["swap", "drop", "double", "splice"])
        if what == "swap":
            lines[one], lines[other] = lines[other], lines[one]
        elif what == "drop":
            del lines[one]
        elif what == "double":
            lines.insert(other, lines[one])
        else:
            half = self.dice.randrange(len(lines[one]))
            lines[one] = lines[one][:half] + lines[other][half:]
        plain = json.loads(self.inside[MANIFEST])
        plain["teardowns"][0]["entries"] = len(lines)
        text = "".join(f"{line}\n" for line in lines).encode()
        rezip(target, with_manifest({**self.inside, JOURNAL: text}, teardowns=plain["teardowns"]))

    def swap_members(self, target: Path) -> None:
        names = list(self.inside)
        self.dice.shuffle(names)
        if self.dice.random() < 0.5:  # another order in the zip: it means the same
            rezip(target, {name: self.inside[name] for name in names})
        else:
            rezip(target, dict(zip(names, self.inside.values(), strict=True)))
