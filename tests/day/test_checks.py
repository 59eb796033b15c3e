"""Every fault between the parts of a day, by its line, its place and its words.

What is expected was written from the file format's description, before the words were seen on a screen.
"""

import pytest

from planner.day import Day
from planner.day.checks.all_checks import faults_in
from planner.day.file import read_day
from tests.day.small_day import REMARKED, SMALL
from tests.days import tiny_day

SPRAY = 'methods.spray = { minutes = "12 min" }'
LANCE = 'methods.lance = { kit = ["washer"], rate = { amount = 60, unit = "m2" } }'
WALL = 'wall = { ground = "rear", area = "20 m2", stood_on = false }'
PATH = 'path = { ground = "rear" }'
RINSE = '[jobs.elm.stages.rinse]\nsurface = "wall"\n'
SWEEP = '[jobs.elm.stages.sweep]\nsurface = "path"\n'
WAIT_END = 'least = "30 min"\nmost = "45 min"\n'


def test_sound_days_have_no_faults():
    assert faults_in(tiny_day()) == []
    assert faults_in(read_day(REMARKED)) == []


@pytest.mark.parametrize(
    ("old", "new", "place", "words"),
    [
        # what can never be worked on again
        (
            WAIT_END,
            WAIT_END + '\n[[jobs.elm.waits]]\nafter = "treat"\nkind = "cure"\nleast = "1 h"\n',
            "jobs.elm.waits[1].after",
            "surface 'wall' is kept clear for good after 'treat', and 'rinse' follows there; say before = "
            "\"rinse\", let the wait follow the last stage there, or write closes = false",
        ),
        # names
        (
            'kit = ["washer"]',
            'kit = ["wahser"]',
            "jobs.elm.stages.rinse.methods.lance.kit",
            "unknown kit 'wahser'; did you mean 'washer'?",
        ),
        (
            "uses = { filler = 1 }",
            "uses = { filer = 1 }",
            "jobs.elm.stages.sweep.methods.broom.uses",
            "unknown material 'filer'; did you mean 'filler'?",
        ),
        (
            RINSE,
            '[jobs.elm.stages.rinse]\nsurface = "wal"\n',
            "jobs.elm.stages.rinse.surface",
            "unknown surface 'wal'; did you mean 'wall'?",
        ),
        (
            PATH,
            'path = { ground = "raer" }',
            "jobs.elm.surfaces.path.ground",
            "unknown ground 'raer'; did you mean 'rear'?",
        ),
        (
            RINSE,
            RINSE + 'after = ["traet"]\n',
            "jobs.elm.stages.rinse.after",
            "unknown stage 'traet'; did you mean 'treat'?",
        ),
        (
            'before = "rinse"',
            'before = "rinze"',
            "jobs.elm.waits[0].before",
            "unknown stage 'rinze'; did you mean 'rinse'?",
        ),
        ('place = "elm"', 'place = "oak"', "jobs.elm.place", "unknown place 'oak'; it may be 'yard', 'elm'"),
        ('ends_at = "yard"', 'ends_at = "yrd"', "van.ends_at", "unknown place 'yrd'; did you mean 'yard'?"),
        ('to = "elm"', 'to = "elmm"', "travel.trips[0].to", "unknown place 'elmm'; did you mean 'elm'?"),
        (
            RINSE,
            RINSE + 'by_hand = "ahs"\n',
            "jobs.elm.stages.rinse.by_hand",
            "unknown hand 'ahs'; did you mean 'ash'?",
        ),
        (
            PATH,
            PATH[:-2] + ', over = ["wull"] }',
            "jobs.elm.surfaces.path.over",
            "unknown surface 'wull'; did you mean 'wall'?",
        ),
        (
            "restricted = true }",
            'restricted = true, over = ["pth"] }',
            "jobs.elm.grounds.rear.way_in.over",
            "unknown surface 'pth'; did you mean 'path'?",
        ),
        ("load = 0.5", 'load = 0.5\nneeds = ["wshr"]', "kit.broom.needs", "unknown kit 'wshr'; did you mean 'washer'?"),
        (  # the library's
            "load = 0.5",
            'load = 0.5\nneeds = ["laddr"]',
            "kit.broom.needs",
            "unknown kit 'laddr'; did you mean 'ladder'?",
        ),
        # names twice
        (
            'kit = ["washer"]',
            'kit = ["washer", "washer"]',
            "jobs.elm.stages.rinse.methods.lance.kit",
            "kit 'washer' stands here twice; name it once",
        ),
        (
            'minutes = "10 min" }]',
            'minutes = "10 min" }, { from = "elm", to = "yard", minutes = "9 min" }]',
            "travel.trips[1]",
            "the trip from 'elm' to 'yard' is given twice",
        ),
        (
            WAIT_END,
            WAIT_END + '[[jobs.elm.waits]]\nafter = "treat"\nbefore = "rinse"\n',
            "jobs.elm.waits[1]",
            "a second wait after 'treat' and before 'rinse'; keep one wait",
        ),
        # circles
        (
            "[jobs.elm.stages.treat]\n",
            '[jobs.elm.stages.treat]\nafter = ["rinse"]\n',
            "jobs.elm.",
            "these stages wait for each other in a circle: treat -> rinse -> treat",
        ),
        (SWEEP, SWEEP + 'after = ["sweep"]\n', "jobs.elm.stages.sweep.after", "in a circle: sweep -> sweep"),
        (
            "load = 0.5",
            'load = 0.5\nneeds = ["broom"]',
            "kit.broom.needs",
            "kit needs itself: broom -> broom; take one of these needs away",
        ),
        (
            PATH,
            PATH[:-2] + ', over = ["path"] }',
            "jobs.elm.surfaces.path.over",
            "reached over each other in a circle: path -> path",
        ),
        # reach
        (
            'way_in = { minutes = "2 min"',
            'way_in = { minutes = "5 h"',
            "jobs.elm.grounds.rear.way_in.minutes",
            "ground 'rear' is out of reach: 10 h there and back; the longest hours of any hand are 9 h",
        ),
        (
            "load = 0.5",
            "load = 0.5\nown = 0",
            "jobs.elm.stages.sweep.methods.broom.kit",
            "kit 'broom' is not owned (own = 0); hire it and set own = 1",
        ),
        (
            "load = 1.5",
            "load = 2.5",
            "kit.washer.load",
            "'washer' has a load of 2.5; into 'rear' one hand carries at most 1.5; raise the load_limit",
        ),
        (
            "load = 1.5",
            "load = 2.5\nlift = 2",
            "kit.washer.lift",
            "it takes 2 hands to lift 'washer', and the day has 1; add a hand",
        ),
        (
            "load = 1.0",
            "load = 3.0",
            "materials.filler.load",
            "one container of 'filler' has a load of 3; into 'rear' one hand carries at most 1.5; take a smaller",
        ),
        (
            SPRAY,
            'methods.spray = { minutes = "12 min", hands = 2 }',
            "jobs.elm.stages.treat.methods.spray.hands",
            "it takes 2 hands, and the day has 1; add a hand, or a method that needs fewer",
        ),
        (
            "tap = 1",
            "socket = 1",
            "jobs.elm.stages.rinse.methods.lance.kit",
            "'washer' needs 1 x tap, and ground 'rear' has none; give the ground supplies = { tap = 1 }",
        ),
        (
            "load = 0.5",
            'load = 0.5\nsupply = ["tap"]\nneeds = ["washer"]',
            "jobs.elm.stages.sweep.methods.broom.kit",
            "'broom' and 'washer' need 2 x tap, and ground 'rear' has 1",
        ),
        (
            PATH,
            PATH[:-2] + ', drains_to = ["path"] }',
            "jobs.elm.surfaces.path.drains_to",
            "'path' names itself; name other surfaces only",
        ),
        (
            PATH,
            PATH[:-2] + ', worked_from = ["wall"] }',
            "jobs.elm.surfaces.path.worked_from",
            "'path' is worked from 'wall', on which nobody can stand",
        ),
        (
            'trips = [{ from = "yard", to = "elm", minutes = "10 min" }]',
            "",
            "travel",
            "no driving time from 'yard' to 'elm'; add the trip { from = \"yard\", to = \"elm\"",
        ),
        # times
        (
            'finish = "17:00"',
            'finish = "07:00"',
            "finish",
            "the day finishes at 07:00 and starts at 08:00; give a finish after the start",
        ),
        (
            'hours = ["08:00", "17:00"]',
            'hours = ["17:00", "08:00"]',
            "hands.ash.hours",
            "before they begin at 17:00; the earlier time comes first; the next morning is written '08:00 +1'",
        ),
        (
            "date = 2026-06-16",
            'date = 2026-06-16\ntime_zone = "Europe/Lundon"',
            "time_zone",
            "unknown time zone 'Europe/Lundon'; did you mean 'Europe/London'?",
        ),
        ("date = 2026-06-16", 'date = 2026-06-16\ntime_zone = "../etc"', "time_zone", "unknown time zone '../etc'"),
        (
            "date = 2026-06-16",
            'date = 2026-06-16\nrest = { earliest = "13:00", latest = "12:00" }',
            "rest.latest",
            "the break begins at 12:00 at the latest and 13:00 at the earliest",
        ),
        (
            "date = 2026-06-16",
            'date = 2026-06-16\nmeal = { length = "30 min", once_over = "6 h", earliest = "14:00", latest = "11:00" }',
            "meal.latest",
            "the meal begins at 11:00 at the latest and 14:00 at the earliest; give a latest that is not before",
        ),
        (
            'place = "elm"',
            'place = "elm"\narrive = ["10:00", "09:00"]',
            "jobs.elm.arrive",
            "the times to arrive end at 09:00, before they begin at 10:00",
        ),
        (
            'place = "elm"',
            'place = "elm"\narrive = ["10:00", "11:00"]\ndone_by = "09:30"',
            "jobs.elm.done_by",
            "promised done by 09:30, and nobody arrives before 10:00; give a promise after the arrival",
        ),
        (
            'place = "elm"',
            'place = "elm"\nquiet = [["22:00", "07:00"]]',
            "jobs.elm.quiet[0]",
            "the quiet hours end at 07:00, before they begin at 22:00",
        ),
        (
            'most = "45 min"',
            'most = "20 min"',
            "jobs.elm.waits[0].most",
            "the dwell lasts at least 30 min and at most 20 min; give a most of 30 min or more",
        ),
        (
            'most = "45 min"',
            'extended_by = "sweep"\nmost = "45 min"',
            "jobs.elm.waits[0].extended_by",
            "the wait is extended by 'sweep', which is always done; set only_if_needed = true in stage 'sweep'",
        ),
        (
            'most = "45 min"',
            'most = "45 min"\nby_hour = [{ since = "12:00", least = "10 min", most = "5 min" }]',
            "jobs.elm.waits[0].by_hour[0].most",
            "at least 10 min and at most 5 min",
        ),
        (
            'most = "45 min"',
            'most = "45 min"\nby_hour = [{ since = "12:00", least = "10 min" }, { since = "11:00", least = "9 min" }]',
            "jobs.elm.waits[0].by_hour[1].since",
            "the step since 11:00 stands after the one since 12:00",
        ),
        (
            WAIT_END,
            WAIT_END + 'order = "backwards"\n',
            "jobs.elm.waits[0].order",
            "'backwards' is not a word for order; write 'same', 'reversed' or 'any'",
        ),
        (
            'kind = "dwell"\n' + WAIT_END,
            'kind = "dry"\n' + WAIT_END + 'order = "same"\n',
            "jobs.elm.waits[0].order",
            "run-off keeps all of a surface wet, so it does not dry patch by patch; "
            'take the order away, or write kind = "dwell" or "set"',
        ),
        (
            WAIT_END,
            WAIT_END + 'order = "same"\n[[jobs.elm.waits]]\nafter = "sweep"\nkind = "set"\norder = "same"\n',
            "jobs.elm.waits[1].order",
            "no stage follows this wait, so none goes over the surface in order 'same'; "
            "say before which stage it ends, or take the order away",
        ),
        (
            WAIT_END,
            WAIT_END + '[[jobs.elm.waits]]\nafter = "treat"\nbefore = "sweep"\nleast = "5 min"\norder = "same"\n',
            "jobs.elm.waits[1].order",
            "'treat' and 'sweep' are not on one surface, so no patch of it waits between them; take the order away",
        ),
        (
            WAIT_END,
            WAIT_END + "sections = 2\n",
            "jobs.elm.waits[0].sections",
            "only a wait that goes patch by patch is worked in sections; "
            'write order = "same", "reversed" or "any", or take sections away',
        ),
        (
            WAIT_END,
            WAIT_END + 'order = "same"\nsections = 0\n',
            "jobs.elm.waits[0].sections",
            "'0' is below 1; give 1 or more",
        ),
        (
            'area = "20 m2", ',
            "",
            "jobs.elm.stages.rinse.methods.lance.rate",
            "goes by m2; stage 'rinse' and surface 'wall' lack an area; add for example area = \"32 m2\"",
        ),
        (
            SPRAY,
            "methods.spray = {}",
            "jobs.elm.stages.treat.methods.spray",
            "method 'spray' says nothing of its time; write for example minutes",
        ),
        (
            SPRAY,
            'methods.spray = { minutes = "0 min" }',
            "jobs.elm.stages.treat.methods.spray",
            "method 'spray' takes no time, and nothing would be kept out of its way; give it what it takes",
        ),
        (
            SPRAY,
            'methods.spray = { minutes = "12 min", spread = [1.2, 1.0, 0.8] }',
            "jobs.elm.stages.treat.methods.spray.spread",
            "the spread 1.2, 1, 0.8 does not rise; write low, likely and high",
        ),
        (
            "amount = 60",
            "amount = 0.0001",
            "jobs.elm.stages.rinse.methods.lance",
            "would take more than 14 days; check its minutes, rate",
        ),
        (
            RINSE,
            RINSE + 'not_before = "12:00"\nnot_after = "11:00"\n',
            "jobs.elm.stages.rinse.not_after",
            "not before 12:00 and not after 11:00 leaves it no time",
        ),
        (
            RINSE,
            RINSE + "coldest = 20\nhottest = 5\n",
            "jobs.elm.stages.rinse.hottest",
            "the hottest, 5 C, is below the coldest, 20 C",
        ),
        (
            SWEEP,
            SWEEP + "only_if_needed = true\n",
            "jobs.elm.stages.sweep.only_if_needed",
            "it is done only if needed, and no wait is extended by it",
        ),
        (
            SWEEP,
            SWEEP + 'starts_at = "08:05"\n',
            "jobs.elm.stages.sweep.starts_at",
            "it starts at 08:05, and the van is there at 08:10 at the earliest; start it at 08:10 or later",
        ),
        (
            SWEEP,
            SWEEP + 'starts_at = "16:50"\n',
            "jobs.elm.stages.sweep.starts_at",
            "it starts at 16:50, is over at 17:10, and the last hand's hours end at 17:00; start it earlier",
        ),
        (
            SWEEP,
            SWEEP + 'starts_at = "11:50"\nnot_after = "12:00"\n',
            "jobs.elm.stages.sweep.starts_at",
            "and may not run from 12:00 to 00:00 +2",
        ),
    ],
)
def test_fault(faults, old, new, place, words):
    found = faults((old, new))
    assert len(found) == 1, found
    assert f"{place}" in found[0]
    assert words in found[0]


