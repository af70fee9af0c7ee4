"""Values to bytes and back: nothing is lost, and what cannot be read is said in one way only."""

import base64
import importlib
import inspect
import pkgutil
import zlib
from typing import Any, get_args

import msgspec
import msgspec.inspect as shapes
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from flowdeck.live.bundled import read_scenario
from flowdeck.model import events as ev
from flowdeck.model.deck import Deck
from flowdeck.model.events.base import Event_
from flowdeck.model.scenario import Scenario
from flowdeck.wire import codec
from tests.support.small import small_deck, small_scenario

CLASSES: tuple[type, ...] = get_args(ev.Event)


def values(kind: shapes.Type) -> st.SearchStrategy[Any]:
    """Any value of a field, by what msgspec knows of its type."""
    match kind:
        case shapes.IntType():
            return st.integers(-(2**53), 2**53)
        case shapes.FloatType():
            return st.floats(allow_nan=False, allow_infinity=False)
        case shapes.StrType():
            return st.text(max_size=20)
        case shapes.BoolType():
            return st.booleans()
        case shapes.NoneType():
            return st.none()
        case shapes.EnumType(cls=cls):
            return st.sampled_from(list(cls))
        case shapes.LiteralType(values=choices):
            return st.sampled_from(choices)
        case shapes.UnionType(types=kinds):
            return st.one_of([values(inner) for inner in kinds])
        case shapes.TupleType(item_types=kinds):
            return st.tuples(*(values(inner) for inner in kinds))
        case shapes.VarTupleType(item_type=inner):
            return st.lists(values(inner), max_size=4).map(tuple)
        case shapes.DictType(key_type=key, value_type=value):
            return st.dictionaries(values(key), values(value), max_size=4)
        case shapes.StructType(cls=cls):
            return built(cls)
        case _:
            raise AssertionError(f"no values for {kind}")


def built(cls: type) -> st.SearchStrategy[Any]:
    """Any event of a class; fields with a default are sometimes left out."""
    info = shapes.type_info(cls)
    assert isinstance(info, shapes.StructType)
    needed = {f.name: values(f.type) for f in info.fields if f.required}
    optional = {f.name: values(f.type) for f in info.fields if not f.required}
    return st.fixed_dictionaries(needed, optional=optional).map(lambda fields: cls(**fields))


def test_the_union_holds_every_event_class() -> None:
    """A class that is defined and not listed could be written and never read back."""
    parts = [importlib.import_module(f"{ev.__name__}.{module.name}") for module in pkgutil.iter_modules(ev.__path__)]
    found = {cls for part in parts for _, cls in inspect.getmembers(part, inspect.isclass)}
    assert set(CLASSES) == {cls for cls in found if issubclass(cls, Event_) and cls is not Event_}
    assert len(CLASSES) >= 50


@pytest.mark.parametrize("cls", CLASSES, ids=lambda cls: cls.__name__)
@given(st.data())
@settings(max_examples=30)
def test_every_event_comes_back_as_it_was(cls: type, data: st.DataObject) -> None:
    event = data.draw(built(cls))
    raw = codec.encode(event)
    back = codec.decode_event(raw)
    assert type(back) is cls
    assert back == event
    assert codec.encode(back) == raw
    assert b"\n" not in raw, "an event must fit into one line"


@pytest.mark.parametrize(
    ("raw", "said"),
    [
        (b"", "this is not an event: Input data was truncated"),
        (b"[]", "this is not an event: Expected `object`, got `array`"),
        (b"{}", "this is not an event: Object missing required field `type`"),
        (b'{"type":"ItemGone","at":1}', "this is not an event: Invalid value 'ItemGone' - at `$.type`"),
        (b'{"type":"ItemDone","at":1}', "this is not an event: Object missing required field `item`"),
        (b'{"type":"MarkPassed","at":"1","mark":"x"}', "this is not an event: Expected `int`, got `str` - at `$.at`"),
        (b'{"type":"\\u001b[2J","at":1}', "this is not an event: Invalid value '<U+001B>[2J' - at `$.type`"),
        (b'{"type":"MarkPassed","at":1,"mark":"x","new":' + b"[" * 100_000, "this is not an event: nested too deeply"),
    ],
)
def test_what_is_no_event(raw: bytes, said: str) -> None:
    with pytest.raises(codec.Unreadable) as caught:
        codec.decode_event(raw)
    assert str(caught.value) == said


@given(st.one_of(st.binary(max_size=80), st.text(alphabet='{}[]":,typea1\\u', max_size=60).map(str.encode)))
def test_no_bytes_break_the_decoder(raw: bytes) -> None:
    with pytest.raises(codec.Unreadable):
        codec.decode_event(raw)


def _small() -> tuple[Deck, Scenario]:
    deck = small_deck()
    return deck, small_scenario(deck)


@pytest.mark.parametrize("which", ["small", "bundled"])
def test_decks_and_scenarios_come_back_whole(which: str) -> None:
    deck, scenario = _small() if which == "small" else read_scenario("clean")[:2]
    packed = codec.pack_deck(deck)
    back = codec.unpack_deck(packed)
    assert msgspec.structs.asdict(back) == msgspec.structs.asdict(deck)
    assert codec.encode(codec.unpack_deck(codec.pack_deck(back))) == codec.encode(back)
    there = codec.pack_scenario(scenario)
    assert msgspec.structs.asdict(codec.unpack_scenario(there)) == msgspec.structs.asdict(scenario)
    assert not set(packed + there) & set('"\\\n'), "a packed part must stand in a JSON text as it is"


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("", "this is not a deck: Input data was truncated"),
        ('"', "the packed part cannot be unpacked: bad base85 character at position 0"),
        ("ü", "the packed part cannot be unpacked: string argument should contain only ASCII characters"),
        ("abcde", "the packed part cannot be unpacked: Error -3 while decompressing data: incorrect header check"),
        (base64.b85encode(zlib.compress(b"{}")).decode(), "this is not a deck: Object missing required field `id`"),
        (
            base64.b85encode(zlib.compress(b'{"id":"x"}')[:-6]).decode(),
            "this is not a deck: Input data was truncated",
        ),
    ],
)
def test_what_is_no_packed_deck(text: str, said: str) -> None:
    with pytest.raises(codec.Unreadable) as caught:
        codec.unpack_deck(text)
    assert str(caught.value) == said


def test_a_packed_part_does_not_grow_without_end(monkeypatch: pytest.MonkeyPatch) -> None:
    """A few bytes can hold a thousand times as many; they are not unpacked beyond the limit."""
    monkeypatch.setattr(codec, "LARGEST_DECK", 100_000)
    bomb = base64.b85encode(zlib.compress(b" " * 100_001)).decode()
    assert len(bomb) < 1000
    with pytest.raises(codec.Unreadable, match="the packed part is larger than 100,000 bytes"):
        codec.unpack_deck(bomb)
