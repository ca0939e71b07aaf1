"""``python -m survey`` is the command ``pier-survey``."""

from survey.cli import main

main()
