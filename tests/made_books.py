"""A small shipped book, and a firm's own files over it, for the tests of what shows a book."""

from __future__ import annotations

import dataclasses

from survey.rulebook.book import read_and_try
from survey.rulebook.rules import Rule, RuleBook

HOSTILE = "</title></style><script>alert(1)</script><img src=x onerror=alert(1)>{{ 7 * 7 }}\"'"

SHIPPED_FILES = {
    "dig.rules": """\
topic Excavation

legal limit spoil set-back = 2 ft
  from  29 CFR 1926.651(j)(2)

limit most days = 3 days
  from  common practice

legal table steepest slope
  by    soil class, pit depth
  row   stable rock, up to 20 ft gives 0H:1V
  row   A, up to 12 ft gives 0.75H:1V
  row   B, up to 20 ft gives 1H:1V
  row   C, up to 20 ft gives 1.5H:1V
  from  29 CFR 1926 Subpart P App. B Table B-1

rule DIG-2 spoil too near to a pit
  for   each pier
  when  spoil distance is less than spoil set-back
  then  stop
  say   Spoil at {pier} lies {spoil distance} from the edge; {spoil set-back} is needed.
  do    Move it back from {pier}.
  say es La tierra en {pier} está a {spoil distance} del borde; hacen falta {spoil set-back}.
  do es Retírela de {pier}.
  who   crew
  from  29 CFR 1926.651(j)(2)
  release competent person
  case  spoil distance 1 ft 11 in gives stop
  case  spoil distance 2 ft       gives nothing
  case  spoil distance not known  gives ask

rule DIG-10 sides cut too steep
  for   each pier
  when  slope of sides is less than steepest slope
  then  engineer
  say   Pit {pier} is too steep.
  do    Cut it back.
  who   crew
  from  29 CFR 1926 Subpart P App. B Table B-1
  release licensed engineer
  case  slope of sides 1H:1V, soil class C, pit depth 5 ft gives engineer
  case  slope of sides 2H:1V, soil class C, pit depth 5 ft gives nothing
  case  slope of sides not known, soil class C, pit depth 5 ft gives ask

rule DIG-3 wet ground
  for   each pier
  when  seepage at pit is yes
  then  count soil class as C
  say   Water seeps into {pier}.
  from  common practice
  case  seepage at pit yes gives C
  case  seepage at pit no gives nothing
  case  seepage at pit not known gives ask
""",
    "line.rules": """\
topic Buried lines

limit line set-back = 4 ft
  from  common practice

rule LINE-1 gas near a pit
  for   each pier
  when  any utility where (utility kind is one of gas, propane and clearance to utility is less than
        line set-back)
  then  condition
  say   Gas lies near {pier}.
  do    Have it shut off.
  who   competent person
  from  common practice
  release nobody
  case  utility (utility kind gas, clearance to utility 1 ft) gives condition
  case  all utilities listed yes gives nothing
  case  all utilities listed not known gives ask

rule LINE-2 no request
  for   the site
  when  locate request made is no
  then  stop
  say   None was made.
  do    Make one.
  who   scheduler
  from  common practice
  release competent person
  case  locate request made no gives stop
  case  locate request made yes gives nothing
  case  locate request made not known gives ask
""",
}
FIRM_FILES = {
    "firm.rules": """\
topic Our own

legal limit spoil set-back = 3 ft
  from  our safety plan 4.2

legal table steepest slope
  by    soil class, pit depth
  row   stable rock, up to 20 ft gives 0.5H:1V
  row   A, up to 12 ft gives 1H:1V
  row   B, up to 20 ft gives 1H:1V
  row   C, up to 20 ft gives 1.5H:1V
  from  29 CFR 1926 Subpart P App. B; our safety plan 4.3

question dog loose on site
  for     the site
  kind    yes or no
  prompt  Is there a dog loose on site?
  help    Ask the owner.

rule OWN-1 dog that nobody holds
  for   the site
  when  dog loose on site is yes
  then  ask
  say   A dog is loose.
  do    Have it tied.
  who   scheduler
  from  common practice
  release nobody
  case  dog loose on site no gives nothing
  case  dog loose on site yes gives met
  case  dog loose on site not known gives ask

switch off rule LINE-2
  reason  the office asks for every locate
  by      A. Ode

standing release REL-1 detail D-3 for poured walls
  lifts    DIG-10
  when     wall material is poured concrete
  engineer T. Quill
  licence  PE 12 (OH)
  given    2026-01-01
  until    2026-12-31
  note     detail D-3: pits at most 3 ft wide
  case     wall material poured concrete gives lifted
  case     wall material brick gives nothing
  case     wall material not known gives ask
"""
}

SHIPPED = read_and_try(SHIPPED_FILES, {})
OWN = read_and_try(SHIPPED_FILES, FIRM_FILES)


def hostile_book(source: str = HOSTILE) -> RuleBook:
    """The firm's book with markup and signs that can't be seen wherever it has a text."""

    def spoilt(rule: Rule) -> Rule:
        return dataclasses.replace(
            rule, name=HOSTILE, topic=HOSTILE, say=HOSTILE, do=HOSTILE, say_es=HOSTILE,
            do_es=HOSTILE, who=HOSTILE, source=source, code=f'{rule.code}"><script>',
            place=f"{HOSTILE}:3",
        )  # fmt: skip

    return dataclasses.replace(
        OWN,
        levels=tuple(tuple(spoilt(rule) for rule in level) for level in OWN.levels),
        limits={
            name: dataclasses.replace(limit, name=HOSTILE, shown=HOSTILE, source=source)
            for name, limit in OWN.limits.items()
        },
        tables={
            name: dataclasses.replace(table, name=HOSTILE, source=source)
            for name, table in OWN.tables.items()
        },
        changes=tuple(
            dataclasses.replace(change, what=HOSTILE, why=HOSTILE, place=HOSTILE)
            for change in OWN.changes
        ),
        fingerprint="\x1b\u202e",
    )
