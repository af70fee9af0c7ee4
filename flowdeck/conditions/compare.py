"""Judging comparisons: do the two sides go together, and can the answer ever change?"""

from collections.abc import Callable
from math import isinf
from typing import Literal, TypeAlias

from flowdeck.conditions.faults import listed, meant, quoted
from flowdeck.conditions.meaning import Meaning
from flowdeck.conditions.ranges import verdict
from flowdeck.conditions.units import alike, shown
from flowdeck.model.condition import Age, Const, Since
from flowdeck.model.diagnostic import Level

Operator: TypeAlias = Literal["<", "<=", ">", ">=", "==", "!="]
Report: TypeAlias = Callable[[str, str, int, Level], None]
"""Takes kind, message, offset and level of a fault."""

_CLOCKS = (Since, Age)
"""Unknown until something has happened, so `since('x') >= 0` says that it has."""
_SORTS = {"number": "a number", "word": "a word", "truth": "true or false", "broken": "not readable"}


def said(part: Meaning) -> str:
    """The text of *part* for a message: in quotes, unless it is a word that has its own."""
    return quoted(part.words[0]) if part.literal and part.sort == "word" else quoted(part.label)


def sort_of(part: Meaning) -> str:
    """What *part* is, for a message."""
    if part.sort == "word" and part.words and not part.literal:
        return f"one of {listed(part.words)}"
    return _SORTS[part.sort]


def judge(op: Operator, left: Meaning, right: Meaning, report: Report) -> None:
    """Report what is wrong with `left op right`."""
    if "broken" in (left.sort, right.sort):
        return
    at, text = left.offset, f"{left.label} {op} {right.label}"
    if left.sort != right.sort:
        report("wrong-type", _mismatch(left, right), at, Level.ERROR)
    elif left.sort != "number" and op not in ("==", "!="):
        message = f"{said(left)} is {sort_of(left)}, and has no order; compare it with == or !="
        report("wrong-type", message, at, Level.ERROR)
    elif left.sort == "word":
        _judge_words(op, left, right, text, report)
    elif not alike(left.unit, right.unit):
        message = f"{said(left)} is {shown(left.unit)} and {said(right)} {shown(right.unit)}; "
        report("unit-clash", message + "unlike units cannot be compared", at, Level.ERROR)
    elif left.sort == "number":
        answer = verdict(op, left.span, right.span) if left.expr != right.expr else op in ("<=", ">=", "==")
        if not (answer and isinstance(left.expr, _CLOCKS)):
            _settled(answer, text, f"; {_spans(left, right)}", at, report)
    elif left.literal and right.literal:
        _settled((left.expr == right.expr) == (op == "=="), text, "", at, report)


def judge_among(subject: Meaning, options: list[Meaning], negated: bool, report: Report) -> None:
    """Report what is wrong with `subject in (options)`."""
    text = f"{subject.label} {'not in' if negated else 'in'} ({', '.join(option.label for option in options)})"
    found = False

    def note(kind: str, message: str, offset: int, level: Level) -> None:
        nonlocal found
        if level is Level.ERROR:
            found = True
            report(kind, message, offset, level)

    for option in options:
        judge("==", subject, option, note)
    if found or subject.sort == "broken":
        return
    named = {option.expr.value for option in options if isinstance(option.expr, Const)}
    if subject.sort == "word" and not subject.literal and subject.words and named.issuperset(subject.words):
        _settled(not negated, text, f"; it names all that {said(subject)} can be", subject.offset, report)
    elif subject.sort == "number":
        answers = {verdict("==", subject.span, option.span) for option in options}
        if answers == {False}:
            spans = _spans(subject, subject)
            _settled(negated, text, f"; {spans}", subject.offset, report)


def _mismatch(left: Meaning, right: Meaning) -> str:
    """Two sides of unlike sort: say what each is, and the usual way to write it."""
    message = f"{said(left)} is {sort_of(left)} and {said(right)} is {sort_of(right)}"
    for one, other in ((left, right), (right, left)):
        if one.sort == "truth" and other.sort == "word" and other.literal:
            return f"{message}; {said(one)} stands by itself: write {one.label}, or not {one.label}"
        if one.sort == "word" and other.sort == "truth" and {"on", "off"} <= set(one.words):
            return f"{message}; write {one.label} == 'on', or {one.label} == 'off'"
        if one.sort == "number" and other.sort == "word" and other.literal:
            return f"{message}; expected a number without quotes"
    return f"{message}; only like can be compared with like"


def _judge_words(op: Operator, left: Meaning, right: Meaning, text: str, report: Report) -> None:
    if left.literal and right.literal:
        _settled((left.words == right.words) == (op == "=="), text, "", left.offset, report)
        return
    for choice, word in ((left, right), (right, left)):
        if word.literal and word.words[0] not in choice.words:
            kind, what = (
                ("unknown-phase", "a phase") if choice.phase else ("unknown-choice", f"what {choice.label} can be")
            )
            hint = meant(word.words[0], choice.words) or f"; expected {listed(choice.words)}"
            report(kind, f"{word.label} is not {what}{hint}", word.offset, Level.ERROR)
            return
    if not set(left.words) & set(right.words):
        message = f"{said(left)} is {sort_of(left)} and {said(right)} is {sort_of(right)}; they share no word"
        report("wrong-type", message, left.offset, Level.ERROR)
    elif left.expr == right.expr:
        _settled(op == "==", text, "", left.offset, report)


def _settled(answer: bool | None, text: str, why: str, offset: int, report: Report) -> None:
    """Warn of a comparison whose answer never changes."""
    if answer is not None:
        kind, says = ("always-true", "always holds") if answer else ("never-true", "can never hold")
        report(kind, f"{quoted(text)} {says}{why}", offset, Level.WARNING)


def _spans(left: Meaning, right: Meaning) -> str:
    """`altitude_ft runs from -1500 to 45000`, for each side that is not a plain number."""
    spans = dict.fromkeys(_span(part) for part in (left, right) if not isinstance(part.expr, Const))
    return " and ".join(spans) or "both sides are plain numbers"


def _span(part: Meaning) -> str:
    low, high = part.span
    above = "" if isinf(high) else f" to {high:g}"
    below = " from any number" if isinf(low) else f" from {low:g}"
    return f"{part.label} runs{below}{above or ' upwards'}"
