"""The key index against texts whose positions are known because the test wrote them.

Each text is put together token by token, and a count of its line ends says where each key, table
and item came to stand; no parser is asked. The standard library's parser then confirms that the
text is TOML and holds exactly those paths.
"""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from planbuilder.site.positions import KeyIndex

KeyPath = tuple[str | int, ...]

# How a key is written, and what it then says; {n} keeps the keys of a text apart.
KEYS = (
    ("k{n}", "k{n}"),
    ("{n}", "{n}"),
    ("-_{n}", "-_{n}"),
    ('"k {n}"', "k {n}"),
    ('"a.b={n}"', "a.b={n}"),
    ('"#{n}]"', "#{n}]"),
    (r'"q\"{n}"', 'q"{n}'),
    (r'"\u00fc\\{n}"', "ü\\{n}"),
    ("'l\"[{n}'", 'l"[{n}'),
    ("'b\\{n}'", "b\\{n}"),
)
# {nl} stands for the line end of the text.
SCALARS = (
    "7",
    "0x1F",
    "6.5e-3",
    "true",
    "inf",
    "2026-11-02",
    "2026-11-02 07:30:00",
    '"plain"',
    '""',
    "''",
    r'"a \" ] } # , = \\"',
    "'c:\\dir\\'",
    '"""one"""',
    '""""""',
    '"""{nl}two{nl}lines"""',
    '"""{nl}# no comment{nl}[no.table]{nl}no = 1{nl}"""',
    '"""ends in quotes"""""',
    r'"""escaped \""" quotes{nl}"""',
    '"""folded \\{nl}   here"""',
    "'''{nl}it's \\{nl}'''",
    "'''a''b'''''",
)
COMMENTS = ("", "", " # plain", ' # "open', " # [a] = {", " # '''", " #")
GAPS = ("", "{nl}", "{nl}# [not.a.table]{nl}", "{nl}  # k = 1{nl}{nl}", "\t{nl}")
DEEPEST = 3


class Writer:
    """A TOML text in the making, with the line on which each path first stands."""

    def __init__(self, draw: st.DrawFn) -> None:
        """Start an empty text; *draw* makes every choice."""
        self._draw = draw
        self._line_end: str = self.pick("\n", "\r\n")
        self._used = 0
        self.text = ""
        self.lines: dict[KeyPath, int] = {}

    def pick(self, *options: Any) -> Any:
        """One of *options*."""
        return self._draw(st.sampled_from(options))

    def put(self, *texts: str) -> None:
        """Append *texts*."""
        self.text += "".join(texts).replace("{nl}", self._line_end)

    def mark(self, path: KeyPath) -> None:
        """Note that *path* stands here, unless it has stood before."""
        self.lines.setdefault(path, self.text.count("\n") + 1)

    def new_keys(self, *counts: int) -> list[tuple[str, str]]:
        """One of *counts* keys that no other place of the text uses: as written, as read."""
        keys = []
        for _ in range(self.pick(*counts)):
            self._used += 1
            written, says = self.pick(*KEYS)
            keys.append((written.format(n=self._used), says.format(n=self._used)))
        return keys

    def dotted(self, here: KeyPath, keys: list[tuple[str, str]]) -> KeyPath:
        """Append *keys* with dots between them, and mark each below *here*."""
        for number, (written, says) in enumerate(keys):
            if number:
                self.put(self.pick(".", " . ", "\t."))
            here = (*here, says)
            self.mark(here)
            self.put(written)
        return here

    def pair(self, here: KeyPath, depth: int) -> None:
        """Append ``key = value``."""
        path = self.dotted(here, self.new_keys(1, 1, 1, 2, 3))
        self.put(self.pick("=", " = ", "\t=  "))
        self.value(path, depth)

    def value(self, path: KeyPath, depth: int) -> None:
        """Append a value: a list, an inline table, or something plain."""
        kinds = ("plain", "plain", "list", "table") if depth < DEEPEST else ("plain",)
        match self.pick(*kinds):
            case "list":
                self.items(path, depth + 1)
            case "table":
                self.inline_table(path, depth + 1)
            case _:
                self.put(self.pick(*SCALARS))

    def items(self, path: KeyPath, depth: int) -> None:
        """Append a list, on one line or on several with comments between them."""
        self.put("[")
        count = self.pick(0, 1, 2, 4)
        for number in range(count):
            self.put(self.pick(*GAPS))
            self.mark((*path, number))
            self.value((*path, number), depth)
            self.put(self.pick("", " ", *GAPS))
            self.put("," if number < count - 1 else self.pick("", ","))
        self.put(self.pick(*GAPS), "]")

    def inline_table(self, path: KeyPath, depth: int) -> None:
        """Append an inline table."""
        self.put("{")
        for number in range(self.pick(0, 1, 2, 3)):
            self.put(", " if number else " ")
            self.pair(path, depth)
        self.put(" }")

    def table(self, above: KeyPath, header: list[str], depth: int) -> None:
        """Append a new table, or an array of tables, below the one at *above*."""
        keys, many = self.new_keys(1, 2), self.pick(True, False)
        for entry in range(self.pick(1, 2, 3) if many else 1):
            self.put(self.pick(*GAPS), "{nl}", "[[" if many else "[", self.pick("", " "))
            self.put(*(f"{one}." for one in header))
            path = self.dotted(above, keys)
            if many:
                path = (*path, entry)
                self.mark(path)
            self.put(" ]]" if many else "]", self.pick(*COMMENTS), "{nl}")
            self.body(path, [*header, *(written for written, _ in keys)], depth)

    def body(self, here: KeyPath, header: list[str], depth: int) -> None:
        """Append pairs, then tables, that belong to *here*."""
        for _ in range(self.pick(0, 1, 3)):
            self.put(self.pick(*GAPS))
            self.pair(here, depth)
            self.put(self.pick(*COMMENTS), "{nl}")
        for _ in range(self.pick(0, 1, 2) if depth < DEEPEST else 0):
            self.table(here, header, depth + 1)


