"""Opening and saving days: reads the text, holds the file against other windows, and keeps the plan beside it."""

from dataclasses import dataclass
from pathlib import Path

from planner.day.day import FORMAT
from planner.day.holding import FileInUse, Hold, hold
from planner.day.reading import DAY_LIMIT
from planner.day.safekeeping import FileFault, SaveFault, followed, read_text, save_text
from planner.desktop.model.draft import Draft
from planner.desktop.model.marks import NOTHING_DONE, Progress, progress_from_text, progress_to_text
from planner.desktop.model.open_day import OpenDay

PLAN_ENDING = ".plan.json"
PROGRESS_ENDING = ".now.json"


@dataclass
class Filed:
    """An open day with the hold on its file; None while it has none or is read only.

    ``on_disk`` is the text that the file had when it was last read or written here; None while it was neither.
    ``notice`` is what must be told of the opening.
    """

    open_day: OpenDay
    held: Hold | None = None
    on_disk: str | None = None
    notice: str = ""

    def let_go(self) -> None:
        """Let others write the file."""
        if self.held is not None:
            self.held.let_go()
            self.held = None


def plan_path(path: Path) -> Path:
    """Where the plan of a day file is kept."""
    return path.with_suffix(PLAN_ENDING)


def progress_path(path: Path) -> Path:
    """Where what was marked on a day is kept."""
    return path.with_suffix(PROGRESS_ENDING)


def open_file(path: Path, *, read_only: bool = False, take_over: bool = False) -> Filed:
    """Open a day file, and what lies beside it: what was marked on the day, and its plan where that still holds.

    Raises
    ------
    FileFault
        When it cannot be read.
    FileInUse
        When another window works on it and it is not opened to read only.
    """
    text = read_text(path, DAY_LIMIT)
    read_only = read_only or _is_newer(text)
    held = None
    if not read_only:
        try:
            held = hold(path, take_over=take_over)
        except FileInUse:
            raise
        except SaveFault:  # a folder in which nothing may be written: it can be read all the same
            read_only = True
    progress, notice = _kept_progress(followed(path))
    filed = Filed(OpenDay(text, followed(path), read_only=read_only, progress=progress), held, text, notice)
    _take_plan(filed.open_day)
    return filed


def save_file(filed: Filed, path: Path) -> None:
    """Save the day and, beside it, its plan and what was marked on the day.

    Raises
    ------
    FileFault
        When it cannot be saved, or another window has taken the file over meanwhile, or another program changed it.
    """
    open_day, target = filed.open_day, followed(path)
    if target != open_day.path or filed.held is None:
        fresh = hold(target)
        filed.let_go()
        filed.held = fresh
    elif not filed.held.is_ours:
        raise SaveFault(target, "another window has taken the file over", "save under another name")
    elif _is_changed(target, filed.on_disk):
        remedy = "save under another name, and open it again to see both"
        raise SaveFault(target, "another program has changed the file since it was opened", remedy)
    save_text(target, open_day.draft.text)
    filed.on_disk = open_day.draft.text
    _save_plan(open_day, target)
    _save_progress(open_day, target)
    open_day.saved_as(target)


def _is_newer(text: str) -> bool:
    """Whether a newer version of this program wrote it: our changes might lose what only that one knows."""
    said = Draft(text).tables.get("format")
    return type(said) is int and said > FORMAT


def _is_changed(path: Path, on_disk: str | None) -> bool:
    """Whether a file holds something else than we last read or wrote; one that is gone may be written anew."""
    try:
        return on_disk is not None and path.exists() and read_text(path) != on_disk
    except FileFault:
        return True


def _save_plan(open_day: OpenDay, path: Path) -> None:
    from planner.plan.plan_file import plan_to_json

    if open_day.plan is not None and open_day.day is not None:
        save_text(plan_path(path), plan_to_json(open_day.plan, open_day.day))


def _save_progress(open_day: OpenDay, path: Path) -> None:
    """Keep the marks; a day on which nothing is marked any more keeps none."""
    progress, plan = open_day.state.progress, plan_path(path)
    text = progress_to_text(progress, read_text(plan)) if plan.is_file() else None
    if text is not None:
        save_text(progress_path(path), text + "\n")
    else:
        progress_path(path).unlink(missing_ok=True)


def _kept_progress(path: Path) -> tuple[Progress, str]:
    """What was marked on a day, and what must be told when it cannot be read."""
    kept = progress_path(path)
    if not kept.is_file() or not plan_path(path).is_file():
        return NOTHING_DONE, ""
    try:
        return progress_from_text(read_text(kept), read_text(plan_path(path))), ""
    except FileFault as fault:
        return NOTHING_DONE, f"{kept.name}: {fault.problem}; the day is opened without its marks"
    except ValueError as fault:
        return NOTHING_DONE, f"{kept.name}: {fault}; the day is opened without its marks"


def _take_plan(open_day: OpenDay) -> None:
    """Show the plan kept beside the day, if it is for this day as it is now and breaks no rule."""
    if open_day.path is None or open_day.day is None or not plan_path(open_day.path).is_file():
        return
    from planner.plan.checker import broken_rules
    from planner.plan.plan_file import PlanFault, plan_from_json
    from planner.plan.progress import ProgressError
    from planner.plan.went import day_as_it_went

    day, progress = open_day.day, open_day.state.progress
    try:
        plan = plan_from_json(read_text(plan_path(open_day.path)))
        if progress.now is not None:
            day, _ = day_as_it_went(day, plan, progress.noted(settled=progress.now))
    except (FileFault, PlanFault, ProgressError):
        return
    if not broken_rules(day, plan, since=progress.now):
        open_day.keep_plan(plan)
