"""A brief as text, Markdown, data and page: word for word, and safe whatever stands in a file."""

import json
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
from flowdeck.view.brief.profile import profile_svg
from flowdeck.view.brief.tables import tables_of
from flowdeck.view.brief.text import brief_text
from flowdeck.view.brief.words import glance, number, value_of
from tests.support.expected import expected

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
    assert text == expected(path, text)


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


def test_what_is_not_known_stands_at_a_glance() -> None:
    arrival = read_arrival("tarn-holm")
    brief = make_brief(replace(arrival, weather=replace(arrival.weather, qnh_hpa=None)))
    shown = dict(glance(brief))
    assert (shown["Minimum"], shown["Approach speed"], shown["Headwind"]) == ("not known", "not known", "8 kt")
    windy = dict(glance(make_brief(replace(arrival, weather=replace(arrival.weather, wind_from_deg=253.0)))))
    assert "Headwind" not in windy and windy["Tailwind"] == "8 kt"


def test_fuel_that_is_needed_is_rounded_up_and_fuel_that_is_left_down() -> None:
    figures = {f.key: f for section in made("skarn-fell").sections for f in section.figures}
    assert (figures["leave_kg"].value, value_of(figures["leave_kg"])) == (pytest.approx(3168.33, abs=0.01), "3169 kg")
    assert (figures["landing_fuel_kg"].value, value_of(figures["landing_fuel_kg"])) == (
        pytest.approx(4606.67, abs=0.01),
        "4606 kg",
    )


def test_on_a_cold_day_every_altitude_of_the_plan_stands_beside_the_one_flown() -> None:
    """3530 ft at -25 C are flown at 3900: a level-off must not be read off as 3530."""
    tables = {title: (heads, rows) for title, heads, rows, _ in tables_of(made("skarn-fell"))}
    heads, rows = tables["What is done where"]
    assert heads == ("NM", "ft", "flown ft", "kt", "<what")
    assert ("12.0", "3530", "3900", "210", "level off") in rows
    assert rows[0][2] == "-"
    assert "flown ft" not in {title: heads for title, heads, *_ in tables_of(made("tarn-holm"))}["What is done where"]
    event = next(e for e in brief_data(made("skarn-fell"))["events"] if e["kind"] == "level_off")
    assert (event["altitude_ft"], event["flown_ft"]) == (3530, 3900)


def test_two_aids_of_one_identification_are_both_in_the_data() -> None:
    arrival = read_arrival("port-ennis")
    aids = (*arrival.approach.aids, replace(arrival.approach.aids[0], kind="DME"))
    figures = brief_data(make_brief(replace(arrival, approach=replace(arrival.approach, aids=aids))))["figures"]
    assert [figures[key]["title"] for key in ("aid_pen", "aid_pen_2")] == ["ILS Port Ennis", "DME Port Ennis"]


def test_the_report_and_the_words_about_it_are_shown_everywhere() -> None:
    brief = made("port-ennis")
    for shown in (brief_text(brief), brief_markdown(brief), brief_page(brief), json.dumps(brief_data(brief))):
        assert "XQPE 261150Z 27014G24KT 1800 RA BR OVC006 09/08 Q0996" in shown
    assert brief_data(brief)["about"] == brief.arrival.about


def test_the_minimum_is_drawn_where_the_path_meets_it() -> None:
    """Skarn Fell, 12 NM: 1870 ft less 100 of cold on a path drawn without cold, not on the 1870 ft of its axis."""
    drawn = profile_svg(made("skarn-fell"), 12.0)
    least = float(re.search(r'class="least"[^>]*y1="([\d.]+)"', drawn)[1])  # type: ignore[index]
    grid = [
        (float(y), float(ft))
        for y, ft in re.findall(r'y1="([\d.]+)" y2="[\d.]+"/><text class="small end"[^>]*>(\d+)', drawn)
    ]
    (y0, ft0), (y1, ft1) = grid[0], grid[-1]
    assert ft0 + (least - y0) * (ft1 - ft0) / (y1 - y0) == pytest.approx(1770, abs=3)