def test_fault_of_a_fixed_start_before_what_must_come_first(faults):
    early = '[jobs.elm.stages.treat]\nstarts_at = "10:00"\n'
    found = faults(("[jobs.elm.stages.treat]\n", early), (RINSE, RINSE + 'starts_at = "10:30"\n'))
    # 10:00, 12 minutes of work, a dwell of 30 minutes: 10:42
    assert len(found) == 1
    assert "jobs.elm.stages.rinse.starts_at: it starts at 10:30, and 'treat'" in found[0]
    assert "is over at 10:42 at the earliest; start it at 10:42 or later" in found[0]


def test_a_method_that_cannot_be_used_is_no_fault_beside_one_that_can(tmp_path):
    text = SMALL.replace(LANCE, LANCE + '\nmethods.crew = { minutes = "5 min", hands = 3 }')
    (tmp_path / "day.toml").write_text(text)
    assert set(read_day(tmp_path / "day.toml").jobs["elm"].stages["rinse"].methods) == {"lance", "crew"}


def test_kit_that_nothing_takes_and_that_was_meant_to_be_other_kit(faults):
    """Nobody would take the sack truck along, and nothing would be said; kit of one's own may lie idle."""
    said = faults(("[kit.broom]", "[kit.sacktruck]\n\n[kit.barow]\nwheels = '60 kg'\n\n[kit.tent]\n\n[kit.broom]"))
    assert len(said) == 1
    assert said[0].endswith("kit.sacktruck: unknown kit 'sacktruck'; did you mean 'sack-truck'?")


