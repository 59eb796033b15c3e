"""Rules that keep fresh and finished work whole: cleaning comes last, covers stay, layers are covered before rain."""

from planner.engine.problem import Beneath, Cleaned, KeptFresh, Slippery, Spell, Wetted
from planner.engine.variables import Expr, Stay, Task, Variables


def obey(v: Variables) -> None:
    """State every rule of this page."""
    for cleaned in v.problem.cleaned:
        clean_last(v, cleaned)
    for kept in v.problem.kept:
        keep_covered(v, kept)
        keep_off_what_is_covered(v, kept)
    for wetted in v.problem.wetted:
        begin_dry(v, wetted)
    for slippery in v.problem.slippery:
        for stay in v.stays:
            if stay.kit in slippery.kit and stay.ground in slippery.grounds:
                carry_on_the_dry(v, slippery, stay)
    for beneath in v.problem.beneath:
        for stay in v.stays:
            if (stay.kit, stay.ground) == (beneath.kit, beneath.ground):
                (put_ladders_away if beneath.is_down else see_to_no_kit_beneath)(v, beneath, stay)
    for spell in v.problem.spells:
        cover_before_rain(v, spell)


def clean_last(v: Variables, cleaned: Cleaned) -> None:
    """What runs or falls onto a surface is over before one of the stages that clean it begins."""
    maker, cleaners = v.activities[cleaned.maker], [v.activities[c] for c in cleaned.cleaners]
    if len(cleaners) == 1 and not _given(v, maker, *cleaners):
        v.model.add(maker.end <= cleaners[0].start)
        return
    later = []
    for cleaner in cleaners:
        sooner = v.literal(f"{maker.name} before {cleaner.name}")
        v.model.add(maker.end <= cleaner.start).only_enforce_if(sooner)
        if cleaner.present is not v.true:
            v.model.add_implication(sooner, cleaner.present)
        later.append(sooner)
    certain = any(c.present is v.true for c in cleaners)
    none_is_there = [] if certain else [_none_of(v, cleaners)]
    v.model.add_bool_or([*later, *none_is_there, *(~x for x in _given(v, maker))])


def keep_covered(v: Variables, kept: KeptFresh) -> None:
    """What covers is there before the stages that it is for begin, and serves nothing else until they are over."""
    cover = v.activities[kept.activity]
    for u in kept.until:
        task = v.activities[u]
        v.model.add(task.start >= cover.end).only_enforce_if(_given(v, cover, task))
    serving = {stay.kit for stay in v.stays if _serves(v, kept, stay) is not None}
    if kept.is_over and not set(kept.kit) <= serving:  # it is up: what it was for is over, or is not done
        for u in kept.until:
            if v.problem.activities[u].start is None:
                v.model.add_bool_or([~x for x in _given(v, v.activities[u])])
    for stay in v.stays:
        used = _serves(v, kept, stay)
        if used is None:
            continue
        for u in kept.until:
            task = v.activities[u]
            when = [used, *_given(v, task)]
            v.model.add(stay.unready >= task.end).only_enforce_if(when)
            for a, other in stay.used_by.items():
                if a != kept.activity:
                    _keep_free(v, v.activities[a], cover, task, [*when, other])


def keep_off_what_is_covered(v: Variables, kept: KeptFresh) -> None:
    """What lies under sheets is worked before they are laid, or once all is over and they are packed down."""
    cover = v.activities[kept.activity]
    for a in kept.under:
        task, given = v.activities[a], _given(v, v.activities[a], cover)
        sooner = v.literal(f"{task.name} before {cover.name}")
        v.model.add(task.end <= cover.start).only_enforce_if([sooner, *given])
        for over in (cover, *(v.activities[u] for u in kept.until)):
            v.model.add(task.start >= over.end).only_enforce_if([~sooner, *given, *_given(v, over)])
        for stay in v.stays:
            used = _serves(v, kept, stay)
            if used is not None:
                up = stay.left if stay.pack_down is None else stay.pack_down.end
                v.model.add(task.start >= up).only_enforce_if([~sooner, used, *given])


def _serves(v: Variables, kept: KeptFresh, stay: Stay) -> Expr | None:
    """Whether a stay's kit is what covers; None where it cannot be."""
    if stay.ground != kept.ground or stay.kit not in kept.kit:
        return None
    used = stay.used_by.get(kept.activity)
    if used is None and kept.is_over and stay.standing is not None and not stay.standing.is_packed_down:
        return v.true
    return used


