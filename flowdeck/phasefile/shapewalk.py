"""What may stand at a path of a file: found by walking the shapes."""

from collections.abc import Iterator
from enum import Enum
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel
from pydantic.fields import FieldInfo

from flowdeck.phasefile.located import Path


def fields_at(shape: type[BaseModel], path: Path) -> set[str]:
    """The keys allowed in the table at *path*; empty when it cannot be told."""
    table = _shape_at(shape, path)
    return set() if table is None else {field.alias or name for name, field in table.model_fields.items()}


def field_at(shape: type[BaseModel], path: Path) -> FieldInfo | None:
    """The field whose value stands at *path*; None for an entry of a free table or of a list."""
    table = _shape_at(shape, path[:-1]) if path else None
    return None if table is None else _field(table, path[-1])


def choices_at(shape: type[BaseModel], path: Path) -> list[str]:
    """The words that the field at *path* takes; empty when it is not a choice."""
    field = field_at(shape, path)
    return [] if field is None else _choices(field.annotation)


def bounds_at(shape: type[BaseModel], path: Path) -> tuple[float | None, float | None, float | None]:
    """Least value, value to be above, and most of the number at *path* (None: none)."""
    numbered = bool(path) and isinstance(path[-1], int)
    field = field_at(shape, path[:-1] if numbered else path)
    if field is None:
        return None, None, None
    marks = list(_marks(field.annotation)) if numbered else [*field.metadata, *_marks(field.annotation)]

    def bound(name: str) -> float | None:
        return next((float(getattr(mark, name)) for mark in marks if hasattr(mark, name)), None)

    return bound("ge"), bound("gt"), bound("le")


def _marks(annotation: Any) -> Iterator[Any]:
    """What is written beside a type, at any depth: `Annotated[float, Field(ge=0)] | None`."""
    for mark in getattr(annotation, "__metadata__", ()):
        yield from mark.metadata if isinstance(mark, FieldInfo) else (mark,)
    for inner in get_args(annotation):
        yield from _marks(inner)


def _choices(annotation: Any) -> list[str]:
    if get_origin(annotation) is Literal:
        return [str(word) for word in get_args(annotation)]
    if isinstance(annotation, type) and issubclass(annotation, Enum):
        return [str(member.value) for member in annotation]
    return next((found for inner in get_args(annotation) if (found := _choices(inner))), [])


def _field(shape: type[BaseModel], key: Any) -> FieldInfo | None:
    return next((f for name, f in shape.model_fields.items() if key == (f.alias or name)), None)


def _shape_at(shape: type[BaseModel], path: Path) -> type[BaseModel] | None:
    keys = iter([part for part in path if isinstance(part, str)])
    for key in keys:
        field = _field(shape, key)
        inner = None if field is None else _inner_shape(field.annotation)
        if field is None or inner is None:
            return None
        shape = inner
        if get_origin(field.annotation) is dict and next(keys, None) is None:
            return None  # a free table: its keys are names
    return shape


def _inner_shape(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((found for inner in get_args(annotation) if (found := _inner_shape(inner))), None)
