"""For each rule that came with fresh work, top-down, loads out and the weather: what holds it, and a day that shows it.

``holds`` is a test (``file::name`` below ``tests``) in which a plan keeps the rule and changes to it break it;
``sample`` is a day that is shipped, and ``binds`` says of that day's problem that the rule has something to say there.
The older rules are held by the changes in ``plan/test_checker.py``, rule by rule.
"""

from collections.abc import Callable
from typing import NamedTuple

from planner.day import Day
from planner.day.drawn_together import shared_containers
from planner.day.stage_kinds import WET_UNDERFOOT
from planner.engine.fresh import dusty
from planner.engine.problem import Problem

FRESH, GOING, PATCHES = "plan/test_fresh.py::", "plan/test_going_out.py::", "plan/test_patches.py::"
COMING, SHARING, LOW = "plan/test_coming_and_going.py::", "plan/test_sharing.py::", "plan/test_lying_low.py::"


class Shown(NamedTuple):
    """A rule of the checker (``module.name``), what holds it, and the day that shows it."""

    rule: str
    holds: str
    sample: str
    binds: Callable[[Day, Problem], bool]


def _two_chemicals(day: Day, _: Problem) -> bool:
    """Whether one sprayer serves two chemicals."""
    served: dict[str, set[str]] = {}
    for _, _, stage in day.stages():
        for key in {k for m in stage.methods.values() for k in m.kit if day.kit[k].rinsing}:
            served.setdefault(key, set()).update([stage.chemical] if stage.chemical else [])
    return any(len(chemicals) > 1 for chemicals in served.values())


def _drips(day: Day, problem: Problem) -> bool:
    """Whether work is kept from below acid that dwells."""
    acid = {a for a, activity in enumerate(problem.activities) if activity.chemical == "acid"}
    return any(closed.first in acid and closed.activities for closed in problem.closed)


def _limited(day: Day, problem: Problem) -> bool:
    """Whether the weather shuts a stage out at some hour of the day."""
    return bool(day.weather) and any(a.shut for a in problem.activities)


