"""A brief as text, Markdown, data and page: word for word, and safe whatever stands in a file."""

import json
import os
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest
from msgspec.structs import replace

from flowdeck import DISCLAIMER
from flowdeck.arrival.brief import Brief, make_brief
from flowdeck.arrival.sheet import Figure
from flowdeck.live.bundled import arrival_names, read_arrival
from flowdeck.view.brief.data import brief_data
from flowdeck.view.brief.markdown import brief_markdown
from flowdeck.view.brief.page import brief_page
from flowdeck.view.brief.text import brief_text
from flowdeck.view.brief.words import number, value_of

HERE = Path(__file__).parent / "brief"
HOSTILE = "<script>alert(1)</script> & \"'> \x1b[2J\u202e `|*_# ](javascript:x)"


def made(name: str) -> Brief:
    return make_brief(read_arrival(name))


def hostile() -> Brief:
    """A brief whose every text tries to be something else."""
    arrival = read_arrival("tarn-holm")
    fixes = tuple(replace(fix, name=f"{fix.name}{HOSTILE}") for fix in arrival.approach.fixes)
    approach = replace(arrival.approach, missed=HOSTILE, fixes=fixes, final_fix=f"NOLDE{HOSTILE}")
    aircraft = replace(arrival.aircraft, type=HOSTILE)
    weather = replace(arrival.weather, unread=(HOSTILE,))
    return make_brief(
        replace(arrival, title=HOSTILE, about=HOSTILE, approach=approach, aircraft=aircraft, weather=weather)
    )


@pytest.mark.parametrize("name", ["tarn-holm", "skarn-fell", "port-ennis"])
@pytest.mark.parametrize(("suffix", "render"), [("txt", brief_text), ("md", brief_markdown)])
def test_word_for_word(name: str, suffix: str, render: object) -> None:
    assert callable(render)
    text, path = render(made(name)), HERE / f"{name}.{suffix}"
    if os.environ.get("UPDATE_OUT"):
        path.write_text(text, encoding="utf-8")
    assert text == path.read_text(encoding="utf-8")


@pytest.mark.parametrize("name", arrival_names())
@pytest.mark.parametrize("width", [60, 80, 100])
def test_no_line_is_wider_than_asked(name: str, width: int) -> None:
    lines = brief_text(made(name), width).splitlines()
    tables = next(i for i, line in enumerate(lines) if line == "What is done where")
    assert max(len(line) for line in lines[:tables]) <= width
    assert lines[0] == made(name).arrival.title


@pytest.mark.parametrize(
    "render", [brief_text, brief_markdown, brief_page, lambda brief: json.dumps(brief_data(brief))]
)
def test_each_says_what_it_is_for(render: object) -> None:
    assert callable(render)
    assert DISCLAIMER in re.sub(r"\s+", " ", render(made("tarn-holm")))


class _Tags(HTMLParser):
    """The tags of a page, and whether each one that opens closes in order."""

    VOID = ("meta", "line", "circle", "polyline")

    def __init__(self) -> None:
        super().__init__()
        self.seen: list[str] = []
        self.open: list[str] = []
        self.names: set[str] = set()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append(tag)
        self.names |= {name for name, _ in attrs}
        if tag not in self.VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.seen.append(tag)
        self.names |= {name for name, _ in attrs}

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag


def tags(page: str) -> _Tags:
    parser = _Tags()
    parser.feed(page)
    parser.close()
    assert parser.open == []
    return parser


@pytest.mark.parametrize("name", arrival_names())
def test_the_page_is_well_formed_and_asks_for_nothing(name: str) -> None:
    """Every tag closes; no script, no link, no address but the name of the drawing's language."""
    page = brief_page(made(name))
    found = tags(page)
    assert found.seen.count("svg") == 2
    assert not {"script", "link", "img", "iframe", "object", "a"} & set(found.seen)
    assert not {"src", "href", "onload", "style"} & found.names
    assert set(re.findall(r"https?://[^\"'<> ]+", page)) == {"http://www.w3.org/2000/svg"}
    assert [tag for tag in found.seen if tag.startswith("h")][:3] == ["html", "head", "h1"]


def test_no_text_of_a_file_becomes_markup() -> None:
    plain, wild = tags(brief_page(made("tarn-holm"))), tags(brief_page(hostile()))
    assert set(wild.seen) <= set(plain.seen) | {"section", "ul", "li", "p"}
    assert "script" not in wild.seen
    assert "\x1b" not in brief_page(hostile())


def test_no_text_of_a_file_acts_on_a_terminal_or_as_markdown() -> None:
    for text in (brief_text(hostile()), brief_markdown(hostile())):
        assert "\x1b" not in text
        assert "\u202e" not in text
    assert "](javascript" not in brief_markdown(hostile()).replace("\\]", "")
    assert "<script>" not in brief_markdown(hostile())


def test_data_has_every_figure_with_its_rule() -> None:
    data = brief_data(made("port-ennis"))
    assert data["figures"]["approach_kt"]["value"] == 148
    assert all(figure["rule"] for figure in data["figures"].values())
    assert data["path"][0]["distance_nm"] == 0
    assert json.loads(json.dumps(data)) == data


@pytest.mark.parametrize(
    ("value", "unit", "rounding", "shown"),
    [
        (1639.2, "m", "up to 1 m", "1640"),
        (51.9, "min", "down to 1 min", "51"),
        (72.84, "NM", "0.1 NM", "72.8"),
        (1.2637, "NM", "0.01 NM", "1.26"),
        (3.0, "deg", "", "3"),
        (3.25, "deg", "", "3.25"),
        (-0.2, "ft", "", "0"),
        (836.0, "ft", "up", "836"),
    ],
)
def test_numbers_are_rounded_as_their_rule_says(value: float, unit: str, rounding: str, shown: str) -> None:
    assert number(value, unit, rounding) == shown
    figure = Figure(key="k", title="t", value=value, unit=unit, rule="r", rounding=rounding)
    assert value_of(figure) == f"{shown} {unit}"