def begin_dry(v: Variables, wetted: Wetted) -> None:
    """What must find its surface dry begins so long after that was wetted, or is over before."""
    wet, dry = v.activities[wetted.wet], v.activities[wetted.dry]
    given = _given(v, wet, dry)
    sooner = v.literal(f"{wet.name} before {dry.name}")
    v.model.add(dry.start >= wet.end + wetted.minutes).only_enforce_if([sooner, *given])
    v.model.add(wet.start >= dry.end).only_enforce_if([~sooner, *given])


def carry_on_the_dry(v: Variables, slippery: Slippery, stay: Stay) -> None:
    """A ladder comes and goes before what its way goes over is wetted, or once it has drained."""
    wet, ground = v.activities[slippery.wet], v.problem.grounds[stay.ground]
    come, go = list(stay.follows.values()), list(stay.followed.values())
    legs = [(stay.came - ground.walk, stay.came, come), (stay.left, stay.left + ground.walk, go)]
    if not ground.slots:
        legs = [(chore.start, chore.end, []) for chore in not_begun(stay, besides=slippery.has_begun)]
    elif stay.standing is not None:
        legs = legs[1:]
    for start, end, lies in legs:
        given = [stay.present, *(~x for x in lies), *_given(v, wet)]
        sooner = v.literal(f"{stay.kit} before {wet.name}")
        v.model.add(end <= wet.start).only_enforce_if([sooner, *given])
        v.model.add(start >= wet.end + slippery.minutes).only_enforce_if([~sooner, *given])


def see_to_no_kit_beneath(v: Variables, beneath: Beneath, stay: Stay) -> None:
    """Nobody sets up or packs down kit under another's jet, spray, treatment or ladder."""
    for chore in not_begun(stay, besides=beneath.has_begun):
        v.model.add_no_overlap([chore.interval, v.activities[beneath.above].interval])


def put_ladders_away(v: Variables, beneath: Beneath, stay: Stay) -> None:
    """No ladder stands on what is washed, treated or sealed: it is put up once that has drained, or is down before.

    On a day under way one that is up beside work that has begun is as it is.
    """
    above, known = v.activities[beneath.above], stay.standing
    is_up = known is not None and (known.is_set_up or known.is_begun)
    if stay.pack_down is None or (is_up and beneath.has_begun):
        return
    given = [stay.present, *_given(v, above)]
    sooner = v.literal(f"{stay.kit} put away before {above.name}")
    v.model.add(stay.pack_down.end <= above.start).only_enforce_if([sooner, *given])
    if stay.set_up is None:
        v.model.add_bool_or([sooner, *(~x for x in given)])
    else:
        v.model.add(stay.set_up.start >= above.end + beneath.minutes).only_enforce_if([~sooner, *given])


def not_begun(stay: Stay, *, besides: bool) -> list[Task]:
    """Set-up and pack-down of a stay; besides work that has begun, on a day under way, only those that have not too."""
    known = stay.standing if besides else None
    begun = (False, False) if known is None else (known.is_begun, known.is_going)
    chores = zip((stay.set_up, stay.pack_down), begun, strict=True)
    return [chore for chore, has_begun in chores if chore is not None and not has_begun]


def _keep_free(v: Variables, other: Task, cover: Task, task: Task, when: list[Expr]) -> None:
    """Another use of a stay lies before the cover, or after the stage that it covers for."""
    sooner = v.literal(f"{other.name} before {cover.name}")
    v.model.add(other.end <= cover.start).only_enforce_if([sooner, *when])
    v.model.add(other.start >= task.end).only_enforce_if([~sooner, *when])


def cover_before_rain(v: Variables, spell: Spell) -> None:
    """From the start of a fresh layer to the end of the one that covers it there is no rain."""
    first, last = v.activities[spell.first], v.activities[spell.last]
    given = _given(v, first, last)
    for start, end in spell.shut:
        sooner = v.literal(f"{last.name} before rain at {start}")
        v.model.add(last.end <= start).only_enforce_if([sooner, *given])
        v.model.add(first.start >= end).only_enforce_if([~sooner, *given])


def _given(v: Variables, *tasks: Task) -> list[Expr]:
    """The presence of those tasks that may be left out."""
    return [task.present for task in tasks if task.present is not v.true]


def _none_of(v: Variables, tasks: list[Task]) -> Expr:
    none = v.literal("none of " + ", ".join(task.name for task in tasks))
    for task in tasks:
        v.model.add_implication(none, ~task.present)
    return none
