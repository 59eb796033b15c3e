"""Days with a plan each, worked out on paper, that break no rule.

``tiny``  one hand, one ground through the house, a dwell that a sweep fills
``pair``  two hands, a lift for two, floor sheets, material, chemicals, a cure, and an open way at the front
``round`` two jobs, one returned to after it dried, kit that stays, a hand with their own transport, a break
"""

from typing import Any

from planner.day import Day
from planner.plan.plan import (
    Attendance,
    Carried,
    Chore,
    Crossing,
    Drive,
    Plan,
    Rest,
    Stay,
    Visit,
    Work,
)
from tests.days import tiny_day

ASH, BO, CY = ("ash",), ("bo",), ("cy",)


def tiny() -> tuple[Day, Plan]:
    """Sprayer and broom go in (1.5 armfuls); the sweep fills the dwell; the washer (2) takes a second crossing."""
    plan = Plan(
        drives=(Drive("yard", "elm", 480, 490), Drive("elm", "yard", 564, 574)),
        visits=(Visit("elm", 1, 490, 564),),
        works=(
            Work("elm", "treat", "spray", ASH, 1, 496, 508, (("sprayer", 1),)),
            Work("elm", "sweep", "broom", ASH, 1, 512, 532, (("broom", 1),)),
            Work("elm", "rinse", "lance", ASH, 1, 542, 557, (("washer", 1),)),  # dwelt 34 min, of 30 to 45
        ),
        crossings=(
            Crossing(
                "elm", 1, "rear", "ash", 490, 534,
                (Carried("sprayer"), Carried("broom")), (Carried("sprayer"), Carried("broom")),
            ),
            Crossing("elm", 1, "rear", "ash", 534, 564, (Carried("washer"),), (Carried("washer"),)),
        ),
        stays=(
            Stay("elm", "rear", "sprayer", 1, 1, 1, 492, 532),
            Stay("elm", "rear", "broom", 1, 1, 1, 492, 532),
            Stay("elm", "rear", "washer", 1, 1, 1, 536, 562),
        ),
        chores=(
            Chore("set up", "elm", 1, "rear", ASH, 492, 496, "sprayer", 1),
            Chore("pack down", "elm", 1, "rear", ASH, 508, 512, "sprayer", 1),
            Chore("set up", "elm", 1, "rear", ASH, 536, 542, "washer", 1),
            Chore("pack down", "elm", 1, "rear", ASH, 557, 562, "washer", 1),
        ),
    )  # fmt: skip
    return tiny_day(), plan


def pair_tables() -> dict[str, Any]:
    """The pair's day as plain tables, so that a test can change a word of it."""
    return {
        "date": "2026-06-16",
        "start": 480,
        "finish": 900,
        "van": {"starts_at": "yard", "ends_at": "yard", "groups": ["heavy", "water"]},
        "hands": {"ash": {"name": "Ash", "hours": [470, 900]}, "bo": {"name": "Bo", "hours": [470, 900]}},
        "places": {"yard": {}, "elm": {}},
        "travel": {"trips": [{"from": "yard", "to": "elm", "minutes": 15}]},
        "kit": {
            "compactor": {"load": 3, "lift": 2, "set_up": 4, "pack_down": 3, "supply": ["socket"], "group": "heavy",
                          "vibration": 5, "noise": 95, "attachments": ["rubber pad"]},
            "sprayer": {"load": 1, "set_up": 2, "pack_down": 2},
            "hose": {"load": 3, "supply": ["tap"], "group": "water"},
            "lance": {"load": 0.5, "needs": ["hose"], "group": "water"},
        },
        "materials": {"sealer": {"name": "Sealer", "container": "can", "load": 1, "holds_litres": 5}},
        "jobs": {
            "elm": {
                "title": "Elm Cottage",
                "place": "elm",
                "grounds": {
                    "rear": {
                        "supplies": {"socket": 1},
                        "way_in": {"minutes": 3, "restricted": True, "protection": "ours", "load_limit": 2},
                    },
                    "front": {"supplies": {"tap": 1}, "way_in": {"minutes": 1, "load_limit": 2}},
                },
                "surfaces": {
                    "patio": {"ground": "rear", "area": 20},
                    "wall": {"ground": "rear", "stood_on": False, "worked_from": ["patio"], "drains_to": ["patio"]},
                    "drive": {"ground": "front", "area": 30},
                },
                "stages": {
                    "acid": {"surface": "wall", "chemical": "acid", "spoiled_by": ["dust"],
                             "methods": {"spray": {"kit": ["sprayer"], "minutes": 10}}, "wear": ["chemical gloves"]},
                    "rinse": {"surface": "wall", "rinses": True, "after": ["acid"],
                              "methods": {"spray": {"kit": ["sprayer"], "minutes": 6}}},
                    "bleach": {"surface": "wall", "chemical": "hypochlorite", "spoiled_by": ["dust"],
                               "after": ["rinse"],
                               "methods": {"spray": {"kit": ["sprayer"], "minutes": 8}}, "wear": ["chemical gloves"]},
                    "compact": {"surface": "patio", "makes": ["dust"], "noisy": True,
                                "methods": {"plate": {"kit": ["compactor"], "minutes": 20, "trigger": 0.5}}},
                    "seal": {"surface": "patio", "after": ["compact"], "consumables": ["roller sleeve"],
                             "methods": {"roll": {"minutes": 15, "uses": {"sealer": 2}}}},
                    "hose-down": {"surface": "drive", "methods": {"lance": {"kit": ["lance"], "minutes": 12}}},
                },
                "waits": [{"after": "seal", "kind": "cure", "least": 1080}],
            }
        },
    }  # fmt: skip


