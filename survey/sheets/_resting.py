"""What the findings rest on: figures, the figures that those take up, and who uses which."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field

from survey.assessment import Assessment, Figure
from survey.engineering.working import Input, Quantity, Working
from survey.rulebook.direct import Place
from survey.vocabulary import NOT_KNOWN, VOCABULARY, Subject


@dataclass(slots=True, eq=False)
class Rested:
    """A figure that a finding rests on, or a step that such a figure takes up.

    Args:
        name: its word; of a step that no word names, the title of its working.
        subject: what its places are.
        places: labels of what it is said of; of a step, all that take it up.
        shown: as printed.
        quantity: the result, its working, and all that it rests on.
        inputs: the answers that it takes up itself, not by way of another figure, each once.
        behind: the figures that it takes up, each once.
        codes: of the rules with a finding that rests on it, in brackets where it is released.
        rank: to put those of one method in the order of the form.
    """

    name: str
    subject: Subject
    places: dict[str, None]
    shown: str
    quantity: Quantity
    inputs: dict[int, Input] = field(default_factory=dict)
    behind: dict[int, Rested] = field(default_factory=dict)
    codes: dict[str, None] = field(default_factory=dict)
    rank: int = 0

    @property
    def working(self) -> Working | None:
        """How it was worked out."""
        return self.quantity.result.working

    @property
    def place(self) -> str:
        """The first of its places."""
        return next(iter(self.places))


@dataclass(frozen=True, slots=True)
class Resting:
    """What the findings of a site rest on.

    Args:
        figures: each after those that it takes up.
        concluded: the figures behind each conclusion that a finding looks at.
    """

    figures: tuple[Rested, ...]
    concluded: Mapping[Place, tuple[Place, ...]]


def resting(assessment: Assessment) -> Resting:
    """What the findings of a site rest on.

    Figures that a finding looks at, straight or by way of a conclusion, in the clauses that made
    it what it is; and those behind these.
    """
    known = {(figure.word, figure.place): figure for figure in assessment.figures}
    behind = _Behind(known, assessment.figures_behind)
    looked_at: dict[Place, dict[str, None]] = {}
    for finding in assessment.findings:
        code = finding.rule.code if finding.counts else f"({finding.rule.code})"
        for place in behind.all(place for reason in finding.reasons for place in reason.figures):
            looked_at.setdefault(place, {})[code] = None
    walk = _Walk(known)
    for place, codes in looked_at.items():
        walk.count(walk.take(known[place]), codes)
    order = {label: i for i, label in enumerate(dict.fromkeys(label for _, label in known))}
    for one in walk.found:
        one.places = dict.fromkeys(sorted(one.places, key=order.__getitem__))
        one.rank = order[one.place]
    return Resting(tuple(walk.found), behind.concluded)


class _Behind:
    """From figures and conclusions to figures alone; what is behind a conclusion is found once."""

    def __init__(
        self, known: Mapping[Place, Figure], behind: Callable[[str, str], tuple[Place, ...]]
    ) -> None:
        self.concluded: dict[Place, tuple[Place, ...]] = {}
        self._known, self._behind = known, behind

    def all(self, places: Iterable[Place]) -> Iterator[Place]:
        """The figures among places, and those behind the conclusions among them."""
        for place in places:
            if place in self._known:
                yield place
            else:
                if place not in self.concluded:  # the book refuses circles
                    found = self.all(self._behind(*place))
                    self.concluded[place] = tuple(dict.fromkeys(found))
                yield from self.concluded[place]


class _Walk:
    """From figures to those that they take up, each met once."""

    def __init__(self, known: Mapping[Place, Figure]) -> None:
        self.found: list[Rested] = []
        self._taken: dict[int, Rested] = {}
        self._placed: dict[int, Rested] = {}
        # Of figures that are the same from either side, such as those of two piers, the first.
        self._named = {id(figure.quantity): figure for figure in reversed(list(known.values()))}

    def take(self, figure: Figure) -> Rested:
        """A figure, after those that it takes up."""
        one = self._taken.get(id(figure))
        if one is None:
            one = Rested(
                figure.word, VOCABULARY[figure.word].subject, {figure.place: None}, figure.shown,
                figure.quantity,
            )  # fmt: skip
            self._taken[id(figure)] = one
            self._go_behind(one)
            self.found.append(one)
        return one

    def count(self, one: Rested, codes: Mapping[str, None]) -> None:
        """Note which findings rest on a figure, and so on those behind it."""
        if not codes.keys() <= one.codes.keys():
            one.codes.update(codes)
            for other in one.behind.values():
                self.count(other, codes)

    def _go_behind(self, one: Rested) -> None:
        for part in one.quantity.behind:
            self._add(part, one)

    def _add(self, part: Input | Quantity, to: Rested) -> None:
        """Add to a figure what it takes up in one of its parts."""
        if isinstance(part, Input):
            to.inputs[id(part)] = part
        elif (figure := self._named.get(id(part))) is not None:
            to.behind[id(figure)] = self.take(figure)
        elif (working := part.result.working) is None:  # where something stands
            placed = self._placed.get(id(part))
            if placed is None:
                placed = Rested("", to.subject, dict(to.places), "", part)
                self._placed[id(part)] = placed
                self._go_behind(placed)
            for other in placed.behind.values():
                if id(other.quantity) not in self._named and other.subject is to.subject:
                    other.places.update(to.places)
            to.inputs.update(placed.inputs)
            to.behind.update(placed.behind)
        elif _printed_with(to, working):
            for inner in part.behind:
                self._add(inner, to)
        else:
            to.behind[id(part)] = self._step(to, part, working)

    def _step(self, user: Rested, quantity: Quantity, working: Working) -> Rested:
        """A figure that no word names, taken up by another."""
        one = self._taken.get(id(quantity))
        if one is None:
            shown = working.lines[-1].result
            if quantity.result.value is NOT_KNOWN:
                shown = f"{NOT_KNOWN}, but {shown}" if quantity.result.bounds else str(NOT_KNOWN)
            one = Rested(working.title, user.subject, dict(user.places), shown, quantity)
            self._taken[id(quantity)] = one
            self._go_behind(one)
            self.found.append(one)
        elif user.subject is one.subject:
            one.places.update(user.places)
        return one


def _printed_with(one: Rested, working: Working) -> bool:
    """Whether the lines of a working stand in that of the figure itself."""
    own, first = one.working, working.lines[:1]
    return own is not None and any(line is first[0] for line in own.lines if first)
