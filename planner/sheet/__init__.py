"""Documents out of a day and its plan.

``wording``    what parts of a day are called on paper; ``order``, ``waits``, ``loading``, ``cautions``, ``customers``: what
               is said of each
``runsheet``   all of the run sheet as plain data, ``slip`` the customers' slips; ``html``, ``pdf`` and ``slip_pdf`` set them
``chart``      the threshold chart as plain shapes; ``svg`` and ``pdf_chart`` draw it
``calendar``   iCalendar; ``csv_tables`` tables for spreadsheets
``export``     one function that writes any of them to a file
"""
