"""What a command tells of a day under way: its words, and the record that they make."""

import argparse
from collections.abc import Collection, Sequence
from dataclasses import replace
from typing import Any

from planner.cli.telling import Told
from planner.day import Day
from planner.day.faults import nearest, suggestion
from planner.day.names import Names
from planner.plan.doubts import Arrived, GivenUp, Gone
from planner.plan.fetching import with_fetch
from planner.plan.pieces import part_done, with_pieces
from planner.plan.plan import Plan
from planner.plan.progress import More, Noted, Progress, corrected
from planner.plan.told_items import told_items
from planner.trade.units import clock, minutes, show_clock, show_minutes

Stage = tuple[str, str]
"""A job and a stage of it."""

_TABLE = (
    ("--done", "STAGE@TIME", "stages that are done, and since when"),
    ("--begun", "STAGE@TIME", "stages under way, and since when"),
    ("--half", "STAGE=PART@TIME", "stages left half done, and when: 'fill=18 of 24 m2@14:10', 'wash=40 %%@11:00'"),
    ("--rest-takes", "STAGE=MINUTES", "how long the rest of a stage that is half done takes: 'fill=25 min'"),
    ("--by", "STAGE=HAND[,HAND]", "who did a stage, where those of the plan did not: 'wash=ash'"),
    ("--not-yet", "STAGE", "stages that are not begun, though it was their time"),
    ("--not-up", "STAGE", "stages whose covers still lie, though they should be up"),
    ("--dropped", "STAGE", "stages given up for today"),
    ("--back", "STAGE", "stages of which what was told was wrong: it is taken back"),
    ("--not-so", "WHAT", "what else was told and is not so: 'rain', 'gone=ash', 'without=broom', 'more=sweep'"),
    ("--more", "STAGE=MINUTES", "what a customer asks for beyond the plan: 'sweep=20 min'"),
    ("--arrived", "JOB@TIME", "when the van really got there"),
    ("--gone", "HAND@TIME", "hands who went home"),
    ("--late", "HAND@TIME", "hands who are there only from then"),
    ("--without", "KIT[@TIME]", "kit that is broken or was forgotten, and when it is there again, if it is today"),
    ("--fetch", "KIT[@HAND[@TIME]]", "kit that a hand drives back for in the van, and since when, if not now"),
    ("--stays", "JOB.KIT", "kit that stays at a job until another day, as those who are there cannot carry it"),
    ("--out-of", "MATERIAL[@TIME]", "material that is used up, and when there is more, if there is today"),
    ("--nobody-in", "JOB[@TIME]", "jobs where nobody is in to open the house, and when somebody is, if today"),
    ("--no-tap", "JOB", "jobs where there is no tap after all"),
    ("--no-socket", "JOB", "jobs where there is no socket after all"),
)


def add_words(parser: argparse.ArgumentParser) -> None:
    """The words by which a day under way is told of."""
    parser.add_argument("--at", required=True, metavar="TIME", help="the time it is now")
    for option, form, told in _TABLE:
        parser.add_argument(option, nargs="+", action="extend", default=[], metavar=form, help=told)
    parser.add_argument("--rain", metavar="TIME[-TIME]", help="it rains from this time on, or from and until")


def progress_of(day: Day, plan: Plan, kept: Progress | None, asked: argparse.Namespace) -> Progress:
    """The record with what a command says of the day, with all its stages, also those left half done, and of its plan.

    Raises `Told` when it names what the day does not have, or something that is not a time.
    """
    at = _time(asked.at, "--at")
    told = _stages_told(day, asked, at)
    for stage in [_stage(day, name) for name in asked.back]:
        kept = None if kept is None else corrected(kept, plan, *stage, kept.at)
    for word in asked.not_so:
        kept = _without_told(day, kept, word)
    rain, until = _rain(asked.rain)
    told = replace(
        told,
        arrived=_at(day.jobs, "--arrived", "job", asked.arrived),
        gone=_at(day.hands, "--gone", "hand", asked.gone),
        back=_at(day.hands, "--late", "hand", asked.late),
        rain=rain,
        rain_until=until,
        lacking=_perhaps(day.kit, "--without", "kit", asked.without),
        run_out=_perhaps(day.materials, "--out-of", "material", asked.out_of),
        nobody_in=_perhaps(day.jobs, "--nobody-in", "job", asked.nobody_in),
        no_supply=tuple(
            (_known(job, day.jobs, f"--no-{supply}", "job"), supply)
            for supply, jobs in (("tap", asked.no_tap), ("socket", asked.no_socket))
            for job in jobs
        ),
    )
    told = _with_fetches(day, plan, told, asked.fetch)
    progress = told if kept is None else kept.with_later(told)
    progress = _by_others(day, plan, progress, asked.by)
    for stage in [_stage(day, name) for name in asked.not_yet]:
        progress = progress.with_not_yet(*stage)
    for stage in [_stage(day, name) for name in asked.not_up]:
        progress = progress.with_not_up(*stage)
    for name in asked.stays:
        job, _, kit = name.rpartition(".")
        progress = progress.with_behind(_known(job, day.jobs, "--stays", "job"), _known(kit, day.kit, "--stays", "kit"))
    return progress


