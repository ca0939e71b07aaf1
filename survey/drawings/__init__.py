"""From a judged site to drawings: the plan, and a section through each kind of pit.

Each drawing is made from the figures that the rules were judged on, as shapes on paper, and written
as SVG that stands in the page itself.
"""
