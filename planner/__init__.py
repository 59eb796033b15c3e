"""Slackwater plans a working day of outside cleaning and repair.

The packages, in the order in which a day flows through them; each imports only those above it:

``trade``    the arithmetic of the trade: pure functions with units, and the shipped library of recipes
``day``      the typed day and its file
``plan``     the planned day as data and tables, and the independent checker of every rule
``engine``   turns a day into a constraint problem, solves it, explains it
``fit``      will it fit, and what would make it fit: verdict, remedies, trade-off, risk
``record``   what was planned and what it took: own pace, and quoted work
``sheet``    run sheet, slips, calendar, tables, chart: documents out of a day and its plan
``cli``      the ``slackwater`` command
``desktop``  the window
"""

__version__ = "0.2.0"
