"""Customers and their sites, kept once: how one gets in, taps and sockets, quiet hours, and the work with its measures.

They lie in one file of the user's own, ``customers.toml`` beside ``trade.toml``, in the words of a day file: for each
site a table ``[customers.NAME]`` with its place, the drive from the yard, and the job as it was done last, without what
belongs to one date.
"""

import datetime as dt
from collections.abc import Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass
from itertools import count
from pathlib import Path
from typing import Any

from planner.day.editing import Change, edited
from planner.day.faults import DayFaults
from planner.day.holding import hold
from planner.day.reading import tables_of
from planner.day.rows import key_of
from planner.day.safekeeping import FileFault, read_text, save_text
from planner.trade.trade_tables import user_file

Table = dict[str, Any]

MOST_BYTES = 4 * 2**20
"""The largest file of customers that is read: some thousand sites."""

OF_ONE_DATE = ("arrive", "done_by", "price", "quoted", "priority")
"""Words of a job that belong to one date, and do not come with its site."""

OF_THE_WORK = ("recipe", "recipes", "measures", "drop", "surfaces", "stages", "waits", "apart")
"""Words of a job that say what is done."""


class CustomersFault(FileFault):
    """The file of customers cannot be used; it is as it was."""

    doing = "the customers cannot be used"


@dataclass(frozen=True)
class Site:
    """A customer's site: ``job`` and ``place`` in the words of a day file, ``drive`` from the yard if known."""

    job: Table
    place: Table
    drive: str = ""
    kept: dt.date | None = None

    @property
    def title(self) -> str:
        """What it is called: the street and whose it is."""
        street = self.place.get("name") or self.job.get("title")
        customer = self.job.get("customer")
        name = customer.get("name") if isinstance(customer, dict) else ""
        return ", ".join(str(word) for word in (street, name) if word) or "without a name"

    def without_work(self) -> "Site":
        """The same with nothing to be done there yet."""
        kept = {word: value for word, value in self.job.items() if word not in OF_THE_WORK}
        return Site(kept, self.place, self.drive, self.kept)


@dataclass(frozen=True)
class Customers:
    """All sites that are kept, by key, and what is wrong with those that cannot be used."""

    sites: dict[str, Site]
    faults: tuple[str, ...] = ()


def customers_path() -> Path:
    """Where they are kept; the file need not exist."""
    return user_file().with_name("customers.toml")


def read_customers(path: Path) -> Customers:
    """The sites in a file; none where there is no such file.

    Raises `CustomersFault` when it cannot be read, is no TOML, or is far too large.
    """
    if not path.exists():
        return Customers({})
    tables = _tables(_text(path), path)
    sites, faults = {}, []
    for key, table in tables.get("customers", {}).items():
        try:
            sites[key] = _site(table)
        except ValueError as fault:
            faults.append(f"{path}: customers.{key} {fault}")
    return Customers(sites, tuple(faults))


def keep_site(path: Path, site: Site) -> str:
    """Keep a site, in place of one of the same title; what others kept meanwhile stays. Gives its key.

    Raises `FileFault` when the file cannot be read or written, or another window is just writing it; it is then as it
    was.
    """
    known = read_customers(path).sites
    key = next((key for key, other in known.items() if other.title == site.title), None)
    if key is None:
        key = next(name for name in _names(site.title) if name not in known)
    table = {"kept": site.kept, "drive": site.drive or None, "place": site.place, "job": site.job}
    _change(path, [Change(("customers", key), {word: value for word, value in table.items() if value is not None})])
    return key


def forget_site(path: Path, key: str) -> None:
    """Forget a site; one that is not there is no fault.

    Raises `FileFault` when the file cannot be read or written; it is then as it was.
    """
    known = _tables(_text(path), path).get("customers", {})
    if key in known:
        _change(path, [Change(("customers", key) if len(known) > 1 else ("customers",), None)])


