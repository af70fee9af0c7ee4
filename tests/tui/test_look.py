"""Colour and weight: red for warnings, amber for cautions, nothing else; every mark differs without colour."""

import ast
import re
from pathlib import Path

from rich.color import Color

from flowdeck.tui import look
from flowdeck.view.lanes import Row

TUI = Path(look.__file__).resolve().parent


def hue(name: str) -> str:
    """`red`, `amber` or `none` by the channels of a colour."""
    red, green, blue = Color.parse(name).get_truecolor()
    if max(red, green, blue) - min(red, green, blue) < 40:
        return "none"
    return "amber" if green > red * 0.55 and blue < green else "red" if red > green and red > blue else "other"


def test_red_and_amber_only_for_warnings_and_cautions() -> None:
    """14 CFR 25.1322(e) (from memory). Styles and the sheet: no other coloured value exists."""
    for weight, style in look.WEIGHTS.items():
        assert style.color is not None
        expected = {"warning": "red", "caution": "amber"}.get(weight, "none")
        assert hue(style.color.name) == expected, weight
    assert {hue(c) for c in (look.INK, look.FAINT, look.PAPER, look.RAISED)} == {"none"}
    sheet = (TUI / "flowdeck.tcss").read_text(encoding="utf-8")
    assert (
        re.findall(r"#[0-9a-f]{6}|\b(?:red|green|blue|yellow|cyan|magenta|\$success|\$error|\$warning)\b", sheet) == []
    )


def test_no_colour_is_named_outside_the_one_table() -> None:
    """Every style of the screen comes from `look`; no other module writes a colour."""
    for path in TUI.rglob("*.py"):
        if path.name == "look.py":
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Constant) and isinstance(node.value, str):
                assert not re.fullmatch(r"#[0-9a-fA-F]{6}", node.value), (path, node.value)


def test_every_kind_of_row_has_a_mark_of_its_own() -> None:
    assert set(look.SHAPES) == set(Row)
    assert len(set(look.SHAPES.values())) == len(Row)
