"""Recipes: from the few words by which a job uses one to the stages, waits and notes that a person would write.

Works on raw tables, before a day is typed. Within ``trade`` it may use everything; ``day`` lays recipes out by it.
"""
