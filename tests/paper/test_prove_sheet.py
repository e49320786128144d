"""A closing sheet held against its journal: whoever changes a word, a photo or the file is told what."""

from __future__ import annotations

import io
import re
import zlib
from collections.abc import Callable
from pathlib import Path

import pytest
from paper.paper_shop import JOB, PaperShop
from PIL import Image
from pypdf import PdfReader, PdfWriter
from searched_twice import searched_twice

from checklists import builders
from checklists.facts import FindLogged
from mobileapp.cli import main
from mobileapp.paper import closing_sheet as making
from mobileapp.paper.sheet_proving import SheetProof, prove_sheet
from mobileapp.paper.sheet_reading import NotASheet, read_sheet_file

_STREAM = re.compile(rb"<<\n/Filter /FlateDecode\n/Length (\d+)\n>>\nstream\n", re.DOTALL)


def prove(shop: PaperShop, pdf: bytes) -> SheetProof:
    return prove_sheet(pdf, shop.path, shop.store)


def told(proof: SheetProof) -> list[str]:
    return [f"{finding.where}: {finding.what}" for finding in proof.faults]


def changed(pdf: bytes, page: int, change: Callable[[bytes], bytes]) -> bytes:
    """The PDF with the drawing of one page changed, as somebody with a PDF editor would do it."""
    contents = [match for match in _STREAM.finditer(pdf)
                if b" Tj ET" in zlib.decompress(pdf[match.end() : match.end() + int(match[1])])]  # fmt: skip
    match = contents[page]
    end = match.end() + int(match[1])
    drawing = change(zlib.decompress(pdf[match.end() : end]))
    packed = zlib.compress(drawing)
    head = match[0].replace(match[1], str(len(packed)).encode())
    return pdf[: match.start()] + head + packed + pdf[end:]


def released(shop: PaperShop) -> bytes:
    shop.work_until("look")
    shop.record(builders.miss(shop.teardown, "rag", 1, "stores", "counted short"), "Ines Vardal")
    for fact, who in searched_twice(shop.teardown, "Ines Vardal", "Tomas Reke"):
        shop.record(fact, who)
    shop.record(builders.released(shop.teardown, "It must be towed.", "", ""), "Tomas Reke")
    return shop.sheet()


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_sheet_of_a_journal_belongs_to_it_to_the_byte(closed: PaperShop, paper: str) -> None:
    proof = prove(closed, closed.sheet(paper))
    assert (proof.faults, proof.remarks) == ([], [])
    assert proof.words == "It belongs to this journal's head, to the byte."


def test_not_clear_edited_into_closed_is_found_and_said(shop: PaperShop) -> None:
    """The letters of the state are replaced in the drawing by those of CLOSED, which the font holds already."""
    pdf = released(shop)
    codes = {letter: code for code, letter in _codes(pdf).items()}
    wrong, right = (b"".join(_escaped(codes[letter]) for letter in text) for text in ("CLOSED", "NOT CLEAR"))

    def forge(drawing: bytes) -> bytes:
        assert b"(" + right + b")" in drawing
        return drawing.replace(b"(" + right + b")", b"(" + wrong + b")", 1)

    proof = prove(shop, changed(pdf, 0, forge))
    assert told(proof) == ["page 1: It reads “CLOSED”, where the journal tells “NOT CLEAR”."]
    assert proof.words == "It is not the sheet that this journal makes."


def _codes(pdf: bytes) -> dict[int, str]:
    """From codes to letters, of the bold font that the state is set in."""
    fonts = [font.get_object() for font in PdfReader(io.BytesIO(pdf)).pages[0]["/Resources"]["/Font"].values()]
    (bold,) = [font for font in fonts if font["/BaseFont"].endswith("B612Bold")]
    table = bold["/ToUnicode"].get_object().get_data()
    return {int(code, 16): chr(int(letter, 16)) for code, letter in re.findall(rb"<(\w{4})> <(\w{4})>", table)}


def _escaped(code: int) -> bytes:
    raw = code.to_bytes(2, "big")
    return raw.replace(b"\\", b"\\\\").replace(b"(", b"\\(").replace(b")", b"\\)").replace(b"\r", b"\\r")


