"""Planning and studies in processes of their own, and the window's end of the pipes to them.

It may use ``model``; chart, forms and pages hear of its work by signals.
"""
