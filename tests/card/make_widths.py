"""Writes `flowdeck/card/widths.py` from the face itself: `python -m tests.card.make_widths > flowdeck/card/widths.py`.

Needs the extra `cards`. `test_widths.py` makes the table again and compares.
"""

import unicodedata
from io import BytesIO
from pathlib import Path

import fontpkg_arimo
from fontTools.ttLib import TTFont
from fontTools.varLib.instancer import instantiateVariableFont

FACE = Path(fontpkg_arimo.ROOT) / "files" / "Arimo[wght].ttf"
SCRIPTS = (
    (0x20, 0x17F),  # Latin
    (0x218, 0x21B),  # Romanian
    (0x386, 0x3CE),  # Greek
    (0x400, 0x45F),  # Cyrillic
    (0x490, 0x491),  # Ukrainian
    (0x1E80, 0x1E85),  # Welsh
    (0x1EA0, 0x1EF9),  # Vietnamese
    (0x2010, 0x2044),  # punctuation
    (0x20AC, 0x20AC),  # euro
    (0x2116, 0x2116),  # numero
    (0x2190, 0x2193),  # arrows
    (0x2212, 0x2212),  # minus
    (0x2248, 0x2265),  # comparisons
)
HEAD = '''"""Advance widths of the face of the cards, in {units} parts of its size: width to the letters that have it.

Made by `tests/card/make_widths.py` from Arimo {version} (SIL Open Font License 1.1), whose widths are those of the
sans serif faces that most machines have. Letters that only stand beside others (combining marks) are left out.
"""
# ruff: noqa: RUF001

UNITS = {units}
X_HEIGHT = {x_height}
ASCENT = {ascent}
DESCENT = {descent}
'''


def weighed(weight: int) -> TTFont:
    """The face at one weight; 400 is regular, 700 bold."""
    return instantiateVariableFont(TTFont(BytesIO(FACE.read_bytes())), {"wght": weight})


def widths(font: TTFont) -> dict[int, str]:
    """Advance width in units of the face to the letters that have it."""
    found: dict[int, str] = {}
    for code, glyph in sorted(font.getBestCmap().items()):
        if not any(low <= code <= high for low, high in SCRIPTS):
            continue
        if chr(code) != " " and (not chr(code).isprintable() or unicodedata.category(chr(code)).startswith("M")):
            continue
        width = font["hmtx"][glyph][0]
        found[width] = found.get(width, "") + chr(code)
    return dict(sorted(found.items()))


def table(name: str, font: TTFont) -> str:
    rows = [f"{name}: dict[int, str] = {{"]
    for width, letters in widths(font).items():
        parts = [letters[i : i + 90] for i in range(0, len(letters), 90)]
        quoted = [f"'{part}'" if '"' in part and "'" not in part else _quoted(part) for part in parts]
        if len(quoted) == 1:
            rows.append(f"    {width}: {quoted[0]},")
        else:
            rows += [f"    {width}: (", *(f"        {part}" for part in quoted), "    ),"]
    return "\n".join([*rows, "}"])


def _quoted(part: str) -> str:
    return '"' + part.replace("\\", "\\\\").replace('"', '\\"') + '"'


def made() -> str:
    """The whole module."""
    regular, bold = weighed(400), weighed(700)
    head = HEAD.format(
        units=regular["head"].unitsPerEm,
        x_height=regular["OS/2"].sxHeight,
        ascent=regular["hhea"].ascent,
        descent=-regular["hhea"].descent,
        version=fontpkg_arimo_version(),
    )
    return "\n".join([head, table("REGULAR", regular), "", table("BOLD", bold), ""])


def fontpkg_arimo_version() -> str:
    from importlib.metadata import version

    return version("fontpkg-arimo")


if __name__ == "__main__":
    print(made(), end="")
