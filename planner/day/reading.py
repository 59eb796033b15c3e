"""From the text of a day file to a day, with every fault at once."""

import datetime as dt
import re
import tomllib
from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path, PurePosixPath, PureWindowsPath
from typing import Any

from pydantic import ValidationError

from planner.day.checks.all_checks import faults_in
from planner.day.day import FORMAT, Day
from planner.day.estimate import with_weather
from planner.day.faults import DayFaults, Fault, Where, shown
from planner.day.lines import line_of, lines_of
from planner.day.own_values import what_does_not_hold
from planner.day.plain_words import faults_of
from planner.day.rewetting import without_needless_rewets
from planner.day.rinsing_out import with_rinsing_out
from planner.day.safekeeping import ReadFault, read_text
from planner.day.sections import in_sections
from planner.day.without import without_idle_grounds
from planner.day.words import FILE
from planner.trade.deep_names import line_of_a_deep_name
from planner.trade.forecast import read_csv, read_json
from planner.trade.recipes.laying_out import RecipeFaults, StandsAt, expanded, with_named_kit
from planner.trade.recipes.own_words import Origins
from planner.trade.weather import HourOfWeather

DAY_LIMIT = 1024 * 1024
"""The largest day file that is read, in bytes: seven times a day of 150 stages, and read in five seconds whatever it
holds (the worst met, a list of numbers, takes two of the processor)."""

_SYNTAX = {
    "Cannot overwrite a value": ("this name is given twice", "keep one of them"),
    "Cannot declare": ("this table is given twice", "put both together under one header"),
    "Cannot mutate": ("this table is given twice", "put both together in one place"),
    "Duplicate inline table key": ("this name is given twice", "keep one of them"),
    "Unclosed array": ("a list is not closed", "write ] at its end"),
    "Unclosed inline table": (
        "a table in curly brackets is not closed",
        "write } at its end, on the same line",
    ),
    "Unterminated string": ("a text is not closed", "write a quote at its end"),
    "Illegal character": (
        "a sign may not stand here, or a text is not closed on its line",
        "check the quotes",
    ),
    "Expected '=' after a key": ("a name is not followed by '='", "write name = value"),
    "Expected newline or end of document": (
        "something stands after the value",
        "begin a new line, and put texts, times and measures in quotes",
    ),
    "Expected ']' at the end of a table": ("a header is not closed", "write [name]"),
    "Expected ']]'": ("a header is not closed", "write [[name]]"),
    "Invalid initial character for a key": (
        "a name cannot begin like this",
        "write letters, figures, '-' and '_', or put it in quotes",
    ),
    "Invalid statement": (
        "this is neither a header nor a name with a value",
        "write [name], or name = value, or # before a remark",
    ),
    "Invalid value": ("this is no value", 'put texts, times and measures in quotes, for example "25 min"'),
    "Invalid date or datetime": ("this date does not exist", "write for example 2026-06-16"),
    "Unescaped '\\' in a string": ("a backslash stands alone in a text", "write two, or use single quotes"),
}
"""What the standard reader says of a text that is not TOML, and how it is said here."""

_LEVELS = "a day file needs six levels at most"

_RECIPE_WORDS = {"recipe", "recipes", "measures", "drop"}


def read_day(path: str | Path) -> Day:
    """Read a day file. Raises `DayFaults` with every fault, whatever the file holds."""
    return day_from_text(day_text(path), Path(path))


def day_text(path: str | Path) -> str:
    """The text of a day file.

    Raises
    ------
    DayFaults
        When it is missing, barred, a folder, not text, or larger than `DAY_LIMIT`.
    """
    try:
        return read_text(path, DAY_LIMIT)
    except ReadFault as fault:
        raise DayFaults(Path(path), [Fault((), None, fault.problem, fault.remedy)]) from fault


def day_from_text(text: str, path: Path) -> Day:
    """The day that the text of a file holds; ``path`` is named in faults, and a forecast lies beside it.

    Raises
    ------
    DayFaults
        With every fault.
    """
    what_does_not_hold()  # first, so that a slip in the user's own values is not met in the midst of the day
    day, standing = _day(tables_of(text, path), text, path)
    faults = faults_in(day)
    if faults:
        raise _with_lines(faults, text, path, standing)
    return in_sections(without_needless_rewets(with_weather(without_idle_grounds(with_rinsing_out(day)))))


