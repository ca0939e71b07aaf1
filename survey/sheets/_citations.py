"""What a ``from`` line of the book rests on: publications, clauses, and how far each was checked.

The lines are prose. What can't be taken apart for certain is kept whole under each publication that
it names, or under none: nothing of a line is lost, and no clause is made up.
"""

from __future__ import annotations

import enum
import re
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace


class Standing(enum.Enum):
    """How far what is cited can be relied on."""

    CONFIRMED = "confirmed"
    MEMORY = "from memory"
    SECONDARY_COPY = "seen in a secondary copy"
    COMMON_PRACTICE = "common practice"
    OWN = "our own"
    UNNAMED = "no clause named"


COMMON_PRACTICE, OWN, OTHER = "Common practice", "Our own", "Other"
NO_PUBLICATION = (COMMON_PRACTICE, OWN, OTHER)


@dataclass(frozen=True, slots=True)
class Citation:
    """One clause that a line rests on.

    Args:
        publication: ``29 CFR 1926 Subpart P``, ``ACI 318-19``; one of the last three otherwise.
        clause: ``1926.651(j)(2)``, or the words that stand there; empty if it is all of it.
        remark: what the line says about it besides, such as ``fraction from memory``.
        standings: ``CONFIRMED`` alone, or every mark that the line puts on it.
    """

    publication: str
    clause: str
    remark: str
    standings: tuple[Standing, ...]


@dataclass(frozen=True, slots=True)
class Part:
    """What stands between two semicolons of a line, with the words that only go on from it.

    Args:
        text: as written.
        marked: as written, with the parts before it that a mark such as "both from memory" is
            meant for as well.
        citations: what it cites, at least one.
    """

    text: str
    marked: str
    citations: tuple[Citation, ...]

    @property
    def standings(self) -> tuple[Standing, ...]:
        """Those of its citations, each once."""
        return tuple(dict.fromkeys(s for one in self.citations for s in one.standings))


# How the book marks what nobody has checked against the published text.
_MARKS = {
    Standing.MEMORY: "from memory",
    Standing.SECONDARY_COPY: "secondary cop(?:y|ies)|second[ -]hand",
    Standing.COMMON_PRACTICE: "common practice",
}
_ALL_BEFORE = re.compile(r"\b(?:both|all|each)(?: \w+){0,2} from memory\b", re.IGNORECASE)
_OUR_OWN = re.compile(r"\bour own\b|\bfirm's (?:own|rule)\b")

_STATE_LAW = "State one-call law"
_CFR = r"(?P<title>\d+ CFR) (?P<part>\d+)(?:(?P<section>\.\d+)|(?P<subpart> Subpart [A-Z]+))?\b"
# Other publications as the book names them: codes and standards, then books, papers and patents.
_CODES = (
    r"(?:ACI|AISC|AISI|ANSI|API|ASCE|ASME|ASTM|AWC|AWS|CIRIA|ISO|NFPA|TMS|UFC|UL)"
    r"(?:/[A-Z]+)* [A-Z]{0,3}\d+(?:[.-]\d+)*",
    r"AASHTO [A-Z] \d+(?: to [A-Z] \d+)?|FHWA-[A-Z]+-\d+-\d+|ICC-ES AC\d+",
    r"(?:IBC|IEBC|IFC|IRC|MUTCD|NDS|NEC)(?: (?:19|20)\d\d(?![.\d]))?|EPA|NIOSH",
)
_BOOKS = (
    r"[A-Z][\w ,.&'-]*? \d+(?:st|nd|rd|th) ed\.",
    r"Standard Handbook for Civil Engineers \(Merritt\)",
    r"[A-Z][a-z]+ et al\., [^;]*?\b(?:19|20)\d\d\b(?:, [\d-]+)?",
    r"(?!Chapter|Fig|Part|Section|Table)[A-Z][a-z]+(?: and [A-Z][a-z]+| et al\.)? "
    r"(?:18|19|20)\d\d(?![.\d])",
    r"US Patent [\d,]+(?: \(\d{4}\))?",
    r"Dupuit and Sichardt|Terzaghi",
)
_PUBLICATION = re.compile(
    rf"\b(?:{_CFR}|(?P<other>{'|'.join((*_CODES, *_BOOKS))})(?!\w)"
    r"|(?P<state>[Ss]tate (?:one-call )?law)\b)"
)
# Sections of 29 CFR 1926 by subpart (ranges from memory), so that they stand with its appendices.
_SUBPARTS = {
    "C": (20, 35), "D": (50, 66), "E": (95, 107), "F": (150, 159), "G": (200, 203), "H": (250, 252),
    "I": (300, 307), "J": (350, 354), "K": (400, 449), "L": (450, 454), "M": (500, 503),
    "O": (600, 606), "P": (650, 652), "Q": (700, 706), "R": (750, 761), "S": (800, 804),
    "T": (850, 860), "U": (900, 914), "V": (950, 968), "X": (1050, 1060), "Z": (1100, 1153),
    "AA": (1200, 1213), "CC": (1400, 1442),
}  # fmt: skip

