"""The calculations applied to a survey: every derived word, with the answers it rests on.

In: a survey. Out: a figure, or *not known* with the reason, for each derived word of the
vocabulary, of each thing and pair of things. One module a topic; each takes the answers and the
figures worked out before it, and gives figures by word.
"""

from survey.quantities.work import work_out

__all__ = ["work_out"]
