"""Words of the trainer's own within a line of notation, as far as they can be no other part of it."""

from __future__ import annotations

from repslate.model.tokens import Kind, Reader

_LONGEST = 6  # words of a load or of a lift's name
_ELSEWHERE = frozenset(
    "rest tempo rpe rir leave per each ea es e with and for x by on off no last final cluster clusters set sets max"
    " amrap rep reps of at".split()
)  # what another part begins or ends with
_ENDS = (",", ";", "·", "•", "|", ")")
_MAY_FOLLOW = ("rest", "tempo", "rpe", "rir", "leave")


def take_words(r: Reader) -> str:
    """Read words up to the end of the part, as typed; "" and nothing read where a figure or another part follows."""
    steps = 0
    while steps < 2 * _LONGEST:
        token = r.ahead(steps)
        is_joint = token.is_dash and token.glued and r.ahead(steps + 1).glued and steps > 0
        is_word = token.kind is Kind.WORD and (token.word not in _ELSEWHERE or (steps > 0 and token.word == "max"))
        following = r.ahead(steps + 1)
        is_and = token.word == "and" and steps > 0 and following.kind is Kind.WORD and following.word not in _ELSEWHERE
        if not (is_joint or is_word or is_and):
            break
        steps += 1
    after = r.ahead(steps)
    if (
        not steps
        or r.ahead(steps - 1).is_dash
        or not (after.kind is Kind.END or after.text in _ENDS or after.word in _MAY_FOLLOW)
    ):
        return ""
    first = r.here
    for _ in range(steps):
        last = r.take()
    return r.typed((first, last))
