"""What a form lists and lets be added and taken away: the things that stand in one table of the day, or of a job."""

from typing import Any

from planner.day.faults import Where
from planner.desktop.forms.form import Form
from planner.desktop.model.draft import Change
from planner.desktop.model.open_day import OpenDay

Key = tuple[Any, ...]


class Listed:
    """Things of a day by their keys: those in ``table``, of the day or, where ``job`` is named, of that job."""

    table = ""
    """The name of their table in the day's file."""

    add_words = ""
    """What the button that adds one says; empty for none."""

    open_day: OpenDay
    job = ""

    @property
    def place(self) -> Where:
        """Where their table stands."""
        return ("jobs", self.job, self.table) if self.job else (self.table,)

    def there(self) -> Any:
        """Their table, as the draft has it."""
        return self.open_day.draft.at(self.place, {})

    def keys(self) -> list[Key]:
        """What there is; the first word of a key is that of the table."""
        return [(key,) for key in self.there()]

    def build(self, form: Form, key: Key) -> None:
        """Put the entries of one into its form."""
        raise NotImplementedError

    def addition(self) -> list[Change]:
        """What adds one."""
        return []

    def removal(self, key: Key) -> list[Change] | None:
        """What takes one away; None when it must stay."""
        return [Change((*self.place, key[0]), None)]
