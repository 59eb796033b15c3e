"""What is kept of a day beside its file: its plan and, once the day is under way, what was noted of it.

Both lie in one file, ``larch.plan.json`` beside ``larch.toml``: the plan as JSON, and in it, under ``record``,
the record. So whatever ends a program while it saves, plan and record are those of before or those of after, never one
of each. Days kept by earlier versions have the record in ``larch.now.json``; it is read on, and goes into the one file
with the next save.

Whoever saves says what they had read (`Kept.seen`); what somebody else has kept meanwhile is not written over.
"""

import hashlib
import json
from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from pathlib import Path

from pydantic import TypeAdapter, ValidationError

from planner.day import Day
from planner.day.holding import hold
from planner.day.safekeeping import LAST_GOOD, FileFault, ReadFault, explained, read_bytes, read_text, save_text
from planner.plan.checker import broken_rules
from planner.plan.plan import PLAN_FORMAT, Plan
from planner.plan.plan_file import MOST_CHARACTERS, PlanFault, plan_from_tables, plan_to_json, tables_from_json
from planner.plan.progress import Progress, ProgressError
from planner.plan.progress_file import PROGRESS_FORMAT, progress_from_json, progress_from_tables, progress_to_tables
from planner.plan.went import day_as_it_went

PLAN_SUFFIX = ".plan.json"
"""What stands in place of a day file's ``.toml`` in the name of the file that is kept beside it."""

RECORD = "record"
"""The name of the record in that file."""

_OLD_RECORD_SUFFIX = ".now.json"

UNREAD = "unread"
"""What `seen` gives for a file that cannot be read at all; nothing was seen of it, so it is never written over."""


class KeptFault(FileFault):
    """What is kept beside a day cannot be used; ``is_newer`` when a newer version of this program kept it."""

    doing = "cannot be used"

    def __init__(self, path: Path, problem: str, remedy: str, *, is_newer: bool = False) -> None:
        super().__init__(path, problem, remedy)
        self.is_newer = is_newer


class KeptMeanwhile(FileFault):
    """Another program has kept something else beside the day since it was read; that is still there."""

    doing = "not saved"

    def __init__(self, path: Path) -> None:
        super().__init__(
            path,
            "another program has kept a plan or a record of the day meanwhile",
            "look at that one first: open the day, or give the command, once more",
        )


@dataclass(frozen=True)
class Kept:
    """A plan with what was noted of it.

    ``seen`` is by which the files they were read from are known again, ``marks`` by which each part of the day that the
    plan is for is (`marks_of`); a plan kept by an earlier version has none. `TOLD_SINCE` is among them where the plan
    was not made of the record.
    """

    plan: Plan
    progress: Progress | None = None
    seen: str = field(default="", compare=False)
    marks: dict[str, str] = field(default_factory=dict, compare=False)

    @property
    def is_behind(self) -> bool:
        """Whether something was told since the plan was made, of which there is no plan: it holds no longer."""
        return TOLD_SINCE in self.marks


TOLD_SINCE = "what was told of the day"
"""The part of a day that has a mark only where the plan is behind its record."""


MARKS = "of"
"""The name of the marks of the day in that file."""

_MARKS = TypeAdapter(dict[str, str])


def marks_of(day: Day) -> dict[str, str]:
    """By which each part of a day is known again: the part in words, and a short mark of all that it says.

    It goes by what the day means, at its pace and with its hands, not by how its file is written: comments, order and a
    recipe in place of its stages change nothing.
    """
    told = day.model_dump(mode="json")
    jobs, weather = told.pop("jobs"), told.pop("weather", None)
    if told["sure"] is None:  # as in plans that were kept before there was the word
        told.pop("sure")
    for piece in told["kit"].values():  # as where nothing said was no time
        piece["rinse_out"] = piece["rinse_out"] or "0 min"
    parts = {f"the job '{key}'": job for key, job in jobs.items()}
    parts |= {"the forecast": weather, "the order of the jobs": list(jobs)}
    parts |= {_WORDS.get(name, f"the {name.replace('_', ' ')}"): value for name, value in told.items()}
    return {words: hashlib.sha256(json.dumps(part).encode()).hexdigest()[:16] for words, part in parts.items()}


