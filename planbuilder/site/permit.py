"""The entry permit of a space, as far as it is known before the day."""

from __future__ import annotations

from typing import Annotated

from planbuilder.site.fields import Id, Strict, Text, reference


class Permit(Strict):
    """Its number or form, and who signs that the entry may begin."""

    number: Text | None = None
    signed_by: Annotated[Id, reference("person")] | None = None