SHOWN = (
    Shown("stages.waits_keep_their_bounds", PATCHES + "test_every_patch_waits_within_the_bounds",
          "three_jobs_two_hands", lambda day, _: any(stage.part for _, _, stage in day.stages())),
    Shown("kit.what_lies_there_was_there", "engine/test_lying.py::test_what_does_not_lie_there_is_not_set_up",
          "top_down", _two_chemicals),
    Shown("kit.kit_is_set_up_once_what_it_needs_stands", SHARING + "test_a_washer_is_set_up_once_its_hose_lies_there",
          "rear_patio", lambda day, _: any(kit.needs and kit.set_up for kit in day.kit.values())),
    Shown("kit.one_chemical_until_rinsed_out", GOING + "test_a_sprayer_is_rinsed_out_between_two_chemicals", "top_down",
          _two_chemicals),
    Shown("kit.what_covers_stays", FRESH + "test_sheets_stay_until_all_that_they_are_for_is_over", "top_down",
          lambda _, problem: bool(problem.kept)),
    Shown("kit.what_lies_under_sheets_is_left_alone",
          FRESH + "test_what_lies_under_sheets_is_worked_before_they_are_laid_or_once_they_are_up", "dry_wood",
          lambda day, _: any(stage.lies_on for _, _, stage in day.stages())),
    Shown("sharing.what_is_shared_is_there", SHARING + "test_it_is_there_before_the_first_that_draws_from_it",
          "one_house", lambda day, _: bool(list(shared_containers(day)))),
    Shown("carrying.water_is_at_hand", GOING + "test_water_is_there_before_a_corrosive_is_opened", "no_tap",
          lambda day, _: any(stage.chemical == "hypochlorite" for _, _, stage in day.stages())),
    Shown("carrying.water_is_for_somebody", GOING + "test_a_can_of_water_is_carried_in_for_a_stage_that_uses_it_up",
          "no_tap", lambda day, _: any(material.water for material in day.materials.values())),
    Shown("going_out.no_leg_is_too_heavy", GOING + "test_one_hand_carries_what_it_lifts", "out_again",
          lambda day, _: any(hand.lifts < 25 for hand in day.hands.values())),
    Shown("going_out.no_chore_is_too_heavy", GOING + "test_kit_on_an_open_way_is_lifted_too", "side_gate",
          lambda day, _: any(kit.mass for kit in day.kit.values())),
    Shown("going_out.wheels_go_where_they_can", GOING + "test_a_sack_truck_takes_more_where_there_are_no_steps",
          "out_again", lambda day, _: any(kit.wheels for kit in day.kit.values())),
    Shown("going_out.everything_goes_out_again", GOING + "test_nothing_is_left_behind", "out_again",
          lambda _, problem: bool(problem.leaving)),
    Shown("fresh.nothing_reaches_fresh_work", FRESH + "test_nothing_is_washed_cleared_or_ground_over_fresh_joints",
          "top_down", lambda _, problem: bool(problem.spoiling)),
    Shown("fresh.nobody_treads_on_fresh_work", FRESH + "test_fresh_work_is_kept_from_feet", "top_down",
          lambda _, problem: any(closed.from_start for closed in problem.closed)),
    Shown("fresh.what_is_clean_stays_clean", FRESH + "test_gutter_before_wall_before_patio", "top_down",
          lambda _, problem: bool(problem.cleaned)),
    Shown("fresh.dust_is_taken_up_before_water_comes",
          FRESH + "test_joints_are_cut_dry_and_swept_before_anything_gets_wet", "joints_below_a_wall",
          lambda day, _: any(list(dusty(job)) for job in day.jobs.values())),
    Shown("fresh.nothing_runs_into_joints_that_are_wetted",
          FRESH + "test_joints_are_wetted_for_filling_once_the_rinse_above_has_drained", "joints_below_a_wall",
          lambda _, problem: any(wetted.minutes == 15 for wetted in problem.wetted)),
    Shown("fresh.what_must_be_dry_is_dry", FRESH + "test_what_must_be_dry_is_not_begun_after_a_jet_beside_it",
          "dry_wood", lambda _, problem: bool(problem.wetted)),
    Shown("ladders.no_ladder_goes_over_wet_steps", FRESH + "test_no_ladder_is_carried_over_wet_steps",
          "joints_below_a_wall", lambda _, problem: bool(problem.slippery)),
    Shown("ladders.no_ladder_stands_in_the_wet", FRESH + "test_no_ladder_stands_where_paving_is_washed",
          "one_house", lambda _, problem: any(beneath.is_down for beneath in problem.beneath)),
    Shown("ladders.no_ladder_is_seen_to_on_what_is_closed",
          LOW + "test_no_ladder_is_put_up_or_taken_down_on_what_dwells", "joints_below_a_wall",
          lambda _, problem: any(closed.kit for closed in problem.closed)),
    Shown("ladders.nothing_electric_stands_in_the_wet",
          LOW + "test_what_must_be_kept_dry_does_not_stand_where_something_is_wetted", "joints_below_a_wall",
          lambda day, problem: any(
              beneath.is_down and "kept-dry" in list(day.kit.values())[beneath.kit].tags for beneath in problem.beneath
          )),
    Shown("surfaces.nobody_walks_through_what_is_sprayed",
          LOW + "test_nobody_walks_over_steps_while_they_are_treated_or_jetted", "salts_above_a_drive",
          lambda _, problem: any(closed.ways and closed.minutes == WET_UNDERFOOT for closed in problem.closed)),
    Shown("fresh.nobody_is_below_what_drips", LOW + "test_nobody_kneels_below_acid_that_dwells_on_a_wall",
          "salts_above_a_drive", _drips),
    Shown("fresh.nobody_works_below_another", FRESH + "test_nobody_works_below_another", "three_jobs_two_hands",
          lambda day, problem: len(day.hands) > 1 and bool(problem.apart)),
    Shown("fresh.nobody_sees_to_kit_below_another", FRESH + "test_nobody_sees_to_kit_below_another",
          "three_jobs_two_hands", lambda _, problem: bool(problem.beneath)),
    Shown("times.stages_keep_their_times", FRESH + "test_every_limit_of_the_weather_is_read", "by_the_forecast",
          _limited),
    Shown("times.layers_are_covered_before_the_rain",
          FRESH + "test_a_layer_and_the_one_that_covers_it_lie_on_one_side_of_the_rain", "joints_below_a_wall",
          lambda _, problem: bool(problem.spells)),
    Shown("times.meals_are_taken", COMING + "test_a_long_day_has_a_meal_at_its_hour", "out_again",
          lambda day, _: day.meal is not None),
    Shown("times.arriving_and_leaving_take_their_time", COMING + "test_nothing_else_is_done_while_arriving_and_leaving",
          "out_again", lambda day, _: any(job.arriving and job.leaving for job in day.jobs.values())),
)  # fmt: skip

OLDER = frozenset(
    {
        "stages.every_stage_once", "stages.as_the_method_says", "stages.inside_its_visit", "stages.in_order",
        "hands.one_thing_at_a_time", "hands.crossings_apart", "hands.where_the_van_is", "hands.own_transport_is_there",
        "hands.crossings_of_ways_that_need_them", "hands.inside_a_crossing", "hands.nothing_elsewhere_meanwhile",
        "kit.each_work_has_its_kit", "kit.kit_stands_set_up_for_all_of_its_use",
        "kit.each_stay_is_set_up_and_packed_down", "kit.one_stage_at_a_time", "kit.no_more_kit_than_we_own",
        "kit.supplies_suffice", "carrying.no_leg_is_overloaded", "carrying.stays_match_what_is_carried",
        "carrying.chores_have_their_hands", "carrying.stays_lie_in_their_visits", "carrying.materials_are_there",
        "carrying.containers_are_carried_whole", "carrying.protection_is_down", "surfaces.nobody_on_a_closed_surface",
        "surfaces.nobody_walks_over_a_closed_surface", "surfaces.nothing_else_while_kept_clear", "apart.nothing_spoils",
        "apart.pairs_apart", "apart.chemicals_never_meet", "apart.the_last_rinse_is_over",
        "times.arrivals_and_promises", "times.hands_keep_their_hours", "times.breaks_are_taken",
        "times.the_van_goes_round",
        "times.drives_take_their_time", "times.visits_are_numbered", "times.own_ways_take_their_time",
        "exposure.no_hand_is_shaken_past_the_limit",
        "slow_days.room_is_kept", "van_away.fetches_take_their_time", "van_away.nothing_from_the_van_meanwhile",
    }
)  # fmt: skip
"""The rest; how sure a day is and a van that is away have ``test_slow_days`` and ``test_fetching``."""
