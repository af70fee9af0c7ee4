"""Texts made broken from good ones, by things done to their lines, keys, values and characters."""

import re
from collections.abc import Callable
from random import Random

from tests.hostile import sources
from tests.hostile.words import ACTING, BREAKS, SUBTLE, VALUES, hostile_condition

Mutator = Callable[[Random, str], str]
_KEY = re.compile(r"([\w-]+)(: )")
_VALUE = re.compile(r"(?<=: )[^,{}\[\]\n]+")
_QUOTED = re.compile(r'"[^"\n]*"')
_MARKS = ("&a ", "*a ", "!!python/object:x.Y ", "!x ", "!!map ", "!<x> ", "<<: *a\n", "? ", "- ", ": ", "| ", "> ")
_NOISE = "abkey:-[]{},&*!|>'\"#%@`\\ \t\n01.~<?=\u00e9\u6771"


def _lines(random: Random, text: str) -> tuple[list[str], int, int]:
    """The lines, and a piece of them: from, to."""
    lines = text.split("\n")
    start = random.randrange(len(lines))
    return lines, start, min(len(lines), start + random.choice((1, 1, 1, 2, 3, 8)))


def cut_lines(random: Random, text: str) -> str:
    lines, start, end = _lines(random, text)
    return "\n".join(lines[:start] + lines[end:])


def doubled_lines(random: Random, text: str) -> str:
    lines, start, end = _lines(random, text)
    return "\n".join(lines[:end] + lines[start:end] * random.choice((1, 1, 2, 9)) + lines[end:])


def swapped_lines(random: Random, text: str) -> str:
    lines, start, end = _lines(random, text)
    piece = lines[start:end]
    rest = lines[:start] + lines[end:]
    at = random.randrange(len(rest) + 1)
    return "\n".join(rest[:at] + piece + rest[at:])


def shifted_lines(random: Random, text: str) -> str:
    lines, start, end = _lines(random, text)
    by = random.choice((" ", "  ", "    ", "\t", " \t", "", " " * 60))
    for at in range(start, end):
        bare = lines[at].lstrip(" ")
        lines[at] = by + lines[at] if by and random.random() < 0.6 else lines[at][:-1] if bare == "" else by + bare
    return "\n".join(lines)


def unquoted(random: Random, text: str) -> str:
    lines, start, _ = _lines(random, text)
    quote = random.choice("'\"")
    lines[start] = lines[start].replace(quote, "", random.choice((1, 1, 2, -1))) if quote in lines[start] else (
        lines[start] + quote
    )  # fmt: skip
    return "\n".join(lines)


def _at_one(random: Random, text: str, pattern: re.Pattern[str], put: Callable[[re.Match[str]], str]) -> str:
    """*text* with one of the places of *pattern* replaced."""
    found = list(pattern.finditer(text))
    if not found:
        return text + "\n" + text[:20]
    match = random.choice(found)
    return text[: match.start()] + put(match) + text[match.end() :]


def renamed_key(random: Random, text: str) -> str:
    def put(match: re.Match[str]) -> str:
        key = match[1]
        odd = random.choice((key[:-1], key + "s", key.upper(), key[::-1], "", "<<", "__class__", "x" * 300, "? " + key))
        other = random.choice(_KEY.findall(text))[0]
        return random.choice((odd, other, f"!!str {key}", f"&a {key}", "[a]", random.choice(VALUES))) + match[2]

    return _at_one(random, text, _KEY, put)


def other_value(random: Random, text: str) -> str:
    return _at_one(random, text, _VALUE, lambda _: random.choice(VALUES))


def other_condition(random: Random, text: str) -> str:
    return _at_one(random, text, _QUOTED, lambda _: '"' + hostile_condition(random).replace('"', "'") + '"')


def _poke(random: Random, text: str, put: str) -> str:
    at = random.randrange(len(text) + 1)
    return text[:at] + put + text[at:]


def acting_character(random: Random, text: str) -> str:
    return _poke(random, text, random.choice((*ACTING, *SUBTLE, *BREAKS)))


