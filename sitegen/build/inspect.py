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
    """Find every problem: of the shared files, of each event that is wanted, and of their photos, decoded.

    All events are worked out, since what one has out on hire lacks another.
    """
    checked = check_shared(found.tree)
    problems: list[Problem] = list(checked.problems)
    worked: list[Worked] = []
    jobs: list[Job] = []
    memo, buyer = Memo(), buyer_of(open_ledger(found.settings.home))
    last = partial(last_order, found.settings.home)
    for done, files in enumerate(found.tree.events):
        progress("Events", done, len(found.tree.events))
        one, more = work_out(files, checked, found.settings.today, memo, buyer, last)
        told = files.id in found.wanted
        problems += more if told else ()
        if one is not None:
            worked.append(one)
        if one is not None and told:
            theme, wrong = theme_of(one, theme_folders(found.settings))
            problems += wrong
            jobs += shots(one, theme).jobs if theme else ()
    beside = elsewhere({one.folder.id: outs_of(one.order) for one in worked})
    asked = [one for one in worked if one.folder.id in found.wanted]
    for one in asked:
        problems += hire_notes(one.order, beside[one.folder.id], found.settings.today)
    store = Store(found.settings.home / "cache" / "pictures")
    faults = {fault.path: fault for fault in verify(jobs, store, lambda a, b: progress("Pictures", a, b))}
    for one in asked if faults else ():
        problems += photo_problems(one.folder, faults)
    findings = tuple(finding(problem) for problem in in_order(problems))
    return Outcome(findings, not has_errors(problems), kept=tuple(one.folder.id for one in asked))
