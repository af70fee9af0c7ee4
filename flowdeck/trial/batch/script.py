"""A variation written out as a scenario file, so that its flight can be flown again; and the shortest such file.

The law: loading the file and flying it comes to the same as flying the variation.
"""

from collections.abc import Callable, Iterator
from typing import Any

import yaml
from msgspec.structs import replace

from flowdeck.model.diagnostic import visible
from flowdeck.model.scenario import Scenario
from flowdeck.phasefile.located import Plain
from flowdeck.phasefile.read import read
from flowdeck.trial.batch.variation import BREAK_WORDS, Variation, go_around_when


class _Dumper(yaml.SafeDumper):
    """Words that were written without quotes stay so: they may be numbers."""


def _plain(dumper: yaml.SafeDumper, value: Plain) -> yaml.Node:
    tag = dumper.resolve(yaml.ScalarNode, str(value), (True, False))  # type: ignore[no-untyped-call]  # its stub has no types
    return dumper.represent_scalar(tag, str(value))


_Dumper.add_representer(Plain, _plain)


def scenario_text(base: bytes, scenario: Scenario, variation: Variation, name: str, about: str) -> str:
    """The file of *scenario*, which was read from *base*, varied. Raises `Rejected` for a broken *base*."""
    written: Any = read(name, base).data
    data = dict(written)
    data["scenario"] = Plain(name)
    data["title"] = f"{data.get('title', name)}, varied"
    data["about"] = visible(about)
    if variation.flying is not None:
        data["flying"] = Plain(variation.flying)
    for field, values in (("facts", variation.facts), ("surroundings", variation.surroundings)):
        if values:
            data[field] = {**data.get(field, {}), **values}
    if variation.pace:
        data["pace"] = {str(seat): pace for seat, pace in variation.pace.items()}
    if variation.start_nm is not None:
        leg = {name: getattr(scenario.start, name) for name in scenario.start.__struct_fields__}
        data["start"] = {**leg, "distance_nm": variation.start_nm}
    data["happenings"] = [*(_later(each, variation) for each in data.get("happenings", [])), *_breaks(variation)]
    data.pop("slips", None)
    data.pop("varies", None)
    if variation.go_around_ft is not None:
        data["slips"] = [{"slip": "go_around", "of": "flight", "when": go_around_when(variation.go_around_ft)}]
    body = yaml.dump(data, Dumper=_Dumper, sort_keys=False, allow_unicode=True, width=110)
    return f"# Training and simulation only. Made by a trial; everything in it is invented.\n{body}"


def _later(happening: dict[str, Any], variation: Variation) -> dict[str, Any]:
    late = variation.late.get(str(happening.get("happening")))
    if late is None:
        return happening
    return {**happening, "after_s": float(happening.get("after_s", 0)) + late}


def _breaks(variation: Variation) -> Iterator[dict[str, Any]]:
    for number, each in enumerate(variation.breaks, start=1):
        yield {
            "happening": f"break-{number}",
            "when": each.when,
            "words": BREAK_WORDS,
            "interrupts_s": each.seconds,
        }


def shortest(variation: Variation, still: Callable[[Variation], bool]) -> Variation:
    """What is left of a variation when all is taken out without which *still* holds; *still* holds for it."""
    smaller = True
    while smaller:
        smaller = False
        for candidate in _without_one(variation):
            if still(candidate):
                variation, smaller = candidate, True
                break
    return variation


def _without_one(v: Variation) -> Iterator[Variation]:
    """The variation without one thing each, the largest things first."""
    if v.breaks:
        yield replace(v, breaks=())
    if v.surroundings:
        yield replace(v, surroundings={})
    if v.late:
        yield replace(v, late={})
    if v.go_around_ft is not None:
        yield replace(v, go_around_ft=None)
    if v.start_nm is not None:
        yield replace(v, start_nm=None)
    if v.pace:
        yield replace(v, pace={})
    if v.flying is not None:
        yield replace(v, flying=None)
    for field in ("surroundings", "late", "facts"):
        values = getattr(v, field)
        for key in values:
            if len(values) > 1 or field == "facts":
                yield replace(v, **{field: {k: value for k, value in values.items() if k != key}})
    for number in range(len(v.breaks)):
        if len(v.breaks) > 1:
            yield replace(v, breaks=v.breaks[:number] + v.breaks[number + 1 :])