def test_a_state_changed_in_the_files_own_information_is_found(shop: PaperShop) -> None:
    pdf = released(shop)
    forged = pdf.replace(b"state=NOT+CLEAR", b"state=CLOSED")
    assert forged != pdf
    assert "state: The sheet's own information says CLOSED, the journal NOT CLEAR." in told(prove(shop, forged))


def test_a_date_changed_is_found(closed: PaperShop) -> None:
    pdf = closed.sheet()
    forged = pdf.replace(b"/CreationDate (D:2026", b"/CreationDate (D:2025")
    assert any(line.startswith("date: The sheet is dated D:2025") for line in told(prove(closed, forged)))


def test_a_moved_line_is_found_though_every_word_is_right(closed: PaperShop) -> None:
    forged = changed(closed.sheet(), 1, lambda drawing: drawing.replace(b" re S", b" re f", 1) + b"\n0 0 9 9 re f")
    assert told(prove(closed, forged)) == [
        "the file: Its words and photos are right, but lines, letter shapes or the file itself were changed."
    ]


def test_another_photo_in_its_place_is_found(closed: PaperShop) -> None:
    pdf = closed.sheet()
    photo = read_sheet_file(pdf).pages[1].photos or next(p.photos for p in read_sheet_file(pdf).pages if p.photos)
    with Image.open(io.BytesIO(photo[0])) as right:
        out = io.BytesIO()
        Image.new("RGB", right.size, "white").save(out, "JPEG", quality=20)
    other = out.getvalue()
    assert len(other) <= len(photo[0])
    forged = pdf.replace(photo[0], other + b"\x00" * (len(photo[0]) - len(other)))
    (line,) = told(prove(closed, forged))
    assert re.fullmatch(r"page \d+: A photo on it is another one\.", line)


def test_something_added_behind_the_end_is_found(closed: PaperShop) -> None:
    assert told(prove(closed, closed.sheet() + b"% a note\n")) == ["the file: 9 bytes were added behind its end."]


def test_a_sheet_that_another_program_saved_anew_is_not_taken_for_the_one_that_was_made(closed: PaperShop) -> None:
    writer = PdfWriter(clone_from=io.BytesIO(closed.sheet()))
    out = io.BytesIO()
    writer.write(out)
    assert prove(closed, out.getvalue()).faults


def test_a_draft_of_an_earlier_head_is_a_true_sheet_but_not_of_the_newest(shop: PaperShop) -> None:
    shop.work_until("lift")
    draft, entries = shop.sheet(), len(shop.teardown.history)
    shop.work()
    newer = len(shop.teardown.history) - entries
    proof = prove(shop, draft)
    assert told(proof) == [
        f"head: The sheet is of entry {entries}; the journal has {newer} newer entries. Print a new sheet."
    ]
    assert proof.words == "It is a true sheet of an earlier head (to the byte), not of the newest."


def test_a_sheet_of_another_journal_does_not_belong(closed: PaperShop, tmp_path: Path) -> None:
    (tmp_path / "other").mkdir()
    other = PaperShop(tmp_path / "other", "valley-cover-v-engine")
    (line,) = told(prove(other, closed.sheet()))
    assert line.startswith("head: The sheet's head (")
    assert line.endswith("is not in this journal: another journal, or an altered one.")
    other.close()


def test_a_photo_that_was_altered_after_the_sheet_was_made_is_named(closed: PaperShop) -> None:
    pdf = closed.sheet()
    photo = closed.account().pictures()[0]
    path = closed.store.path(photo.sha)
    path.chmod(0o644)
    path.write_bytes(path.read_bytes() + b"\x00")
    proof = prove(closed, pdf)
    assert proof.remarks[0].where == f"photo {photo.number}, {photo.sha[:12]}"
    assert any("altered after it was kept" in line for line in told(proof))


def test_made_with_other_libraries_its_words_and_photos_are_compared(closed: PaperShop) -> None:
    """Another version packs the pages and the photos otherwise; the same is simulated on the file."""
    elsewhere = _packed_otherwise(closed.sheet().replace(making.made_with().encode(), _older().encode()))
    proof = prove(closed, elsewhere)
    assert proof.faults == []
    assert proof.words == "It belongs to this journal's head, in every word and photo."
    assert proof.remarks[0].what.startswith(f"Made with {_older()}; here are {making.made_with()}.")


