"""The page for a screen: one file that needs no other, with its contents and tables that scroll."""

from __future__ import annotations

import base64
import itertools
import re
from collections.abc import Callable
from html import escape, unescape
from pathlib import Path

from planbuilder.errors import PlanbuilderError

Find = Callable[[str], Path | None]
KINDS = {
    ".ttf": "font/ttf",
    ".otf": "font/otf",
    ".woff2": "font/woff2",
    ".png": "image/png",
    ".jpg": "image/jpeg",
    ".jpeg": "image/jpeg",
    ".svg": "image/svg+xml",
}
# A browser then loads nothing and runs nothing, whatever a page may hold.
POLICY = (
    '<meta http-equiv="Content-Security-Policy" content="default-src \'none\'; '
    "style-src 'unsafe-inline'; img-src data:; font-src data:\">"
)
_STYLE = re.compile(r"<style>(.*?)</style>", re.DOTALL)
_ADDRESS = re.compile(r"""url\(\s*(['"]?)([^'")]*)\1\s*\)""")
_TYPE_SIZE = re.compile(r"font-size:\s*([\d.]+pt)")
LEAST_TYPE = "0.875rem"  # 14 px: the small print of paper is too small for a phone
_IMAGE = re.compile(r'(<img\b[^>]*?\ssrc=")([^"]*)(")')
_HEADED = re.compile(r'<section\b[^>]*\bid="([^"]+)".*?<h1>(.*?)</h1>', re.DOTALL)
_FIGURE = re.compile(r"<figure\b([^>]*)>(.*?)</figure>", re.DOTALL)
_ID = re.compile(r'\bid="([^"]+)"')
_TAG = re.compile(r"<[^>]*>")


def screen_page(page: str, find: Find) -> str:
    """*page* as one file: *find* gives the files that it names, each of which goes inside.

    Raises PlanbuilderError for a file that is not there, or of a kind that no page holds.
    """
    sheet_file = find("screen.css")
    if sheet_file is None:
        message = "a file of planbuilder cannot be read; install it again (screen.css)"
        raise PlanbuilderError(message)
    sheet = sheet_file.read_text(encoding="utf-8")
    page = _once(page, "<head>", f"<head>\n{POLICY}")
    page = _once(page, "</head>", f"<style>{sheet}</style>\n</head>")
    page = _STYLE.sub(lambda style: _for_screens(style[0], find), page)
    page = _IMAGE.sub(lambda image: image[1] + _inside(image[2], find) + image[3], page)
    contents = _contents(page)
    numbers = itertools.count(1)
    page = _FIGURE.sub(lambda figure: _with_larger(figure, next(numbers)), page)
    page = re.sub(r"<table\b", '<div class="scroll"><table', page)
    page = page.replace("</table>", "</table></div>")
    return _once(page, "</section>", f"</section>\n{contents}")  # the status comes first


def _once(page: str, mark: str, text: str) -> str:
    if mark not in page:
        message = f"plan.html: must hold {mark} as written here"
        raise PlanbuilderError(message)
    return page.replace(mark, text, 1)


def _for_screens(style: str, find: Find) -> str:
    style = _ADDRESS.sub(lambda one: f"url({_inside(one[2], find)})", style)
    return _TYPE_SIZE.sub(rf"font-size: max(\1, {LEAST_TYPE})", style)


def _inside(name: str, find: Find) -> str:
    """The file *name* as a data: address."""
    if name.startswith("data:"):
        return name
    kind, path = KINDS.get(Path(name).suffix.lower()), find(unescape(name))
    if kind is None or path is None:
        what = "is no file of the layout" if kind else f"is not of kind {', '.join(KINDS)}"
        message = f"{name}: {what}; a page for the screen holds all that it shows"
        raise PlanbuilderError(message)
    return f"data:{kind};base64,{base64.b64encode(path.read_bytes()).decode()}"


def _contents(page: str) -> str:
    """Links to every headed section, in the order of the page."""
    rows = (
        f'<li><a href="#{anchor}">{" ".join(_TAG.sub(" ", head).split())}</a></li>'
        for anchor, head in _HEADED.findall(page)
    )
    links = "\n".join(rows)
    label = escape("On this page")
    return (
        f'<nav class="screen-nav" id="screen-nav" aria-label="{label}">\n'
        f"<p>{label}</p>\n<ol>\n{links}\n</ol>\n</nav>\n"
        '<a class="to-contents" href="#screen-nav">Contents</a>'
    )


def _with_larger(figure: re.Match[str], number: int) -> str:
    """A sketch, with a link that a phone shows it larger by."""
    own = _ID.search(figure[1])
    anchor = own[1] if own else f"figure-{number}"
    name = "" if own else f' id="{anchor}"'
    link = f'<a class="larger" href="#{anchor}">Larger, to scroll</a>'
    return f"<figure{figure[1]}{name}>{figure[2]}{link}</figure>"