def test_a_group_that_the_van_does_not_have(faults):
    found = faults(
        ('ends_at = "yard"\n', 'ends_at = "yard"\ngroups = ["power", "hand tools"]\n'),
        ("load = 0.5", 'load = 0.5\ngroup = "hand tool"'),
    )
    assert found[0].endswith("kit.broom.group: unknown group of the van's load 'hand tool'; did you mean 'hand tools'?")


@pytest.mark.parametrize(
    ("words", "place", "told"),
    [
        (
            'chemical = "hypochlorit"',
            "chemical",
            "'hypochlorit' is not in the table of chemicals; did you mean 'hypochlorite'?",
        ),
        ('chemical = "moonshine"', "chemical", "'moonshine' is not in the table of chemicals; give its class (acid"),
        ('tags = ["laddr"]', "tags", "unknown tag 'laddr'; did you mean 'ladder'?"),
        ('makes = ["dusts"]', "makes", "unknown nuisance 'dusts'; did you mean 'dust'?"),
        ('spoiled_by = ["sprey"]', "spoiled_by", "unknown nuisance 'sprey'; did you mean 'spray'?"),
    ],
)
def test_slips_that_would_lose_a_protection(faults, words, place, told):
    found = faults((SWEEP, SWEEP + words + "\n"))
    assert len(found) == 1
    assert found[0].startswith(f"51: jobs.elm.stages.sweep.{place}: {told}")


