"""One job out of the clock is a relaxation: nothing of the clock is left, and a new field says which it is."""

from dataclasses import fields, replace

from planner.day import Day
from planner.engine.build import build
from planner.engine.problem import Activity, Hand, Job, Lag, Problem, Rest
from planner.engine.several_jobs.alone import BY_THE_CLOCK, alone, out_of_the_clock, with_the_van_away
from tests.engine.random_days import small

AT_ANY_TIME = {
    Problem: {
        "activities", "horizon", "lags", "resources", "apart", "closed", "spoiling", "unmixable", "grounds", "kit",
        "materials", "hands", "jobs", "route", "price", "most_shake", "shake_action", "leaving", "cleaned", "kept",
        "above", "keeps_room", "wetted", "shared", "slippery", "beneath",
    },
    Activity: {
        "name", "modes", "ground", "optional", "hand", "is_section", "chemical", "wants_water", "kind", "surface",
    },
    Lag: {"first", "second", "least", "most", "from_start", "extended_by", "to_end", "patchwise"},
    Hand: {"name", "rides", "lifts"},
    Job: {"name", "arriving", "leaving"},
    Rest: {"length"},
}  # fmt: skip
"""What binds in the same way whenever in the day a job is done: looked at field by field when it was added."""


def test_each_field_of_the_problem_is_of_the_clock_or_holds_at_any_time() -> None:
    for kind, timeless in AT_ANY_TIME.items():
        names = {field.name for field in fields(kind)}
        assert names == timeless | BY_THE_CLOCK[kind], f"{kind.__name__}: say of each field which it is"
        assert not timeless & BY_THE_CLOCK[kind]


def clocked() -> Day:
    """A random day with what binds by the clock."""
    day = next(day for day in map(small, range(50)) if len(day.jobs) > 1)
    tables = day.model_dump(by_alias=True)
    job = next(iter(tables["jobs"].values()))
    job["arrive"], job["done_by"] = ["09:00", "10:00"], "14:00"
    next(iter(job["stages"].values()))["not_before"] = "09:30"
    return Day.model_validate(tables)


def test_nothing_of_the_clock_is_left() -> None:
    day = clocked()
    problem = out_of_the_clock(build(alone(day, next(iter(day.jobs)))))
    assert len(problem.jobs) == 1
    assert problem.finish is None
    assert problem.jobs[0] == Job(problem.jobs[0].name)
    assert all(a.shut == () and a.start is None and a.latest is None for a in problem.activities)
    assert all(h.rest is None for h in problem.hands)
    assert problem.route is not None
    assert (problem.route.out, problem.route.back) == ((0,), (0,))


def test_bounds_by_the_hour_are_the_loosest_of_all_hours() -> None:
    """20 to 60 minutes at first, 30 to 50 from ten, no most from noon: at some hour 20, at some without end."""
    lag = Lag(0, 1, 20, 60, steps=((600, 30, 50), (720, 25, None)))
    day = clocked()
    problem = replace(build(alone(day, next(iter(day.jobs)))), lags=(lag,))
    assert out_of_the_clock(problem).lags == (Lag(0, 1, 20, None),)


def test_with_the_van_away_waits_may_last_no_time_but_keep_their_most() -> None:
    day = clocked()
    problem = replace(build(alone(day, next(iter(day.jobs)))), lags=(Lag(0, 1, 20, 60), Lag(1, 2, -5), Lag(2, 3, None)))
    assert with_the_van_away(problem).lags == (Lag(0, 1, 0, 60), Lag(1, 2, -5), Lag(2, 3, None))
