"""The careful person's serial order: one thing after another, in milliseconds, without a solver.

The baseline, the first plan and the first hint. It knows the problem and the plan; `sought` alone asks the solver.
"""
