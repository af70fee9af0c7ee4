"""What is put into files: characters that act, values of the wrong type, conditions that want more than to be read."""

from random import Random

ACTING = (
    "\x1b[2J",  # CSI: clears the screen
    "\x1b[8;1;1t",  # CSI: resizes the window
    "\x1b]0;x\x07",  # OSC: sets the title
    "\x1b]8;;http://host.example\x1b\\link\x1b]8;;\x1b\\",  # OSC: a hyperlink
    "\x1b]52;c;eA==\x07",  # OSC: writes the clipboard
    "\x1bP$q\x1b\\",  # DCS
    "\x1bc",  # resets the terminal
    "\x9b31m",  # CSI as one byte of C1
    "\x9d0;x\x9c",  # OSC as one byte of C1
    "\x00",
    "\x07",
    "\x08",
    "\x0b",
    "\x0c",
    "\x0e",
    "\x1a",
    "\x7f",
    "\x80",
    "\u061c",
    "\u200b",
    "\u200e",
    "\u202d",
    "\u202e",
    "\u2028",
    "\u2029",
    "\u2060",
    "\u2066",
    "\u2069",
    "\ufeff",
)
"""No file may get these to a screen."""
SUBTLE = (
    "\u00ad",  # soft hyphen
    "\u034f",
    "\u115f",
    "\u180e",
    "\u2061",
    "\u206a",
    "\u2800",
    "\u3164",
    "\ufff9",
    "\ufffb",
    "\U0001d173",
    "\U000e0001",
    "\U000e0041",
)
"""Not seen, and no joiner or mark that a script needs: two texts that look alike and are not."""
BREAKS = ("\r", "\x85", "\u2028", "\u2029", "\r\n", "\n\n")
"""What YAML or an editor may take for the end of a line."""

NUMBERS = (
    "0",
    "-0",
    "-1",
    "0.5",
    ".5",
    "5.",
    "1e3",
    "1e30",
    "1e308",
    "1e309",
    "1e999",
    "-1e999",
    "1e-999",
    "1E+5",
    "+7",
    "07",
    "0x1F",
    "0o17",
    "0b11",
    "1_000",
    "1,5",
    "12:30",
    "1e",
    ".",
    "-",
    "--1",
    ".inf",
    "-.inf",
    ".NaN",
    "inf",
    "nan",
    "Infinity",
    "9" * 400,
    "1." + "0" * 400 + "1",
    "\u0663",  # digits of another script
    "\uff11",
    "\u00b2",
)
VALUES = (
    *NUMBERS,
    "",
    "''",
    '""',
    "' '",
    "~",
    "null",
    "true",
    "false",
    "'true'",
    "True",
    "yes",
    "NO",
    "on",
    "[]",
    "{}",
    "[[]]",
    "[a, b]",
    "[captain]",
    "{a: b}",
    "{when: on_ground}",
    "{after_s: 1e999}",
    "- x",
    "? x",
    "|\n      x",
    ">-\n      x\n      y",
    "2026-01-01",
    "!!python/object/apply:os.abort []",
    "!!python/name:os.abort",
    "!!binary aGk=",
    "!!str x",
    "!!int 7",
    "!!set {a, b}",
    "!!omap [a: 1]",
    "!x y",
    "!<tag:x.example,2026:y> z",
    "&a x",
    "*a",
    "&a [*a]",
    "&a {b: *a}",
    "<<",
    "=",
    "@x",
    "`x`",
    "%x",
    "'it''s'",
    "'x",
    '"x',
    '"\\q"',
    '"\\uD800"',
    '"\\U00110000"',
    '"\\x"',
    "{signal}",
    '"{" ',
    '"{altitude_ft}{altitude_ft}{nothing}{}{{}}"',
    '"{altitude_ft.__class__}"',
    '"%s%n %(x)s ${x} $(x)"',
    "x" * 601,
    "x" * 5000,
    "x: y: z",
    "x # y",
    "captain",
    "approach",
    "gear-down",
    "landing-list",
    "altitude_ft",
    "__class__",
    "{" + "a: {" * 60 + "}" * 61,
    "[" * 60 + "]" * 60,
)
"""Values to stand for another: of other types, tags, anchors, open quotes, long ones."""

