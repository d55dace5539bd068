"""Free text of the site file: Markdown to clean HTML. Raw HTML and images never get through."""

from __future__ import annotations

import functools

import markdown
import nh3
from markupsafe import Markup

_TAGS = {"p", "strong", "em", "ul", "ol", "li", "br", "code", "blockquote", "a"}
_SCHEMES = {"http", "https", "mailto", "tel"}


@functools.cache
def _parser() -> markdown.Markdown:
    parser = markdown.Markdown(extensions=["sane_lists"], output_format="html")
    parser.preprocessors.deregister("html_block")
    parser.inlinePatterns.deregister("html")
    return parser


def prose(text: str | None) -> Markup:
    """The HTML of *text*, sanitised; empty for None."""
    if not text:
        return Markup()
    parser = _parser()
    parser.reset()
    html = nh3.clean(
        parser.convert(text),
        tags=_TAGS,
        attributes={"a": {"href"}},
        url_schemes=_SCHEMES,
        link_rel=None,
    )
    return Markup(html)  # noqa: S704 - cleaned by the line above
