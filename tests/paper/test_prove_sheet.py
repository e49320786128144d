"""A closing sheet held against its journal: whoever changes a word, a photo or the file is told what."""

from __future__ import annotations

import io
import re
import zlib
from pathlib import Path

import pytest
from fontTools.ttLib import TTFont
from paper.forgers import (
    changed,
    coarser,
    of_other_versions,
    older,
    packed_otherwise,
    painted_over,
    retouched,
    saved,
    tabled,
    with_new_pages,
    with_photo,
)
from paper.paper_shop import JOB, PaperShop
from PIL import Image
from pypdf import PdfReader, PdfWriter
from searched_twice import searched_twice

from checklists import builders
from checklists.facts import FindLogged
from mobileapp.cli import main
from mobileapp.paper.sheet_proving import SheetProof, prove_sheet
from mobileapp.paper.sheet_reading import NotASheet, read_sheet_file


def prove(shop: PaperShop, pdf: bytes) -> SheetProof:
    return prove_sheet(pdf, shop.path, shop.store)


def told(proof: SheetProof) -> list[str]:
    return [f"{finding.where}: {finding.what}" for finding in proof.faults]


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
    forged = tabled(pdf.replace(b"state=NOT+CLEAR", b"state=CLOSED"))
    assert forged != pdf
    assert "state: The sheet's own information says CLOSED, the journal NOT CLEAR." in told(prove(shop, forged))


def test_a_date_changed_is_found(closed: PaperShop) -> None:
    pdf = closed.sheet()
    forged = pdf.replace(b"/CreationDate (D:2026", b"/CreationDate (D:2025")
    assert any(line.startswith("date: The sheet is dated D:2025") for line in told(prove(closed, forged)))


def test_a_moved_line_is_found_though_every_word_is_right(closed: PaperShop) -> None:
    forged = changed(closed.sheet(), 1, lambda drawing: drawing.replace(b" w\n", b"1 w\n", 1))
    (line,) = told(prove(closed, forged))
    assert re.fullmatch(r"page 2: Its lines, boxes or letters are drawn otherwise, from word \d+ of \d+ .*", line)


def test_another_photo_in_its_place_is_found(closed: PaperShop) -> None:
    forged = with_photo(closed.sheet(), lambda photo: saved(Image.new("RGB", (640, 480), "white"), 20))
    (line,) = told(prove(closed, forged))
    assert re.fullmatch(r"page \d+: A photo on it is another one, or was retouched\.", line)


def test_something_added_behind_the_end_is_found(closed: PaperShop) -> None:
    (line,) = told(prove(closed, closed.sheet() + b"% a note\n"))
    assert line.endswith("9 bytes were added behind its end: readers may show those instead.")


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


# ---- made with other versions, or said to be


def test_made_with_other_versions_and_the_same_in_every_piece_it_belongs(closed: PaperShop) -> None:
    """Another zlib packs the pages otherwise; the same is simulated on the file."""
    proof = prove(closed, of_other_versions(packed_otherwise(closed.sheet())))
    assert (proof.faults, proof.doubts) == ([], ())
    assert proof.words == "It belongs to this journal's head, in every page, letter and photo."
    assert proof.remarks[0].what.startswith(f"Made with Countback 0.1.0, {older()}; here are Countback 0.1.0, ")


def test_a_newer_program_that_prints_the_same_does_not_disown_an_older_sheet(closed: PaperShop) -> None:
    pdf = closed.sheet().replace(b"/Creator (Countback 0.1.0)", b"/Creator (Countback 0.0.9)")
    proof = prove(closed, tabled(pdf))
    assert (proof.faults, proof.doubts) == ([], ())
    assert proof.words.startswith("It belongs to this journal's head")


def test_packed_anew_by_the_same_versions_is_told(closed: PaperShop) -> None:
    assert told(prove(closed, packed_otherwise(closed.sheet()))) == [
        "the file: All that it shows is right, but the file was packed anew."
    ]


@pytest.mark.parametrize("versions", [of_other_versions, bytes])
def test_what_is_painted_over_a_page_is_found_whatever_the_sheet_says(shop: PaperShop, versions) -> None:
    """A white box over DRAFT and the code, and CLOSED in strokes: every word is still in the file."""
    shop.work_until("look")
    proof = prove(shop, versions(painted_over(shop.sheet())))
    (line,) = told(proof)
    assert re.fullmatch(r"page 1: \d+ words were added to its drawing: something may be painted over\.", line)
    assert proof.words == "It is not the sheet that this journal makes."


@pytest.mark.parametrize("versions", [of_other_versions, bytes])
def test_other_pages_put_in_behind_the_end_are_found(shop: PaperShop, versions) -> None:
    """A reader shows the newest beginning: one page that says CLOSED."""
    forged = with_new_pages(versions(shop.sheet()))
    assert opened_pages(forged) == ["CLOSED"]
    (line,) = told(prove(shop, forged))
    assert "readers may show those instead" in line


def opened_pages(pdf: bytes) -> list[str]:
    return [page.extract_text() for page in PdfReader(io.BytesIO(pdf)).pages]


@pytest.mark.parametrize("versions", [of_other_versions, bytes])
def test_a_retouched_photo_is_found(closed: PaperShop, versions) -> None:
    proof = prove(closed, versions(with_photo(closed.sheet(), retouched)))
    (line,) = told(proof)
    assert re.fullmatch(r"page \d+: A photo on it is another one, or was retouched\.", line)


