"""YAML text to located nodes: plain data, and for every value and key the place where it stands.

The law: bad input is never an exception other than `Rejected`. Every scalar stays text here; what
is a number or a boolean is decided by the field that holds it (see `shapes`), so that `07`, `NO`
and `12:30` in a text field remain as written. `Plain` marks text that was written without quotes.
"""

import re

import yaml

from flowdeck.model.diagnostic import MOST, Diagnostic, Place, Rejected, more, visible
from flowdeck.phasefile.located import Data, Located, Plain
from flowdeck.phasefile.words import shown

LARGEST = 2_000_000
"""Bytes; a deck file of a whole fleet is far below it."""
DEEPEST = 40
_TOO_DEEP = f"nested too deeply; at most {DEEPEST} levels are read"

_UNREADABLE = re.compile(
    "[^\\t\\n\\r\\x20-\\x7e\\xa0-\\u2027\\u202a-\\ud7ff\\ue000-\\ufefe\\uff00-\\ufffd\\U00010000-\\U0010ffff]"
)
"""What YAML 1.2 does not allow in a file as such, the mark U+FEFF, and ends of lines that no editor counts."""

_HINTS: dict[str, str] = {
    "mapping values are not allowed": "a second ': ' in this line, or a line indented too far; "
    "put a text that holds ': ' in quotes",
    "expected ',' or '}'": "expected ',' or '}}' in the braces{begun}; a text that holds , : {{ or }} stands in quotes",
    "expected ',' or ']'": "expected ',' or ']' in the brackets{begun}; a text that holds , : [ or ] stands in quotes",
    "could not find expected ':'": "expected 'key: value', found no ': ' in this line",
    "did not find expected key": "expected a key, as indented as the others of its table{begun}; a text that goes on "
    "after its closing quote is another cause",
    "did not find expected '-' indicator": "expected '-', as indented as the others of its list{begun}",
    "block sequence entries are not allowed": "a '-' may not stand here; begin the list in a line of its own",
    "found unexpected end of stream": "this text in quotes goes on to the end of the file; close the quote",
    "found unexpected document indicator": "a line of '---' or '...' inside a text in quotes{begun}; close the quote",
    "found character that cannot start any token": "a text cannot begin with this character; put it in quotes",
    "found unknown escape character": "unknown escape; a text with a backslash stands in single quotes",
    "found undefined tag handle": "a text cannot begin with '!'; put it in quotes",
    "did not find expected node content": "expected a value, or the closing bracket or brace",
    "found another document": "a second document begins here ('---'); one file holds one deck, phase or scenario",
    "found undefined alias": "a text cannot begin with '*'; put it in quotes",
}
"""What the parser says, and what it mostly means."""

_LINES = re.compile(r"\r\n|\r|\n")
_SHOWN_WHERE_BEGUN = ("could not find expected ':'", "found unexpected end of stream")
"""What the parser notices only lines later."""


_TEXT, _LIST, _TABLE = (f"tag:yaml.org,2002:{name}" for name in ("str", "seq", "map"))
_ANCHORED = re.compile(r"[&*][^\s,\[\]{}]")
"""What an anchor or alias looks like; in a text it costs no more than a second look."""


class _Loader(yaml.CBaseLoader):
    """The C parser, with every scalar left as text: what it means is for the field that holds it."""

    def resolve(self, kind: type[yaml.Node], value: str | None, implicit: object) -> str:
        return _TEXT if kind is yaml.ScalarNode else _LIST if kind is yaml.SequenceNode else _TABLE

    def descend_resolver(self, current_node: yaml.Node | None, current_index: object) -> None:
        """Nothing is resolved by its path."""

    def ascend_resolver(self) -> None:
        """Nothing is resolved by its path."""


def read(file: str, raw: bytes) -> Located:
    """Parse one file. Raises `Rejected` with all findings when it cannot be used."""
    text = _decode(file, raw)
    try:
        anchored = _anchors(file, text)
        node = yaml.compose(text, Loader=_Loader)
    except yaml.MarkedYAMLError as error:
        raise Rejected((_syntax(file, error, text),)) from None
    except yaml.YAMLError as error:
        raise _rejected(Place(file), "yaml-syntax", visible(" ".join(str(error).split()))) from None
    except RecursionError:
        raise Rejected((_too_deep(Place(file)),)) from None
    if node is None:
        raise _rejected(
            Place(file), "empty", "the file is empty; a deck's first line is 'deck: NAME', a phase's 'phase: NAME'"
        )
    walk = _Walk(file)
    data = walk.visit(node, 0)
    findings = sorted((*anchored, *walk.found()), key=lambda f: f.place)
    if findings:
        raise Rejected(tuple(findings))
    return Located(file, data, node)


def _anchors(file: str, text: str) -> list[Diagnostic]:
    """A finding for each anchor and alias; the composed tree no longer shows where they stood."""
    findings: list[Diagnostic] = []
    if _ANCHORED.search(text) is None:
        return findings
    for event in yaml.parse(text, Loader=_Loader):
        if len(findings) >= MOST:
            break
        name = getattr(event, "anchor", None)
        if name is None or event.start_mark is None:
            continue
        place = Place(file, event.start_mark.line + 1, event.start_mark.column + 1)
        if isinstance(event, yaml.AliasEvent):
            message = f"'*{name}' is an alias; write the value out, or put a text that begins with '*' in quotes"
        else:
            message = f"'&{name}' is an anchor; remove it, or put a text that begins with '&' in quotes"
        findings.append(Diagnostic(place=place, kind="alias", message=message))
    return findings


