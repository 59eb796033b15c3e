"""What was given up for something that was told comes back with it, and only that."""

from dataclasses import replace

from planner.day import Day
from planner.plan.doubts import with_likely
from planner.plan.plan import Plan
from planner.plan.progress import Noted, Progress
from planner.plan.progress_file import progress_from_tables, progress_to_tables
from planner.plan.told_items import told_items, with_causes
from tests.plan import worked

TREAT, RINSE, SWEEP = ("elm", "treat"), ("elm", "rinse"), ("elm", "sweep")


def by_the_tap() -> tuple[Day, Plan]:
    """What rinses needs a tap."""
    day, plan = worked.tiny()
    washer = day.kit["washer"].model_copy(update={"supply": ("tap",)})
    return day.model_copy(update={"kit": {**day.kit, "washer": washer}}), plan


def told(before: Progress, after: Progress) -> Progress:
    """The likely answers to what is then asked."""
    day, plan = by_the_tap()
    return with_causes(day, before, with_likely(day, plan, after))


def without(progress: Progress, word: str) -> Progress:
    """One thing that was told is taken back."""
    day, _ = by_the_tap()
    return next(item.without for item in told_items(day, progress) if item.word == word)


NO_TAP = (("elm", "tap"),)


def test_what_was_given_up_for_want_of_a_tap_comes_back_with_it_in_one_telling() -> None:
    """Neither can be rinsed, nor treated what would not come off."""
    said = told(Progress(485), Progress(485, no_supply=NO_TAP))
    assert set(said.dropped) == {TREAT, RINSE}
    item = next(item for item in told_items(by_the_tap()[0], said) if item.word == "no-tap=elm")
    assert item.says.startswith("no tap at ")
    assert "given up for it: 'Rinse: wall' and 'Treat: wall'" in item.says
    assert item.without.dropped == ()
    assert item.without.given_up_for == ()


def test_what_was_given_up_before_for_itself_stays_given_up() -> None:
    before = Progress(484).without(*SWEEP)
    said = told(before, replace(before, at=485, no_supply=NO_TAP))
    assert set(said.dropped) == {SWEEP, TREAT, RINSE}
    assert without(said, "no-tap=elm").dropped == (SWEEP,)


def test_what_two_things_keep_from_being_done_comes_back_with_the_last_of_them() -> None:
    said = told(Progress(485), Progress(485, no_supply=NO_TAP, lacking={"washer": None}))
    without_tap = without(said, "no-tap=elm")
    assert RINSE in without_tap.dropped
    assert without(without_tap, "without=washer").dropped == ()


def test_taken_back_by_itself_and_given_up_again_it_comes_back_with_nothing() -> None:
    said = told(Progress(485), Progress(485, no_supply=NO_TAP)).kept_on(*RINSE)
    again = said.without(*RINSE)
    assert RINSE in without(again, "no-tap=elm").dropped


def test_the_record_keeps_what_stages_were_given_up_for() -> None:
    said = told(Progress(485), Progress(485, no_supply=NO_TAP))
    assert said.given_up_for
    assert progress_from_tables(progress_to_tables(said)) == said
    assert said.with_later(Progress(490)).given_up_for == said.given_up_for


def test_what_was_told_to_be_off_meanwhile_stays_off() -> None:
    """Treated already: without a tap the rinse is given up, and what is on was taken off by hand."""
    treated = Progress(515, (Noted(*TREAT, 496, 508),))
    said = told(treated, replace(treated, no_supply=NO_TAP))
    assert said.of_stage(*RINSE) == Noted(*RINSE, None, 515)
    back = without(said, "no-tap=elm")
    assert RINSE in back.dropped
    assert back.of_stage(*RINSE) == Noted(*RINSE, None, 515)
