"""A plan of the tiny day written by hand, so that the documents are tested without the engine."""

from planner.plan.plan import (
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


def tiny_plan() -> Plan:
    """One careful hand: treat, sweep while it dwells, rinse; two crossings of two minutes a walk.

    The first crossing, 08:10 to 08:58, brings sprayer and broom, the second the washer.
    """
    return Plan(
        drives=(Drive("yard", "elm", 480, 490), Drive("elm", "yard", 581, 591)),
        visits=(Visit("elm", 1, 490, 581),),
        crossings=(
            Crossing(
                "elm", 1, "rear", "ash", 490, 538,
                (Carried("sprayer"), Carried("broom")), (Carried("sprayer"), Carried("broom")),
            ),
            Crossing("elm", 1, "rear", "ash", 540, 581, (Carried("washer"),), (Carried("washer"),)),
        ),
        stays=(
            Stay("elm", "rear", "sprayer", 1, 1, 1, 492, 536),
            Stay("elm", "rear", "broom", 1, 1, 1, 492, 536),
            Stay("elm", "rear", "washer", 1, 1, 1, 542, 579),
        ),
        chores=(
            Chore("set up", "elm", 1, "rear", ("ash",), 492, 496, "sprayer", 1),
            Chore("pack down", "elm", 1, "rear", ("ash",), 508, 512, "sprayer", 1),
            Chore("set up", "elm", 1, "rear", ("ash",), 542, 548, "washer", 1),
            Chore("pack down", "elm", 1, "rear", ("ash",), 574, 579, "washer", 1),
        ),
        works=(
            Work("elm", "treat", "spray", ("ash",), 1, 496, 508, (("sprayer", 1),)),
            Work("elm", "sweep", "broom", ("ash",), 1, 512, 532, (("broom", 1),)),
            Work("elm", "rinse", "lance", ("ash",), 1, 548, 563, (("washer", 1),)),
        ),
        rests=(Rest("ash", 563, 574),),
    )  # fmt: skip