@pytest.mark.parametrize(("key", "name"), [("can", "Algae remover"), ("patio-cleaner", "")])
def test_what_may_be_several_chemicals_is_refused_until_its_class_is_said(key, name):
    tables = tiny_day().model_dump(by_alias=True)
    tables["materials"] = {key: {"name": name}}
    stage = tables["jobs"]["elm"]["stages"]["treat"]
    stage["methods"]["spray"]["uses"] = {key: 1}
    [fault] = faults_in(Day.model_validate(tables))
    assert fault.place == ("jobs", "elm", "stages", "treat")
    assert f"material '{name or key}' may be " in fault.wrong
    assert "chemical" in fault.right
    stage["chemical"] = "hypochlorite"
    assert faults_in(Day.model_validate(tables)) == []


def test_tags_and_nuisances_of_ones_own_are_no_slips():
    tables = tiny_day().model_dump(by_alias=True)
    tables["jobs"]["elm"]["stages"]["sweep"] |= {"makes": ["smell"], "tags": ["bees"]}
    tables["jobs"]["elm"]["stages"]["rinse"] |= {"spoiled_by": ["smell", "wind-blown-leaves", "rust"]}
    assert faults_in(Day.model_validate(tables)) == []


def test_grounds_that_can_only_be_reached_over_each_other(faults):
    found = faults(
        ("restricted = true }", 'restricted = true, over = ["lawn"] }'),
        (
            "[jobs.elm.surfaces]\n",
            '[jobs.elm.grounds.side]\nway_in = { over = ["path"] }\n[jobs.elm.surfaces]\nlawn = { ground = "side" }\n',
        ),
    )
    assert len(found) == 1
    assert "no ground can be reached first: rear -> side -> rear; take away one 'over'" in found[0]


# The lines in the next two tests were counted with grep -n.
def test_the_fault_names_file_line_place_and_remedy(faults):
    found = faults(('kit = ["washer"]', 'kit = ["wahser"]'))
    assert found == ["47: jobs.elm.stages.rinse.methods.lance.kit: unknown kit 'wahser'; did you mean 'washer'?"]


def test_faults_of_different_kinds_come_together(faults):
    found = faults(
        ('finish = "17:00"', 'finish = "07:00"'), ('most = "45 min"', 'most = "20 min"'), ("load = 1.5", "load = 9")
    )
    assert [line.split(":")[0] for line in found] == ["4", "21", "58"]


def test_a_ground_on_which_nothing_lies_is_no_fault_and_is_left_out(tmp_path):
    idle = "[jobs.elm.grounds.front]\n[jobs.elm.surfaces]"
    (tmp_path / "day.toml").write_text(SMALL.replace("[jobs.elm.surfaces]", idle))
    (tmp_path / "plain.toml").write_text(SMALL)
    assert read_day(tmp_path / "day.toml") == read_day(tmp_path / "plain.toml")