def test_a_photo_encoded_anew_is_not_proven_and_not_called_forged(closed: PaperShop) -> None:
    proof = prove(closed, of_other_versions(with_photo(closed.sheet(), coarser)))
    assert proof.faults == []
    (doubt,) = proof.doubts
    assert doubt.what.startswith("A photo on it looks the same but is in other bytes")
    assert proof.words == (
        "It is not proven. Its words, pages and drawing are what the journal tells; the rest cannot be told here."
    )


def test_a_photo_encoded_anew_by_the_same_versions_is_a_fault(closed: PaperShop) -> None:
    assert prove(closed, with_photo(closed.sheet(), coarser)).faults


def _letters_changed(pdf: bytes, change) -> bytes:
    """The first font on the sheet changed."""
    match = re.search(rb"<<\n/Filter /FlateDecode\n/Length (\d+)\n/Length1 \d+\n>>\nstream\n", pdf)
    assert match is not None
    end = match.end() + int(match[1])
    packed = zlib.compress(change(zlib.decompress(pdf[match.end() : end])))
    head = match[0].replace(b"/Length " + match[1], b"/Length %d" % len(packed))
    return tabled(pdf[: match.start()] + head + packed + pdf[end:])


def test_a_letter_of_another_shape_is_found(closed: PaperShop) -> None:
    """The code for one letter draws another: every word in the file is still right."""

    def forge(data: bytes) -> bytes:
        font = TTFont(io.BytesIO(data))
        names = font.getGlyphOrder()
        font["glyf"][names[3]] = font["glyf"][names[5]]
        out = io.BytesIO()
        font.save(out)
        return out.getvalue()

    proof = prove(closed, of_other_versions(_letters_changed(closed.sheet(), forge)))
    assert "page 1: The shapes of its letters are others." in told(proof)


def test_a_font_in_other_bytes_with_the_same_outlines_is_not_proven(closed: PaperShop) -> None:
    def saved_anew(data: bytes) -> bytes:
        return data + b"\x00\x00\x00\x00"

    proof = prove(closed, of_other_versions(_letters_changed(closed.sheet(), saved_anew)))
    assert proof.faults == []
    assert [doubt.what for doubt in proof.doubts] == [
        "Its letters have the same outlines but are in other bytes, which another version may write."
    ]


_ADDED = {
    "a key": (b"/PageLayout /OneColumn", b"/PageLayout /OneColumn\n/OpenAction2 null"),
    "a key of the trailer": (b"/Size ", b"/Encrypt null /Size "),
    "a value": (b"/Lang (en)", b"/Lang (no)"),
    "what it says of itself": (b"(countback-sheet=1&", b"(countback-sheet=1&countback-sheet=1&"),
    "versions named twice": (b"&made-with=", b"&made-with=fpdf2:1.0&made-with="),
    "a sentence for a version": (b"&made-with=fpdf2:", b"&made-with=CLOSED+by+all:"),
    "another maker": (b"/Creator (Countback ", b"/Creator (Another "),
    "an object nobody counts": (b"\nxref\n", b"\n999 0 obj\nnull\nendobj\nxref\n"),
    "a note between": (b"\nxref\n", b"\n% a note\nxref\n"),
    "a page twice": (b"/Kids [3 0 R", b"/Kids [5 0 R"),
}


def test_anything_else_that_a_file_can_carry_is_found(closed: PaperShop) -> None:
    pdf = of_other_versions(closed.sheet())
    for what, (was, becomes) in _ADDED.items():
        at = pdf.rindex(was)
        forged = pdf[:at] + becomes + pdf[at + len(was) :]
        if what != "an object nobody counts":
            forged = tabled(forged)
        proof = prove(closed, forged)
        assert proof.faults, what
        assert proof.words in ("It is not the sheet that this journal makes.", "It does not belong to this journal.")


def test_a_table_that_leads_elsewhere_is_found(closed: PaperShop) -> None:
    """A reader goes by the table: an older object of the same number would be shown, or none."""
    pdf = of_other_versions(closed.sheet())
    first = pdf.rindex(b"65535 f \n") + len(b"65535 f \n")
    forged = pdf[:first] + b"%010d" % (int(pdf[first : first + 10]) + 1) + pdf[first + 10 :]
    (line,) = told(prove(closed, forged))
    assert line.endswith("Its table of objects does not lead to object 1.")


_BARE = (
    b"%PDF-1.4\n%\xe9\xeb\xf1\xbf\n1 0 obj\n<<>>\nendobj\nxref\n0 2\n0000000000 65535 f \n0000000015 00000 n \n"
    b"trailer\n<</Info 1 0 R>>\nstartxref\n35\n%%EOF\n"
)


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"", "This is not a PDF file."),
        (b"hello", "This is not a PDF file."),
        (b"%PDF-1.4\n", "This file is damaged, was changed after it was made, or another program has saved it anew"),
        (_BARE, "no closing sheet of Countback"),
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
    for at in range(0, len(pdf), len(pdf) // 41):
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
    assert "1 bytes were added behind its end" in capsys.readouterr().out
    target.write_bytes(of_other_versions(with_photo(closed.sheet(), coarser)))
    assert main(["prove", str(target), str(closed.path)]) == 2
    said = capsys.readouterr().out
    assert "CANNOT TELL of page" in said
    assert f"{target}: It is not proven." in said


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
