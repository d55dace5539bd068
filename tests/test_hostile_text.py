"""Text of the site file stays text: in every field, on every page, it is read and never run.

The complete sample is taken apart; every field of text in its model, also those that the sample
leaves out, gets a payload; and the page is read with an HTML parser, as a browser would.
"""

from __future__ import annotations

import json
import tomllib
from collections.abc import Iterator
from datetime import date
from html.parser import HTMLParser
from typing import Any, get_args, get_origin

import pytest
from pydantic import BaseModel

from planbuilder.plan import Plan, build_plan
from planbuilder.render import to_html
from planbuilder.results import results_json
from planbuilder.site import fields
from planbuilder.site.file import Site
from planbuilder.site.load import load_site
from planbuilder.view.pages import view_of
from planbuilder.view.report import report

PAYLOADS = {
    "script": "<script>alert(1)</script>",
    "template": "{{1234*4321}}{% raw %}{# gone #}${1234*4321}",
    "image": "<img src=x onerror=alert(1)>![map](http://attacker.invalid/m.png)",
    "attribute": "\"' onmouseover=alert(1) x='\" autofocus onfocus=alert(1) y=",
    "markup": "</td></table></style></title></svg><svg/onload=alert(1)><iframe src=//a.invalid>",
    "link": "[go](javascript:alert(1)) <a href=javascript:alert(1)>go</a> [d](data:text/html,x)",
    "css": "</style><style>*{display:none}</style> url(http://attacker.invalid/x) @import 'x'",
    "comment": "<!-- gone --> --> <![CDATA[ gone ]]> &lt;b&gt; &#x3c;script&#x3e;",
}
# Words with a meaning of their own; anything else there is refused.
FIXED = {
    ("PlanFacts", "profile"),
    ("PlanFacts", "overlays"),
    ("Override", "what"),
    ("Override", "value"),
}
OURS = {"html", "head", "meta", "title", "style", "body"} | {
    "section", "div", "span", "p", "br", "h1", "h2", "h3", "b", "ul", "ol", "li", "strong", "em",
    "code", "blockquote", "a", "table", "thead", "tbody", "tr", "th", "td", "figure", "svg",
    "figcaption", "path", "circle", "rect", "text", "input", "textarea",
}  # fmt: skip


