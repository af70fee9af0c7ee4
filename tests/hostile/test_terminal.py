"""What the commands print of hostile files, and of files with hostile names: nothing that acts on a terminal."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests.hostile import sources
from tests.hostile.journals import forged, good_bodies
from tests.hostile.test_fields import escaped
from tests.hostile.words import ACTING

NAMES = {
    "clears the screen": "a\x1b[2J",
    "sets the title": "a\x1b]0;x\x07",
    "C1": "a\x9b31m",
    "a line of its own": "a\nfine.yaml:1:1 error fake: b",
    "carriage return": "a\rb",
    "delete": "a\x7f",
    "right to left": "a\u202eb",
    "line separator": "a\u2028b",
}
NOT_UTF_8 = {"not UTF-8": "a\udcff", "half a letter": "a\udcc3"}
"""Names of files and folders that a file system takes; the latter as Python writes bytes that are no text."""


def flowdeck(*arguments: str | Path, cwd: Path = sources.ROOT, **variables: str) -> tuple[int, str]:
    """Exit status and all that `python -m flowdeck` printed: nothing in it acts on a terminal or is a traceback."""
    given = [os.fsencode(str(argument)) for argument in arguments]
    environment = {**os.environ, "PYTHONPATH": str(sources.ROOT), "PYTHONUTF8": "1", **variables}
    done = subprocess.run(
        [os.fsencode(sys.executable), b"-m", b"flowdeck", *given],
        capture_output=True,
        stdin=subprocess.DEVNULL,
        cwd=cwd,
        env=environment,
        timeout=60,
        check=False,
    )
    printed = (done.stdout + done.stderr).decode()
    assert "Traceback" not in printed, printed[-600:]
    for line in printed.split("\n"):
        assert line.isprintable(), ascii(line)
    return done.returncode, printed


def folder(path: Path, **changed: str | bytes) -> Path:
    """The small deck in a folder, `approach="..."` in place of a file's text."""
    path.mkdir()
    texts: dict[str, str | bytes] = {**sources.FULL_FILES, **{f"{name}.yaml": text for name, text in changed.items()}}
    for name, text in texts.items():
        (path / name).write_bytes(text if isinstance(text, bytes) else text.encode("utf-8", "surrogatepass"))
    return path


BROKEN = sources.FULL_FILES["approach.yaml"].replace("title: Approach", "titel: Approach")
UNSOUND = sources.FULL_FILES["ground.yaml"].replace("\"since('ground') > 5\"", "runway_changed")


def test_vet_of_hostile_decks(tmp_path: Path) -> None:
    """Each character raw and as an escape, in texts, in names, in conditions, in glossary and choices."""
    decks = []
    for at, characters in enumerate(ACTING):
        for how, inner in (("raw", characters), ("escaped", escaped(characters))):
            approach = sources.FULL_FILES["approach.yaml"]
            approach = approach.replace("do: Flap", f'do: "Fl{inner}ap"').replace(
                "title: Setting", f'"ti{inner}tle": x'
            )
            approach = approach.replace('"flap_deg == 31"', f"\"gear == 'x{inner}'\"").replace(
                "by: both", f'by: "{inner}"'
            )
            if at % 2:
                deck = sources.FULL_DECK.replace("AAL: above", f'"A{inner}": above').replace(
                    "status: draft", f'status: "{inner}"'
                )
                deck = deck.replace("choices: [open,", f'choices: ["{inner}",').replace(
                    "start: approach", f'start: "{inner}"'
                )
                decks.append(folder(tmp_path / f"{at}{how}", deck=deck, approach=approach))
            else:
                decks.append(folder(tmp_path / f"{at}{how}", approach=approach))
    status, printed = flowdeck("vet", *decks)
    assert status == 2 and all(f"{deck.name}/approach.yaml:" in printed for deck in decks)
    assert "U+001B" in printed and "U+202E" in printed and "U+009B" in printed
    status, printed = flowdeck("vet", "--json", *decks)
    assert status == 2 and len(json.loads(printed)["findings"]) > len(decks)


@pytest.mark.parametrize("raw", [True, False])
def test_rehearse_of_a_hostile_scenario(raw: bool, tmp_path: Path) -> None:
    deck = folder(tmp_path / "deck")
    inner = "\x1b[2J" if raw else escaped("\x1b]8;;x\x1b\\\x9b31m\u202e")
    text = sources.FULL_SCENARIO.replace("title: Small", f'"ti{inner}": x\ntitle: "{inner}').replace(" scenario", ' s"')
    text = text.replace("Expect another", f"Ex{inner}pect another").replace("rain,", f'"{inner}",')
    path = tmp_path / "hostile.yaml"
    path.write_text(text, encoding="utf-8")
    status, printed = flowdeck("rehearse", path, "--deck", deck)
    assert status == 2 and "hostile.yaml:" in printed and "U+001B" in printed


def test_fly_with_hostile_keys(tmp_path: Path) -> None:
    path = tmp_path / "keys.yaml"
    inner = escaped("\x1b[2J\x9b31m\u202e")
    path.write_text(f'"cap{inner}tain": d\ntell: "{inner}"\nundo: "{inner}"\n"{inner}": [x]\n', encoding="utf-8")
    status, printed = flowdeck("fly", "--keys", path)
    assert status == 2 and "keys.yaml:1:" in printed and "terminal" not in printed


