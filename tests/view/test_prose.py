"""Free text: a little Markdown becomes a little HTML, and nothing else gets through."""

from __future__ import annotations

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planbuilder.view.prose import prose

ALLOWED = {"p", "strong", "em", "ul", "ol", "li", "br", "code", "blockquote", "a"}


@pytest.mark.parametrize(
    ("text", "html"),
    [
        ("Nobody goes in.", "<p>Nobody goes in.</p>"),
        ("**Nobody** goes _in_.", "<p><strong>Nobody</strong> goes <em>in</em>.</p>"),
        ("One\n\nTwo", "<p>One</p>\n<p>Two</p>"),
        ("- a\n- b", "<ul>\n<li>a</li>\n<li>b</li>\n</ul>"),
        ("1. a\n2. b", "<ol>\n<li>a</li>\n<li>b</li>\n</ol>"),
        ("Run `check`", "<p>Run <code>check</code></p>"),
        ("[map](https://example.org/x)", '<p><a href="https://example.org/x">map</a></p>'),
        ("[ring](tel:+15550110)", '<p><a href="tel:+15550110">ring</a></p>'),
        ("5 < 6 & 7 > 2", "<p>5 &lt; 6 &amp; 7 &gt; 2</p>"),
        ("<b>bold</b>", "<p>&lt;b&gt;bold&lt;/b&gt;</p>"),
        ("<script>alert(1)</script>", "<p>&lt;script&gt;alert(1)&lt;/script&gt;</p>"),
        ("[go](javascript:alert(1))", "<p><a>go</a></p>"),
        ("[go](data:text/html,x)", "<p><a>go</a></p>"),
        ("[go](FILE:///etc/passwd)", "<p><a>go</a></p>"),
        ("{{ 7*7 }} {% raw %}", "<p>{{ 7*7 }} {% raw %}</p>"),
    ],
)
def test_markdown_becomes_the_html_that_it_means(text, html):
    assert str(prose(text)) == html


@pytest.mark.parametrize(
    "text", ["![map](https://example.org/m.png)", "![][1]\n\n[1]: https://example.org/m.png"]
)
def test_an_image_never_gets_through(text):
    """It would be fetched from somewhere, or be empty where it cannot be."""
    assert "img" not in str(prose(text))
    assert "example.org" not in str(prose(text))


@pytest.mark.parametrize("text", [None, ""])
def test_no_text_is_empty(text):
    assert str(prose(text)) == ""


@pytest.mark.parametrize("text", ["# Status: READY", "Big\n===", "Small\n---"])
def test_a_heading_of_the_author_is_no_heading_of_the_plan(text):
    """Headings make the outline of the document, and the author's would stand among ours."""
    assert re.findall(r"<h\d", str(prose(text))) == []


@given(st.text(alphabet="<>/\"'`=&![]()#*_-:; \nabimgsrcptjv01", max_size=80))
def test_only_the_allowed_tags_come_out_whatever_goes_in(text):
    html = str(prose(text))

    assert set(re.findall(r"</?([a-zA-Z0-9]+)", html)) <= ALLOWED
    assert re.findall(r"<[^>]*\son\w+\s*=", html) == []