def site_in(tables: Mapping[str, Any], job: str, today: dt.date) -> Site:
    """The site of a job of a day, as the day's file writes it."""
    said = deepcopy(tables["jobs"][job])
    key = said.pop("place", "")
    place = deepcopy(tables.get("places", {}).get(key, {}))
    start = tables.get("van", {}).get("starts_at")
    drive = next((trip["minutes"] for trip in _trips(tables) if {trip.get("from"), trip.get("to")} == {start, key}), "")
    kept = {word: value for word, value in said.items() if word not in OF_ONE_DATE}
    return Site(kept, place, str(drive), today)


def into_day(site: Site, tables: Mapping[str, Any]) -> list[Change]:
    """What puts a site into a day as one more job, with its place and the drive where the day lacks them."""
    places, start = tables.get("places", {}), tables.get("van", {}).get("starts_at", "")
    name = site.place.get("name")
    key = next((key for key, place in places.items() if name and place.get("name") == name and key != start), None)
    changes = []
    if key is None:
        key = next(word for word in _names(site.title) if word not in places)
        changes.append(Change(("places", key), deepcopy(site.place)))
    trips = _trips(tables)
    if site.drive and not any({trip.get("from"), trip.get("to")} == {start, key} for trip in trips):
        trip = {"from": start, "to": key, "minutes": site.drive}
        place = ("travel", "trips", len(trips))
        changes.append(Change(place, trip) if trips else Change(place[:-1], [trip]))
    job = next(word for word in _names(key) if word not in tables.get("jobs", {}))
    return [*changes, Change(("jobs", job), {"place": key, **deepcopy(site.job)})]


def _trips(tables: Mapping[str, Any]) -> list[Table]:
    return [trip for trip in tables.get("travel", {}).get("trips", []) if isinstance(trip, dict)]


def _names(title: str) -> Iterator[str]:
    """Keys that stand for a title, one after another."""
    try:
        stem = key_of(title)
    except ValueError:  # nothing in it can stand in a key
        stem = "site"
    yield stem
    yield from (f"{stem}-{number}" for number in count(2))


def _change(path: Path, changes: list[Change]) -> None:
    try:
        path.parent.mkdir(parents=True, exist_ok=True)
    except OSError as fault:
        raise CustomersFault(path, "its folder cannot be made", "choose a folder that you may write") from fault
    held = hold(path)
    try:
        text = _text(path) if path.exists() else "# Customers and their sites, kept by slackwater.\nformat = 1\n"
        _tables(text, path)
        try:
            after = edited(text, changes, path)
        except DayFaults as fault:
            wrong = "; ".join(one.wrong for one in fault.faults)
            raise CustomersFault(path, wrong, "change it in a text editor") from None
        if len(after.encode()) > MOST_BYTES:
            raise CustomersFault(path, "it would be too large", "forget some customers first")
        save_text(path, after)
    finally:
        held.let_go()


def _text(path: Path) -> str:
    return read_text(path, MOST_BYTES)


def _tables(text: str, path: Path) -> Table:
    try:
        tables = tables_of(text, path)
    except DayFaults as fault:
        raise CustomersFault(path, str(fault).removeprefix(f"{path}:"), "put it right in a text editor") from None
    said = tables.get("format", 1)
    if said != 1:
        raise CustomersFault(path, f"it is of format {said!r}, of a newer program", "update the program")
    if not isinstance(tables.get("customers", {}), dict):
        raise CustomersFault(path, "customers is no table", "write [customers.NAME] for each")
    return tables


def _site(table: Any) -> Site:
    """A site as the file has it. Raises `ValueError` with what is wrong, in words that follow its name."""
    if not isinstance(table, dict):
        raise ValueError("is no table; write [customers.NAME]")
    job, place, drive, kept = (table.get(word) for word in ("job", "place", "drive", "kept"))
    if not isinstance(job, dict) or not isinstance(job.get("grounds", {}), dict):
        raise ValueError("needs a table [customers.NAME.job] with the words of a job")
    if not isinstance(place or {}, dict) or not isinstance(drive or "", str):
        raise ValueError('needs place = { name = "..." } and drive = "12 min"')
    is_date = isinstance(kept, dt.date) and not isinstance(kept, dt.datetime)
    return Site(job, place or {}, drive or "", kept if is_date else None)
