"""The cautions that apply to a day: those that the planned stages, their kit and the jobs call for."""

from dataclasses import dataclass

from planner.day import Day
from planner.plan.plan import Plan
from planner.sheet.wording import Names
from planner.trade.cautions import cautions_for, without_caution

LONE_WORK = "lone-work"


@dataclass(frozen=True, slots=True)
class CautionNote:
    """A caution, and what in the day calls for it."""

    title: str
    text: str
    about: str


def cautions_today(day: Day, plan: Plan) -> tuple[CautionNote, ...]:
    """The cautions for a plan's stages, kit and jobs, the gravest first.

    A tag that no caution knows is told too, so that a slip of the pen in a file never loses one.
    """
    causes = _causes(day, plan)
    known = [
        CautionNote(caution.title, caution.text, ", ".join(causes[caution.tag])) for caution in cautions_for(causes)
    ]
    unknown = [
        CautionNote(tag, "No caution of this name is known: ask before you start.", ", ".join(causes[tag]))
        for tag in without_caution(causes)
    ]
    return (*known, *unknown)


def _causes(day: Day, plan: Plan) -> dict[str, list[str]]:
    """What calls for each tag: stages and kit by name, each once."""
    names, causes = Names(day), dict[str, dict[str, None]]()
    for visit in plan.visits:
        for tag in day.jobs[visit.job].hazards:
            causes.setdefault(tag, {})[names.job(visit.job)] = None
    for work in sorted(plan.works, key=lambda w: w.start):
        stage = day.jobs[work.job].stages[work.stage]
        for tag in stage.tags:
            causes.setdefault(tag, {})[names.stage(work.job, work.stage)] = None
        for key in day.kit_closure(stage.methods[work.method].kit):
            for tag in day.kit[key].tags:
                causes.setdefault(tag, {})[names.kit(key)] = None
    if len(day.hands) == 1 and plan.works:
        causes.setdefault(LONE_WORK, {})["one hand all day"] = None
    return {tag: list(about) for tag, about in causes.items()}
