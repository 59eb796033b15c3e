"""For each rule of the engine the smallest day that needs it: what the rule forbids there would end the day sooner.

All are invented; the words beside each say what would happen without the rule.
"""

from collections.abc import Callable
from typing import Any

from planner.day import Day
from tests.days import at_elm

Tables = dict[str, Any]

TWO: Tables = {"ash": {}, "bo": {}}
"""Two hands: what one rule keeps apart they would do side by side."""


def stage(surface: str, minutes: int, *kit: str, hand: str = "", uses: Tables | None = None, **more: Any) -> Tables:
    """A stage with one method, that a hand is given where it is named."""
    given = {"by_hand": hand} if hand else {}
    return {
        "surface": surface,
        "methods": {"so": {"minutes": minutes, "kit": list(kit), "uses": uses or {}}},
        **given,
        **more,
    }


def day(stages: Tables, *, job: Tables | None = None, way: Tables | None = None, **tables: Any) -> Day:
    """A day of one job with these stages, on a patio and what stands about it, by an open way unless it is given."""
    ground = {"way_in": way or {"minutes": 0}, "supplies": {"tap": 1, "socket": 2}}
    surfaces: Tables = {
        "patio": {"ground": "rear"},
        "steps": {"ground": "rear"},
        "wall": {"ground": "rear", "stood_on": False, "drains_to": ["patio"]},
    }
    elm = {"grounds": {"rear": ground}, "surfaces": surfaces, "stages": stages} | (job or {})
    return Day.model_validate(at_elm(elm, **{"start": 480, "finish": 1000, "rest": "none"} | tables))


def promised() -> Day:
    """The customer is in from ten o'clock; the van would be there at ten past eight."""
    return day({"sweep": stage("patio", 20)}, job={"arrive": [600, 630]})


def spoiled() -> Day:
    """Grinding the steps dusts the ground, and a coat on the patio must not be dusted: not at the same time."""
    stages = {"grind": stage("steps", 30, makes=["dust"]), "coat": stage("patio", 30, spoiled_by=["dust"])}
    return day(stages, hands=TWO)


def one_tap() -> Day:
    """There is one tap, and two hoses for two hands."""
    kit = {"hose": {"load": 1, "supply": ["tap"], "own": 2}}
    return day({"wet": stage("steps", 30, "hose"), "flush": stage("patio", 30, "hose")}, hands=TWO, kit=kit)


def not_yet() -> Day:
    """The neighbours sleep until ten."""
    return day({"sweep": stage("patio", 20, not_before=600)})


def water_first() -> Day:
    """Water is there before the acid is opened; it would be fetched for the rinse, while the acid dwells."""
    stages = {
        "acid": stage("wall", 10, "sprayer", chemical="acid"),
        "rinse": stage("wall", 10, uses={"water": 1}, rinses=True),
    }
    wait = {"after": "acid", "before": "rinse", "kind": "dwell", "least": 30}
    return day(
        stages,
        job={
            "waits": [wait],
            "grounds": {"rear": {"way_in": {"minutes": 5, "restricted": True, "load_limit": 2}}},
        },
        kit={"sprayer": {"load": 2}},
        materials={"water": {"load": 2, "water": True}},
    )


def one_truck() -> Day:
    """Two loads that only a sack truck moves, two hands to move them, and one truck.

    One wheels in and out (490-500); then the other has it (500-530), while the first walks in, works and waits for it
    to fetch theirs (530-540).
    """
    kit = {"slab": {"load": 1, "mass": 60}, "saw": {"load": 1, "mass": 60}, "truck": {"load": 0, "wheels": 100}}
    stages = {"lay": stage("patio", 20, "slab", hand="ash"), "cut": stage("steps", 20, "saw", hand="bo")}
    return day(stages, way={"minutes": 5, "wheeled": True}, hands=TWO, kit=kit)


def one_washer() -> Day:
    """There is one washer for front and rear, and a hand at each."""
    job = {
        "grounds": {"rear": {"way_in": {"minutes": 0}}, "front": {"way_in": {"minutes": 0}}},
        "surfaces": {"patio": {"ground": "rear"}, "drive": {"ground": "front"}},
    }
    stages = {"wash": stage("patio", 30, "washer"), "rinse": stage("drive", 30, "washer")}
    return day(stages, job=job, hands=TWO, kit={"washer": {"load": 1}})


def too_heavy_for_one() -> Day:
    """Bo cannot lift what his work needs, so Ash sets it up and packs it down; Bo would do it while Ash sweeps."""
    hands = {"ash": {}, "bo": {"lifts": 10}}
    kit = {"washer": {"load": 1, "mass": 20, "set_up": 10, "pack_down": 10}}
    stages = {"sweep": stage("steps", 40, hand="ash"), "wash": stage("patio", 20, "washer", hand="bo", makes=[])}
    return day(stages, hands=hands, kit=kit)


