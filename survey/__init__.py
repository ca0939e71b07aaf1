"""Pre-installation site survey and risk checker for steel piers beside settled footings.

The way of the data, one folder or module an arrow:

    workbook -> answers -> survey -> quantities -> facts -> findings -> decision -> sheet
"""

__version__ = "0.1.0"
