"""The picture of the day as a widget: painted, zoomed, walked through by keyboard, wished on by dragging.

It may use ``model`` and ``thinking``; what it shows is laid out in ``sheet.chart``.
"""
