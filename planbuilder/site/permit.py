"""The entry permit of a space, as far as it is known before the day."""

from __future__ import annotations

from planbuilder.site.fields import Strict, Text


class Permit(Strict):
    """Its number or form. The entry supervisor of the space signs that the entry may begin."""

    number: Text | None = None
