"""Places at which the source can be changed, and what it can be changed to.

The changes are those of mutmut (operators, bounds, constants, texts, arguments, cases left out), taken from it as
syntax trees. They are applied to the source itself, one at a time, so that what is tested runs as it is written.
"""

import ast
import random
import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import libcst as cst
from libcst.metadata import MetadataWrapper, PositionProvider
from mutmut.mutation.file_mutation import create_mutations, deep_replace

# mutmut leaves decorated functions alone; for it, these decorators are comments.
_DECORATOR = re.compile(r"^( *)@((?:lru_cache\(.*\)|property)\n)", re.MULTILINE)
_HIDDEN = re.compile(r"^( *)#@((?:lru_cache\(.*\)|property)\n)", re.MULTILINE)


@dataclass(frozen=True)
class Mutant:
    """One change. *first* and *last*: the lines of its statement (of a compound one, of its head)."""

    file: str
    line: int
    function: str
    kind: str
    before: str
    after: str
    source: str
    first: int
    last: int

    @property
    def name(self) -> str:
        return f"{self.file}:{self.line} {self.before} -> {self.after}"


def places(root: Path, file: str) -> list[list[Any]]:
    """The changes of each place of one file; a place is a node of its syntax tree."""
    by_node: dict[int, list[Any]] = {}
    module, mutations, *_ = create_mutations(file, _DECORATOR.sub(r"\1#@\2", (root / file).read_text()))
    for mutation in mutations:
        if mutation.contained_by_top_level_function is not None:
            by_node.setdefault(id(mutation.original_node), []).append((file, module, mutation))
    return list(by_node.values())


def drawn(root: Path, files: list[str], size: int, seed: int) -> tuple[list[Mutant], dict[str, int]]:
    """*size* mutants, each a place drawn from all *files* and one of its changes; and how many places a file has."""
    chance = random.Random(seed)
    all_places = {file: places(root, file) for file in files}
    flat = [place for file in files for place in all_places[file]]
    chosen = [chance.choice(place) for place in chance.sample(flat, min(size, len(flat)))]
    texts = {file: (root / file).read_text() for file in files}
    maps: dict[int, Any] = {}
    mutants = [_mutant(texts[file], file, module, mutation, maps) for file, module, mutation in chosen]
    mutants.sort(key=lambda m: (m.file, m.line, m.before, m.after))
    return mutants, {file: len(found) for file, found in all_places.items()}


def _mutant(text: str, file: str, module: Any, mutation: Any, maps: dict[int, Any]) -> Mutant:
    if id(module) not in maps:
        maps[id(module)] = MetadataWrapper(module, unsafe_skip_copy=True).resolve(PositionProvider)
    position = maps[id(module)].get(mutation.original_node)
    function = mutation.contained_by_top_level_function
    line = position.start.line if position is not None else maps[id(module)][function].start.line
    changed = deep_replace(module, mutation.original_node, mutation.mutated_node)
    first, last = _statement(ast.parse(text), line)
    before, after = _difference(module, mutation.original_node, mutation.mutated_node)
    return Mutant(
        file=file,
        line=line,
        function=function.name.value if isinstance(function, cst.FunctionDef) else "",
        kind=type(mutation.original_node).__name__,
        before=before,
        after=after,
        source=_HIDDEN.sub(r"\1@\2", changed.code),
        first=first,
        last=last,
    )


def _statement(tree: ast.Module, line: int) -> tuple[int, int]:
    """First and last line of the innermost statement around *line*."""
    around = [n for n in ast.walk(tree) if isinstance(n, ast.stmt) and n.lineno <= line <= (n.end_lineno or n.lineno)]
    inner = max(around, key=lambda n: (n.lineno, -(n.end_lineno or 0)))
    body = getattr(inner, "body", None) or getattr(inner, "cases", None)
    if not body:
        return inner.lineno, inner.end_lineno or inner.lineno
    start = body[0].pattern.lineno if isinstance(body[0], ast.match_case) else body[0].lineno
    return (line, line) if line >= start else (inner.lineno, max(start - 1, inner.lineno))


def _difference(module: cst.Module, old: cst.CSTNode, new: Any) -> tuple[str, str]:
    """Both as text on one line; of a `match`, the case that is left out."""
    if isinstance(old, cst.Match):
        [gone] = [case for case in old.cases if not any(case is kept for kept in new.cases)]
        return f"case {module.code_for_node(gone.pattern)}", "(left out)"
    one, other = (" ".join(module.code_for_node(node).split()) for node in (old, new))
    if len(one) <= 90 and len(other) <= 90:
        return one, other
    start = next((i for i, (a, b) in enumerate(zip(one, other, strict=False)) if a != b), min(len(one), len(other)))
    cut = max(start - 30, 0)
    return "…" + one[cut : cut + 80], "…" + other[cut : cut + 80]
