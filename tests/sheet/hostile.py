"""A day whose every name is up to no good; the tiny day's plan goes with it, as plans hold keys only."""

from typing import Any

from planner.day import Day
from tests.days import tiny_day

SCRIPT = '<script>alert("x")</script><img src=x onerror=alert(1)>'
FORMULA = '=cmd("/C calc")!A0'
TURNED = "safe\u202egnp.exe\u202c"
HEBREW = "שלום"
ARABIC = "مرحبا"
FAR_EAST = "東京タワー 서울"
LONG = "Xylophone" * 33
"""297 letters without a space."""
MARKUP = '<para><b>&amp; {{ 7 * 7 }} {% raw %} <font name="none">'


def hostile_day(**changes: Any) -> Day:
    """The tiny day with such names; its keys, and so its plan, are the same."""
    tables = tiny_day().model_dump()
    tables["title"] = SCRIPT
    tables["hands"]["ash"]["name"] = TURNED
    tables["places"]["elm"]["name"] = MARKUP
    tables["places"]["yard"]["name"] = FAR_EAST
    tables["kit"]["sprayer"] |= {"name": FORMULA, "tags": ["no-such-caution"], "attachments": (SCRIPT,)}
    tables["kit"]["washer"] |= {"name": LONG, "noise": 92.0}
    job = tables["jobs"]["elm"]
    job["title"] = HEBREW
    job["customer"] = {
        "name": ARABIC,
        "before": (SCRIPT, LONG),
        "handover": (MARKUP,),
        "after": (FORMULA,),
        "not_promised": (FAR_EAST,),
    }
    job["grounds"]["rear"]["name"] = SCRIPT
    job["grounds"]["rear"]["way_in"]["through"] = LONG
    job["stages"]["treat"] |= {
        "name": LONG,
        "mixing": MARKUP,
        "wear": (SCRIPT,) * 5,
        "notes": LONG,
        "tags": ("chlorine",),
    }
    job["quoted"] = {SCRIPT: ("treat",), LONG: ()}
    return Day.model_validate(tables | changes)