def _stages_told(day: Day, asked: argparse.Namespace, at: int) -> Progress:
    done = {_stage(day, name): minute for name, minute in _named("--done", asked.done)}
    begun = {_stage(day, name): minute for name, minute in _named("--begun", asked.begun)}
    halves = dict(_half(day, word) for word in asked.half)
    takes = _valued("--rest-takes", asked.rest_takes)
    rests = {_stage(day, name): _minutes(text, "--rest-takes") for name, text in takes}
    for stage in rests:
        if stage not in halves:
            raise Told(f"--rest-takes: '{'.'.join(stage)}' is not half done; say how much of it is with --half")
    notes = [Noted(*x, begun.get(x), done.get(x)) for x in dict.fromkeys((*begun, *done)) if x not in halves]
    notes += [Noted(*x, begun.get(x), when, part, rests.get(x)) for x, (part, when) in halves.items()]
    more = [More(*_stage(day, name), _minutes(text, "--more")) for name, text in _valued("--more", asked.more)]
    whole = with_pieces(day, Progress(at, tuple(notes), more=tuple(more)))  # also what was half done just now
    dropped = tuple(_stage(whole, name) for name in asked.dropped)
    return Progress(at, tuple(notes), dropped, more=tuple(more), said=at)


def _by_others(day: Day, plan: Plan, progress: Progress, words: Sequence[str]) -> Progress:
    """The record with who did a stage: of one told to be begun or done, or that the plan was made as if it was."""
    for name, who in _valued("--by", words, "who did it", "ash"):
        stage = _stage(day, name)
        hands = tuple(_known(hand.strip(), day.hands, "--by", "hand") for hand in who.split(","))
        note = progress.begun(plan, *stage)
        if note is None:
            raise Told(f"--by: '{'.'.join(stage)}' is not begun; say when it was, or is done, with --begun or --done")
        progress = progress.with_note(replace(note, hands=tuple(dict.fromkeys(hands))))
    return progress


def _without_told(day: Day, kept: Progress | None, word: str) -> Progress | None:
    """The record without something that was told beside its stages."""
    items = {} if kept is None else {item.word: item for item in told_items(day, kept)}
    short = {f"more={name.rpartition('.')[2]}": item for name, item in items.items() if name.startswith("more=")}
    found = (short | items).get(word)
    if found is None:
        known = f"it may be {' or '.join(items)}" if items else "nothing but stages was told of so far"
        raise Told(f"--not-so: '{word}' was not told; {known}")
    return found.without


# --- what a word says ----------------------------------------------------------------------------------------------


def _with_fetches(day: Day, plan: Plan, told: Progress, words: Sequence[str]) -> Progress:
    """With kit that somebody drives back for."""
    for word in words:
        name, *more = word.split("@", 2)
        kit = _known(name, day.kit, "--fetch", "kit")
        hand = _known(more[0], day.hands, "--fetch", "hand") if more and more[0] else next(iter(day.hands))
        told = with_fetch(day, plan, told, kit, hand, _time(more[1], "--fetch") if len(more) > 1 else None)
    return told


def _half(day: Day, word: str) -> tuple[Stage, tuple[float, int]]:
    said, minute = _named_at(word, "--half")
    name, is_there, amount = said.partition("=")
    if not is_there:
        right = f"{name}=18 of 24 m2@{show_clock(minute)}"
        raise Told(f"--half: '{word}' does not say how much; write for example '{right}'")
    stage = _stage(day, name)
    part = part_done(day.jobs[stage[0]], stage[1], amount)
    if part is None:
        raise Told(f"--half: '{amount}' is no part of it; write for example '18 of 24 m2', '18 m2' or '40 %'")
    return stage, (part, minute)


