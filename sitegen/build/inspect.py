"""All stages through the order, on everything, writing nothing."""

from functools import partial

from sitegen.build.bought import buyer_of, open_ledger
from sitegen.build.event import Worked, photo_problems, work_out
from sitegen.build.gathered import Progress, silent
from sitegen.build.keys import theme_folders
from sitegen.build.last_orders import last_order
from sitegen.build.pages import shots, theme_of
from sitegen.build.quick import Outcome, Survey
from sitegen.check.shared import check_shared
from sitegen.order.hire import hire_notes, outs_of
from sitegen.order.shelf import elsewhere
from sitegen.pictures.make import verify
from sitegen.pictures.memo import Memo
from sitegen.pictures.plan import Job
from sitegen.pictures.store import Store
from sitegen.report import finding
from sitegen.values.problem import Problem, has_errors, in_order


def inspect(found: Survey, progress: Progress = silent) -> Outcome:
    """Find every problem: of the shared files, of each event, and of photos, which are decoded."""
    checked = check_shared(found.tree)
    problems: list[Problem] = list(checked.problems)
    worked: list[Worked] = []
    jobs: list[Job] = []
    memo, buyer = Memo(), buyer_of(open_ledger(found.settings.home))
    last = partial(last_order, found.settings.home)
    for done, files in enumerate(found.tree.events):
        progress("Events", done, len(found.tree.events))
        one, more = work_out(files, checked, found.settings.today, memo, buyer, last)
        problems += more
        if one is not None:
            theme, wrong = theme_of(one, theme_folders(found.settings))
            problems += wrong
            worked.append(one)
            jobs += shots(one, theme).jobs if theme else ()
    beside = elsewhere({one.folder.id: outs_of(one.order) for one in worked})
    for one in worked:
        problems += hire_notes(one.order, beside[one.folder.id], found.settings.today)
    store = Store(found.settings.home / "cache" / "pictures")
    faults = {fault.path: fault for fault in verify(jobs, store, lambda a, b: progress("Pictures", a, b))}
    for one in worked if faults else ():
        problems += photo_problems(one.folder, faults)
    told = tuple(finding(problem) for problem in in_order(problems))
    return Outcome(told, not has_errors(problems), kept=tuple(one.folder.id for one in worked))
