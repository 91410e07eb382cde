"""What stands on printed pages: the words of a PDF with their places, read in a hundredth of a second a page."""

from dataclasses import dataclass
from typing import Any

import pypdfium2
import pypdfium2.raw as pdfium

Word = dict[str, Any]
"""`text`, and the edges of its line of type from the upper left corner: `x0`, `x1`, `top`, `bottom`."""


@dataclass(frozen=True)
class Printed:
    """The words of each page with their places, and the first page's size, all in points."""

    pages: tuple[tuple[Word, ...], ...]
    sizes: tuple[tuple[float, float], ...]

    @property
    def width(self) -> float:
        return self.sizes[0][0]

    @property
    def height(self) -> float:
        return self.sizes[0][1]

    def texts(self) -> list[str]:
        return [" ".join(word["text"] for word in page) for page in self.pages]


def read(data: bytes) -> Printed:
    """Read a PDF."""
    document = pypdfium2.PdfDocument(data)
    pages = [document[i] for i in range(len(document))]
    found = Printed(tuple(_words(page) for page in pages), tuple(page.get_size() for page in pages))
    document.close()
    return found


def _words(page: pypdfium2.PdfPage) -> tuple[Word, ...]:
    text, height = page.get_textpage(), page.get_height()
    box = pdfium.FS_RECTF()
    words: list[Word] = []
    between = True
    for i in range(text.count_chars()):
        sign = chr(pdfium.FPDFText_GetUnicode(text, i))
        if sign.isspace() or sign == "\0":
            between = True
            continue
        pdfium.FPDFText_GetLooseCharBox(text, i, box)
        one = {
            "text": sign,
            "x0": box.left,
            "x1": box.right,
            "top": height - box.top,
            "bottom": height - box.bottom,
        }
        if between:
            words.append(one)
        else:
            _join(words[-1], one)
        between = False
    return tuple(words)


def _join(word: Word, sign: Word) -> None:
    word["text"] += sign["text"]
    for edge, outer in (("x0", min), ("x1", max), ("top", min), ("bottom", max)):
        word[edge] = outer(word[edge], sign[edge])
