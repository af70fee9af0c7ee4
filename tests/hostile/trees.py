"""Hypothesis strategies: good files with one value exchanged, and texts of any kind."""

from functools import cache
from typing import Any

import yaml
from hypothesis import strategies as st

from tests.hostile import sources
from tests.hostile.words import ACTING, BREAKS, CONDITIONS, SUBTLE, VALUES

Path = tuple[str | int, ...]

HOSTILE_TEXT = st.one_of(
    st.text(max_size=40),
    st.text(alphabet=st.sampled_from("".join((*ACTING, *SUBTLE, *BREAKS, "ab: {}[]'\"-#&*!|>%@`\\"))), max_size=12),
    st.sampled_from(CONDITIONS),
    st.sampled_from(VALUES),
)
"""Any text; texts of characters that act; conditions; texts that YAML reads as something else."""

ANYTHING: st.SearchStrategy[Any] = st.recursive(
    st.one_of(st.none(), st.booleans(), st.integers(), st.floats(), st.dates(), st.binary(max_size=9), HOSTILE_TEXT),
    lambda inner: st.one_of(st.lists(inner, max_size=4), st.dictionaries(HOSTILE_TEXT, inner, max_size=4)),
    max_leaves=8,
)
"""Any value that YAML can write, of whatever type."""


@cache
def tree_of(text: str) -> Any:
    """A good file as plain data, every scalar a text."""
    return yaml.load(text, Loader=yaml.CBaseLoader)


def paths_of(tree: Any, path: Path = ()) -> list[Path]:
    """The places of every value in it."""
    found: list[Path] = [path]
    if isinstance(tree, dict):
        for key, inner in tree.items():
            found += paths_of(inner, (*path, key))
    elif isinstance(tree, list):
        for at, inner in enumerate(tree):
            found += paths_of(inner, (*path, at))
    return found


def with_value(tree: Any, path: Path, value: Any) -> Any:
    """*tree* with *value* at *path*; nothing of the given tree is changed."""
    if not path:
        return value
    if isinstance(tree, dict):
        return {**tree, path[0]: with_value(tree[path[0]], path[1:], value)}
    at = path[0]
    assert isinstance(at, int)
    return [*tree[:at], with_value(tree[at], path[1:], value), *tree[at + 1 :]]


def with_key(tree: Any, path: Path, key: str) -> Any:
    """*tree* with the last name of *path* exchanged for *key*."""
    table = tree
    for part in path[:-1]:
        table = table[part]
    if not path or not isinstance(table, dict):
        return tree
    return with_value(tree, path[:-1], {key if name == path[-1] else name: v for name, v in table.items()})


@st.composite
def trees(draw: st.DrawFn, text: str) -> bytes:
    """The file of *text* with one to three of its values or names exchanged for others, as YAML again."""
    tree = tree_of(text)
    for _ in range(draw(st.integers(1, 3))):
        path = draw(st.sampled_from(paths_of(tree)))
        if draw(st.booleans()):
            tree = with_value(tree, path, draw(ANYTHING))
        else:
            tree = with_key(tree, path, draw(HOSTILE_TEXT))
    dumped = yaml.dump(tree, Dumper=yaml.CSafeDumper, allow_unicode=draw(st.booleans()), sort_keys=False)
    return str(dumped).encode("utf-8", "surrogatepass")


SOURCES = {**sources.FULL_FILES, sources.SCENARIO_FILE: sources.FULL_SCENARIO, sources.KEYS_FILE: sources.KEYMAP}
"""Every good file by its name."""
