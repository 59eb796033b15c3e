"""Will it fit, and if not, what would make it fit? Every answer is had by planning again, not by a rule.

Read it in this order: ``network`` and ``linking`` (what in a plan waits for what), ``chain`` (what carries the finish),
``risk`` (the plan played out many times), ``verdict`` (one sentence); then what could be changed: ``trade_off``,
``second_hand``, ``remedies``, ``two_days``, ``way_in``, ``break_even``; and ``week`` (many days at once).
``side_by_side`` plans changed days in processes of their own, which do ``errands`` that come over the ``wire``.
"""
