"""A file's data, and the place of every value and key in it, found when it is asked for.

The law: a path leads to the first of two equal keys, and a place that is not there is that of the
nearest thing around it. Nearly all of a good file's places are never asked for, so none is made before.
"""

from collections.abc import Mapping
from typing import TypeAlias

import yaml

from flowdeck.model.diagnostic import Place

Path: TypeAlias = tuple[str | int, ...]
Data: TypeAlias = "str | list[Data] | dict[str, Data]"


class Plain(str):
    """Text written without quotes; a field may read it as a number or a boolean."""

    __slots__ = ()


class Located:
    """*data* of *file* with the places of its nodes. *renamed*: new paths, and the old ones that they stand for."""

    __slots__ = ("_nodes", "_renamed", "_root", "data", "file")

    def __init__(self, file: str, data: Data, root: yaml.Node, renamed: Mapping[Path, Path] | None = None) -> None:
        self.file = file
        self.data = data
        self._root = root
        self._renamed = dict(renamed or {})
        self._nodes: dict[Path, tuple[yaml.Node | None, yaml.Node] | None] = {(): (None, root)}

    def mended(self, data: Data, renamed: Mapping[Path, Path]) -> "Located":
        """The same places for other data; *renamed* as for the class."""
        return Located(self.file, data, self._root, renamed)

    def __contains__(self, path: Path) -> bool:
        """Whether a value stands at *path*."""
        return self._find(path) is not None

    def place(self, path: Path) -> Place:
        """The place of the value at *path*, or of the nearest thing around it."""
        found = self._find(path)
        while found is None:
            path = path[:-1]
            found = self._find(path)
        return self._place(found[1])

    def key_place(self, path: Path) -> Place:
        """Where the key of the value at *path* stands, or the value itself when it has none."""
        found = self._find(path)
        return self.place(path) if found is None or found[0] is None else self._place(found[0])

    def text_place(self, path: Path) -> Place:
        """Where the text of the value at *path* begins, after its quote."""
        place = self.place(path)
        found = self._find(path)
        quoted = found is not None and isinstance(found[1], yaml.ScalarNode) and found[1].style in ("'", '"')
        return Place(place.file, place.line, place.column + 1) if quoted else place

    def _place(self, node: yaml.Node) -> Place:
        return Place(self.file, node.start_mark.line + 1, node.start_mark.column + 1)

    def _find(self, path: Path) -> tuple[yaml.Node | None, yaml.Node] | None:
        """The nodes of key and value at *path*."""
        if path not in self._nodes:
            around = self._find(path[:-1])
            found = None if around is None else _child(around[1], path[-1])
            self._nodes[path] = found or self._find_renamed(path)
        return self._nodes[path]

    def _find_renamed(self, path: Path) -> tuple[yaml.Node | None, yaml.Node] | None:
        for new, old in self._renamed.items():
            if path[: len(new)] == new:
                return self._find((*old, *path[len(new) :]))
        return None


def _child(node: yaml.Node, part: str | int) -> tuple[yaml.Node | None, yaml.Node] | None:
    if isinstance(node, yaml.MappingNode):
        return next(((key, value) for key, value in node.value if key.value == part), None)
    if isinstance(node, yaml.SequenceNode) and isinstance(part, int) and part < len(node.value):
        return None, node.value[part]
    return None