def tables_of(text: str, path: Path) -> dict[str, Any]:
    """The plain tables of a TOML text.

    Raises
    ------
    DayFaults
        When it is not TOML.
    """
    if (line := line_of_a_deep_name(text)) is not None:
        raise DayFaults(path, [Fault((), line, "a name has too many parts", _LEVELS)])
    try:
        return tomllib.loads(text)
    except tomllib.TOMLDecodeError as fault:
        raise DayFaults(path, [_syntax_fault(str(fault), text)]) from fault
    except RecursionError as fault:
        wrong = Fault((), None, "its tables or lists lie too deep in one another", _LEVELS)
        raise DayFaults(path, [wrong]) from fault
    except ValueError as fault:  # a number of thousands of figures
        raise DayFaults(path, [Fault((), None, f"a value cannot be read ({fault})", "check the numbers")]) from fault


def _syntax_fault(message: str, text: str) -> Fault:
    """A fault of TOML in plain words; the reader says the line at the end of its message."""
    said, _, where = message.removesuffix(")").rpartition(" (at ")
    if not said:
        said = message
    line = text.count("\n") + 1
    if where.startswith("line "):
        line, column = (int(number) for number in re.findall(r"\d+", where)[:2])
        row = text.split("\n")[line - 1]
        before, sign = row[: column - 1].rstrip(), row[column - 1 : column]
        if sign == "}" and before.endswith(","):
            return Fault((), line, "a comma stands before the end of a table in curly brackets", "take that comma away")
        if not sign.strip(" #") and before.endswith((",", "{")):
            right = "write all of it on one line, or below a header in square brackets"
            return Fault((), line, "a table in curly brackets goes on past the end of its line", right)
    for start, (wrong, right) in _SYNTAX.items():
        if said.startswith(start):
            return Fault((), line, wrong, right)
    return Fault(
        (),
        line,
        f"this is not TOML: {said[:1].lower()}{said[1:]}",
        "see the sample days for how it is written",
    )


def _with_lines(faults: Iterable[Fault], text: str, path: Path, standing: StandsAt) -> DayFaults:
    lines = lines_of(text)
    placed: list[Fault] = []
    too_much: set[Where] = set()
    for fault in faults:
        told = _as_written(fault, standing, lines)
        if told is fault or not told.is_too_much:
            placed.append(told)
        elif told.place not in too_much:  # of one measure that is said once
            too_much.add(told.place)
            placed.append(told)
    return DayFaults(path, [replace(f, line=f.line or _line(f.place, lines)) for f in placed])


def _line(place: Where, lines: dict[Where, int]) -> int | None:
    """The line of a place, or of what is nearest to it; of what only the library has and hands must lift, theirs."""
    match place:
        case ("kit" | "materials", _, "mass" | "lift") if place[:2] not in lines:
            return line_of(("hands",), lines)
    return line_of(place, lines)


def _as_written(fault: Fault, standing: StandsAt, lines: Mapping[Where, int]) -> Fault:
    """A fault in the day laid out as the file has it: its waits by their own numbers, a recipe's by its measure."""
    match fault.place:
        case ("jobs", str(job), "waits", int(n), *rest) if n < len(standing.get(job, Origins()).waits):
            at = standing[job].waits[n]
            if isinstance(at, int):
                return replace(fault, place=("jobs", job, "waits", at, *rest))
            return _of_a_measure(fault, at, fault.wrong, lines)
        case ("jobs", str(job), "stages", str(stage), *rest) if fault.place[:4] not in lines and job in standing:
            if stage in standing[job].stages:
                what = str(rest[-1]).replace("_", " ") + " of " if rest else ""
                return _of_a_measure(fault, standing[job].stages[stage], f"{what}'{stage}': {fault.wrong}", lines)
    return fault


def _of_a_measure(fault: Fault, measure: Where, wrong: str, lines: Mapping[Where, int]) -> Fault:
    """A fault in what a recipe laid out by a measure: where it is too much, only less of it can be right."""
    right = "give less of it here, and the rest another day" if fault.is_too_much else fault.right
    place = measure if measure in lines else measure[:-1]
    return replace(fault, place=place, wrong=wrong, right=right)


def _day(tables: dict[str, Any], text: str, path: Path) -> tuple[Day, StandsAt]:
    """The typed day, each value of the right kind; that its parts agree is not yet known."""
    faults, standing = _format_faults(tables), StandsAt()
    if not faults or "format" not in tables:
        tables, standing, more = _expanded(tables)
        faults += more
        tables, more = _with_forecast(tables, path)
        faults += more
        try:
            day = Day.model_validate(tables, context=FILE)
        except ValidationError as error:
            faults += [fault for fault in faults_of(error) if not (faults and _is_for_a_recipe_to_say(fault))]
    if faults:
        raise _with_lines(faults, text, path, standing)
    return day, standing