def rinsed_between() -> Day:
    """The sprayer for the wall is rinsed out behind the house, and set up there for the path: it was there before."""
    stages = {
        "wall": stage("wall", 20, "sprayer", chemical="hypochlorite"),
        "path": stage("steps", 20, "sprayer", chemical="quaternary"),
    }
    kit = {"sprayer": {"load": 2, "set_up": 5, "rinse_out": 5}}
    return day(stages, way={"minutes": 5, "restricted": True, "load_limit": 2}, kit=kit)


def head_after_its_washer() -> Day:
    """Two hands would set the washer and its head up side by side; the head is tried with water in it."""
    kit = {"washer": {"load": 1, "set_up": 10}, "head": {"load": 1, "set_up": 10, "needs": ["washer"]}}
    return day({"wash": stage("patio", 20, "head")}, hands=TWO, kit=kit)


def one_can_for_two() -> Day:
    """Steps and wall are treated from one can. Ash's arms are full for the steps; Bo would bring it after the sweep."""
    rear = {"minutes": 5, "restricted": True, "load_limit": 1}
    drawn = {"uses": {"can": 1}, "expected": {"can": 0.2}}
    stages = {"wall": stage("patio", 10, hand="bo"), "steps": stage("steps", 40, "brush", hand="ash"),
              "sweep": stage("drive", 20, hand="bo")}  # fmt: skip
    for name in ("wall", "steps"):
        stages[name]["methods"]["so"] |= drawn
    job = {
        "grounds": {"rear": {"way_in": rear}, "front": {"way_in": {"minutes": 0}}},
        "surfaces": {"patio": {"ground": "rear"}, "steps": {"ground": "rear"}, "drive": {"ground": "front"}},
    }
    can = {"load": 1, "shared": True}
    return day(stages, job=job, hands=TWO, kit={"brush": {"load": 1}}, materials={"can": can})


def given_hands() -> Day:
    """Both stages are for Ash."""
    return day({"sweep": stage("steps", 30, hand="ash"), "brush": stage("patio", 30, hand="ash")}, hands=TWO)


def helper() -> Day:
    """Who lifts with Ash comes at ten, by bus."""
    hands = {"ash": {}, "bo": {"own_transport": True, "hours": [600, 700]}}
    work = {"surface": "patio", "methods": {"so": {"minutes": 20, "hands": 2}}}
    return day({"lift": work}, hands=hands)


def shaken() -> Day:
    """Breaking out and cutting in turn shake more than one may take, so Bo cuts; his edging would fill the time."""
    kit = {"breaker": {"load": 1, "vibration": 15, "own": 2}}
    stages = {
        "break": stage("patio", 45, "breaker"),
        "cut": stage("patio", 45, "breaker", after=["break"]),
        "edge": stage("steps", 90, hand="bo"),
    }
    return day(stages, hands=TWO, kit=kit)


def cleaned_last() -> Day:
    """What is cleared off the wall falls on the patio, so that is washed after it; the wash would dry meanwhile."""
    stages = {
        "wash": stage("patio", 30, kind="wash", makes=[]),
        "clear": stage("wall", 30, makes=["dirt"]),
        "coat": stage("patio", 30),
    }
    return day(stages, job={"waits": [{"after": "wash", "before": "coat", "kind": "dry", "least": 60}]})


def covered() -> Day:
    """The sheets stay until the coat is on; they would be there before, and back in the van."""
    kit = {"sheets": {"load": 1, "set_up": 10, "pack_down": 10}}
    stages = {
        "cover": stage("steps", 10, "sheets", kind="cover", stays_for=["coat"]),
        "coat": stage("patio", 40, hand="bo"),
    }
    return day(stages, hands=TWO, kit=kit)


def under_sheets() -> Day:
    """The sheets lie on the patio for the coat on the steps, and the sweep waits until they are up; Bo has time."""
    kit = {"sheets": {"load": 1, "pack_down": 5}}
    stages = {
        "cover": stage("steps", 10, "sheets", hand="ash", kind="cover", stays_for=["coat"], lies_on=["patio"]),
        "coat": stage("steps", 30, hand="ash", kind="work"),
        "sweep": stage("patio", 30, hand="bo", kind="work"),
    }
    return day(stages, hands=TWO, kit=kit)


def begun_dry() -> Day:
    """A jet beside the steps wets them; what is laid on there must find them dry for an hour, or be on before."""
    stages = {"wash": stage("patio", 30, kind="wash"), "coat": stage("steps", 30, kind="work", dry_for=60)}
    return day(stages, job={"waits": [{"after": "wash", "before": "coat", "least": 5}]})


