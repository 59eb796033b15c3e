"""What once ruined work or hurt somebody in days called proven best, and the tests that ask that it never comes again.

A line is what a practitioner saw in a plan; beside it stand the tests, ``file::name`` below ``tests``, that assert what
must not happen, whatever the times are. `tests.engine.test_ruined_days` holds that each of them is there.
"""

FRESH, OUT, PATCHES, RUINED, CHECKER, GOING_OUT, FACTS, LOW = (
    "engine/test_fresh_work.py::", "engine/test_out_again.py::", "engine/test_patches.py::",
    "engine/test_ruined_days.py::", "plan/test_fresh.py::", "plan/test_going_out.py::", "test_trade_facts.py::",
    "plan/test_lying_low.py::",
)  # fmt: skip

DAYS_OF_A_NEW_USER: dict[str, tuple[str, ...]] = {
    "a wall is washed between the layers of the joints below it, and rinsed onto fresh filler": (
        FRESH + "test_no_wall_is_rinsed_onto_fresh_joints",
        CHECKER + "test_nothing_is_washed_cleared_or_ground_over_fresh_joints",
    ),
    "a gutter is cleared over fresh pointing": (
        FRESH + "test_no_gutter_is_cleared_over_fresh_joints_nor_onto_the_washed_patio",
        RUINED + "test_no_gutter_is_cleared_onto_what_is_washed_or_between_layers",
    ),
    "gutters are cleared onto a washed, drying terrace, and between filling and compacting": (
        FRESH + "test_gutters_are_not_cleared_onto_a_terrace_that_dries_or_is_sealed",
        RUINED + "test_no_gutter_is_cleared_onto_what_is_washed_or_between_layers",
    ),
    "every patch of a treated drive stands longer than its most": (
        PATCHES + "test_no_patch_of_the_treated_drive_stands_longer_than_the_label_says",
        RUINED + "test_every_patch_of_a_treated_drive_by_recipe_stands_within_its_bounds",
    ),
    "loose slabs are re-bedded, and ground at once": (
        PATCHES + "test_bedded_slabs_are_neither_ground_swept_nor_wetted_before_they_have_set",
    ),
    "a break of twenty minutes stands between filling and compacting": (
        PATCHES + "test_nobody_rests_between_filling_and_compacting",
        PATCHES + "test_filler_is_compacted_while_it_can_be_worked",
    ),
    "compaction runs into the rain": (
        RUINED + "test_compaction_by_recipe_does_not_run_into_the_rain",
        CHECKER + "test_compaction_does_not_run_into_the_rain",
    ),
    "a terrace is sealed 70 minutes after washing, a deck oiled 100 after, because a forecast says so": (
        OUT + "test_no_forecast_makes_a_coating_sooner_than_its_recipe",
        FACTS + "test_what_must_dry_through_is_sealed_or_oiled_a_day_later",
    ),
    "a stage is moved past the end of its forecast, and nothing is said of it": (
        OUT + "test_a_stage_past_the_end_of_the_forecast_is_told_so",
        OUT + "test_what_the_kind_or_the_ladder_says_of_weather_is_told_past_its_end_too",
    ),
    "hypochlorite, cans and rubble never leave the rear ground": (
        OUT + "test_nothing_stays_behind_the_house",
        RUINED + "test_the_rest_of_the_can_does_not_stay_behind_the_house",
        GOING_OUT + "test_nothing_is_left_behind",
    ),
    "treatment is sprayed before the first water reaches the ground": (
        OUT + "test_no_corrosive_is_opened_before_there_is_water",
        GOING_OUT + "test_water_is_there_before_a_corrosive_is_opened",
        RUINED + "test_water_is_fetched_before_the_acid_is_opened_and_not_while_it_dwells",
    ),
    "one hand is given 27 to 31 kg in one go": (OUT + "test_nobody_is_given_more_than_they_lift_in_one_go",),
}

