"""The independent checker: a second, deliberately simple reading of every rule, apart from the engine.

No plan is shown, printed or saved unless it passes. The rules stand in `planner.plan.rules`, one small function each.
"""

from collections.abc import Callable

from planner.day import Day
from planner.plan.plan import Plan
from planner.plan.rules import (
    apart,
    carrying,
    exposure,
    fresh,
    going_out,
    hands,
    kit,
    ladders,
    sharing,
    slow_days,
    stages,
    surfaces,
    times,
    van_away,
)
from planner.plan.rules.day_and_plan import Breaches, BrokenRule, DayAndPlan
from planner.plan.rules.well_formed import faults_of_form

__all__ = ["RULES", "BrokenPlan", "BrokenRule", "broken_rules", "checked"]

RULES: tuple[Callable[[DayAndPlan], Breaches], ...] = (
    stages.every_stage_once,
    stages.as_the_method_says,
    stages.inside_its_visit,
    hands.one_thing_at_a_time,
    hands.crossings_apart,
    hands.where_the_van_is,
    hands.own_transport_is_there,
    hands.crossings_of_ways_that_need_them,
    hands.inside_a_crossing,
    hands.nothing_elsewhere_meanwhile,
    kit.each_work_has_its_kit,
    kit.kit_stands_set_up_for_all_of_its_use,
    kit.kit_is_set_up_once_what_it_needs_stands,
    kit.each_stay_is_set_up_and_packed_down,
    kit.what_lies_there_was_there,
    kit.one_stage_at_a_time,
    kit.one_chemical_until_rinsed_out,
    kit.what_covers_stays,
    kit.what_lies_under_sheets_is_left_alone,
    kit.no_more_kit_than_we_own,
    kit.supplies_suffice,
    carrying.no_leg_is_overloaded,
    carrying.stays_match_what_is_carried,
    carrying.chores_have_their_hands,
    carrying.stays_lie_in_their_visits,
    carrying.materials_are_there,
    sharing.what_is_shared_is_there,
    carrying.water_is_at_hand,
    carrying.water_is_for_somebody,
    carrying.containers_are_carried_whole,
    going_out.no_leg_is_too_heavy,
    going_out.no_chore_is_too_heavy,
    going_out.wheels_go_where_they_can,
    going_out.everything_goes_out_again,
    carrying.protection_is_down,
    stages.in_order,
    stages.waits_keep_their_bounds,
    surfaces.nobody_on_a_closed_surface,
    surfaces.nobody_walks_over_a_closed_surface,
    surfaces.nobody_walks_through_what_is_sprayed,
    surfaces.nothing_else_while_kept_clear,
    apart.nothing_spoils,
    fresh.nothing_reaches_fresh_work,
    fresh.nobody_treads_on_fresh_work,
    fresh.what_is_clean_stays_clean,
    fresh.dust_is_taken_up_before_water_comes,
    fresh.nothing_runs_into_joints_that_are_wetted,
    fresh.what_must_be_dry_is_dry,
    ladders.no_ladder_goes_over_wet_steps,
    ladders.no_ladder_stands_in_the_wet,
    ladders.no_ladder_is_seen_to_on_what_is_closed,
    ladders.nothing_electric_stands_in_the_wet,
    fresh.nobody_works_below_another,
    fresh.nobody_is_below_what_drips,
    fresh.nobody_sees_to_kit_below_another,
    apart.pairs_apart,
    apart.chemicals_never_meet,
    apart.the_last_rinse_is_over,
    times.arrivals_and_promises,
    times.stages_keep_their_times,
    times.layers_are_covered_before_the_rain,
    slow_days.room_is_kept,
    times.hands_keep_their_hours,
    times.breaks_are_taken,
    times.meals_are_taken,
    times.arriving_and_leaving_take_their_time,
    times.the_van_goes_round,
    times.drives_take_their_time,
    times.visits_are_numbered,
    times.own_ways_take_their_time,
    van_away.fetches_take_their_time,
    van_away.nothing_from_the_van_meanwhile,
    exposure.no_hand_is_shaken_past_the_limit,
)
"""Every rule as it is read, in the order of their numbers."""


def broken_rules(day: Day, plan: Plan, *, since: int | None = None) -> list[BrokenRule]:
    """Every rule that a plan breaks.

    Parameters
    ----------
    day
        The day, in itself sound.
    plan
        Any plan, however wrong; one with unknown keys or spans that run backward is read no further than that.
    since
        The minute it is now on a day under way: what was over before it cannot be changed and is not reported. By
        default the plan's own.

    Returns
    -------
    list of BrokenRule
        In order of rule, then of time. Empty for a plan that holds.
    """
    since = plan.since if since is None else since
    found = list(faults_of_form(day, plan))
    if not found:
        reading = DayAndPlan(day, plan)
        found = [breach for rule in RULES for breach in rule(reading)]
    return sorted(
        {b for b in found if since is None or b.until is None or b.until > since},
        key=lambda b: (b.rule, -1 if b.minute is None else b.minute, b.text),
    )


class BrokenPlan(Exception):  # noqa: N818 - named for what it is
    """A plan that must not be shown."""


def checked(day: Day, plan: Plan, *, since: int | None = None) -> Plan:
    """The plan, if it breaks no rule.

    Raises
    ------
    BrokenPlan
        With the first rules that it breaks.
    """
    broken = broken_rules(day, plan, since=since)
    if broken:
        raise BrokenPlan("; ".join(rule.text for rule in broken[:3]))
    return plan