def beneath_a_spray() -> Day:
    """Bo would set the saw up on the patio while Ash treats the wall above, and cut after."""
    kit = {"saw": {"load": 1, "set_up": 10}, "sprayer": {"load": 1}}
    stages = {"treat": stage("wall", 20, "sprayer", makes=["spray"]), "cut": stage("patio", 15, "saw", kind="work")}
    return day(stages, hands=TWO, kit=kit)


def over_the_dry() -> Day:
    """The ladder goes out over the steps before they are treated; it would be used, and taken out, after."""
    kit = {"ladder": {"load": 1, "tags": ["ladder"]}}
    stages = {
        "treat": stage("steps", 20, kind="treat", not_before=500, not_after=520),
        "clear": stage("wall", 30, "ladder", makes=[]),
    }
    way = {"minutes": 5, "restricted": True, "over": ["steps"]}
    surfaces = {"steps": {"ground": "front"}, "wall": {"ground": "rear", "stood_on": False}}
    grounds = {"rear": {"way_in": way}, "front": {"way_in": {"minutes": 0}}}
    return day(stages, job={"grounds": grounds, "surfaces": surfaces}, kit=kit)


def away_for_the_wash() -> Day:
    """The ladder would stand on the patio from the first gutter to the second; meanwhile that is washed."""
    kit = {"ladder": {"load": 1, "tags": ["ladder"], "set_up": 2, "pack_down": 2}}
    stages = {
        "clear": stage("wall", 10, "ladder", makes=[]),
        "wash": stage("patio", 10, kind="wash", after=["clear"]),
        "look": stage("wall", 10, "ladder", makes=[], after=["wash"]),
    }
    return day(stages, kit=kit)


def covered_from_rain() -> Day:
    """It rains from nine to ten, too soon for both layers; the first would lie open to it."""
    layer = {"fresh_to": ["rain"]}
    stages = {"bed": stage("patio", 30, **layer), "lay": stage("patio", 30, after=["bed"], **layer)}
    dry = {"air": 15, "humidity": 0.6, "wind": 8}
    weather = [{"time": f"{hour:02d}:00", "rain": 0.9 if hour == 9 else 0.0, **dry} for hour in range(8, 16)]
    return day(stages, weather=weather)


def apart() -> Day:
    """The day says that both are not to be done at once."""
    stages = {"sweep": stage("steps", 30), "brush": stage("patio", 30)}
    return day(stages, job={"apart": [["sweep", "brush"]]}, hands=TWO)


def sure_of_the_dwell() -> Day:
    """Sweeping takes 30 minutes, or 41 in one day of ten: then it makes the rinse late, which may wait for 2 minutes.

    A spread of 30, 30, 60 has its nine tenths at 41.1: the beta distribution of PERT, 1 and 5, at 30 + 30 x 0.369.
    """
    stages = {"treat": stage("patio", 10), "sweep": stage("steps", 30), "rinse": stage("patio", 10)}
    for name, made in stages.items():
        made["methods"]["so"]["spread"] = [1.0, 1.0, 2.0 if name == "sweep" else 1.0]
    dwell = {"after": "treat", "before": "rinse", "kind": "dwell", "least": 30, "most": 32, "closes": False}
    return day(stages, job={"waits": [dwell]}, sure=0.9)


DAYS: dict[str, Callable[[], Day]] = {
    "route.keep_promises": promised,
    "order.keep_apart": apart,
    "order.keep_unspoiled": spoiled,
    "order.keep_within_resource": one_tap,
    "order.keep_out_of_shut_spans": not_yet,
    "carrying.keep_to_what_is_owned": one_washer,
    "material.have_water_at_hand": water_first,
    "carrying.roll_one_at_a_time": one_truck,
    "carrying.lie_until_set_up_again": rinsed_between,
    "carrying.set_up_in_turn": head_after_its_washer,
    "carrying.set_up_what_one_can_lift": too_heavy_for_one,
    "material.bring_before_the_first": one_can_for_two,
    "hands.honour_given_hands": given_hands,
    "hands.keep_hours": helper,
    "hands.share_shaking": shaken,
    "fresh.clean_last": cleaned_last,
    "fresh.keep_covered": covered,
    "fresh.keep_off_what_is_covered": under_sheets,
    "fresh.begin_dry": begun_dry,
    "fresh.see_to_no_kit_beneath": beneath_a_spray,
    "fresh.carry_on_the_dry": over_the_dry,
    "fresh.put_ladders_away": away_for_the_wash,
    "fresh.cover_before_rain": covered_from_rain,
    "room.keep_room": sure_of_the_dwell,
}
"""By the rule that each day needs."""