def test_fly_on_with_a_hostile_journal(tmp_path: Path) -> None:
    path = tmp_path / "hostile.journal"
    hostile = "\x1b[2J\x9b31m\u202e"
    path.write_bytes(forged(*good_bodies(), {"type": hostile, "at": 1}, {"type": "Heard", "at": hostile, "words": "x"}))
    status, printed = flowdeck("fly", "--resume", path)
    assert status == 2 and "hostile.journal:" in printed


@pytest.mark.parametrize("names", [NAMES, NOT_UTF_8], ids=["text", "no text"])
def test_hostile_names(names: dict[str, str], tmp_path: Path) -> None:
    """Of decks that are broken, and unsound, and not there, and of a file in a deck."""
    given = []
    for at, bad in enumerate(names.values()):
        broken = folder(tmp_path / f"broken{at}{bad}", approach=BROKEN)
        unsound = folder(tmp_path / f"unsound{at}{bad}", ground=UNSOUND)
        inside = folder(tmp_path / f"inside{at}")
        (inside / f"more{bad}.yaml").write_text("nothing: [", encoding="utf-8")
        given += [broken, inside, tmp_path / f"nowhere{at}{bad}", unsound]
    status, printed = flowdeck("vet", *given)
    assert status == 2
    assert printed.count("approach.yaml:2:1 error missing") == printed.count("atc-only-trigger") == len(names)
    assert printed.count("no-deck") == len(names)
    assert not any(line.startswith("fine.yaml:1:1 error fake") for line in printed.split("\n"))


@pytest.mark.parametrize("bad", [NAMES["clears the screen"], *NOT_UTF_8.values()], ids=ascii)
def test_a_sound_deck_with_a_hostile_name(bad: str, tmp_path: Path) -> None:
    """And one with warnings, which are printed to standard output; and a file of it with such a name."""
    sound = folder(tmp_path / f"sound{bad}")
    unsound = folder(tmp_path / f"unsound{bad}", ground=UNSOUND)
    (unsound / "ground.yaml").rename(unsound / f"ground{bad}.yaml")
    assert flowdeck("vet", sound, unsound)[0] == 1


@pytest.mark.parametrize(
    "arguments",
    [
        ("rehearse", "?"),
        ("rehearse", "clean", "--deck", "?"),
        ("rehearse", "clean", "--journal", "/nowhere/?"),
        ("rehearse", "{}"),
        ("fly", "--keys", "?"),
        ("fly", "--keys", "{}"),
        ("fly", "--resume", "?"),
        ("fly", "--resume", "{}"),
        ("fly", "--pace", "?"),
        ("fly", "clean", "?"),
        ("vet", "--?"),
        ("?",),
    ],
    ids=" ".join,
)
def test_a_hostile_argument(arguments: tuple[str, ...], tmp_path: Path) -> None:
    """A name that is not there (?), and the name of a file that is no such file ({})."""
    bad = "a\x1b[2J\nb\x9b31m\u202e\udcff"
    (tmp_path / bad).write_text("nothing: [", encoding="utf-8")
    given = [word.replace("?", bad).replace("{}", str(tmp_path / bad)) for word in arguments]
    status, printed = flowdeck(*given)
    assert status == 2 and printed


def test_letters_that_the_terminal_does_not_know(tmp_path: Path) -> None:
    """A terminal that knows ASCII alone gets escapes, not a traceback."""
    approach = sources.FULL_FILES["approach.yaml"].replace("title: Approach", "title: Ærø")
    deck = folder(tmp_path / "deck", approach=approach, ground=UNSOUND)
    path = tmp_path / "small.yaml"
    path.write_text(sources.FULL_SCENARIO.replace("limit_s: 3600", "limit_s: 30"), encoding="utf-8")
    status, printed = flowdeck("rehearse", path, "--deck", deck, PYTHONIOENCODING="ascii")
    assert status == 1 and "00:00:00" in printed


def test_a_deck_named_from_within_its_folder(tmp_path: Path) -> None:
    status, printed = flowdeck("vet", ".", cwd=folder(tmp_path / "a\x1b[2J", approach=BROKEN))
    assert status == 2 and "approach.yaml:2:1 error missing" in printed


def test_a_working_folder_that_is_gone(tmp_path: Path) -> None:
    """The folder in which the command runs has been removed: findings as ever."""
    deck, gone = folder(tmp_path / "deck", approach=BROKEN), tmp_path / "gone"
    gone.mkdir()
    code = "import os, sys; os.rmdir(os.getcwd()); from flowdeck.cli.main import main; sys.exit(main(sys.argv[1:]))"
    done = subprocess.run(
        [sys.executable, "-c", code, "vet", str(deck)],
        capture_output=True,
        cwd=gone,
        env={**os.environ, "PYTHONPATH": str(sources.ROOT)},
        timeout=60,
        check=False,
    )
    assert b"Traceback" not in done.stderr, done.stderr[-300:]
    assert done.returncode == 2 and b"approach.yaml:2:1 error missing" in done.stderr
