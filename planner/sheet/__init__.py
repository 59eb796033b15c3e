"""Documents out of a day and its plan.

``wording``    how dates, times and counts are said on paper
``papers``     what is printed: ``hand_order`` (one hand's day row by row), ``agenda`` (the same folded for paper),
               ``waits``, ``loading``, ``cautions``, ``customers``; of these ``runsheet`` and ``slip`` as plain data,
               then ``html``, and ``pdf`` and ``slip_pdf``, laid out by ``pdf_layout``
``chart``      the threshold chart as plain shapes; ``chart.svg`` and ``papers.pdf_chart`` draw it
``calendar``   the day as iCalendar; ``csv_tables`` as tables for spreadsheets
``export``     one function that writes any of them to a file
"""
