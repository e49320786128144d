"""How wide the letters of the printed fonts are: one table for the PDF and its preview, so that they break alike."""

from __future__ import annotations

from functools import cache

from mobileapp.look import TWO_WEIGHTS, font_file
from mobileapp.paper.letters import Widths


class _Known(dict[int, float]):
    """Widths by code point; a letter the font lacks takes no room."""

    def __missing__(self, code: int) -> float:
        return 0.0


def font_widths(family: str, bold: bool) -> Widths:
    """The widths of a font in whole thousandths of the size, as PDFs have them; read when first asked for."""
    return _read(family, bold and family in TWO_WEIGHTS)


@cache
def _read(family: str, bold: bool) -> Widths:
    from fontTools.ttLib import TTFont

    with TTFont(font_file(family, bold), lazy=True) as font:
        scale, metrics = 1000 / font["head"].unitsPerEm, font["hmtx"].metrics
        return _Known((code, round(metrics[glyph][0] * scale + 0.001)) for code, glyph in font.getBestCmap().items())