CONDITIONS = (
    "().__class__.__mro__[1].__subclasses__()",
    "__import__('os').abort()",
    "__builtins__",
    "altitude_ft.__class__",
    "abs.__self__",
    "done.__globals__",
    "getattr(abs, '__self__')",
    "[x for x in (1, 2)]",
    "{x: x for x in (1, 2)} == 1",
    "min(x for x in (1, 2)) > 1",
    "(lambda: on_ground)()",
    "lambda x: x",
    "f'{altitude_ft}' == 'x'",
    "f'{__import__(\"os\")}' == 'x'",
    "(x := on_ground)",
    "10**10**10 > 1",
    "9**9**9**9 > 1",
    "'a' * 1000000000 == 'b'",
    "('a', 'b') * 100000000 == 1",
    "1 << 1000000000 > 1",
    "1000000 * 1000000 * altitude_ft > 1",
    "altitude_ft / 0 > 1",
    "altitude_ft / (1 - 1) > 1",
    "0 / 0 > 1",
    "1e308 * 1e308 > altitude_ft",
    "1e999 > 1",
    "nan == nan",
    "inf > 1",
    "-1e9 * 1e9 * 1e9 * 1e9 * 1e9 * altitude_ft > 1",
    "min(*(1, 2)) > 1",
    "max(**{}) > 1",
    "min() > 1",
    "abs(altitude_ft, default=1) > 1",
    "held(on_ground, 1e9)",
    "held(on_ground, -1)",
    "held(on_ground, altitude_ft)",
    "held(held(held(held(on_ground, 1), 2), 3), 4)",
    "rising(rising(falling(on_ground)))",
    "since('') > 1",
    "done('\u202e')",
    "age(phase) > 1",
    "turn(1, 'x') > 1",
    "phase in ()",
    "phase in ('approach',) in (true,)",
    "phase in 'approach'",
    "phase == 'approach' == true",
    "true",
    "false",
    "not true",
    "true < false",
    "'x'",
    "1",
    "on_ground and 'x'",
    "on_ground or 1",
    "on_ground if on_ground else on_ground",
    "on_ground;on_ground",
    "on_ground # and so on",
    "on_ground\\\n",
    "await on_ground",
    "yield",
    "print('x')",
    "exec('x')",
    "b'x' == 1",
    "r'x' == 1",
    "'''x''' == 1",
    "'x' 'y' == phase",
    "3j > 1",
    "... is None",
    "None",
    "0x10 > altitude_ft",
    "1_0 > altitude_ft",
    "0777 > altitude_ft",
    "1if on_ground else 2",
    "\uff41ltitude_ft > 1",
    "on\u200bground",
    "on_ground\u00a0and wet",
    "altitude_ft \u2264 100",
    "altitude_ft > \u0663",
    "not " * 45 + "on_ground",
    "not " * 140 + "on_ground",
    "-" * 140 + "altitude_ft > 1",
    "(" * 280 + "on_ground" + ")" * 280,
    "[" * 280 + "1" + "]" * 280,
    "abs(" * 45 + "altitude_ft" + ")" * 45 + " > 1",
    "abs(" * 120 + "altitude_ft" + ")" * 120 + " > 1",
    "altitude_ft" + " + altitude_ft" * 45 + " > 1",
    "on_ground" + " and on_ground" * 42,
    "1" + " < altitude_ft" * 42,
    "phase in (" + "'a', " * 110 + "'b')",
    "on_ground" + " " * 580 + "and",
    "x" * 600,
    "'" + "x" * 590 + "' == phase",
    "(" * 600,
    ")" * 600,
    "'" * 599,
)
"""Conditions that reach for Python, for endless time, or for the depth of the stack."""

