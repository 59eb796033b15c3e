"""Opening and saving days: reads the text, holds the file against other windows, and keeps the plan beside it."""

from dataclasses import dataclass, replace
from pathlib import Path

from planner.day.day import FORMAT
from planner.day.holding import FileInUse, Hold, hold
from planner.day.reading import DAY_LIMIT
from planner.day.safekeeping import FileFault, SaveFault, followed, read_text, save_text
from planner.desktop.model.draft import Draft
from planner.desktop.model.open_day import OpenDay
from planner.plan import kept as keeping
from planner.plan.kept import Kept, KeptFault
from planner.plan.progress import NOTHING_TOLD, Progress, ProgressError


@dataclass
class Filed:
    """An open day with the hold on its file; None while it has none or is read only.

    ``on_disk`` is the text that the file had when it was last read or written here; None while it was neither.
    ``kept`` is the plan and the record that lay beside it then, and ``seen`` by which they are known again; where they
    could not be used, ``kept_fault`` says why. ``notice`` is what must be told of the opening, or of the saving.
    """

    open_day: OpenDay
    held: Hold | None = None
    on_disk: str | None = None
    notice: str = ""
    kept: Kept | None = None
    seen: str = ""
    kept_fault: FileFault | None = None

    def let_go(self) -> None:
        """Let others write the file."""
        if self.held is not None:
            self.held.let_go()
            self.held = None


def in_no_file(text: str) -> Filed:
    """A day that has no file yet."""
    return Filed(OpenDay(text))


def open_file(path: Path, *, read_only: bool = False, take_over: bool = False) -> Filed:
    """Open a day file, and what lies beside it: what was marked on the day, and its plan where that still holds.

    Raises `FileFault` when it cannot be read, and `FileInUse` when another window works on it and it is not opened to
    read only.
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
    target = followed(path)
    seen, found, fault = keeping.seen(target), None, None
    try:
        found = keeping.read_kept(target)
    except FileFault as told:
        fault = told
    progress = _marks_in(found)
    open_day = OpenDay(text, target, read_only=read_only, progress=progress)
    open_day.saved_text = text
    filed = Filed(open_day, held, text, kept=found, seen=seen, kept_fault=fault)
    if fault is not None:
        filed.notice = f"{fault.path.name}: {fault.problem}; the day is opened without its plan and its marks"
    elif found is not None:
        _take_plan(filed.open_day, found)
    return filed


def save_file(filed: Filed, path: Path) -> None:
    """Save the day and, beside it, its plan with what was marked on the day.

    The day goes first: a plan that is not for it any more is seen and not shown, a day without its change would be.
    Raises `FileFault`, and saves nothing, when it cannot be saved, another window has taken the file over meanwhile, or
    another program changed it or kept something else beside it.
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
    if target == open_day.path and filed.on_disk is not None and keeping.seen(target) != filed.seen:
        remedy = "save under another name, and open it again to see both"
        wrong = "another program has kept a plan or what was noted of the day since it was opened"
        raise SaveFault(keeping.plan_path(target), wrong, remedy)
    if target != open_day.path:
        filed.kept, filed.seen, filed.kept_fault = None, keeping.seen(target), None
    save_text(target, open_day.draft.text)
    filed.on_disk = open_day.saved_text = open_day.draft.text
    filed.notice = _keep(filed, target)
    open_day.saved_as(target)


def keep_shown(filed: Filed) -> str:
    """Keep the plan that is shown for a day that is saved, so that every command shows the same; what must be told.

    A day with unsaved changes keeps nothing: its plan is kept together with it, when it is saved.
    """
    open_day = filed.open_day
    if open_day.path is None or filed.held is None or not filed.held.is_ours or not open_day.is_clean:
        return ""
    if open_day.plan is None or filed.kept_fault is not None or _is_changed(open_day.path, filed.on_disk):
        return ""
    try:
        return _keep(filed, open_day.path)
    except FileFault as fault:
        return f"The plan is shown, and not kept: {fault}"


def _keep(filed: Filed, path: Path) -> str:
    """Keep the plan and the marks beside the day, where they are others than lie there; gives what must be told."""
    open_day = filed.open_day
    progress = open_day.state.progress
    noted = open_day.record if progress.is_under_way else None
    is_marked_otherwise = progress != _marks_in(filed.kept)
    if open_day.plan is None or open_day.day is None:
        if filed.kept is not None and is_marked_otherwise:
            filed.kept = keeping.keep_record(path, replace(filed.kept, seen=filed.seen), noted)
            filed.seen = filed.kept.seen
        return ""
    is_same = filed.kept is not None and filed.kept.plan == open_day.plan and not filed.kept.is_behind
    if is_same and not is_marked_otherwise:
        return ""
    told = ""
    if isinstance(filed.kept_fault, KeptFault) and filed.kept_fault.is_newer:
        return f"{filed.kept_fault.path.name} is left as it is, a newer slackwater kept it: the plan is not kept"
    if filed.kept_fault is not None or filed.seen == keeping.UNREAD:
        told = ", ".join(f"what could not be read is now {aside.name}" for aside in keeping.set_aside(path))
        filed.seen = keeping.seen(path)
    kept = Kept(open_day.plan, noted, filed.seen)
    filed.seen = keeping.keep(path, open_day.day, kept)
    filed.kept, filed.kept_fault = kept, None
    return told


def _marks_in(kept: Kept | None) -> Progress:
    return NOTHING_TOLD if kept is None or kept.progress is None else kept.progress.as_told()


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


def _take_plan(open_day: OpenDay, kept: Kept) -> None:
    """Show the plan kept beside the day, if it breaks no rule of this day as it is now; proven where nothing changed.

    One that is behind what was told is where the day goes on from.
    """
    if open_day.day is None:
        return
    try:
        found = keeping.held(kept, [open_day.day])
        if found is not None:
            open_day.keep_plan(found.plan, record=kept.progress)
        elif kept.is_behind:
            open_day.go_on_from(kept.plan)
    except ProgressError:
        return
