"""The picture of the day as a widget: painted, zoomed, walked through by keyboard, wished on by dragging.

It may use ``model``; what it shows is laid out in ``sheet.chart``.
"""
