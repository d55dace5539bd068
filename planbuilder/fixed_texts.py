"""What stands in every plan whatever its layout: status, notice, cautions. Looked for afterwards.

A layout may move these words, not take them away, and it may bring nothing that runs or that
loads from elsewhere.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterator
from html.parser import HTMLParser
from typing import Any

from planbuilder.errors import PlanbuilderError
from planbuilder.theme import Layout
from planbuilder.view.model import PlanView

RUNS_OR_LOADS = frozenset(
    ("script", "iframe", "frame", "object", "embed", "applet", "link", "base", "audio", "video")
)
NOT_SEEN = frozenset(("head", "style", "template", "noscript", "title", "details", "dialog"))
HIDDEN_STYLE = re.compile(r"display:none|visibility:(hidden|collapse)|opacity:0|font-size:0")
EMPTY_TAGS = frozenset(("br", "hr", "img", "input", "meta", "wbr", "col", "source"))


def fixed_texts(view: PlanView) -> Iterator[str]:
    """The words that no layout takes away."""
    yield view.status
    yield view.short_notice  # says "Not a permit"
    for head, text in view.notice:
        yield f"{head} {text}"
    yield from view.usual_cautions
    if not view.ready:
        for one in view.spaces:  # on the card of the attendant, and on that of the leader
            yield from (f"{view.status}: {one.attendant.not_ready}",) * 2


class _Seen(HTMLParser):
    """The words of a page that a reader sees, and what in it runs or loads."""

    def __init__(self) -> None:
        super().__init__(convert_charrefs=True)
        self.words: list[str] = []
        self.active: list[str] = []
        self._open: list[tuple[str, bool]] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        values = {name: value or "" for name, value in attrs}
        if tag in RUNS_OR_LOADS or values.get("http-equiv", "").lower() == "refresh":
            self.active.append(f"<{tag}>")
        self.active += [f"{one}=" for one in values if one.startswith("on")]
        link = values.get("href", "").strip().lower()
        if link.startswith(("javascript:", "data:", "vbscript:")):
            self.active.append(f'href="{link.partition(":")[0]}:"')
        style = re.sub(r"\s", "", values.get("style", ""))
        hidden = tag in NOT_SEEN or "hidden" in values or bool(HIDDEN_STYLE.search(style))
        if tag not in EMPTY_TAGS:
            self._open.append((tag, hidden))

    def handle_endtag(self, tag: str) -> None:
        names = [name for name, _ in self._open]
        if tag in names:
            del self._open[len(names) - 1 - names[::-1].index(tag) :]

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.handle_starttag(tag, attrs)
        self.handle_endtag(tag)

    def handle_data(self, data: str) -> None:
        if not any(hidden for _, hidden in self._open):
            self.words.append(data)


def squeezed(text: str) -> str:
    """*text* without white space: lines break where they like."""
    return "".join(text.split())


def check_page(html: str, view: PlanView, layout: Layout) -> None:
    """Raise PlanbuilderError where the page lacks a fixed text, or holds more than text."""
    seen = _Seen()
    seen.feed(html)
    seen.close()
    if seen.active:
        message = (
            f"{layout.folder}: a plan is text and pictures; its templates may not hold "
            f"{', '.join(dict.fromkeys(seen.active))}"
        )
        raise PlanbuilderError(message)
    _all_there(squeezed("".join(seen.words)), view, layout)


def check_paper(document: Any, view: PlanView, layout: Layout) -> None:  # noqa: ANN401
    """The same on paper, where a style sheet may hide more: every page has the status."""
    whole = []
    for number, page in enumerate(document.pages, 1):
        root, *margins = page._page_box.children  # noqa: SLF001 - only the boxes say what is seen
        words = _words_of(root)
        whole.append(words)
        if squeezed(view.status) not in "".join((words, *map(_words_of, margins))):
            message = f'{layout.folder}: page {number} must say "{view.status}", and does not'
            raise PlanbuilderError(message)
    _all_there("".join(whole), view, layout)


def _words_of(box: Any) -> str:  # noqa: ANN401 - WeasyPrint has no types
    return squeezed(
        "".join(
            one.text
            for one in (box, *box.descendants(placeholders=True))
            if hasattr(one, "text") and one.style["visibility"] == "visible"
        )
    )


def _all_there(words: str, view: PlanView, layout: Layout) -> None:
    for text, times in Counter(fixed_texts(view)).items():
        if words.count(squeezed(text)) < times:
            message = f'{layout.folder}: leaves out, or hides, what every plan says: "{text}"'
            raise PlanbuilderError(message)
