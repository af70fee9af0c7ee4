"""Decks as they were in a revision of a git repository: `REVISION:FOLDER`, read by git itself.

The law: no text that was given becomes an option or goes through a shell; nothing in the repository is run or changed;
no more is read than a deck may have.
"""

import os
import re
import subprocess
from tempfile import TemporaryFile

from flowdeck.live.bundled import LARGEST_DECK, MOST_FILES, find_deck, read_deck
from flowdeck.live.collecting import no_collecting
from flowdeck.model.deck import Deck
from flowdeck.model.diagnostic import Rejected, refused, visible
from flowdeck.phasefile.loaddeck import load_deck
from flowdeck.phasefile.read import LARGEST

LISTING = 200_000
"""Bytes of the listing of a folder: far more than that of `MOST_FILES` files."""
_FILES = ("100644", "100755")
_HASH = re.compile(r"[0-9a-f]{40,64}")
_ENDINGS = (".yaml", ".yml")


def read_deck_at(name: str) -> Deck:
    """A deck by its folder, by the name of a bundled one, or by `REVISION:FOLDER`. Raises `Rejected`."""
    if ":" not in name or _is_on_disk(name):
        return read_deck(name)[0]
    files = files_at(name)
    with no_collecting():
        return load_deck(name, files)[0]


def _is_on_disk(name: str) -> bool:
    try:
        find_deck(name)
    except Rejected:
        return False
    return True


def files_at(name: str) -> dict[str, bytes]:
    """The files of a deck's folder in a revision, name to bytes. Raises `Rejected`."""
    revision, _, folder = name.partition(":")
    if not revision:
        raise refused(name, "no-revision", "there is no revision before the colon; write REVISION:FOLDER")
    git = _Git(name)
    git.ask(("rev-parse", "--git-dir"), LISTING, "no-repository", "this is no git repository")
    lost = f"there is no revision '{revision}' in this repository"
    commit = git.object(f"{revision}^{{commit}}", "no-revision", lost)
    lost = f"there was no folder '{folder}' in {revision}; it is named from the top of the repository, or by ./"
    tree = git.object(f"{commit}:{folder}", "no-deck", lost)
    lost = f"'{folder}' was no folder in {revision}"
    listing = git.ask(("ls-tree", "--full-tree", "-z", "-l", tree), LISTING, "no-deck", lost)
    return git.read(_listed(name, listing))


def _listed(name: str, listing: bytes) -> dict[str, tuple[str, int]]:
    """Name to object and size in bytes, of the files that a deck is made of."""
    found: dict[str, tuple[str, int]] = {}
    for row in listing.split(b"\0")[:-1]:
        about, _, path = row.partition(b"\t")
        mode, _, object_, size = about.decode().split()
        file = os.fsdecode(path)
        if not file.endswith(_ENDINGS):
            continue
        if mode not in _FILES:
            raise refused(f"{name}/{file}", "unreadable", "was no file; links in a revision are not followed")
        if not size.isdigit():
            raise refused(f"{name}/{file}", "unreadable", "is missing from this repository")
        if int(size) > LARGEST:
            raise refused(f"{name}/{file}", "too-large", f"{int(size):,} bytes; at most {LARGEST:,} are read")
        found[file] = object_, int(size)
    if len(found) > MOST_FILES:
        raise refused(name, "too-many", f"{len(found)} files; a deck has at most {MOST_FILES}")
    if sum(size for _, size in found.values()) > LARGEST_DECK:
        raise refused(name, "too-large", f"all its files are more than {LARGEST_DECK:,} bytes")
    return found


class _Git:
    """Asks git, in the working folder. *name*: what is being read, for messages."""

    def __init__(self, name: str) -> None:
        self._name = name

    def ask(self, arguments: tuple[str, ...], most: int, kind: str, lost: str) -> bytes:
        """What git prints, at most *most* bytes. Raises `Rejected` of *kind* with *lost* when it says no."""
        status, printed, complaint = self._run(arguments, b"", most)
        if status != 0:
            why = complaint.removeprefix("fatal: ")
            raise refused(self._name, kind, f"{lost} ({why})" if why else lost)
        return printed

    def object(self, named: str, kind: str, lost: str) -> str:
        """The hash of what is *named*: from here on no text of anybody's is given to git."""
        found = self.ask(("rev-parse", "--verify", "--quiet", "--end-of-options", named), 100, kind, lost)
        hash_ = found.decode(errors="replace").strip()
        if not _HASH.fullmatch(hash_):
            raise refused(self._name, kind, lost)
        return hash_

    def read(self, files: dict[str, tuple[str, int]]) -> dict[str, bytes]:
        """The bytes of each file. Raises `Rejected`."""
        asked = "".join(f"{object_}\n" for object_, _ in files.values()).encode()
        most = sum(size + 100 for _, size in files.values())
        status, printed, complaint = self._run(("cat-file", "--batch"), asked, most)
        found: dict[str, bytes] = {}
        at = 0
        for name, (_, size) in files.items():
            begins = printed.find(b"\n", at) + 1
            found[name] = printed[begins : begins + size]
            at = begins + size + 1
            if status != 0 or not begins or len(found[name]) != size or printed[at - 1 : at] != b"\n":
                raise refused(f"{self._name}/{name}", "unreadable", f"cannot be read from git: {complaint}")
        return found

    def _run(self, arguments: tuple[str, ...], given: bytes, most: int) -> tuple[int, bytes, str]:
        """Exit status, standard output and the first words of standard error."""
        command = ["git", "--no-pager", "--no-replace-objects", *arguments]
        quiet = {**os.environ, "LC_ALL": "C", "GIT_TERMINAL_PROMPT": "0", "GIT_NO_LAZY_FETCH": "1"}
        with TemporaryFile() as errors, TemporaryFile() as asked:
            asked.write(given)
            asked.seek(0)
            try:
                process = subprocess.Popen(command, stdin=asked, stdout=subprocess.PIPE, stderr=errors, env=quiet)
            except FileNotFoundError:
                raise refused(self._name, "no-git", "a revision is read by git, and there is no git here") from None
            except (OSError, ValueError) as error:
                raise refused(self._name, "no-git", f"git cannot be run: {error}") from None
            with process:
                assert process.stdout is not None
                printed = process.stdout.read(most + 1)
                if len(printed) > most:
                    process.kill()
                    raise refused(self._name, "too-large", f"git prints more than {most:,} bytes of it")
                status = process.wait()
            errors.seek(0)
            return status, printed, visible(errors.read(500).decode(errors="replace").strip())