_PARAGRAPH = r"\((?:[a-z]|[ivxl]+|[A-Z]|\d{1,2})\)"
_PARAGRAPHS = rf"(?:{_PARAGRAPH})+(?:-(?:{_PARAGRAPH})+)?"
_TABLE = r"(?:Table|Fig\.) [A-Z0-9][A-Z0-9.-]*"
# A clause of the CFR, with the section or appendix that paragraphs and tables after it belong to.
_OF_CFR = re.compile(
    rf"(?P<base>\d+\.\d+|App\. [A-Z])(?: ?(?P<paragraphs>{_PARAGRAPHS}))?(?P<table> {_TABLE})?"
)
# A clause of a code: 14.5.2, B3.1, R403.1.1, Table 19.2.1.1.
_OF_CODE = re.compile(
    rf"(?:(?:Table|Fig\.|Chapter|Section|App\.) )?[A-Z]{{0,2}}\d+(?:[.-]\d+)*(?:{_PARAGRAPHS})?"
)
# Paragraphs that surely belong to the section before them. (i), (v) and (x) may be numerals further
# in, after which no figure comes.
_SURELY_NEXT = re.compile(r"\((?:[a-hj-uwyz]\)|[ivx]\)\(\d)")
_CLAUSE_LIKE = re.compile(rf"{_PARAGRAPH}|\d\.\d+\.\d")


def read_source(source: str, *, local: bool = False) -> tuple[Part, ...]:
    """The parts of a ``from`` line, in order; together they hold every word of it.

    Args:
        source: the line, such as ``29 CFR 1926.651(k)(2); common practice``.
        local: whether it stands in a firm's own file.
    """
    said: list[list[str]] = []
    for text in filter(None, _cut(source, ";")):
        if said and not local and _goes_on(text):
            said[-1].append(text)
        else:
            said.append([text])
    parts: list[Part] = []
    for text, *more in said:
        whole = "; ".join((text, *more))
        citations = tuple(_citations(text, "; ".join(more), local=local))
        parts.append(Part(whole, whole, citations))
        if _ALL_BEFORE.search(whole):
            parts = _from_memory_together(parts)
    return tuple(parts)


def in_order(publications: Iterable[str]) -> list[str]:
    """Publications, each once: regulations first, then by their names; what is none last."""

    def rank(name: str) -> tuple[int, object]:
        if name in NO_PUBLICATION:
            return 2 + NO_PUBLICATION.index(name), ()
        return (0 if " CFR " in name else 1), natural(name)

    return sorted(set(publications), key=rank)


def natural(text: str) -> tuple[tuple[bool, int, str], ...]:
    """A text to sort by: figures by what they are, before words; ``1926.651``, ``1926.1153``."""
    found = re.findall(r"(\d+)|(\D+)", text)
    return tuple((not figure, int(figure or 0), words) for figure, words in found)


def _cut(text: str, mark: str) -> list[str]:
    """A text cut at each mark that stands before a space or the end, but not within brackets."""
    pieces, depth, start = [], 0, 0
    for i, sign in enumerate(text):
        depth += (sign == "(") - (sign == ")")
        if sign == mark and depth <= 0 and text[i + 1 : i + 2].strip() == "":
            pieces.append(text[start:i])
            start = i + 1
    return [" ".join(piece.split()) for piece in (*pieces, text[start:])]


def _goes_on(text: str) -> bool:
    """Whether a part is only a remark on the one before it: in small letters, no source named."""
    return not (text[0].isupper() or _named(text) or _OUR_OWN.search(text))


def _from_memory_together(parts: list[Part]) -> list[Part]:
    """Parts whose last says that all of them are from memory."""
    marked = "; ".join(part.text for part in parts)
    return [
        replace(part, marked=marked, citations=tuple(map(_from_memory, part.citations)))
        for part in parts
    ]


def _from_memory(citation: Citation) -> Citation:
    if citation.publication in NO_PUBLICATION:
        return citation
    marks = {Standing.MEMORY, *citation.standings} - {Standing.CONFIRMED}
    return replace(citation, standings=tuple(mark for mark in Standing if mark in marks))


def _marks(*texts: str) -> tuple[Standing, ...]:
    return tuple(
        mark
        for mark, said in _MARKS.items()
        if any(re.search(said, text, re.IGNORECASE) for text in texts)
    )


def _citations(text: str, more: str, *, local: bool) -> Iterator[Citation]:
    """What one part cites: clause by clause where it opens with a publication, else whole.

    Args:
        text: the part.
        more: remarks on it.
        local: whether it stands in a firm's own file.
    """
    listed = list(_listed(text, more))
    yield from listed
    marks, named = _marks(text, more), _named(text)
    cited = {one.publication for one in listed}
    for publication in named:
        if publication not in {COMMON_PRACTICE, *cited}:
            yield Citation(publication, text, more, marks or (_unmarked(publication),))
    if Standing.COMMON_PRACTICE in marks:
        yield Citation(COMMON_PRACTICE, text, more, marks)
    elif not named:
        own = local or _OUR_OWN.search(text) is not None
        standing = Standing.OWN if own else Standing.UNNAMED
        yield Citation(OWN if own else OTHER, text, more, (*marks, standing))