CANS_OUT = (Carried("sealer", 2, is_material=True, rest=0.0),)
"""Both cans are used up, as far as the day says, and go out again empty."""


def pair(tables: dict[str, Any] | None = None) -> tuple[Day, Plan]:
    """Ash lays sheets and treats the wall while Bo hoses the front; both carry the compactor; Bo seals the way out."""
    halves = (Carried("compactor", share=0.5),)
    plan = Plan(
        drives=(Drive("yard", "elm", 480, 495), Drive("elm", "yard", 596, 611)),
        visits=(Visit("elm", 1, 495, 596),),
        works=(
            Work("elm", "hose-down", "lance", BO, 1, 501, 513, (("lance", 1), ("hose", 1))),
            Work("elm", "acid", "spray", ASH, 1, 508, 518, (("sprayer", 1),)),
            Work("elm", "rinse", "spray", ASH, 1, 518, 524, (("sprayer", 1),)),
            Work("elm", "bleach", "spray", ASH, 1, 524, 532, (("sprayer", 1),)),
            Work("elm", "compact", "plate", ASH, 1, 544, 564, (("compactor", 1),)),
            Work("elm", "seal", "roll", BO, 1, 573, 588),
        ),
        crossings=(
            Crossing("elm", 1, "rear", "ash", 503, 537, (Carried("sprayer"),), (Carried("sprayer"),)),
            Crossing("elm", 1, "rear", "ash", 537, 570, halves, halves),
            Crossing("elm", 1, "rear", "bo", 537, 570, halves, halves),
            Crossing("elm", 1, "rear", "bo", 570, 591, (Carried("sealer", 2, is_material=True),), CANS_OUT),
        ),
        stays=(
            Stay("elm", "front", "hose", 1, 1, 1, 495, 519),
            Stay("elm", "front", "lance", 1, 1, 1, 499, 515),
            Stay("elm", "rear", "sprayer", 1, 1, 1, 506, 534),
            Stay("elm", "rear", "compactor", 1, 1, 1, 540, 567),
        ),
        chores=(
            Chore("lay", "elm", 1, "rear", ASH, 495, 503),
            Chore("set up", "elm", 1, "front", BO, 495, 499, "hose", 1),  # 3 armfuls by twos: two walks of 2 min
            Chore("set up", "elm", 1, "front", BO, 499, 501, "lance", 1),
            Chore("pack down", "elm", 1, "front", BO, 513, 515, "lance", 1),
            Chore("pack down", "elm", 1, "front", BO, 515, 519, "hose", 1),
            Chore("set up", "elm", 1, "rear", ASH, 506, 508, "sprayer", 1),
            Chore("pack down", "elm", 1, "rear", ASH, 532, 534, "sprayer", 1),
            Chore("set up", "elm", 1, "rear", ASH, 540, 544, "compactor", 1),
            Chore("pack down", "elm", 1, "rear", ASH, 564, 567, "compactor", 1),
            Chore("lift", "elm", 1, "rear", ASH, 591, 596),
        ),
        rests=(Rest("ash", 570, 590),),
    )
    return Day.model_validate(tables or pair_tables()), plan


