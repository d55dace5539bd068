"""Ways of changing the crawled stretch of the storage tank, and its bends."""

from typing import Any

from broken_openings import put_in
from broken_sites import Break, space

# The stretch of the storage tank that is crawled: through its manway.
CRAWLED = 1


def crawlway(**values: Any) -> Break:
    """The crawled stretch with this crawlway in place of its own."""
    return lambda data: put_in(space(data)["route"][CRAWLED], {"crawlway": values or None})


def entrants(**sizes: str) -> Break:
    """Everybody who goes in, or goes in to rescue, with these body sizes."""
    return lambda data: [one.update(sizes) for one in data["person"]]


def no_sheet(data: dict[str, Any]) -> None:
    """Nothing is said about the sheet's width."""
    for one in data["equipment"]:
        if one["id"] == "sheet":
            del one["packed"]["width"]


def a_set(**sizes: str) -> Break:
    """The breathing sets with these sizes."""
    return lambda data: [one.update(sizes) for one in data["equipment"] if one["id"] == "set"]


def fallback_gone(data: dict[str, Any]) -> None:
    """Only the primary way is left."""
    space(data)["rescue"].pop("fallback", None)
