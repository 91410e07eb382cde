"""A file's text and places in it. Lines and columns are derived from offsets, never stored."""

from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Source:
    """A file as it was read: the path shown to people, and its text with LF line ends."""

    path: str
    text: str = field(repr=False)


@dataclass(frozen=True, slots=True)
class Place:
    """From *start* to *end* (characters, end not included) in *source*."""

    source: Source
    start: int
    end: int

    @property
    def line(self) -> int:
        return self.source.text.count("\n", 0, self.start) + 1

    @property
    def column(self) -> int:
        return self.start - self._line_start + 1

    @property
    def _line_start(self) -> int:
        return self.source.text.rfind("\n", 0, self.start) + 1

    @property
    def excerpt(self) -> str:
        """The author's own line, whole."""
        end = self.source.text.find("\n", self.start)
        return self.source.text[self._line_start : end if end >= 0 else None]

    @property
    def width(self) -> int:
        """How many characters to underline on the excerpt: at least one, never past its end."""
        rest = len(self.excerpt) - (self.column - 1)
        return max(1, min(self.end - self.start, rest))

    def __str__(self) -> str:
        return f"{self.source.path}:{self.line}:{self.column}"