@st.composite
def written_texts(draw: st.DrawFn) -> Writer:
    """TOML texts with the line of every path in them."""
    writer = Writer(draw)
    writer.body((), [], 0)
    return writer


def paths(value: object, here: KeyPath = ()) -> Iterator[KeyPath]:
    """Every key path of parsed TOML."""
    rows: list[tuple[str | int, object]] = []
    if isinstance(value, dict):
        rows = list(value.items())
    elif isinstance(value, list):
        rows = list(enumerate(value))
    for part, below in rows:
        yield (*here, part)
        yield from paths(below, (*here, part))


@settings(
    max_examples=150,
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow, HealthCheck.data_too_large],
)
@given(written_texts())
def test_every_key_table_and_item_has_the_line_on_which_it_was_written(writer):
    assert set(paths(tomllib.loads(writer.text))) == set(writer.lines)

    index = KeyIndex(writer.text)

    assert {path: index.line(path) for path in writer.lines} == writer.lines


SMALL = """\
top = 1                                      # line 1
"quoted.key" = 2                             # line 2
fruit.colour."of the skin" = "red"           # line 3
list = [                                     # line 4
  "one", # [ not a bracket                   # line 5
  { in = 1, side = [ 7,                      # line 6
      8 ] },                                 # line 7
]
text = '''
[[space]]
depth = 1
'''
[[space]]                                    # line 13
  [space.opening]                            # line 14
  diameter = "24 in"                         # line 15
  [[space.hazard]]                           # line 16
  kind = "heat"                              # line 17
  [[space.hazard]]                           # line 18
[[space]]                                    # line 19
opening = { shape = "round",  diameter = "24 in" }  # line 20
"""


@pytest.mark.parametrize("line_end", ["\n", "\r\n"], ids=["LF", "CRLF"])
@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("top",), 1),
        (("quoted.key",), 2),
        (("fruit", "colour", "of the skin"), 3),
        (("list", 0), 5),
        (("list", 1, "in"), 6),
        (("list", 1, "side", 1), 7),
        (("space", 0), 13),
        (("space", 0, "opening"), 14),
        (("space", 0, "opening", "diameter"), 15),
        (("space", 0, "hazard", 0, "kind"), 17),
        (("space", 0, "hazard", 1), 18),
        (("space", 1), 19),
        (("space", 1, "opening", "diameter"), 20),
    ],
)
def test_each_way_of_writing_a_key_has_its_line(path, line, line_end):
    index = KeyIndex(SMALL.replace("\n", line_end))

    assert index.line(path) == line


@pytest.mark.parametrize(
    ("path", "line"),
    [
        (("space", 0, "opening", "coaming"), 14),
        (("space", 1, "rescue", "primary"), 19),
        (("nothing", "like", "it"), 1),
        ((), 1),
    ],
)
def test_a_key_that_is_missing_has_the_line_of_the_table_that_lacks_it(path, line):
    assert KeyIndex(SMALL).line(path) == line


@pytest.mark.parametrize(
    "name", ["pump_station", "storage_tank", "call_and_wait", "half_measured", "misspelled"]
)
def test_each_key_of_a_sample_is_found_on_a_line_that_names_it(sample, name):
    text = sample(name).read_text(encoding="utf-8")
    index, rows = KeyIndex(text), text.splitlines()

    named = [path for path in paths(tomllib.loads(text)) if isinstance(path[-1], str)]

    assert named
    assert [path for path in named if str(path[-1]) not in rows[index.line(path) - 1]] == []
