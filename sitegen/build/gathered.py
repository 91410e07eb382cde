"""What one build gathers on its way from stage to stage."""

from collections.abc import Callable
from dataclasses import dataclass, field

from sitegen.build.bought import Ledger
from sitegen.build.event import Worked
from sitegen.build.pages import Shots
from sitegen.build.quick import Survey
from sitegen.build.sealed import Issue, Unsealed
from sitegen.build.settings import Settings
from sitegen.build.shelves import Besides
from sitegen.build.staging import Staging
from sitegen.build.state import Made
from sitegen.check.shared import SharedFound
from sitegen.pictures.memo import Memo
from sitegen.pictures.store import Store
from sitegen.seal.keys import Secrets
from sitegen.theme import Theme
from sitegen.values.problem import Problem

Progress = Callable[[str, int, int], None]


def silent(_stage: str, _done: int, _total: int) -> None:
    """A progress that nobody watches."""


@dataclass(slots=True)
class Run:
    """One build: what was found, where it writes, and what came of each event so far."""

    found: Survey
    checked: SharedFound
    staging: Staging
    sealing: Staging
    store: Store
    memo: Memo
    ledger: Ledger
    progress: Progress
    problems: list[Problem]
    themes: dict[str, tuple[Theme | None, list[Problem]]] = field(default_factory=dict)
    made: dict[str, Made] = field(default_factory=dict)
    own: dict[str, Theme] = field(default_factory=dict)
    shown: dict[str, tuple[Worked, Theme, Shots]] = field(default_factory=dict)
    issues: dict[str, Issue] = field(default_factory=dict)
    unsealed: dict[str, Unsealed] = field(default_factory=dict)
    plain: dict[str, Secrets] = field(default_factory=dict)
    beside: Besides = field(default_factory=dict)

    @property
    def settings(self) -> Settings:
        return self.found.settings
