"""What must hold whatever a loader is given, as a list of what does not."""

import re
import signal
import time
import traceback
import unicodedata
import warnings
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from types import FrameType
from typing import Any, NamedTuple

import msgspec

from flowdeck.model.deck import Deck
from flowdeck.model.diagnostic import Diagnostic, Rejected
from flowdeck.model.scenario import Scenario
from tests.hostile.words import SUBTLE

SECONDS = 2.0
"""Processor time that a file of a usual size (50 kB) may take; the bundled deck of 170 kB takes a tenth of that."""
USUAL_SIZE = 50_000

_LOOK_EMPTY = "\u034f\u115f\u1160\u17b4\u17b5\u180b\u180c\u180d\u180e\u2800\u3164\uffa0"
"""Letters and marks by class, and yet nothing is seen of them (Unicode: default ignorable; the braille blank too)."""
_JOINERS = "\u200c\u200d"
"""Some scripts cannot be written without them; they change the letters beside them and nothing else."""


class TooSlow(BaseException):
    """Processor time is used up. No `Exception`, so that no loader can take it for a fault of its file."""


class Verdict(NamedTuple):
    """*faults*: what should hold and does not, in words; *seconds*: of processor time."""

    accepted: bool
    findings: tuple[Diagnostic, ...]
    faults: tuple[str, ...]
    seconds: float


def unseen(text: str) -> list[str]:
    """The characters of *text* that act on a terminal, turn its direction or are not seen, as U+XXXX."""
    return [
        f"U+{ord(c):04X}"
        for c in text
        if c in _LOOK_EMPTY or (unicodedata.category(c) in ("Cc", "Cf", "Cs", "Zl", "Zp") and c not in _JOINERS)
    ]


def texts(value: Any, path: str = "") -> Iterator[tuple[str, str]]:
    """Every text within a value, names of table entries too, each with its path."""
    if isinstance(value, str):
        yield path, value
    elif isinstance(value, msgspec.Struct):
        for name in value.__struct_fields__:
            yield from texts(getattr(value, name), f"{path}.{name}")
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from texts(key, f"{path}[key]")
            yield from texts(inner, f"{path}[]")
    elif isinstance(value, (tuple, list, frozenset)):
        for inner in value:
            yield from texts(inner, f"{path}[]")


def line_count(raw: bytes) -> int:
    """Lines of a file as an editor counts them: ended by LF, CR LF or CR."""
    return 1 + len(re.findall(rb"\r\n|\r|\n", raw))


def faults_of_finding(finding: Diagnostic, files: Mapping[str, bytes]) -> Iterator[str]:
    """*files*: what was read, by the name that findings show."""
    said = str(finding)
    if not said.isprintable():
        yield f"a finding that cannot be printed: {said!r}"
    if finding.place.file not in files:
        yield f"a finding in a file that is not there: {said!a}"
    elif not 1 <= finding.place.line <= line_count(files[finding.place.file]):
        lines = line_count(files[finding.place.file])
        yield f"a finding in a line that is not there: the file has {lines}: {said!a}"
    if not finding.message.strip() or not finding.kind:
        yield f"a finding that says nothing: {said!a}"


def faults_of_value(value: Any) -> Iterator[str]:
    """What is wrong with something that was accepted: texts that do not read as written, or no way into a journal."""
    for path, text in texts(value):
        if found := unseen(text):
            subtle = all(chr(int(one[2:], 16)) in SUBTLE for one in found)
            what = "an invisible character" if subtle else "a character that acts on a terminal"
            yield f"accepted with {what}: {', '.join(found[:3])} in {path}: {text[:80]!a}"
    if isinstance(value, (Deck, Scenario)):
        try:
            again = msgspec.json.decode(msgspec.json.encode(value), type=type(value))
        except Exception as error:  # whatever it is, it is the finding
            yield f"accepted, and cannot be written into a journal: {type(error).__name__}: {error}"
        else:
            if msgspec.structs.astuple(again) != msgspec.structs.astuple(value):
                yield "accepted, and reads back from a journal as something else:"


@contextmanager
def within(seconds: float) -> Iterator[None]:
    """`TooSlow` once so much processor time has been spent (SIGVTALRM, in the main thread)."""

    def stop(_signal: int, _frame: FrameType | None) -> None:
        raise TooSlow

    before = signal.signal(signal.SIGVTALRM, stop)
    signal.setitimer(signal.ITIMER_VIRTUAL, seconds)
    try:
        yield
    finally:
        signal.setitimer(signal.ITIMER_VIRTUAL, 0)
        signal.signal(signal.SIGVTALRM, before)


def judge(
    load: Callable[[], tuple[Any, tuple[Diagnostic, ...]]], files: Mapping[str, bytes], *, seconds: float = SECONDS
) -> Verdict:
    """Load, and say all that should hold and does not. *load* gives a value and its warnings."""
    faults: list[str] = []
    findings: tuple[Diagnostic, ...] = ()
    value: Any = None
    accepted = False
    begun = time.process_time()
    try:
        with within(seconds), warnings.catch_warnings():
            warnings.simplefilter("error")
            value, findings = load()
            accepted = True
    except Rejected as rejected:
        findings = rejected.findings
        if not findings:
            faults.append("refused without a finding")
    except TooSlow:
        faults.append(f"not done after {seconds:g} s of processor time")
    except Exception as error:  # a warning is one too
        where = traceback.extract_tb(error.__traceback__)[-1]
        faults.append(f"{type(error).__name__} in {where.name}: {error!s:.200}")
    spent = time.process_time() - begun
    if accepted:
        faults += faults_of_value(value)
    for finding in findings[:200]:
        faults += faults_of_finding(finding, files)
    return Verdict(accepted, findings, tuple(dict.fromkeys(faults)), spent)
