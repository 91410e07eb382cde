"""The build, as one straight line: check, work out, render, make pictures, swap.

Everything is written beside what is there; with a single error it is thrown
away again, and the old output stays.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace
from functools import partial

from sitegen.build import joint, keys, outside, pages, placing, sealed, staging, state
from sitegen.build.applied import apply
from sitegen.build.bought import buyer_of, open_ledger, save_ledger
from sitegen.build.event import Worked, photo_problems, work_out
from sitegen.build.gathered import Progress, Run, silent
from sitegen.build.kept import still_good
from sitegen.build.last_orders import keep_last, last_order
from sitegen.build.pages import Shots
from sitegen.build.quick import DESK, MAILED, SEALED, SITE_FILES, Outcome, Survey
from sitegen.build.shelves import besides, fill, to_make_again
from sitegen.build.state import Made, State
from sitegen.check.shared import check_shared
from sitegen.model.content import Shared
from sitegen.order.hire import hire_notes, outs_of
from sitegen.order.shelf import stamp
from sitegen.pictures.make import make
from sitegen.pictures.memo import open_memo, save_memo
from sitegen.pictures.sketch.make import make_sketches
from sitegen.pictures.store import Store, missing
from sitegen.render import shell
from sitegen.render.couple import CouplePage
from sitegen.render.desk_index import DeskRow, row_from_json, row_to_json
from sitegen.render.desk_kept import OrderedTogether
from sitegen.render.sketched import unpainted, without
from sitegen.render.standing import Standing, approved
from sitegen.render.voice import voice_for
from sitegen.report import Finding, finding
from sitegen.theme import Theme
from sitegen.values.problem import Problem, has_errors, in_order


def build(found: Survey, progress: Progress = silent) -> Outcome:
    """Build what *found* says is stale, keep the rest, and swap the desk.

    With an error nothing is changed. Raises OSError where the disk refuses,
    after clearing away what was begun.
    """
    checked = check_shared(found.tree)
    store = Store(found.settings.home / "cache" / "pictures")
    begun, sealing = (staging.begin(found.settings.out, name) for name in (DESK, SEALED))
    memo, ledger = open_memo(store), open_ledger(found.settings.home)
    run = Run(found, checked, begun, sealing, store, memo, ledger, progress, list(checked.problems))
    there = found.settings.out.exists()
    try:
        return _build(run, len(checked.problems))
    finally:
        # Whatever ended the run: after a swap there is nothing beside, before it nothing may stay.
        staging.discard(begun)
        staging.discard(sealing)
        if not there:
            staging.leave_no_empty(found.settings.out)


def _build(run: Run, shared_problems: int) -> Outcome:
    run.beside = besides(run.found, {})
    run.own, wrong = pages.own_themes(keys.theme_folders(run.settings))
    run.problems += wrong
    for done, event in enumerate(run.found.stale):
        run.progress("Pages", done, len(run.found.stale))
        _event(run, event)
    run.progress("Pages", len(run.found.stale), len(run.found.stale))
    _shelves(run)
    if not has_errors(run.problems):
        _sketches(run)
        _pictures(run)
    if not has_errors(run.problems):
        _seal(run)
    if has_errors(run.problems) or run.checked.shared is None:
        return Outcome(_told(run.problems), ok=False)
    save_memo(run.memo)
    _to_mail(run)
    outcome = _finish(run, run.checked.shared, _told(run.problems[:shared_problems]))
    save_ledger(run.ledger)
    return outcome


def _shelves(run: Run) -> None:
    """Tell each event what the others have out of hire pieces, now that it is known of all."""
    shared = run.checked.shared
    if shared is None:
        return
    told, run.beside = run.beside, besides(run.found, run.made)
    for event in to_make_again(run.found, run.made, told, run.beside, shared):
        run.problems = [one for one in run.problems if (one.code, one.event) != ("hire-short", event)]
        _event(run, event)
    for event in run.made:
        _fill(run, event, shared)


def _fill(run: Run, event: str, shared: Shared) -> None:
    made = run.made[event]
    fill(run.staging, event, made.outs, run.beside[event], shared)
    run.made[event] = replace(made, beside=stamp(run.beside[event]))


def _event(run: Run, event: str) -> None:
    """Work one event out and write its pages beside; problems are gathered."""
    home, today = run.settings.home, run.settings.today
    last = partial(last_order, home)
    worked, problems = work_out(
        run.found.files(event), run.checked, today, run.memo, buyer_of(run.ledger), last
    )
    if worked is None and event not in run.found.wanted:
        return  # what is wrong with an event that was not named is told when it is
    if worked is not None:
        keep_last(home, worked, today)
        problems = [*problems, *hire_notes(worked.order, run.beside.get(event, {}), run.settings.today)]
    run.problems += problems
    if worked is None:
        return
    if run.settings.applied is not None:
        worked, wrong = apply(worked, run.settings.applied)
        problems = [*problems, *wrong]
        run.problems += wrong
    theme, wrong = _theme(run, worked)
    run.problems += wrong
    if theme is None:
        return
    run.issues[event] = sealed.issue_of(worked, run.settings.today)
    shots = pages.shots(worked, theme, quick=run.settings.quick)
    page = _write(run, worked, theme, shots, _told(problems))
    if worked.folder.event.closed is None and not has_errors(run.problems):
        _to_seal(run, worked, theme, shots, page)


def _write(run: Run, worked: Worked, theme: Theme, shots: Shots, told: tuple[Finding, ...]) -> CouplePage:
    """Write an event's pages beside, and note what was made."""
    event, standing = worked.folder.id, _standing(run, worked)
    rendered = pages.event_pages(worked, theme, shots, run.settings.today, told, run.own, standing=standing)
    for name, content in rendered.files.items():
        staging.put(run.staging, f"{event}/{name}", content)
    if event in run.found.mailed or missing(run.store, shots.renditions):
        run.shown[event] = (worked, theme, shots)  # the rest is not kept: hundreds would fill the memory
    pictures = tuple(sorted({f"pictures/{one.name}" for one in shots.renditions}))
    files = tuple(f"{event}/{name}" for name in rendered.files)
    key, secrets = run.found.keys[event], keys.secret_stamp(run.settings, event)
    row = row_to_json(rendered.row)
    outs = outs_of(worked.order)
    run.made[event] = Made(key, files, pictures, row, told, secrets=secrets, outs=outs)
    return rendered.page


