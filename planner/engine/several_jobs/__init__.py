"""Days of several jobs: each job alone, the round that joins them, and what these bound.

Read ``alone`` (the problem of one job out of the clock), ``at_a_job`` (what its search finds and proves),
``refuting`` (what a larger job takes at the least),
``shortest_round`` (what every day with these jobs takes at the least), ``composing`` (a plan from those of its jobs),
``job_by_job`` (all of it, on several cores), ``neighbourhoods`` (a plan bettered piece by piece).
"""