def escaped_character(random: Random, text: str) -> str:
    """The character written as YAML lets it be written, so that the file itself is clean."""
    put = "".join(f"\\U{ord(c):08X}" for c in random.choice((*ACTING, *SUBTLE, *BREAKS)))
    if random.random() < 0.5:
        return _at_one(random, text, _QUOTED, lambda found: found[0][:-1] + put + '"')
    pattern = random.choice((_VALUE, re.compile(r"[\w-]+(?=: )")))
    return _at_one(random, text, pattern, lambda found: '"' + found[0].strip("\"'").replace("\\", "") + put + '"')


def decorated(random: Random, text: str) -> str:
    """A tag, an anchor, an alias, a merge key before a value or in a line of its own."""
    mark = random.choice(_MARKS)
    if random.random() < 0.5:
        return _at_one(random, text, _VALUE, lambda found: mark + found[0])
    lines, start, _ = _lines(random, text)
    blank = lines[start][: len(lines[start]) - len(lines[start].lstrip())]
    return "\n".join([*lines[:start], blank + mark.strip(), *lines[start:]])


def deepened(random: Random, text: str) -> str:
    depth = random.choice((5, 38, 39, 40, 41, 42, 100, 400, 1200))
    opening, closing = random.choice((("[", "]"), ("{a: ", "}"), ("- ", ""), ("? ", "")))
    nest = opening * depth + random.choice(("", "x")) + closing * random.choice((depth, depth, depth - 1))
    return _at_one(random, text, _VALUE, lambda _: nest)


def lengthened(random: Random, text: str) -> str:
    times = random.choice((10, 100, 1000, 4000))
    pattern = random.choice((_VALUE, _QUOTED, re.compile(r"[\w-]+(?=: )")))
    return _at_one(random, text, pattern, lambda found: found[0] * min(times, 20_000 // (len(found[0]) or 1) + 1))


def cut_off(random: Random, text: str) -> str:
    start = random.randrange(len(text) + 1)
    return random.choice((text[:start], text[start:]))


def spliced(random: Random, text: str) -> str:
    other = random.choice((*sources.FULL_FILES.values(), sources.FULL_SCENARIO, sources.KEYMAP))
    start = random.randrange(len(other))
    return _poke(random, text, other[start : start + random.randrange(1, 200)])


def noise(random: Random, text: str) -> str:
    start = random.randrange(len(text) + 1)
    put = "".join(random.choice(_NOISE) for _ in range(random.randrange(1, 30)))
    return text[:start] + put + text[start + random.choice((0, len(put))) :]


def documents(random: Random, text: str) -> str:
    lines, start, _ = _lines(random, text)
    mark = random.choice(("---", "...", "--- x", "%YAML 1.1", "%YAML 9.9", "%TAG ! x:", "--- |", "# \u2028", "\ufeff"))
    return "\n".join([*lines[:start], mark, *lines[start:]])


def line_ends(random: Random, text: str) -> str:
    return text.replace("\n", random.choice(BREAKS), random.choice((1, 3, -1)))


MUTATORS: tuple[Mutator, ...] = (
    cut_lines,
    doubled_lines,
    swapped_lines,
    shifted_lines,
    unquoted,
    renamed_key,
    other_value,
    other_value,
    other_value,
    other_condition,
    other_condition,
    acting_character,
    escaped_character,
    escaped_character,
    decorated,
    deepened,
    lengthened,
    cut_off,
    spliced,
    noise,
    documents,
    line_ends,
)
ENCODINGS = ("latin-1", "cp1252", "utf-16", "utf-16-le", "utf-16-be", "utf-32", "shift_jis", "utf-7", "cp037")


def broken(random: Random, text: str) -> bytes:
    """*text* with one to three things done to it, now and then in another encoding or with bytes changed."""
    for _ in range(random.choice((1, 1, 1, 2, 3))):
        text = random.choice(MUTATORS)(random, text)
    if random.random() < 0.03:
        return text.encode(random.choice(ENCODINGS), "replace")
    raw = text.encode("utf-8", "surrogatepass")
    if random.random() < 0.03 and raw:
        at = random.randrange(len(raw))
        raw = raw[:at] + random.randbytes(random.choice((1, 1, 3, 20))) + raw[at + random.randrange(2) :]
    return raw