def _format_faults(tables: Mapping[str, Any]) -> list[Fault]:
    said = tables.get("format")
    if said is None:
        return [Fault(("format",), 1, "the file does not say its format", f"add format = {FORMAT} at its top")]
    if type(said) is int and said == FORMAT:
        return []
    if type(said) is int and said > FORMAT:
        wrong = f"this file is format {shown(said)}"
        return [Fault(("format",), None, wrong, f"this program reads format {FORMAT}: install a newer slackwater")]
    return [Fault(("format",), None, f"there is no format {shown(said)}", f"write format = {FORMAT}")]


def _expanded(tables: dict[str, Any]) -> tuple[dict[str, Any], StandsAt, list[Fault]]:
    """Jobs that use recipes, written out, and the library's kit by its name; a day as it stands where neither is used.
    And where what they have stands in the file.

    Where a recipe cannot be written out, all are left out and every fault is given; of their jobs stays what they say
    themselves.
    """
    jobs = tables.get("jobs")
    if not isinstance(jobs, dict):
        return tables, {}, []
    by_recipe = [key for key, job in jobs.items() if isinstance(job, dict) and not _RECIPE_WORDS.isdisjoint(job)]
    is_plain = not by_recipe and "leave_at_home" not in tables
    try:
        return (with_named_kit(tables), {}, []) if is_plain else (*expanded(tables), [])
    except RecipeFaults as found:
        rest = {key: value for key, value in tables.items() if key != "leave_at_home"}
        plain = {key: _without_recipes(job) if key in by_recipe else job for key, job in jobs.items()}
        told = [Fault(fault.place, None, fault.wrong, fault.right) for fault in found.faults]
        return rest | {"jobs": plain}, {}, told


def _without_recipes(job: dict[str, Any]) -> dict[str, Any]:
    return {word: value for word, value in job.items() if word not in _RECIPE_WORDS}


def _is_for_a_recipe_to_say(fault: Fault) -> bool:
    """Whether something is missing in a job, which a recipe that cannot be laid out might have given."""
    return fault.place[:1] == ("jobs",) and fault.wrong.endswith("is missing")


def _with_forecast(tables: dict[str, Any], path: Path) -> tuple[dict[str, Any], list[Fault]]:
    """``weather_file`` names a forecast beside the day file: CSV, or JSON by its ending."""
    if "weather_file" not in tables:
        return tables, []
    name = tables["weather_file"]
    rest = {key: value for key, value in tables.items() if key != "weather_file"}
    if not isinstance(name, str) or not name.strip():
        wrong = f"{shown(name)} is no name of a file"
        return rest, [Fault(("weather_file",), None, wrong, 'write for example weather_file = "forecast.csv"')]
    if "weather" in rest:
        wrong = "the weather is given here and in a file"
        return rest, [Fault(("weather_file",), None, wrong, "keep weather or weather_file, not both")]
    folder = path.resolve().parent
    try:
        lies_inside = _is_relative(name) and (folder / name).resolve().is_relative_to(folder)
    except (ValueError, OSError, RuntimeError):  # a zero byte; links in a circle
        lies_inside = False
    if not lies_inside:
        wrong = f"{shown(name)} leads out of the folder of the day file"
        return rest, [
            Fault(("weather_file",), None, wrong, "put the forecast beside the day file and give its name alone")
        ]
    try:
        return rest | {"weather": read_forecast(folder / name, tables.get("date"))}, []
    except ReadFault as fault:
        return rest, [Fault(("weather_file",), None, f"{shown(name)}: {fault.problem}", fault.remedy)]
    except (ValueError, RecursionError, OverflowError) as fault:
        wrongs = str(fault).splitlines() or ["it cannot be read"]
        return rest, [Fault(("weather_file",), None, f"{shown(name)}: {wrong}", "") for wrong in wrongs]


def _is_relative(name: str) -> bool:
    """Whether a name is relative on every system, so that a day file means the same everywhere."""
    posix, windows = PurePosixPath(name), PureWindowsPath(name)
    return not (posix.is_absolute() or windows.drive or windows.root or ".." in windows.parts)


def read_forecast(path: Path, date: Any) -> tuple[HourOfWeather, ...]:
    """The hours of a forecast file that are of a date or after it: CSV, or JSON by its ending.

    Raises `ReadFault` when it cannot be read, and `ValueError` when it is no forecast; every bad row has a line.
    """
    read = read_json if path.suffix.lower() == ".json" else read_csv
    day = date if isinstance(date, dt.date) and not isinstance(date, dt.datetime) else None
    return read(read_text(path), date=day, source="forecast")