_WORDS = {
    "start": "when the day starts",
    "finish": "when the day ends",
    "rest": "the break",
    "sure": "how sure the day is to be",
    "kit": "the kit",
}


def changed_since(kept: Kept, day: Day) -> tuple[str, ...]:
    """The parts of a day that changed since the plan was kept, in words; for an old plan none is known."""
    told = (TOLD_SINCE,) if kept.is_behind else ()
    before = {words: mark for words, mark in kept.marks.items() if words not in told}
    if not before:
        return told
    now = marks_of(day)
    return (*(words for words in {**before, **now} if before.get(words) != now.get(words)), *told)


def holds_for(kept: Kept, day: Day) -> Day | None:
    """The day that a kept plan is a plan of: the day itself or, under way, as it went; None where it breaks a rule.

    Raises `ProgressError` when what was noted does not go with the day any more.
    """
    if kept.is_behind:
        return None
    since = None
    if kept.progress is not None:
        since = kept.progress.at
        day, _ = day_as_it_went(day, kept.plan, replace(kept.progress, settled=since))
    return None if broken_rules(day, kept.plan, since=since) else day


@dataclass(frozen=True)
class KeptDay:
    """A day for which what is kept still holds: as its file says and, under way, as it went; with its plan.

    ``changed`` are the parts of the day that changed since, in words: its plan keeps every rule, and is proven no more.
    """

    by_file: Day
    day: Day
    plan: Plan
    changed: tuple[str, ...] = ()


def held(kept: Kept, days: Iterable[Day]) -> KeptDay | None:
    """Of a day read at several paces that for which what is kept holds, unchanged if it is; None where for none.

    A proof is of the day as it was: that nothing is better says nothing of a day that got one more hand since.
    Raises `ProgressError` when what was noted does not go with the day any more.
    """
    found: KeptDay | None = None
    for by_file in days:
        changed = changed_since(kept, by_file)
        day = None if changed and found else holds_for(kept, by_file)
        if day is not None and not changed:
            return KeptDay(by_file, day, kept.plan)
        if day is not None:
            found = KeptDay(by_file, day, replace(kept.plan, proof=None), changed)
    return found


def why_not_held(kept: Kept, day: Day) -> str:
    """Why what is kept is no plan of a day any more, in words."""
    if kept.progress is not None:
        changed = "the day was changed since it was planned last"
        return f"there is no plan of {TOLD_SINCE}" if kept.is_behind else changed
    return changed_words(changed_since(kept, day)) or broken_rules(day, kept.plan)[0].text


def changed_words(changed: tuple[str, ...]) -> str:
    """What changed since, in words; empty where nothing did."""
    return f"changed since: {', '.join(changed)}" if changed else ""


def plan_path(file: Path) -> Path:
    """Where the plan of a day file is kept, with the record of the day."""
    return file.with_suffix(PLAN_SUFFIX)


def old_record_path(file: Path) -> Path:
    """Where earlier versions kept the record."""
    return file.with_suffix(_OLD_RECORD_SUFFIX)


def seen(file: Path) -> str:
    """By which all that is kept beside a day file is known again; empty when nothing is."""
    marks = []
    for path in (plan_path(file), old_record_path(file)):
        if path.exists() or path.is_symlink():
            try:
                marks.append(hashlib.sha256(read_bytes(path)).hexdigest())
            except ReadFault:
                return UNREAD
        else:
            marks.append("")
    return ",".join(marks) if any(marks) else ""