_LEAVES = (
    *("altitude_ft", "ias_kt", "distance_nm", "phase", "on_ground", "wet", "gear", "own_door", "own_light", "nothing"),
    *("1", "0", "0.5", "1e9", "1e10", "-3", "true", "false", "'down'", "'approach'", "''", "()", "('down', 'up')"),
    *("touchdown", "'brief'", "'touchdown'", "None", "_", "__debug__", "\u00e9"),
)
_JOINTS = (" and ", " or ", " < ", " <= ", " == ", " != ", " in ", " not in ", " + ", " - ", " * ", " / ", ", ")
_ODD_JOINTS = (" ** ", " // ", " % ", " @ ", " | ", " := ", " is ", " if ", " else ", ".", "; ", " for x in ", " ")
_CALLS = ("done", "since", "held", "rising", "falling", "age", "turn", "abs", "min", "max", "eval", "Done", "")


def condition(random: Random, depth: int = 4) -> str:
    """A text that is mostly shaped like a condition, of words that mostly exist."""
    chance = random.random()
    if depth == 0 or chance < 0.2:
        return random.choice(_LEAVES)
    if chance < 0.65:
        joints = _JOINTS if random.random() < 0.95 else _ODD_JOINTS
        return condition(random, depth - 1) + random.choice(joints) + condition(random, depth - 1)
    if chance < 0.85:
        inner = ", ".join(condition(random, depth - 1) for _ in range(random.choice((1, 1, 2, 2, 3, 0))))
        return f"{random.choice(_CALLS)}({inner})"
    if chance < 0.95:
        return random.choice(("not ", "-", "not not ", "+", "~")) + condition(random, depth - 1)
    return f"[{condition(random, depth - 1)}]" if chance < 0.97 else f"{{{condition(random, depth - 1)}}}"


def _truth(random: Random, depth: int) -> str:
    """A condition of the right sorts, mostly accepted."""
    if depth <= 0:
        return random.choice(("on_ground", "wet", "gear == 'down'", "done('brief')", "phase != 'landing'"))
    match random.randrange(7):
        case 0:
            return f"not {_truth(random, depth - 1)}"
        case 1:
            return f"{random.choice(('rising', 'falling'))}({_truth(random, depth - 1)})"
        case 2:
            return f"held({_truth(random, depth - 1)}, {random.choice(('1', '0.5', '1e9', '3600'))})"
        case 3:
            return f"({random.choice((' and ', ' or ')).join(_truth(random, depth - 1) for _ in range(3))})"
        case 4:
            return f"{_number(random, depth - 1)} in ({', '.join(_number(random, 0) for _ in range(3))})"
        case _:
            return f"{_number(random, depth - 1)} {random.choice('<>')} {_number(random, depth - 1)}"


def _number(random: Random, depth: int) -> str:
    if depth <= 0:
        return random.choice(("altitude_ft", "height_aal_ft", "100", "0", "0.1", "1e9", "-7", "since('touchdown')"))
    match random.randrange(4):
        case 0:
            return f"{random.choice(('min', 'max'))}({_number(random, depth - 1)}, {_number(random, depth - 1)})"
        case 1:
            return f"{random.choice(('-', 'abs'))}({_number(random, depth - 1)})"
        case _:
            return f"({_number(random, depth - 1)} {random.choice('+-*/')} {_number(random, depth - 1)})"


def hostile_condition(random: Random) -> str:
    """One of the list, or a grown one, sometimes with a character of it changed."""
    chance, size = random.random(), random.randrange(1, 7)
    text = random.choice(CONDITIONS) if chance < 0.3 else condition(random, size)
    text = _truth(random, size) if chance > 0.7 else text
    if random.random() < 0.2:
        at = random.randrange(len(text) + 1)
        odd = random.choice((*ACTING, *SUBTLE, *BREAKS, *"()[]{}'\"\\.,:;#@!=<>+-*/ \t_\u00e9"))
        text = text[:at] + odd + text[at + random.randrange(2) :]
    return text