def _older() -> str:
    return re.sub(r":\d", ":0", making.made_with())


def _packed_otherwise(pdf: bytes) -> bytes:
    """The same drawings and photos in other bytes, the photos a little coarser."""
    pdf = changed(pdf, 0, lambda drawing: drawing + b"\n")
    for page in read_sheet_file(pdf).pages:
        for photo in page.photos:
            with Image.open(io.BytesIO(photo)) as picture:
                out = io.BytesIO()
                picture.save(out, "JPEG", quality=70)
            assert len(out.getvalue()) < len(photo)
            pdf = pdf.replace(photo, out.getvalue().ljust(len(photo), b"\x00"))
    return pdf


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "This is not a PDF file."),
        (b"hello", "This is not a PDF file."),
        (b"%PDF-1.4\n", "says nothing about itself"),
        (b"%PDF-1.4\n1 0 obj\n<<>>\nendobj\ntrailer\n<</Info 1 0 R>>", "no closing sheet of Countback"),
    ],
)
def test_what_is_no_sheet_is_said_so(data: bytes, words: str) -> None:
    with pytest.raises(NotASheet, match=words):
        read_sheet_file(data)


def test_a_sheet_cut_off_anywhere_is_refused_in_words(closed: PaperShop) -> None:
    pdf = closed.sheet()
    for cut in range(0, len(pdf) - 1, len(pdf) // 97):
        assert prove(closed, pdf[:cut]).faults


def test_a_sheet_with_any_byte_turned_is_found(closed: PaperShop) -> None:
    pdf = bytearray(closed.sheet())
    for at in range(0, len(pdf), len(pdf) // 61):
        pdf[at] ^= 0x41
        assert prove(closed, bytes(pdf)).faults, at
        pdf[at] ^= 0x41


# ---- on the command line


def test_written_and_proven_on_the_command_line(closed: PaperShop, tmp_path: Path, capsys) -> None:
    target = tmp_path / "sheet.pdf"
    assert main(["closing-sheet", str(closed.path), "--paper", "Letter", "--to", str(target)]) == 0
    assert capsys.readouterr().out == (
        f"{target}: CLOSED, trial machine, {len(closed.teardown.history)} entries, Letter\n"
    )
    assert target.read_bytes() == closed.sheet("Letter")
    assert main(["prove", str(target), str(closed.path)]) == 0
    assert capsys.readouterr().out.splitlines()[-1] == f"{target}: It belongs to this journal's head, to the byte."
    target.write_bytes(target.read_bytes() + b"%")
    assert main(["prove", str(target), str(closed.path)]) == 1
    assert "DIFFERS in the file: 1 bytes were added behind its end." in capsys.readouterr().out


def test_a_lost_photo_is_told_when_the_sheet_is_written(closed: PaperShop, tmp_path: Path, capsys) -> None:
    closed.store.path(next(iter(closed.teardown.photos))).unlink()
    assert main(["closing-sheet", str(closed.path), "--to", str(tmp_path / "sheet.pdf")]) == 0
    assert "1 photos are missing from the store; the sheet says so." in capsys.readouterr().out


def test_which_teardown_is_asked_where_there_are_several(closed: PaperShop, capsys) -> None:
    assert main(["closing-sheet", str(closed.path), "--teardown", "other"]) == 2
    assert f"There is no teardown 'other' in {closed.path}. It holds: {JOB}" in capsys.readouterr().err


def test_proving_a_sheet_that_is_not_there(closed: PaperShop, capsys) -> None:
    assert main(["prove", "nowhere.pdf", str(closed.path)]) == 2
    assert "nowhere.pdf cannot be read (No such file or directory)" in capsys.readouterr().err


def test_a_find_outside_is_printed_as_such(shop: PaperShop) -> None:
    shop.record(FindLogged("f", "an old nut", "", "to be taken"), "Ines Vardal")
    assert prove(shop, shop.sheet()).faults == []
