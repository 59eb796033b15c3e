"""What was planned and what it took: own pace, and quoted work.

An embedded SQLite file in the user's data folder, read and written only through `Record`. In a reader's order: ``book``
(the record as others see it), ``timings``, ``pace`` and ``shared`` (how own pace is learned), ``applied`` (what that
makes of a day), ``quotes``, ``bringing`` and ``taking_out``; below them ``opening`` (checking, mending), ``versions``
(what is kept, version by version) and ``database``.
"""

from planner.record.book import Record, default_path
from planner.record.database import RecordFault
from planner.record.pace import Pace
from planner.record.quotes import Quote, QuotedWork, QuoteFault
from planner.record.timings import Timing

__all__ = ["Pace", "Quote", "QuoteFault", "QuotedWork", "Record", "RecordFault", "Timing", "default_path"]