def _rejected(place: Place, kind: str, message: str) -> Rejected:
    return Rejected((Diagnostic(place=place, kind=kind, message=message),))


def _decode(file: str, raw: bytes) -> str:
    if len(raw) > LARGEST:
        raise _rejected(Place(file), "too-large", f"the file has {len(raw):,} bytes; at most {LARGEST:,} are read")
    if raw[:2] in (b"\xff\xfe", b"\xfe\xff"):
        raise _rejected(Place(file), "encoding", "the file is in UTF-16; save it as UTF-8")
    try:
        text = raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        before = raw[raw.rfind(b"\n", 0, error.start) + 1 : error.start].decode("utf-8", "replace")
        place = Place(file, raw.count(b"\n", 0, error.start) + 1, len(before) + 1)
        message = f"byte 0x{raw[error.start]:02x} is not UTF-8 text; save the file as UTF-8"
        raise _rejected(place, "encoding", message) from None
    found = _UNREADABLE.search(text)
    if found:
        at = found.start()
        place = Place(file, text.count("\n", 0, at) + 1, at - text.rfind("\n", 0, at))
        message = f"the character U+{ord(found.group()):04X} is not shown on any screen; remove it"
        raise _rejected(place, "encoding", message)
    return text


def _syntax(file: str, error: yaml.MarkedYAMLError, text: str) -> Diagnostic:
    mark = error.problem_mark or error.context_mark
    place = Place(file, mark.line + 1, mark.column + 1) if mark else Place(file)
    problem = " ".join((error.problem or error.context or "not YAML").split())
    if "nesting" in problem:
        return _too_deep(place)
    lines = text.split("\n")
    if place.line > len(_LINES.findall(text)) + 1:  # at the end of a file whose last line is not ended
        place = Place(file, len(_LINES.findall(text)) + 1, len(lines[-1]) + 1)
    if mark and mark.line < len(lines):
        blank = lines[mark.line][: len(lines[mark.line]) - len(lines[mark.line].lstrip())]
        if "\t" in blank:
            place = Place(file, mark.line + 1, blank.index("\t") + 1)
            return Diagnostic(place=place, kind="tab", message="a tab in the indentation; indent with spaces")
    if error.context_mark and any(words in problem for words in _SHOWN_WHERE_BEGUN):
        place = Place(file, error.context_mark.line + 1, error.context_mark.column + 1)
    begun = f" (begun in line {error.context_mark.line + 1})" if error.context_mark else ""
    hint = next((hint.format(begun=begun) for words, hint in _HINTS.items() if words in problem), problem)
    return Diagnostic(place=place, kind="yaml-syntax", message=f"not valid YAML here: {visible(hint)}")


def _too_deep(place: Place) -> Diagnostic:
    return Diagnostic(place=place, kind="too-deep", message=_TOO_DEEP)


class _Walk:
    """One pass over the composed nodes: the data, and what is wrong with their form."""

    def __init__(self, file: str) -> None:
        self._findings: list[Diagnostic] = []
        self._more = 0
        self._file = file
        self._seen: set[int] = set()

    def found(self) -> list[Diagnostic]:
        """The first findings, and how many more there are."""
        return [*self._findings, *([more(self._findings[-1].place, self._more)] if self._more else [])]

    def _find(self, node: yaml.Node, kind: str, message: str) -> None:
        if len(self._findings) >= MOST:
            self._more += 1
            return
        mark = node.start_mark
        place = Place(self._file, mark.line + 1, mark.column + 1)
        self._findings.append(Diagnostic(place=place, kind=kind, message=visible(message)))

    def visit(self, node: yaml.Node, depth: int) -> Data:
        if isinstance(node, yaml.ScalarNode):
            if node.tag != _TEXT:
                self._find(node, "tag", _tagged(node.tag))
            return node.value if node.style else Plain(node.value)
        if depth > DEEPEST:
            self._find(node, "too-deep", _TOO_DEEP)
            return ""
        if id(node) in self._seen:
            return ""  # an alias; it has its finding already
        self._seen.add(id(node))
        if isinstance(node, yaml.SequenceNode):
            if node.tag != _LIST:
                self._find(node, "tag", _tagged(node.tag))
            return [self.visit(child, depth + 1) for child in node.value]
        if node.tag != _TABLE:
            self._find(node, "tag", _tagged(node.tag))
        return self._table(node, depth)

    def _table(self, node: yaml.Node, depth: int) -> Data:
        result: dict[str, Data] = {}
        keys: dict[str, yaml.Node] = {}
        for key_node, value_node in node.value:
            if not isinstance(key_node, yaml.ScalarNode):
                self._find(key_node, "key", f"expected a single word as key, found {_kind(key_node)}")
                continue
            key = key_node.value
            if key in keys:
                first = keys[key].start_mark.line + 1
                message = f"{shown(key)} stands here twice (first in line {first}); keep one"
                self._find(key_node, "duplicate-key", message)
                continue
            keys[key] = key_node
            result[key] = self.visit(value_node, depth + 1)
        return result


def _kind(node: yaml.Node) -> str:
    return "a list" if isinstance(node, yaml.SequenceNode) else "a table (a text that begins with '{' stands in quotes)"


def _tagged(tag: str) -> str:
    name = tag.replace("tag:yaml.org,2002:", "!!")
    return f"'{name}' is a tag; remove it, or put a text that begins with '!' in quotes"