def _standing(run: Run, worked: Worked) -> Standing:
    """Say where the page stands: once approved, and nothing newer was sent, all choices are fixed."""
    stand, on = worked.stand, run.issues[worked.folder.id].on
    shared = stand.page.shared
    voice = voice_for(shared.studio.language, shared.currency)
    frozen = approved(stand.approved, stand.page, voice) if stand.approved and stand.settled else None
    return Standing(on, run.settings.today, stand.changed, frozen)


def _to_seal(run: Run, worked: Worked, theme: Theme, shots: Shots, page: CouplePage) -> None:
    """Get an event ready to be published: its secrets are made at its first build."""
    event = worked.folder.id
    own = sealed.secrets_for(run.settings, event, sent=worked.stand.revision is not None)
    if isinstance(own, Problem):
        _tell(run, event, own)
    elif worked.folder.event.sealed:
        run.unsealed[event] = sealed.unsealed(own, run.issues[event], page, theme, shots.all)
    else:
        run.plain[event] = own
        run.shown[event] = (worked, theme, shots)
        _tell(run, event, sealed.open_to_all(worked))


def _tell(run: Run, event: str, problem: Problem) -> None:
    run.problems.append(problem)
    made = run.made[event]
    run.made[event] = replace(made, findings=(*made.findings, finding(problem)))


def _seal(run: Run) -> None:
    """Write what is published of each event beside; what cannot be sealed is a problem."""
    for event, ready in run.unsealed.items():
        files = sealed.seal_page(ready, run.store, run.own[shell.THEME])
        if isinstance(files, Problem):
            run.problems.append(replace(files, event=event))
        else:
            _put_sealed(run, event, files)
    for event, own in run.plain.items():
        worked, theme, shots = run.shown[event]
        page = pages.one_file(worked, theme, shots, _standing(run, worked), run.store)
        _put_sealed(run, event, sealed.in_folder(own, {"index.html": page}))


def _put_sealed(run: Run, event: str, files: Mapping[str, bytes]) -> None:
    for name, content in files.items():
        staging.put(run.sealing, name, content)
    secrets = keys.secret_stamp(run.settings, event)
    names = tuple(f"{SEALED}/{name}" for name in files)
    run.made[event] = replace(run.made[event], sealed=names, secrets=secrets)


def _theme(run: Run, worked: Worked) -> tuple[Theme | None, list[Problem]]:
    """Find the theme of an event once for all events that ask for it."""
    name = worked.folder.event.theme or worked.priced.shared.studio.theme
    if name not in run.themes:
        run.themes[name] = pages.theme_of(worked, keys.theme_folders(run.settings))
    return run.themes[name]


