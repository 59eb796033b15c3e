"""Measurements, printed as tables; no tests, for what they find depends on the machine.

``days``       how soon and how well the days of the samples are planned
``published``  project scheduling instances in published formats, against a general library and a plain model
``invent``     writes random instances in those formats, for where the published ones are not at hand
``scale``      cost against the number of stages, jobs and hands
``week``       six days of eight jobs each, planned side by side
``risk``       playing a plan out many times
"""
