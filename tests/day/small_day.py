"""The text of a small sound day, a file with many remarks, and where the sample days lie."""

from pathlib import Path

SAMPLES = Path(__file__).parents[2] / "sample_days"

REMARKED = Path(__file__).parent / "remarked_day.toml"

SMALL = """\
format = 1
date = 2026-06-16
start = "08:00"
finish = "17:00"

[van]
starts_at = "yard"
ends_at = "yard"

[hands.ash]
hours = ["08:00", "17:00"]

[places]
yard = {}
elm = {}

[travel]
trips = [{ from = "yard", to = "elm", minutes = "10 min" }]

[kit.washer]
load = 1.5
supply = ["tap"]

[kit.broom]
load = 0.5

[materials.filler]
load = 1.0

[jobs.elm]
place = "elm"

[jobs.elm.grounds.rear]
supplies = { tap = 1 }
way_in = { minutes = "2 min", restricted = true }

[jobs.elm.surfaces]
wall = { ground = "rear", area = "20 m2", stood_on = false }
path = { ground = "rear" }

[jobs.elm.stages.treat]
surface = "wall"
methods.spray = { minutes = "12 min" }

[jobs.elm.stages.rinse]
surface = "wall"
methods.lance = { kit = ["washer"], rate = { amount = 60, unit = "m2" } }

[jobs.elm.stages.sweep]
surface = "path"
methods.broom = { kit = ["broom"], minutes = "20 min", uses = { filler = 1 } }

[[jobs.elm.waits]]
after = "treat"
before = "rinse"
kind = "dwell"
least = "30 min"
most = "45 min"
"""

IN_WEATHER = SMALL.replace(
    "format = 1\n",
    """\
format = 1
weather = [
    { time = "08:00", air = 12, humidity = 0.7, wind = 8, rain_chance = 0.1, sun = false },
    { time = "12:00", air = 17.5, humidity = "55 %", wind = 12, rain_chance = 0.6, sun = true },
]
""",
).replace('most = "45 min"\n', 'most = "45 min"\nweather = "film"\nfilm = 0.2\n')
"""The small day with a forecast, and a dwell that hangs on it."""
