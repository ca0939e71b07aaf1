"""What whoever plans the job must be able to read on the sheet."""

from __future__ import annotations

from survey.engineering._steps import noted
from survey.engineering.working import Line, Result, Working, not_known
from survey.model import Value
from survey.vocabulary import DOES_NOT_APPLY, Missing, names_nobody, says_nothing

_PRACTICE = "common practice"


def job_data_complete(
    address: Value, competent_person: Value, emergency_contact: Value, ticket_number: Value
) -> Result:
    """Whether the data without which no crew is sent out are all given.

    Args:
        address: of the building.
        competent_person: name.
        emergency_contact: number and hospital.
        ticket_number: of the locate ticket; does not apply where no request was made, which
            the rules on the request judge.

    Returns:
        ``yes``; ``no`` where one of them only holds the place of an answer, such as "TBD", or
        the competent person is no person's name.

    Not known when:
        One of them is not given.

    Source:
        Common practice.

    >>> job_data_complete("1 Hill Road", "A. Smith", "911", DOES_NOT_APPLY).value
    'yes'
    >>> job_data_complete("1 Hill Road", "to follow", "911", "26-1180").value
    'no'
    """
    data = {
        "address": address,
        "competent person": competent_person,
        "emergency contact": emergency_contact,
        "ticket number": ticket_number,
    }
    lacking = [
        name
        for name, value in data.items()
        if isinstance(value, Missing) and not (name == "ticket number" and value is DOES_NOT_APPLY)
    ]
    if lacking:
        return not_known(f"not given: {', '.join(lacking)}")
    held_open = any(says_nothing(str(value)) for value in data.values())
    complete = "no" if held_open or names_nobody(str(competent_person)) else "yes"
    lines = (
        *(noted("", name, str(value)) for name, value in data.items()),
        Line("", "job data complete", "yes if all are given", "", complete, _PRACTICE),
    )
    return Result(complete, working=Working("Job data", _PRACTICE, "every survey", lines))