def read_kept(file: Path) -> Kept | None:
    """What is kept beside a day file; None when nothing is.

    Raises
    ------
    FileFault
        When it cannot be read, is of a newer version (`KeptFault.is_newer`) or makes no sense; the text says where.
    """
    path, old = plan_path(file), old_record_path(file)
    if not (path.exists() or path.is_symlink()):
        return None
    mark = seen(file)
    text = read_text(path)
    try:
        tables = tables_from_json(text)
        plan = plan_from_tables(tables)
    except PlanFault as fault:
        newer = _is_newer(text, "", PLAN_FORMAT)
        wrong = f"{fault.place}: {fault.wrong}" if fault.place else fault.wrong
        raise KeptFault(path, wrong, fault.right, is_newer=newer) from None
    try:
        marks = _MARKS.validate_python(tables.get(MARKS, {}))
        if RECORD in tables:
            return Kept(plan, progress_from_tables(tables[RECORD]), mark, marks)
    except ProgressError as fault:
        newer = _is_newer(text, RECORD, PROGRESS_FORMAT)
        raise KeptFault(path, f"{RECORD}: {fault}", _remedy(newer), is_newer=newer) from None
    except ValidationError:
        raise KeptFault(path, f"{MARKS}: it is no table of texts", "plan the day again") from None
    if not (old.exists() or old.is_symlink()):
        return Kept(plan, None, mark, marks)
    said = read_text(old)
    try:
        return Kept(plan, progress_from_json(said, text), mark)
    except ProgressError as fault:
        newer = _is_newer(said, "", PROGRESS_FORMAT)
        raise KeptFault(old, str(fault), _remedy(newer), is_newer=newer) from None


def keep(file: Path, day: Day, kept: Kept) -> str:
    """Keep a plan and what was noted of it beside a day file, both or neither.

    Parameters
    ----------
    file
        The day file.
    day
        The day that the plan is for.
    kept
        What is to be kept; its ``seen`` says what is there now, as far as the caller knows (empty: nothing).

    Returns
    -------
    str
        What `seen` gives from now on.

    Raises
    ------
    KeptMeanwhile
        When something else is there by now.
    SaveFault
        When it cannot be saved; what was there is still there.
    """
    return _save(file, _text(plan_to_json(kept.plan, day), kept.progress, marks_of(day)), kept.seen)


def keep_record(file: Path, kept: Kept, progress: Progress | None) -> Kept:
    """Keep another record with the plan that is kept already, and is behind it from now on.

    Parameters
    ----------
    file
        The day file.
    kept
        What is kept, as far as the caller knows.
    progress
        The other record; None for none any more.

    Returns
    -------
    Kept
        What is kept from now on.

    Raises
    ------
    KeptMeanwhile, SaveFault
        As of `keep`.
    """
    marks = kept.marks | {TOLD_SINCE: ""}
    seen = _save(file, _text(read_text(plan_path(file)), progress, marks), kept.seen)
    return replace(kept, progress=progress, seen=seen, marks=marks)


def set_aside(file: Path) -> tuple[Path, ...]:
    """Give what is kept beside a day other names, under which it stays; gives those names.

    Raises `SaveFault` when nothing may be renamed there.
    """
    aside = []
    for path in (plan_path(file), old_record_path(file)):
        if path.exists() or path.is_symlink():
            number = 1
            while (name := path.with_name(f"{path.name}.aside-{number}")).exists():
                number += 1
            with explained(path):
                path.rename(name)
            aside.append(name)
    return tuple(aside)


def _save(file: Path, text: str, before: str) -> str:
    path, old = plan_path(file), old_record_path(file)
    with hold(path):  # nobody else keeps anything between the look and the save
        if before == UNREAD or seen(file) != before:
            raise KeptMeanwhile(path)
        save_text(path, text)
        if old.exists():  # it goes with a plan that is no more, and would not be read again
            with explained(old):
                old.replace(old.with_name(old.name + LAST_GOOD))
        return seen(file)


def _text(plan: str, progress: Progress | None, marks: dict[str, str]) -> str:
    tables = {name: value for name, value in json.loads(plan).items() if name != RECORD}
    tables[MARKS] = marks
    if progress is not None:
        tables[RECORD] = progress_to_tables(progress)
    text = json.dumps(tables, ensure_ascii=False, indent=1) + "\n"
    assert len(text) <= MOST_CHARACTERS
    return text


def _remedy(newer: bool) -> str:
    return "install a newer slackwater" if newer else "put it right, or plan the day again, which forgets the record"


def _is_newer(text: str, place: str, ours: int) -> bool:
    """Whether the JSON at a place says a later version than ours."""
    try:
        tables = json.loads(text)
        said = (tables[place] if place else tables)["format"]
    except (ValueError, RecursionError, KeyError, TypeError):
        return False
    return type(said) is int and said > ours
