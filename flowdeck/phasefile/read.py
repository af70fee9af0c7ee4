"""YAML text to located nodes: plain data, and for every value and key the place where it stands.

The law: bad input is never an exception other than `Rejected`. Every scalar stays text here; what
is a number or a boolean is decided by the field that holds it (see `shapes`), so that `07`, `NO`
and `12:30` in a text field remain as written. `Plain` marks text that was written without quotes.
"""

from typing import TypeAlias

import yaml
from msgspec import Struct

from flowdeck.model.diagnostic import Diagnostic, Place, Rejected

Path: TypeAlias = tuple[str | int, ...]
Data: TypeAlias = "str | list[Data] | dict[str, Data]"

LARGEST = 2_000_000
"""Bytes; a deck file of a whole fleet is far below it."""
DEEPEST = 40


class Plain(str):
    """Text written without quotes; a field may read it as a number or a boolean."""

    __slots__ = ()


class Located(Struct, frozen=True):
    """A file's data with the places of values (*at*) and of keys (*keys*), by path."""

    file: str
    data: Data
    at: dict[Path, Place]
    keys: dict[Path, Place]

    def place(self, path: Path) -> Place:
        """The place of the value at *path*, or of the nearest thing around it."""
        while path:
            if path in self.at:
                return self.at[path]
            path = path[:-1]
        return self.at.get((), Place(self.file))


def read(file: str, raw: bytes) -> Located:
    """Parse one file. Raises `Rejected` with all findings when it cannot be used."""
    text = _decode(file, raw)
    try:
        node = yaml.compose(text, Loader=yaml.CSafeLoader)
    except yaml.MarkedYAMLError as error:
        raise Rejected((_syntax(file, error, text),)) from None
    except yaml.YAMLError as error:
        place = _reader_place(file, text, error)
        raise Rejected((Diagnostic(place=place, kind="yaml-syntax", message=_one_line(str(error))),)) from None
    except RecursionError:
        raise Rejected((_too_deep(Place(file)),)) from None
    if node is None:
        raise Rejected((Diagnostic(place=Place(file), kind="empty", message="the file is empty"),))
    walk = _Walk(file)
    data = walk.visit(node, (), 0)
    if walk.findings:
        raise Rejected(tuple(walk.findings))
    return Located(file, data, walk.at, walk.keys)


def _decode(file: str, raw: bytes) -> str:
    if len(raw) > LARGEST:
        message = f"the file has {len(raw):,} bytes; at most {LARGEST:,} are read"
        raise Rejected((Diagnostic(place=Place(file), kind="too-large", message=message),))
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        message = "the file is in UTF-16; save it as UTF-8"
        raise Rejected((Diagnostic(place=Place(file), kind="encoding", message=message),))
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        column = error.start - (raw.rfind(b"\n", 0, error.start) + 1) + 1
        message = f"byte 0x{raw[error.start]:02x} is not UTF-8 text; save the file as UTF-8"
        raise Rejected((Diagnostic(place=Place(file, line, column), kind="encoding", message=message),)) from None
    return text


def _one_line(text: str) -> str:
    return " ".join(text.split())


def _syntax(file: str, error: yaml.MarkedYAMLError, text: str) -> Diagnostic:
    mark = error.problem_mark or error.context_mark
    place = Place(file, mark.line + 1, mark.column + 1) if mark else Place(file)
    problem = _one_line(error.problem or error.context or "not YAML")
    if "nesting" in problem:
        return _too_deep(place)
    lines = text.splitlines()
    if mark and mark.line < len(lines) and "\t" in lines[mark.line][: mark.column + 1]:
        return Diagnostic(place=place, kind="tab", message="a tab in the indentation; indent with spaces")
    return Diagnostic(place=place, kind="yaml-syntax", message=f"not valid YAML here: {problem}")


def _too_deep(place: Place) -> Diagnostic:
    message = f"nested too deeply; at most {DEEPEST} levels are read"
    return Diagnostic(place=place, kind="too-deep", message=message)


def _reader_place(file: str, text: str, error: yaml.YAMLError) -> Place:
    position = getattr(error, "position", None)
    if not isinstance(position, int) or not 0 <= position <= len(text):
        return Place(file)
    return Place(file, text.count("\n", 0, position) + 1, position - text.rfind("\n", 0, position))


class _Walk:
    """One pass over the composed nodes; collects places and findings."""

    def __init__(self, file: str) -> None:
        self.file = file
        self.at: dict[Path, Place] = {}
        self.keys: dict[Path, Place] = {}
        self.findings: list[Diagnostic] = []
        self._seen: set[int] = set()

    def _find(self, place: Place, kind: str, message: str) -> None:
        self.findings.append(Diagnostic(place=place, kind=kind, message=message))

    def visit(self, node: yaml.Node, path: Path, depth: int) -> Data:
        mark = node.start_mark
        place = Place(self.file, mark.line + 1, mark.column + 1)
        self.at[path] = place
        if depth > DEEPEST:
            self.findings.append(_too_deep(place))
            return ""
        if id(node) in self._seen:
            self._find(place, "alias", "anchors and aliases are not used in deck files; write the value out")
            return ""
        self._seen.add(id(node))
        if isinstance(node, yaml.ScalarNode):
            return self._scalar(node, place)
        if isinstance(node, yaml.SequenceNode):
            self._refuse_tag(node, place, "tag:yaml.org,2002:seq")
            return [self.visit(child, (*path, i), depth + 1) for i, child in enumerate(node.value)]
        self._refuse_tag(node, place, "tag:yaml.org,2002:map")
        return self._mapping(node, path, depth)

    def _mapping(self, node: yaml.Node, path: Path, depth: int) -> Data:
        result: dict[str, Data] = {}
        for key_node, value_node in node.value:
            mark = key_node.start_mark
            place = Place(self.file, mark.line + 1, mark.column + 1)
            if not isinstance(key_node, yaml.ScalarNode):
                self._find(place, "key", "a key must be a single word")
                continue
            key = key_node.value
            if key in result:
                first = self.keys[(*path, key)]
                self._find(place, "duplicate-key", f"'{key}' stands here twice (first in line {first.line})")
                continue
            self.keys[(*path, key)] = place
            result[key] = self.visit(value_node, (*path, key), depth + 1)
        return result

    def _scalar(self, node: yaml.ScalarNode, place: Place) -> str:
        known = ("str", "int", "float", "bool", "null", "timestamp", "merge", "value")
        if not any(node.tag == f"tag:yaml.org,2002:{name}" for name in known):
            self._find(place, "tag", f"the tag '{node.tag}' is not used in deck files; remove it")
        return Plain(node.value) if node.style in (None, "") else str(node.value)

    def _refuse_tag(self, node: yaml.Node, place: Place, usual: str) -> None:
        if node.tag != usual:
            self._find(place, "tag", f"the tag '{node.tag}' is not used in deck files; remove it")