def round_tables() -> dict[str, Any]:
    """The round's day as plain tables."""
    open_ground = {"front": {"supplies": {"tap": 1}}}
    return {
        "date": "2026-06-16",
        "start": 480,
        "finish": 800,
        "van": {"starts_at": "yard", "ends_at": "yard"},
        "rest": {"length": 15, "once_over": 120, "soonest": 60},
        "hands": {"ash": {}, "cy": {"hours": [540, 700], "own_transport": True}},
        "places": {"yard": {}, "elm": {}, "oak": {}},
        "travel": {
            "trips": [
                {"from": "yard", "to": "elm", "minutes": 10},
                {"from": "elm", "to": "oak", "minutes": 12},
                {"from": "oak", "to": "yard", "minutes": 15},
            ]
        },
        "kit": {
            "washer": {"set_up": 5, "pack_down": 5, "supply": ["tap"]},
            "tripod": {"set_up": 3, "pack_down": 2, "may_stay": True},
        },
        "jobs": {
            "elm": {
                "place": "elm",
                "visits": 2,
                "arrive": [480, 520],
                "done_by": 720,
                "grounds": open_ground,
                "surfaces": {"steps": {"ground": "front"}},
                "stages": {
                    "wash": {
                        "surface": "steps",
                        "methods": {"lance": {"kit": ["washer", "tripod"], "minutes": 30}},
                    },
                    "seal": {"surface": "steps", "methods": {"roll": {"kit": ["tripod"], "minutes": 20}}},
                },
                "waits": [{"after": "wash", "before": "seal", "kind": "dry", "least": 90, "most": 200}],
            },
            "oak": {
                "place": "oak",
                "grounds": open_ground,
                "surfaces": {"gutter": {"ground": "front", "stood_on": False}},
                "stages": {"clear": {"surface": "gutter", "methods": {"poles": {"hands": 2, "minutes": 60}}}},
            },
        },
    }


def round_trip(tables: dict[str, Any] | None = None) -> tuple[Day, Plan]:
    """Wash at Elm, clear gutters at Oak with Cy while it dries, then back to Elm to seal."""
    plan = Plan(
        drives=(
            Drive("yard", "elm", 480, 490),
            Drive("elm", "oak", 533, 545),
            Drive("oak", "elm", 620, 632),
            Drive("elm", "yard", 654, 664),
        ),
        visits=(Visit("elm", 1, 490, 533), Visit("oak", 1, 545, 620), Visit("elm", 2, 632, 654)),
        works=(
            Work("elm", "wash", "lance", ASH, 1, 498, 528, (("washer", 1), ("tripod", 1))),
            Work("oak", "clear", "poles", ("ash", "cy"), 1, 560, 620),
            Work("elm", "seal", "roll", ASH, 2, 632, 652, (("tripod", 1),)),
        ),
        stays=(
            Stay("elm", "front", "washer", 1, 1, 1, 490, 533),
            Stay("elm", "front", "tripod", 1, 1, 2, 495, 654),
        ),
        chores=(
            Chore("set up", "elm", 1, "front", ASH, 490, 495, "washer", 1),
            Chore("set up", "elm", 1, "front", ASH, 495, 498, "tripod", 1),
            Chore("pack down", "elm", 1, "front", ASH, 528, 533, "washer", 1),
            Chore("pack down", "elm", 2, "front", ASH, 652, 654, "tripod", 1),
        ),
        rests=(Rest("ash", 545, 560),),
        attendances=(Attendance("cy", "oak", 1, 560, 620),),
    )
    return Day.model_validate(tables or round_tables()), plan
