"""The ways to go in plain lines."""

from __future__ import annotations

from collections.abc import Iterator
from textwrap import wrap

from survey.assessment.ways.judging import Passed
from survey.assessment.ways.ways import (
    Answered,
    ChangeStep,
    LookStep,
    MendStep,
    ReleaseStep,
    Step,
    Stuck,
    Way,
    Ways,
)
from survey.assessment.why_turned import WEATHER
from survey.rulebook.rules import money
from survey.vocabulary import tidy

_WIDEST = 100
_LOOK = "Look, and write what is true. Do not fill in what would suit: a wrong GO can kill."
_DO = "Write another choice only once it is decided and will be done so."
_MOST_SEEN = 6
_NO_WAY = (
    "No way by anything that we may answer, change or have released, among the answers that were "
    "tried"
)


def lines(ways: Ways) -> Iterator[str]:
    """The ways to go of a site, cheapest first, as lines of text."""
    yield from _wrapped(f"{ways.name}: {ways.verdict.value}", "")
    if ways.disagreement:
        yield from _wrapped(
            "FAULT of the program: its two evaluators disagree, so nothing can be said of a way to "
            f"go: {'; '.join(ways.disagreement)}. Keep the survey and report this line.", "",
        )  # fmt: skip
        return
    if ways.goes_as_it_is:
        yield "It goes as it is."
        return
    if ways.passed is not None:
        yield from _wrapped(f"It does not go as it is. {Passed(ways.passed)}", "")
    for fault in ways.unconfirmed:
        yield from _wrapped(
            "FAULT of the program: a way that was found was not confirmed by a full check and is "
            f"left out: {fault}. Keep the survey and report this line.", "",
        )  # fmt: skip
    yield from _wrapped(_summary(ways), "")
    for stuck in ways.stuck:
        yield from _stuck(stuck)
    if ways.stuck and not ways.ways and not ways.all_told:
        yield from _wrapped("What else there is to do was not found before the search stopped.", "")
    to_do = [way for way in ways.ways if way.steps]
    if ways.stuck and ways.ways:
        yield ""
        yield from _wrapped(
            "Once that is so no longer and is surveyed again, and if the days fit, "
            f"{'still to do:' if to_do else 'nothing else stands against it.'}", "",
        )  # fmt: skip
    for number, way in enumerate(to_do, start=1):
        yield ""
        yield from _way(number, way, ways)
    sorts = {type(step) for way in ways.ways for step in way.steps}
    if sorts & {LookStep, ChangeStep}:
        yield ""
    if LookStep in sorts:
        yield _LOOK
    if ChangeStep in sorts:
        yield _DO
    if ways.uncosted and ways.ways:
        yield from _wrapped(
            f"The rules set no cost for: {', '.join(ways.uncosted)}. It is not in the sums.", ""
        )


def _summary(ways: Ways) -> str:
    number = len(ways.ways)
    found = f"{number} way{'' if number == 1 else 's'} to go, the cheapest first."
    if ways.all_told:
        found = f"{found} There is no other, among the answers that were tried."
    elif ways.cheapest:
        found = f"{found} There may be others, but none cheaper among the answers that were tried."
    else:
        found = "One way to go. The search stopped early: there may be others, and cheaper ones."
    if ways.stuck:
        return f"{_NO_WAY}. This stands against it, as the site was seen and stated:"
    if not ways.ways:
        return (
            f"{_NO_WAY}: what stands in the way can be turned one by one, but not together."
            if ways.all_told
            else "No way was found before the search stopped; there may be one."
        )
    if ways.without_engineer is False:
        return f"No way without an engineer, among the answers that were tried. {found}"
    return found


def _stuck(stuck: Stuck) -> Iterator[str]:
    head = f"{stuck.code} at {stuck.place}: " if stuck.code else ""
    yield from _wrapped(f"- {head}{stuck.say}", "  ")
    if stuck.seen:
        more = len(stuck.seen) - _MOST_SEEN
        rest = f"; and {more} more" if more > 0 else ""
        yield from _wrapped(
            f"It rests on {'; '.join(stuck.seen[:_MOST_SEEN])}{rest}.", "    ", "  "
        )
    if stuck.do:
        yield from _wrapped(f"To do: {stuck.do}", "    ", "  ")


def _way(number: int, way: Way, ways: Ways) -> Iterator[str]:
    cost = f"{money(way.cost, ways.currency)}, " if ways.currency else ""
    things = f"{len(way.steps)} thing{'' if len(way.steps) == 1 else 's'} to do"
    then = way.verdict.value
    if ways.stuck:
        then = "nothing else stands against it"
    elif way.ticks:
        then += f", with {way.ticks} thing{'' if way.ticks == 1 else 's'} for the crew to tick"
    yield from _wrapped(f"{number}. {cost}{things}, then {then}", "   ")
    for step in way.steps:
        for line in _step(step):
            yield from _wrapped(line, "     " if line.startswith("- ") else "       ", "   ")


def _step(step: Step) -> Iterator[str]:
    match step:
        case LookStep(answer, on_site):
            where = "Look on site" if on_site else "Find out"
            if answer.word in WEATHER:
                where = "Look at the forecast for the days of this way"
            yield f"- {where}: {_named(answer)}, so far {answer.was}."
            yield f"  {_which(answer)}"
        case ChangeStep(answer, opens, empties):
            yield f"- Choose: {_named(answer)}: {answer.chosen} instead of {answer.was}."
            if opens:
                said = "; ".join(f"{_named(one)}: {one.chosen}" for one in opens)
                yield f"  With it, and only if it is so: {said}."
            if empties:
                yield f"  Leave blank then: {'; '.join(empties)}."
        case ReleaseStep():
            places = ", ".join(step.places)
            yield (
                f"- Ask for a release of {step.code} ({step.name}) at {places}, by a "
                f"{step.by.value}, dated from {step.given_from} to {step.given_by} and holding to "
                f"{step.until} or longer. Whether it is given is for whoever gives it."
            )
        case MendStep(problem):
            yield f"- Put right: {problem}."


def _named(answer: Answered) -> str:
    of = "" if answer.label == "site" else f" of {answer.label}"
    return f"{answer.word}{of} ({answer.where})"


def _which(answer: Answered) -> str:
    if not answer.goes:
        return f"It goes with: {answer.chosen}."
    stays = f" Not with: {'; '.join(answer.stays)}." if answer.stays else ""
    return f"It goes with: {'; '.join(answer.goes)}.{stays}"


def _wrapped(text: str, further: str, first: str = "") -> Iterator[str]:
    """A text over lines that are not too wide, with nothing that could lead a terminal astray."""
    lead = len(text) - len(text.lstrip(" "))
    yield from wrap(
        tidy(text), _WIDEST, initial_indent=f"{first}{' ' * lead}", subsequent_indent=further,
        break_long_words=False, break_on_hyphens=False,
    )  # fmt: skip
