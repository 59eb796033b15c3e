"""Problems of activities alone, as published scheduling instances are: no hands, kit or grounds.

Days never come here. ``engine.search`` asks it for schedules and bounds before it asks the solver.
"""