def _rain(text: str | None) -> tuple[int | None, int | None]:
    if text is None:
        return None, None
    since, _, until = text.partition("-")
    start, end = _time(since, "--rain"), _time(until, "--rain") if until else None
    if end is not None and end <= start:
        raise Told(f"--rain: it cannot end at {show_clock(end)}, before it begins")
    return start, end


def _at(known: Collection[str], option: str, what: str, words: Sequence[str]) -> dict[str, int]:
    return {_known(name, known, option, what): minute for name, minute in _named(option, words)}


def _perhaps(known: Collection[str], option: str, what: str, words: Sequence[str]) -> dict[str, int | None]:
    """Names, each with a minute or without."""
    found: dict[str, int | None] = {}
    for word in words:
        name, at, time = word.rpartition("@")
        found[_known(name if at else word, known, option, what)] = _time(time, option) if at else None
    return found


def _valued(option: str, words: Sequence[str], what: str = "how long", like: str = "20 min") -> list[tuple[str, str]]:
    found = [word.partition("=") for word in words]
    for (name, is_there, _), word in zip(found, words, strict=True):
        if not is_there or not name:
            raise Told(f"{option}: '{word}' does not say {what}; write for example '{name or word}={like}'")
    return [(name, value) for name, _, value in found]


def _minutes(text: str, option: str) -> int:
    try:
        return round(minutes(text))
    except ValueError as fault:
        raise Told(f"{option}: {fault}") from None


def _known(name: str, names: Collection[str], option: str, what: str) -> str:
    if name not in names:
        raise Told(f"{option}: the day has no {what} '{name}'; {suggestion(name, names)}")
    return name


def _named(option: str, words: Sequence[str]) -> list[tuple[str, int]]:
    """Each word as a name and a minute; a name that comes twice is a slip."""
    found = [_named_at(word, option) for word in words]
    names = [name for name, _ in found]
    for name in names:
        if names.count(name) > 1:
            raise Told(f"{option}: '{name}' is there twice; give one time")
    return found


def _time(text: str, option: str) -> int:
    try:
        return clock(text)
    except ValueError as fault:
        raise Told(f"{option}: {fault}") from None


def _named_at(word: str, option: str) -> tuple[str, int]:
    name, at, time = word.rpartition("@")
    if not at or not name:
        raise Told(f"{option}: '{word}' says no time; write for example '{word}@11:25'")
    return name, _time(time, option)


def _stage(day: Day, name: str) -> Stage:
    """The (job, stage) that a word means: its name in the file, else what plan and sheet call it."""
    called = {(j, s): Names(day).stage(j, s) for j, s, _ in day.stages()}
    found = [x for x in called if name in (x[1], ".".join(x))]
    found = found or [x for x, words in called.items() if words.casefold() == name.strip().casefold()]
    if len(found) == 1:
        return found[0]
    if found:
        raise Told(f"'{name}' is a stage of several jobs; write {' or '.join('.'.join(x) for x in found)}")
    if nearest(name, known := [s for _, s in called]) is not None:
        raise Told(f"the day has no stage '{name}'; {suggestion(name, known)}")
    each = ", ".join(f"'{s}' ({words})" for (_, s), words in called.items())
    raise Told(f"the day has no stage '{name}'; it may be {each}")


def answer_words(job: str, stage: str, does: Any) -> str:
    """The words of a command by which a question about a stage is answered."""
    name = f"{job}.{stage}"
    if isinstance(does, Noted):
        begun = "" if does.start is None else f" --begun {name}@{show_clock(does.start)}"
        by = f" --by {name}={','.join(does.hands)}" if does.hands else ""
        return f"--done {name}@{show_clock(does.end or 0)}{begun}{by}"
    if isinstance(does, More):
        return f"--more {name}={show_minutes(does.minutes).replace(' ', '')}"
    if isinstance(does, Arrived):
        return f"--arrived {does.job}@{show_clock(does.minute)}"
    if isinstance(does, Gone):
        return f"--gone {does.hand}@{show_clock(does.minute)}"
    if isinstance(does, GivenUp):
        return " ".join(("--dropped", *(f"{job}.{other}" for other in does.stages)))
    option = {"not yet": "--not-yet", "given up": "--dropped", "kept": "--back", "not up": "--not-up"}[does]
    return f"{option} {name}"