def _unmarked(publication: str) -> Standing:
    """What a citation without a mark is: each State has a law of its own, and no clause of it."""
    return Standing.UNNAMED if publication == _STATE_LAW else Standing.CONFIRMED


def _named(text: str) -> list[str]:
    """The publications that a text names, in its order; common practice is one here."""
    found = [_name(match) for match in _PUBLICATION.finditer(text)]
    if Standing.COMMON_PRACTICE in _marks(text):
        found.append(COMMON_PRACTICE)
    return list(dict.fromkeys(found))


def _name(match: re.Match[str]) -> str:
    """A publication as the page names it."""
    if match["other"]:
        return match["other"]
    if match["state"]:
        return _STATE_LAW
    whole = f"{match['title']} {match['part']}"
    if match["subpart"]:
        return whole + match["subpart"]
    if whole == "29 CFR 1926" and match["section"]:
        section = int(match["section"][1:])
        for subpart, (first, last) in _SUBPARTS.items():
            if first <= section <= last:
                return f"{whole} Subpart {subpart}"
    return whole


def _opening(text: str) -> tuple[str, str] | None:
    """The publication that a text opens with, and the rest of it."""
    match = _PUBLICATION.match(text)
    if match is None:
        return None
    rest = text[match.start("part") if match["section"] else match.end() :]
    return _name(match), rest.removeprefix(",").strip()


@dataclass(frozen=True, slots=True)
class _Clause:
    """A clause that was read off a piece of a text.

    Args:
        base: of the CFR: the section or appendix that paragraphs after it belong to.
        remark: what stands after it in brackets.
    """

    publication: str
    base: str
    clause: str
    remark: str


def _listed(text: str, more: str) -> Iterator[Citation]:
    """The clauses of a text that opens with a publication; all of the rest where it has none."""
    opening = _opening(text)
    if opening is None:
        return
    pieces, read = _cut(text, ","), list[_Clause]()
    for piece in pieces:
        found = _read(piece, read[-1] if read else None)
        if found is None:
            break
        read.append(found)
    rest = ", ".join(pieces[len(read) :])
    if not read or _CLAUSE_LIKE.search(rest):  # not to be taken apart for certain
        publication, clause = opening
        if clause.startswith("(") and clause.endswith(")"):
            clause, more = "", "; ".join(filter(None, (clause[1:-1], more)))
        yield Citation(publication, clause, more, _marks(text, more) or (_unmarked(publication),))
        return
    yield from _marked(read, "; ".join(filter(None, (rest, more))))


def _marked(read: list[_Clause], rest: str) -> Iterator[Citation]:
    """The clauses of a part with their marks.

    A mark in brackets is meant for the clauses before it, back to the last such mark; one in the
    words that follow, for all.
    """
    remark = ""
    marked: list[Citation] = []
    for one in reversed(read):
        if _marks(one.remark):
            remark = one.remark
        remarks = dict.fromkeys(filter(None, (one.remark, remark, rest)))
        marks = _marks(*remarks) or (Standing.CONFIRMED,)
        marked.append(Citation(one.publication, one.clause, "; ".join(remarks), marks))
    yield from reversed(marked)


def _read(piece: str, before: _Clause | None) -> _Clause | None:
    """The clause that a piece of a text names; none if that can't be told for certain."""
    body, remark = _without_remark(piece)
    opening = _opening(body)
    if opening is not None:
        publication, body = opening
    elif before is None:
        return None
    else:
        publication = before.publication
    if " CFR " not in publication:
        return _Clause(publication, "", body, remark) if _OF_CODE.fullmatch(body) else None
    if before is not None and re.fullmatch(_TABLE, body):
        return _Clause(publication, "", f"{before.base} {body}".strip(), remark)
    if before is not None and before.base and _SURELY_NEXT.match(body):
        gap = " " if before.base.startswith("App.") else ""
        body = f"{before.base}{gap}{body}"
    match = _OF_CFR.fullmatch(body)
    if match is None:
        return None
    if opening is None and match["base"][0].isdigit():  # a section of another subpart, perhaps
        title = publication.partition(" CFR ")[0]
        publication = _named(f"{title} CFR {match['base']}")[0]
    return _Clause(publication, "" if match["table"] else match["base"], body, remark)


def _without_remark(piece: str) -> tuple[str, str]:
    """A piece without the words that stand in brackets at its end, and those words."""
    match = re.fullmatch(r"(.*?) \(((?:[^()]|\([^()]*\))*)\)", piece)
    if match is None or re.fullmatch(_PARAGRAPH, f"({match[2]})"):
        return piece, ""
    return match[1], match[2]
