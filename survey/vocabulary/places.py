"""Where in the United States a building can stand, and how people write it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from types import MappingProxyType

# The States and the District of Columbia, then the territories: USPS Publication 28, Appendix B.
STATES: Mapping[str, str] = MappingProxyType(
    {
        "AK": "Alaska", "AL": "Alabama", "AR": "Arkansas", "AZ": "Arizona", "CA": "California",
        "CO": "Colorado", "CT": "Connecticut", "DC": "District of Columbia", "DE": "Delaware",
        "FL": "Florida", "GA": "Georgia", "HI": "Hawaii", "IA": "Iowa", "ID": "Idaho",
        "IL": "Illinois", "IN": "Indiana", "KS": "Kansas", "KY": "Kentucky", "LA": "Louisiana",
        "MA": "Massachusetts", "MD": "Maryland", "ME": "Maine", "MI": "Michigan",
        "MN": "Minnesota", "MO": "Missouri", "MS": "Mississippi", "MT": "Montana",
        "NC": "North Carolina", "ND": "North Dakota", "NE": "Nebraska", "NH": "New Hampshire",
        "NJ": "New Jersey", "NM": "New Mexico", "NV": "Nevada", "NY": "New York", "OH": "Ohio",
        "OK": "Oklahoma", "OR": "Oregon", "PA": "Pennsylvania", "RI": "Rhode Island",
        "SC": "South Carolina", "SD": "South Dakota", "TN": "Tennessee", "TX": "Texas",
        "UT": "Utah", "VA": "Virginia", "VT": "Vermont", "WA": "Washington", "WI": "Wisconsin",
        "WV": "West Virginia", "WY": "Wyoming",
        "AS": "American Samoa", "GU": "Guam", "MP": "Northern Mariana Islands",
        "PR": "Puerto Rico", "VI": "Virgin Islands",
    }
)  # fmt: skip
OUTSIDE = "outside the United States"
_OTHER_NAMES = {
    "Washington DC": "DC", "Washington, DC": "DC", "Washington D.C.": "DC",
    "Washington, D.C.": "DC", "US Virgin Islands": "VI", "U.S. Virgin Islands": "VI",
}  # fmt: skip


def _spellings() -> Iterator[tuple[str, str]]:
    for code, name in STATES.items():
        yield name, code
        for between in (".", ". ", " "):
            yield between.join(code), code


# Other ways to write a code: its name, and its letters set apart.
SPELLINGS: Mapping[str, str] = MappingProxyType({**dict(_spellings()), **_OTHER_NAMES})
