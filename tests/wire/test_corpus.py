"""Broken journals and all that is said of them, word for word.

A line of NAME.lines stands as it is, unless it begins with @: `@header` and `@event N` are good lines, `@raw N JSON`
is a line whose number and checksum are right whatever the JSON is; ` -K` after them cuts K bytes before the newline.
`UPDATE_OUT=1 pytest tests/wire/test_corpus.py` writes the .out files anew: read the difference.
"""

import re
import zlib
from pathlib import Path

import pytest

from flowdeck.model.diagnostic import Rejected
from flowdeck.wire.journal import read_journal
from tests.support.expected import expected

HERE = Path(__file__).parent / "err"
BROKEN = sorted(HERE.glob("*.lines"))


def built(text: str, lines: tuple[bytes, ...]) -> bytes:
    result = b""
    for row in re.findall(r"[^\n]*\n|[^\n]+\Z", text):
        found = re.fullmatch(r"@(header|event|raw)(?: (\d+))?(?: (\{.*))?(?: -(\d+))?\n", row)
        if found is None:
            assert not row.startswith("@"), row
            result += row.encode()
            continue
        kind, number, json, cut = found.groups()
        if kind == "raw":
            body = json.encode()
            line = b'{"n":%s,"c":"%08x","e":%s}\n' % (number.encode(), zlib.crc32(body, int(number)), body)
        else:
            line = lines[0 if kind == "header" else int(number)]
        result += line[: -1 - int(cut)] + b"\n" if cut else line
    return result


@pytest.mark.parametrize("path", BROKEN, ids=lambda path: path.stem)
def test_what_is_said_of_a_broken_journal(path: Path, lines: tuple[bytes, ...]) -> None:
    try:
        found = read_journal(f"{path.stem}.journal", built(path.read_bytes().decode(), lines)).notes
    except Rejected as rejected:
        found = rejected.findings
    said = "".join(f"{finding}\n" for finding in found)
    assert said, "nothing was said"
    out = path.with_suffix(".out")
    assert said == expected(out, said)


def test_every_out_file_has_its_journal() -> None:
    assert {path.stem for path in HERE.glob("*.out")} == {path.stem for path in BROKEN}
    assert len(BROKEN) >= 12