TWENTY_HOUSES: dict[str, tuple[str, ...]] = {
    "sheets are packed before the treatment or the rinse that they are for": (
        RUINED + "test_sheets_lie_until_the_last_that_they_are_for",
        FRESH + "test_sheets_stay_until_the_wall_is_rinsed",
    ),
    "a wall is rinsed onto a drive or steps that are finished, also where drains_to says so": (
        RUINED + "test_no_wall_is_rinsed_onto_what_it_drains_to_once_that_is_washed",
        FRESH + "test_a_wall_is_not_rinsed_onto_the_drive_that_it_drains_to_once_that_is_rinsed",
    ),
    "a parapet's rinse runs into open joints": (
        FRESH + "test_a_parapet_is_not_rinsed_into_open_joints_that_are_washed",
        CHECKER + "test_joints_are_wetted_for_filling_once_the_rinse_above_has_drained",
    ),
    "joints are cut in slabs washed minutes before": (
        FRESH + "test_joints_are_cut_and_swept_before_the_slabs_get_wet",
        RUINED + "test_dust_of_a_day_by_hand_is_taken_up_before_anything_there_gets_wet",
    ),
    "their dust lies unswept for half an hour": (RUINED + "test_dust_does_not_lie_for_half_an_hour_nor_get_wet",),
    "joints are wetted minutes after washing": (
        FRESH + "test_joints_are_not_wetted_minutes_after_washing_and_are_damp_when_they_are_filled",
        PATCHES + "test_joints_are_not_wetted_minutes_after_washing",
    ),
    "layers are hours apart, with showers between and nothing to do": (
        FRESH + "test_the_second_layer_follows_the_first_within_its_time",
        PATCHES + "test_the_second_layer_follows_the_first_within_its_time",
        FRESH + "test_layers_lie_on_one_side_of_the_showers",
        RUINED + "test_no_shower_falls_on_a_layer_that_is_not_covered_yet",
    ),
    "somebody sweeps below another's treatment": (FRESH + "test_nobody_sweeps_below_anothers_treatment",),
    "gutters are cleared from a ladder above another's lance": (
        FRESH + "test_two_hands_do_not_work_below_one_another",
        RUINED + "test_nobody_is_up_a_ladder_within_anothers_reach",
        CHECKER + "test_nobody_works_below_another",
    ),
    "a ladder is carried over wet steps": (
        RUINED + "test_no_ladder_goes_over_steps_that_are_wet",
        CHECKER + "test_no_ladder_is_carried_over_wet_steps",
    ),
    "bedded slabs are pressure-washed an hour later": (
        PATCHES + "test_bedded_slabs_are_neither_ground_swept_nor_wetted_before_they_have_set",
    ),
    "one hand works till late while the other, who may work longer, has nothing to do": (
        "engine/test_sensible_days.py::test_who_may_work_longer_does_what_is_late",
    ),
    "a surface cleaner is set up before its washer is there": (
        RUINED + "test_nothing_is_set_up_before_what_drives_it_stands_there",
        "plan/test_sharing.py::test_a_washer_is_set_up_once_its_hose_lies_there",
    ),
    "a trip is made for the slab lifter alone": (
        "engine/test_sensible_days.py::test_nothing_light_has_a_trip_of_its_own_that_others_could_have_taken_along",
    ),
}

THE_CHECKER: dict[str, tuple[str, ...]] = {
    "a plan with a wind of 60 where 20 is the most is called kept": (
        CHECKER + "test_every_limit_of_the_weather_is_read",
        CHECKER + "test_a_ladder_has_a_limit_of_wind_unless_its_stage_says_its_own",
        RUINED + "test_nobody_goes_up_a_ladder_in_a_wind_that_moves_it",
    ),
    "on a shaded surface it refuses what is right": (CHECKER + "test_what_lies_in_the_shade_is_as_cool_as_the_air",),
}

