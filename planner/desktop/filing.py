"""Opening and saving days: reads the text, holds the file against other windows, and keeps the plan beside it."""

from dataclasses import dataclass
from pathlib import Path

from planner.day.day import FORMAT
from planner.day.holding import FileInUse, Hold, hold
from planner.day.reading import DAY_LIMIT
from planner.day.safekeeping import FileFault, SaveFault, followed, read_text, save_text
from planner.desktop.draft import Draft
from planner.desktop.open_day import OpenDay

PLAN_ENDING = ".plan.json"


@dataclass
class Filed:
    """An open day with the hold on its file; None while it has none or is read only.

    ``on_disk`` is the text that the file had when it was last read or written here; None while it was neither.
    """

    open_day: OpenDay
    held: Hold | None = None
    on_disk: str | None = None

    def let_go(self) -> None:
        """Let others write the file."""
        if self.held is not None:
            self.held.let_go()
            self.held = None


def plan_path(path: Path) -> Path:
    """Where the plan of a day file is kept."""
    return path.with_suffix(PLAN_ENDING)


def open_file(path: Path, *, read_only: bool = False, take_over: bool = False) -> Filed:
    """Open a day file, and its plan when one lies beside it that still holds.

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
    filed = Filed(OpenDay(text, followed(path), read_only=read_only), held, text)
    _take_plan(filed.open_day)
    return filed


def save_file(filed: Filed, path: Path) -> None:
    """Save the day and, beside it, its plan.

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
    from planner.plan.file import plan_to_json

    if open_day.plan is not None and open_day.day is not None:
        save_text(plan_path(path), plan_to_json(open_day.plan, open_day.day))


def _take_plan(open_day: OpenDay) -> None:
    """Show the plan kept beside the day, if it is for this day as it is now and breaks no rule."""
    if open_day.path is None or open_day.day is None or not plan_path(open_day.path).is_file():
        return
    from planner.plan.checker import broken_rules
    from planner.plan.file import PlanFault, plan_from_json

    try:
        plan = plan_from_json(read_text(plan_path(open_day.path)))
    except (FileFault, PlanFault):
        return
    if not broken_rules(open_day.day, plan):
        open_day.keep_plan(plan)
