"""The result as plain data and tables, and the independent checker of every rule.

``plan`` (what a plan says), ``checker`` and ``rules``, ``kept`` (the file), ``progress`` and ``past`` (on the day),
``tables``, ``loading``, ``exposed`` (what follows from a plan). It knows ``day`` and ``trade``, and nothing of solvers.
"""