HOUSES_SINCE: dict[str, tuple[str, ...]] = {
    "windows are washed and rinsed while the wall that they are in dwells, and the wall is rinsed over them": (
        RUINED + "test_windows_are_rinsed_once_the_wall_that_they_are_in_is",
    ),
    "a ladder stands for hours while the paving at its feet is jetted": (
        RUINED + "test_no_ladder_stands_where_somebody_jets",
        CHECKER + "test_no_ladder_stands_where_paving_is_washed",
    ),
    "soap dries on fascias for most of an hour while the gutter over them is scraped": (
        RUINED + "test_fascias_are_rinsed_before_the_soap_dries",
    ),
    "oil stains are scrubbed, and their degreaser rinsed, once the drive about them is finished": (
        RUINED + "test_oil_is_lifted_before_the_paving_that_it_is_in_is_washed",
    ),
    "somebody kneels at an oil stain while the other sprays the drive that it is in": (
        RUINED + "test_nobody_kneels_at_a_stain_while_the_drive_about_it_is_sprayed",
    ),
    "a wall and paving by recipe: one jets below where the other sprays, and the wall is rinsed onto what is washed": (
        RUINED + "test_a_wall_by_recipe_stands_over_the_paving_of_its_ground",
        RUINED + "test_the_checker_knows_what_a_wall_by_recipe_stands_over",
    ),
    "one puts acid on a wall while the other packs down a washer on the ground below": (
        RUINED + "test_no_kit_is_seen_to_below_anothers_spray_or_jet",
        CHECKER + "test_nobody_sees_to_kit_below_another",
        CHECKER + "test_kit_that_has_another_place_is_seen_to_there",
        "engine/test_under_way_rules.py::test_who_is_seeing_to_kit_below_another_ends_it_and_begins_no_more",
    ),
    "acid is put on a wall after the drive below was treated with hypochlorite and washed, and not rinsed yet": (
        RUINED + "test_no_acid_is_opened_before_what_holds_hypochlorite_was_rinsed_for_the_last_time",
        "plan/test_checker.py::test_a_chemical_waits_for_the_last_rinse_of_one_that_it_must_never_meet",
    ),
    "acid on a wall above a drive for hypochlorite is refused, though the drive may be rinsed first": (
        RUINED + "test_acid_above_what_it_must_never_meet_is_rinsed_off_that_first",
        RUINED + "test_a_drive_is_not_rinsed_first_for_nothing",
    ),
    "acid runs over a ledge onto what bleach is put on, and nothing rinses that between": (
        RUINED + "test_what_drains_by_way_of_something_else_is_rinsed_off_too",
        "plan/test_checker.py::test_chemicals_meet_where_they_drain_to_in_the_end",
    ),
    "a channel lies open from eight until half past one, while joints are cut and pointed beside it": (
        RUINED + "test_no_channel_lies_open_for_hours_where_somebody_walks",
    ),
    "a gutter is cleared onto the half of a deck that is washed, as the other half is washed later": (
        RUINED + "test_nothing_falls_on_a_section_that_is_washed_though_another_is_washed_later",
    ),
    "sheets are carried out through the kitchen and fetched in again two minutes later, to be laid where they were": (
        "engine/test_lying.py::test_sheets_that_were_taken_up_lie_there_until_they_are_laid_again",
        "engine/test_lying.py::test_what_is_carried_out_and_in_again_for_nothing_lies",
    ),
    "a channel is flushed, and then moss falls into it from the fascia above": (
        RUINED + "test_no_channel_is_flushed_before_what_stands_above_it_is_cleared",
    ),
    "a channel is cleared and flushed, and then the paving that drains there is washed into it, or joints are filled": (
        RUINED + "test_a_channel_is_cleared_when_its_paving_is_washed_and_before_its_joints_are_filled",
        LOW + "test_paving_is_washed_before_the_channel_that_it_drains_to_is_cleared_and_flushed",
        LOW + "test_joints_are_wetted_though_the_channel_is_flushed_as_that_brings_no_dirt",
        LOW + "test_a_channel_is_not_cleared_beside_fresh_joints",
    ),
    "a channel lies open, scooped out, while a gutter above it is cleared or a wall rinsed": (
        RUINED + "test_no_channel_lies_open_below_a_gutter_a_wall_or_beside_an_oil_stain",
    ),
    "somebody kneels at a channel in paving that was treated and left": (
        RUINED + "test_nobody_kneels_on_what_was_treated_and_left",
    ),
    "a ladder is put up on paving on which a treatment dwells": (
        LOW + "test_no_ladder_is_put_up_or_taken_down_on_what_dwells",
        LOW + "test_no_ladder_is_put_up_on_what_is_fresh_and_spoiled_by_feet",
    ),
    "a grinder and its extractor stand set up where the patio is pressure-washed, hours after the joints were cut": (
        LOW + "test_what_must_be_kept_dry_does_not_stand_where_something_is_wetted",
        RUINED + "test_no_grinder_and_no_gutter_vacuum_stand_where_somebody_jets",
    ),
    "one walks over the steps with a load while the other sprays or jets them": (
        LOW + "test_nobody_walks_over_steps_while_they_are_treated_or_jetted",
    ),
    "somebody kneels at an oil stain while acid dwells on the wall above": (
        RUINED + "test_nobody_works_below_acid_that_dwells",
        LOW + "test_nobody_kneels_below_acid_that_dwells_on_a_wall",
    ),
    "moss is scraped from the roof's edge into the gutter that was cleared just before": (
        RUINED + "test_no_moss_is_scraped_into_a_gutter_that_is_done",
    ),
    "one gathers moss from the ground where the other vacuums the gutter above": (
        RUINED + "test_nobody_gathers_moss_below_anothers_gutter",
        CHECKER + "test_who_works_high_up_stands_below_what_falls_beside",
    ),
    "salts are brushed off dry a quarter of an hour after the fascia above was rinsed down over them": (
        RUINED + "test_no_salts_are_brushed_off_dry_from_a_wall_that_was_wetted_from_above",
    ),
    "sand is swept into the joints of blocks that a shower has just wetted": (
        RUINED + "test_no_sand_is_swept_into_blocks_that_a_shower_has_wetted",
    ),
    "a fence waits for four hours as a channel was flushed across the yard": (
        RUINED + "test_a_channel_is_flushed_onto_no_fence_and_onto_the_blocks_that_it_lies_in",
    ),
    "acid is sprayed on a wall while hypochlorite dwells on the one beside it": (
        RUINED + "test_no_acid_is_sprayed_beside_a_wall_that_hypochlorite_is_on",
        LOW + "test_acid_and_hypochlorite_are_not_open_beside_each_other",
    ),
    "one sweeps or grinds the steps while the other seals, oils or treats the paving beside them": (
        RUINED + "test_nobody_sweeps_or_jets_beside_what_another_seals_or_treats",
        CHECKER + "test_no_dust_and_no_spray_comes_on_what_another_puts_on",
    ),
    "steps on the way are washed first, and rubble and mortar are carried over them all day": (
        RUINED + "test_no_rubble_is_carried_over_steps_that_are_washed",
        LOW + "test_nobody_walks_over_wet_steps_to_what_lies_behind_them",
    ),
    "leaves are cleared onto joints of a gutter that were just sealed, or onto its guard": (
        RUINED + "test_no_dirt_comes_on_sealed_joints_of_a_gutter_nor_on_its_guard",
    ),
    "windows are rinsed, and then the drive below them is jetted": (
        RUINED + "test_nothing_is_jetted_below_windows_that_are_rinsed",
    ),
    "one gathers moss at the foot of a wall that the other rinses": (
        RUINED + "test_nobody_gathers_moss_at_the_foot_of_a_wall_that_another_rinses",
    ),
    "one jets an oil stain beside the open bed that the other has just made good": (
        RUINED + "test_no_jet_washes_out_the_bed_of_slabs_that_are_lifted",
    ),
    "a ladder is put up on a drive a quarter of an hour after it was washed": (
        RUINED + "test_no_ladder_is_put_up_on_a_drive_that_is_wet",
        CHECKER + "test_no_ladder_is_put_up_on_paving_that_is_wet",
    ),
    "one is up a ladder at the gutter while the other washes the fascia below it": (
        RUINED + "test_nobody_is_up_a_ladder_above_or_beside_anothers_pole_at_the_eaves",
        CHECKER + "test_who_works_high_up_stands_below_what_falls_beside",
    ),
    "moss is scraped and gathered onto a patio that was washed, as a rinse still comes": (
        RUINED + "test_no_moss_falls_on_a_patio_that_is_washed_though_it_is_rinsed_after_that",
        CHECKER + "test_a_rinse_takes_off_what_a_rinse_brings_and_a_wash_what_falls_or_is_thrown_down",
    ),
    "a gutter is cleared while the wall below it dwells": (
        RUINED + "test_no_gutter_is_cleared_into_a_wall_that_dwells",
        CHECKER + "test_nothing_comes_down_on_what_dwells",
    ),
    "one sweeps below another's dry brush, or in another's spray": (
        RUINED + "test_nobody_sweeps_below_anothers_dry_brush_nor_in_anothers_spray",
        CHECKER + "test_what_is_swept_is_not_sprayed_meanwhile",
    ),
    "hypochlorite is sprayed beside a fence that was just coated": (
        RUINED + "test_no_treatment_is_sprayed_beside_a_fence_that_was_just_coated",
        CHECKER + "test_a_coat_is_spoiled_by_mist_dust_and_spray_beside_it",
    ),
    "blocks are washed, and then the steps above them are washed onto them": (
        RUINED + "test_steps_are_washed_before_the_paving_from_which_they_rise",
    ),
    "five bags that are hardly full are carried out beside each other": (
        GOING_OUT + "test_what_several_stages_leave_is_put_together",
    ),
    "render in the sun dries before the treatment has dwelt, and the day is refused": (
        "day/test_rewetting.py::test_render_in_the_sun_is_misted_again_and_stays_no_longer_than_its_label_says",
    ),
    "a ladder that may stay stands up while the van is away": (
        "plan/test_checker.py::test_no_ladder_is_left_standing_while_the_van_is_away",
    ),
}

LINES = DAYS_OF_A_NEW_USER | TWENTY_HOUSES | THE_CHECKER | HOUSES_SINCE
