"""The blocks of an account laid out as slabs of text; tables and photos have files of their own."""

from __future__ import annotations

from collections.abc import Iterable

from checklists.account.parts import Block, Heading, Pairs, Pictures, Section, Signature, Table, Words
from mobileapp.paper.ink import Bookmark, Frame, Ink, Rule, Slab, Text, stacked
from mobileapp.paper.letters import Letters
from mobileapp.paper.measures import ASCENT, BODY, CAPTION, CELL, HEADING, LOUD, POINT, TITLE, line_height
from mobileapp.paper.photo_grid import Shown, photo_slabs
from mobileapp.paper.table_layout import table_slabs

#: More lines than this are not kept together on a page.
MOST_LINES = 24
#: Pairs that take less than this, in mm, are not parted.
_TOGETHER = 75.0
_LABEL = 44.0
_SIGNATURE = 62.0, 24.0


class Setter:
    """Sets sections in a column of a given width."""

    def __init__(self, letters: Letters, width: float, shown: Shown) -> None:
        self.letters = letters
        self.width = width
        self._shown = shown

    def section(self, section: Section) -> list[Slab]:
        """A section with its title."""
        slabs = [self._title(section.title)]
        for block in section.blocks:
            slabs += self.block(block)
        return slabs

    def block(self, block: Block) -> list[Slab]:
        """One block."""
        if isinstance(block, Words):
            return self._words(block)
        if isinstance(block, Heading):
            return [self._heading(block)]
        if isinstance(block, Pairs):
            return self._pairs(block)
        if isinstance(block, Table):
            return table_slabs(self.letters, block, self.width)
        if isinstance(block, Pictures):
            return photo_slabs(self.letters, block, self.width, self._shown)
        return [self._signature(block)]

    def text(
        self, text: str, size: float, width: float, x: float = 0.0, y: float = 0.0, bold: bool = False
    ) -> tuple[float, list[Ink]]:
        """Broken text from a corner on: its height and its lines."""
        lines = self.letters.lines(text, size, width, bold)
        step = line_height(size)
        inks: list[Ink] = [
            Text(x, y + step * number + size * POINT * ASCENT, line, size, bold) for number, line in enumerate(lines)
        ]
        return step * len(lines), inks

    def _title(self, title: str) -> Slab:
        height, inks = self.text(title, TITLE, self.width, y=8.5, bold=True)
        rule = Rule(0, 7.0, self.width, 7.0, 0.7)
        return Slab(height + 11.5, [Bookmark(0, 6, self.letters.printable(title)), rule, *inks], keep=True)

    def _heading(self, heading: Heading) -> Slab:
        title = f"{heading.title}  ·  {heading.note}" if heading.note else heading.title
        height, inks = self.text(title, HEADING, self.width, y=3.5, bold=True)
        return Slab(height + 4.5, inks, keep=True)

    def _words(self, words: Words) -> list[Slab]:
        if not words.loud:
            return self._paragraph(words.text, BODY)
        height, inks = self.text(words.text, LOUD, self.width - 8, 5, 2.5, bold=True)
        return [Slab(height + 7, [*inks, Rule(1, 1.5, 1, height + 4, 1.6)])]

    def _paragraph(self, text: str, size: float) -> list[Slab]:
        lines = self.letters.lines(text, size, self.width)
        pieces = [lines[at : at + MOST_LINES] for at in range(0, len(lines), MOST_LINES)]
        slabs = []
        for piece in pieces:
            height, inks = self.text("\n".join(piece), size, self.width + 1, y=1)
            slabs.append(Slab(height + 1, inks))
        slabs[-1].height += 1.5
        return slabs

    def _pairs(self, pairs: Pairs) -> list[Slab]:
        slabs = [slab for name, value in pairs.rows for slab in self._pair(name, value)]
        slabs[-1].height += 1.5
        return [stacked(slabs)] if sum(slab.height for slab in slabs) < _TOGETHER else slabs

    def _pair(self, name: str, value: str) -> Iterable[Slab]:
        _, label = self.text(name, CELL, _LABEL - 3, y=1.1, bold=True)
        lines = self.letters.lines(value, BODY, self.width - _LABEL)
        for at in range(0, len(lines), MOST_LINES):
            piece = "\n".join(lines[at : at + MOST_LINES])
            height, inks = self.text(piece, BODY, self.width - _LABEL + 1, _LABEL, 0.7)
            yield Slab(max(height, len(label) * line_height(CELL)) + 1.0, [*inks, *([] if at else label)])

    def _signature(self, signature: Signature) -> Slab:
        """A drawn signature in its field beside what was signed; that none was drawn is said."""
        wide, high = _SIGNATURE
        left, inner = wide + 5, self.width - wide - 5
        name = f"{signature.name}, {signature.role}" if signature.role else signature.name
        height, inks = self.text(f"{name}  ·  {signature.at}", CELL, inner, left, 2, bold=True)
        more, words = self.text(signature.statement, CELL, inner, left, 2 + height)
        height, inks = height + more, inks + words
        if signature.head:
            more, words = self.text(f"Signed for the head {signature.head}", CAPTION, inner, left, 2.6 + height)
            height, inks = height + more + 0.6, inks + words
        return Slab(max(high + 2, height + 2) + 3.5, [*inks, *self._strokes(signature)])

    def _strokes(self, signature: Signature) -> list[Ink]:
        wide, high = _SIGNATURE
        field: list[Ink] = [Frame(0, 2, wide, high, 0.25), Rule(5, high - 3, wide - 5, high - 3, 0.15, 0.4)]
        if not signature.strokes:
            _, words = self.text("Signed by name; no signature was drawn.", CAPTION, wide - 8, 5, high - 2.4)
            return field + words
        for stroke in signature.strokes:
            points = [(x * wide / 1000, 2 + y * high / 1000) for x, y in zip(stroke[::2], stroke[1::2], strict=False)]
            points = [(min(max(x, 0), wide), min(max(y, 2), high + 2)) for x, y in points]
            field += [Rule(*one, *other, 0.45) for one, other in zip(points, points[1:] or points, strict=False)]
        return field
