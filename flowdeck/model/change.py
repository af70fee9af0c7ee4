"""A number of the plan that is no longer what it was."""

from msgspec import Struct

from flowdeck.model.condition import Scalar


class Change(Struct, frozen=True, kw_only=True):
    """*before* and *after* are readings of *signal*; None: there was none, or there is none any more."""

    signal: str
    before: Scalar | None
    after: Scalar | None
