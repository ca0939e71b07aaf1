"""Calculations behind the findings: pure functions, one module a topic of the trade.

In: plain numbers and words of the vocabulary, each in the canonical unit that the argument
names (lengths in inches, loads in plf, pressures in psf). Out: a
:class:`~survey.engineering.working.Result`, which is a value with its printable working, or
*not known* with the reason. :func:`survey.quantities.work_out` applies them to
a whole survey.
"""