def _sketches(run: Run) -> None:
    """Paint what the cache lacks; pages whose sketch fails are written anew without it."""
    drawings = [one for _worked, _theme, shots in run.shown.values() for one in shots.sketches.drawings]
    failed = make_sketches(drawings, run.store, lambda a, b: run.progress("Sketches", a, b))
    for event, (worked, theme, shots) in list(run.shown.items()) if failed else ():
        fewer = replace(shots, sketches=without(shots.sketches, failed))
        if fewer != shots:
            page = _write(run, worked, theme, fewer, run.made[event].findings)
            _fill(run, event, worked.priced.shared)
            for problem in unpainted(worked.stand.page, shots.sketches, fewer.sketches):
                _tell(run, event, problem)
            if event in run.unsealed:
                own = run.unsealed[event].own
                run.unsealed[event] = sealed.unsealed(own, run.issues[event], page, theme, fewer.all)


def _pictures(run: Run) -> None:
    """Make what the cache lacks; a photo that does not decode is a problem of every piece that shows it."""
    jobs = [job for _worked, _theme, shots in run.shown.values() for job in shots.jobs]
    wrong = {
        fault.path: fault for fault in make(jobs, run.store, lambda a, b: run.progress("Pictures", a, b))
    }
    if wrong:
        for worked, _theme, _shots in run.shown.values():
            run.problems += photo_problems(worked.folder, wrong)


def _to_mail(run: Run) -> None:
    """The single page carries its pictures inside, so it is rendered once they are made."""
    for event in sorted(run.found.mailed & run.shown.keys()):
        worked, theme, shots = run.shown[event]
        page = pages.one_file(worked, theme, shots, _standing(run, worked), run.store)
        name = f"{event}/{MAILED}"
        staging.put(run.staging, name, page)
        made = run.made[event]
        run.made[event] = replace(made, files=(*made.files, name))


def _finish(run: Run, shared: Shared, shared_findings: tuple[Finding, ...]) -> Outcome:
    """Keep what is not stale, write the desk's index, swap, and remember what was made."""
    kept = still_good(run.found, run.made, run.store, run.staging.live)
    both = {**kept, **run.made}
    made = {name: both[name] for name in run.found.keys if name in both}
    pictures = sorted({name for one in made.values() for name in one.pictures})
    rows = [row_from_json(one.row) for one in made.values()]
    in_part = run.settings.quick and len(kept) > len(run.made)
    orders = joint.bring(run, made.keys(), whole=not in_part)
    staging.put(run.staging, "index.html", _index(run, rows, shared, orders))
    for name, content in sealed.site_files(shared.studio.language, run.own[shell.THEME]).items():
        staging.put(run.sealing, name, content)
    if in_part:
        left = placing.swap_changed(run.staging, run.sealing, run.found.state.events, made, run.store)
    else:
        left = placing.swap_whole(run.staging, run.sealing, kept, pictures, run.store)
    names = ["index.html", *pictures, *(name for one in made.values() for name in one.files)]
    key = keys.desk_key(
        run.settings, run.found.base, [made[name].key if name in made else "" for name in run.found.keys]
    )
    settings = run.settings
    published = [f"{SEALED}/{name}" for name in SITE_FILES]
    published += [name for one in made.values() for name in one.sealed]
    seen = {**state.seen(run.staging.live, names), **state.seen(settings.out, published)}
    now = State(made, seen, key, shared_findings)
    state.save(state.state_path(settings.home, settings.content, settings.out), now)
    wanted = [name for name in kept if name not in run.made]
    told = [one for name, of_event in made.items() if _asked(run, name) for one in of_event.findings]
    return Outcome(
        findings=(*shared_findings, *told),
        ok=True,
        made=tuple(run.made),
        kept=tuple(wanted),
        files=len(names),
        pictures=len(pictures),
        unprinted=left,
    )


def _index(run: Run, rows: list[DeskRow], shared: Shared, orders: tuple[OrderedTogether, ...]) -> bytes:
    kept = outside.kept_of(run.settings.home, [row.event for row in rows])
    return pages.desk_index(rows, shared, replace(kept, orders=orders), run.settings.today, run.own)


def _asked(run: Run, event: str) -> bool:
    return not run.settings.events or event in run.found.wanted


def _told(problems: Sequence[Problem]) -> tuple[Finding, ...]:
    return tuple(finding(problem) for problem in in_order(problems))