class Page(HTMLParser):
    """Tags, attributes and text of a page, as a browser sees them."""

    def __init__(self, text: str) -> None:
        """Read *text*."""
        super().__init__(convert_charrefs=True)
        self.tags: list[str] = []
        self.attributes: list[tuple[str, str]] = []
        self.words: list[str] = []
        self.comments: list[str] = []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Keep a tag."""
        self.tags.append(tag)
        self.attributes += [(name, value or "") for name, value in attrs]

    def handle_data(self, data: str) -> None:
        """Keep text."""
        self.words.append(data)

    def handle_comment(self, data: str) -> None:
        """Keep a comment; ours are gone before the page is written."""
        self.comments.append(data)


def models(annotation: Any) -> Iterator[type[BaseModel]]:
    """The models that an annotation names."""
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        yield annotation
    for one in get_args(annotation):
        yield from models(one)


def is_text(field: Any) -> bool:
    """True for a field of plain or formatted text."""

    def checks(annotation: Any) -> Iterator[object]:
        yield from (getattr(one, "func", None) for one in get_args(annotation)[1:])
        for one in get_args(annotation):
            yield from checks(one)

    found = [getattr(one, "func", None) for one in field.metadata]
    return fields._plain_text in (*found, *checks(field.annotation))


def is_list(annotation: Any) -> bool:
    """True for a list of texts, which may be left out."""
    return get_origin(annotation) is list or any(is_list(one) for one in get_args(annotation))


def model_of(candidates: list[type[BaseModel]], entry: dict[str, Any]) -> type[BaseModel]:
    """The model of *entry*: the one, or of several the one for its kind."""
    if len(candidates) == 1:
        return candidates[0]
    return next(
        one for one in candidates if entry["kind"] in get_args(one.model_fields["kind"].annotation)
    )


def fill(model: type[BaseModel], entry: dict[str, Any], payload: str, where: str) -> Iterator[str]:
    """Put the payload into every text field of *entry*; yields where it was put."""
    for name, field in model.model_fields.items():
        below = list(models(field.annotation))
        if below and name in entry:
            inside = entry[name] if isinstance(entry[name], list) else [entry[name]]
            for one in inside:
                yield from fill(model_of(below, one), one, payload, f"{where}.{name}")
        elif is_text(field) and (model.__name__, name) not in FIXED:
            entry[name] = [payload] if is_list(field.annotation) else payload
            yield f"{where}.{name}"


def toml(value: object) -> str:
    """A value as TOML on one line; JSON's strings are TOML's."""
    match value:
        case dict():
            return "{" + ", ".join(f"{key} = {toml(one)}" for key, one in value.items()) + "}"
        case list():
            return "[" + ", ".join(toml(one) for one in value) + "]"
        case date():
            return value.isoformat()
        case _:
            return json.dumps(value, ensure_ascii=False)


@pytest.fixture(scope="module", params=PAYLOADS)
def attacked(request, sample, on, tmp_path_factory) -> tuple[Plan, str]:
    """The plan of a site whose every text is a payload, and the payload."""
    payload = PAYLOADS[request.param]
    data = tomllib.loads(sample("pump_station").read_text(encoding="utf-8"))
    data["service"] = [{"id": "town", "name": "", "kind": "public", "phone": ""}]
    data["space"][0]["rescue"]["fallback"]["service"] = "town"
    data["override"] = [
        {"what": "clothing-mass", "value": "4 kg", "reason": "", "by": "", "on": date(2026, 11, 2)}
    ]
    put = list(fill(Site, data, payload, "site"))
    assert len(set(put)) > 60
    path = tmp_path_factory.mktemp("hostile") / "site.toml"
    path.write_text(
        "\n".join(f"{key} = {toml(value)}" for key, value in data.items()), encoding="utf-8"
    )
    return build_plan(load_site(path), on=on), payload


@pytest.fixture(scope="module")
def page(attacked) -> Page:
    """The page of the attacked plan."""
    return Page(to_html(view_of(attacked[0])))


def test_no_tag_of_the_author_becomes_a_tag_of_the_page(page):
    assert set(page.tags) <= OURS
    assert page.tags.count("title") == 1 + page.tags.count("svg")
    assert page.tags.count("style") == 2


def test_no_attribute_runs_or_fetches_anything(page):
    names = {name for name, _ in page.attributes}

    assert [name for name in names if name.startswith("on")] == []
    assert names & {"src", "srcset", "action", "formaction", "data", "style", "xlink:href"} == set()
    links = [value for name, value in page.attributes if name == "href"]
    assert [one for one in links if not one.startswith(("#", "http://", "https://"))] == []


def test_no_template_of_the_author_is_worked_out(page):
    """1234 * 4321 is 5332114."""
    assert "5332114" not in "".join(page.words)


def test_no_comment_swallows_the_rest(page):
    assert page.comments == []
    assert any("Documents cited" in one for one in page.words)


def test_the_text_of_the_author_is_read_letter_by_letter(page, attacked):
    """Fields of plain text, at least: title, names, phones, places."""
    _, payload = attacked

    assert "".join(page.words).count(payload) > 60


def test_the_styles_of_the_page_are_ours_alone(page, attacked):
    _, payload = attacked
    styles = [one for one in page.words if "@page" in one or "font-family" in one]

    assert styles
    assert not any(payload in one for one in styles)


def test_the_other_outputs_keep_the_text_as_well(attacked):
    plan, payload = attacked

    data = json.loads(results_json(plan))

    assert data["plan"]["number"] == payload
    assert payload.split()[0] in report(plan, "site.toml", everything=True)
