"""Where each key of a TOML text stands: the smallest index that gives messages a line number.

The standard library's TOML parser keeps no positions. This index reads text that the parser has
already accepted, so it only has to find keys, not to judge them. It runs only when there is
something to report.
"""

from __future__ import annotations

import bisect
import re
import tomllib

Path = tuple[str | int, ...]

_BLANK = re.compile(r"(?:[ \t\r\n]+|#[^\n]*)*")
_SPACE = re.compile(r"[ \t]*")
_KEY = re.compile(r'([A-Za-z0-9_-]+)|"((?:[^"\\]|\\.)*)"|\'([^\']*)\'')
_STRING = re.compile(
    r'"""(?:[^\\]|\\.)*?"{3,5}(?!")|\'\'\'.*?\'{3,5}(?!\')|"(?:[^"\\\n]|\\.)*"|\'[^\'\n]*\'',
    re.DOTALL,
)
_BARE = re.compile(r"[^,\]}\n#]+")


class KeyIndex:
    """Maps a key path such as ("space", 1, "opening", "diameter") to its line."""

    def __init__(self, text: str) -> None:
        """Index *text*, which must be valid TOML."""
        self._text = text
        self._offsets: dict[Path, int] = {}
        self._starts = [0, *(found.end() for found in re.finditer("\n", text))]
        self._counts: dict[Path, int] = {}
        here: Path = ()
        position = self._skip_blank(0)
        while position < len(text):
            if text[position] == "[":
                here, position = self._header(position)
            else:
                position = self._pair(position, here)
            position = self._skip_blank(position)

    def line(self, path: Path) -> int:
        """The line, from 1, of the longest known beginning of *path*; 1 if none is known."""
        for length in range(len(path), 0, -1):
            offset = self._offsets.get(path[:length])
            if offset is not None:
                return bisect.bisect_right(self._starts, offset)
        return 1

    def _skip_blank(self, position: int) -> int:
        found = _BLANK.match(self._text, position)
        return found.end() if found else position

    def _skip_space(self, position: int) -> int:
        found = _SPACE.match(self._text, position)
        return found.end() if found else position

    def _header(self, position: int) -> tuple[Path, int]:
        many = self._text.startswith("[[", position)
        keys, position = self._keys(self._skip_space(position + 1 + many))
        path: Path = ()
        for number, (key, offset) in enumerate(keys):
            path += (key,)
            self._offsets.setdefault(path, offset)
            if many and number == len(keys) - 1:
                self._counts[path] = self._counts.get(path, -1) + 1
            if path in self._counts:  # [a.b] below [[a]] belongs to the last a
                path += (self._counts[path],)
                self._offsets.setdefault(path, offset)
        return path, self._text.index("]", position) + 1 + many

    def _keys(self, position: int) -> tuple[list[tuple[str, int]], int]:
        keys: list[tuple[str, int]] = []
        while True:
            found = _KEY.match(self._text, position)
            if found is None:  # cannot happen in valid TOML
                return keys, position
            name = next(group for group in found.groups() if group is not None)
            if found[2] is not None and "\\" in name:
                name = tomllib.loads(f"k={found[0]}")["k"]
            keys.append((name, position))
            position = self._skip_space(found.end())
            if self._text[position] != ".":
                return keys, position
            position = self._skip_space(position + 1)

    def _pair(self, position: int, here: Path) -> int:
        keys, position = self._keys(position)
        path = here
        for key, offset in keys:
            path += (key,)
            self._offsets.setdefault(path, offset)
        return self._value(self._skip_space(position + 1), path)  # position is at "="

    def _value(self, position: int, path: Path) -> int:
        first = self._text[position]
        if first in "\"'":
            return self._end_of(_STRING, position)
        if first in "[{":
            return self._container(position, path)
        return self._end_of(_BARE, position)

    def _container(self, position: int, path: Path) -> int:
        is_list, item = self._text[position] == "[", 0
        close = "]" if is_list else "}"
        position = self._skip_blank(position + 1)
        while self._text[position] != close:
            if is_list:
                self._offsets[(*path, item)] = position
                position, item = self._value(position, (*path, item)), item + 1
            else:
                position = self._pair(position, path)
            position = self._skip_blank(position)
            if self._text[position] == ",":
                position = self._skip_blank(position + 1)
        return position + 1

    def _end_of(self, pattern: re.Pattern[str], position: int) -> int:
        found = pattern.match(self._text, position)
        return found.end() if found else position + 1
