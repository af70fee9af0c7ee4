"""Join codes: made by chance, typed in any way, kept for a restart where nobody else reads them."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from flowdeck.live.net.code import (
    LETTERS,
    code_path,
    flight_id,
    is_code,
    keep_code,
    kept_code,
    make_code,
    read_code,
)
from flowdeck.model.diagnostic import Rejected


def test_codes_are_two_halves_of_letters_that_do_not_look_alike() -> None:
    codes = {make_code() for _ in range(1000)}
    assert len(codes) == 1000
    assert all(is_code(code) for code in codes)
    assert not set("0O1IL5S8B2Z") & set("".join(codes))
    assert len(LETTERS) == 25  # to the tenth: more than 46 bits


@given(st.text(alphabet=LETTERS, min_size=10, max_size=10), st.data())
def test_read_as_it_is_typed(letters: str, data: st.DataObject) -> None:
    code = f"{letters[:5]}-{letters[5:]}"
    typed = "".join(
        data.draw(st.sampled_from(("", " ", "-"))) + data.draw(st.sampled_from((letter, letter.lower())))
        for letter in letters
    )
    assert read_code(typed) == code and is_code(code)


@given(st.text())
def test_anything_may_be_typed(typed: str) -> None:
    code = read_code(typed)
    assert not is_code(code) or len(code) == 11


def test_kept_beside_the_journal_for_its_owner_alone(tmp_path: Path) -> None:
    journal = tmp_path / "a.journal"
    code = make_code()
    keep_code(journal, code, 7407)
    keep_code(journal, code, 7408)
    assert kept_code(journal) == (code, 7408)
    assert code_path(journal) == tmp_path / "a.journal.code"
    assert code_path(journal).stat().st_mode & 0o777 == 0o600


@pytest.mark.parametrize(
    "text", ["", "ACDEF-GHJKM", "ACDEF-GHJKM\nx\n", "ACDEF-GHJK0\n7407\n", "ACDEF-GHJKM\n0\n", "\xff", "x" * 2000]
)
def test_what_is_no_kept_code_is_not_used(tmp_path: Path, text: str) -> None:
    code_path(tmp_path / "a.journal").write_text(text, encoding="utf-8")
    assert kept_code(tmp_path / "a.journal") is None
    assert kept_code(tmp_path / "other.journal") is None


def test_a_code_is_not_written_through_a_link_that_somebody_laid(tmp_path: Path) -> None:
    target = tmp_path / "target"
    code_path(tmp_path / "a.journal").symlink_to(target)
    keep_code(tmp_path / "a.journal", make_code(), 7407)
    assert not target.exists()
    with pytest.raises(Rejected, match="cannot be written"):
        keep_code(tmp_path / "no such folder" / "a.journal", make_code(), 7407)


def test_a_flight_is_known_by_the_first_line_of_its_journal(tmp_path: Path) -> None:
    journal = tmp_path / "a.journal"
    journal.write_bytes(b"header\n")
    first = flight_id(journal)
    journal.write_bytes(b"header\nevent\n")
    assert flight_id(journal) == first and len(first) == 16
    journal.write_bytes(b"other\nevent\n")
    assert flight_id(journal) != first
