"""The one field that every event has."""

from msgspec import Struct


class Event_(Struct, frozen=True, kw_only=True, tag=True, omit_defaults=True):
    at: int
