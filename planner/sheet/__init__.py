"""Documents out of a day and its plan.

``signs``      signs that are no part of a text; ``wording`` what parts of a day are called on paper
``order``      one hand's day row by row, ``agenda`` the same folded for paper
``waits``, ``loading``, ``cautions``, ``customers``: what is said of each
``runsheet``   all of the run sheet as plain data, ``slip`` the customers' slips
``html``       sheet and slips as HTML; ``pdf`` and ``slip_pdf`` as PDF, laid out by ``pdf_layout``
``chart``      the threshold chart as plain shapes; ``svg`` and ``pdf_chart`` draw it
``calendar``   the day as iCalendar; ``csv_tables`` as tables for spreadsheets
``export``     one function that writes any of them to a file
"""
