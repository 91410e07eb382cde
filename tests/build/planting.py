"""A canary, or another number, in every private field that the demo has."""

import re
from collections.abc import Callable
from pathlib import Path

CANARY = "QXCANARY"


def each_file(content: Path, pattern: str, change: Callable[[str], str]) -> None:
    for path in sorted(content.glob(pattern)):
        path.write_text(change(path.read_text()))


def plant(content: Path) -> None:
    """Write a canary, or another number, into every private field that the demo has."""

    def shared(text: str) -> str:
        text = re.sub(r"sold_as: \"[^\"]*\"", f'sold_as: "{CANARY}SOLD"', text)
        text = re.sub(r"(?m)^(  private: ).*$", rf"\g<1>{CANARY}STEM", text)
        text = re.sub(r"replace: [0-9.]+", "replace: 7131.13", text)
        return re.sub(r"owned: [0-9]+", "owned: 7131", text)

    def suppliers(text: str) -> str:
        text = re.sub(r"(name: )[^,}\n]+", rf"\g<1>{CANARY}NAME", text)
        text = re.sub(r"(phone: )[^,}\n]+", r"\g<1>555-0199", text)
        return re.sub(r"(email: )[^,}\n]+", rf"\g<1>{CANARY.lower()}@mail.example", text)

    def event(text: str) -> str:
        text = re.sub(r"(?m)^budget: .*$", "budget: 7131.13", text)
        return re.sub(r"(?m)^(\s*private: ).*$", rf"\g<1>{CANARY}NOTE", text)

    each_file(content, "stems.yaml", shared)
    each_file(content, "goods.yaml", shared)
    each_file(content, "suppliers.yaml", suppliers)
    each_file(content, "events/*/*.md", event)
    studio = content / "studio.md"
    studio.write_text(re.sub(r"(pay: )[0-9.]+", r"\g<1>71.31", studio.read_text()))
