"""Decks out of a git repository, a real one for each test: whatever is typed, nothing but a finding comes back."""

import os
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

from flowdeck.live import revisions
from flowdeck.live.bundled import MOST_FILES, read_deck
from flowdeck.live.revisions import files_at, read_deck_at
from flowdeck.model.diagnostic import Rejected
from tests.support.small import FILES

GIT = ("git", "-c", "user.name=A", "-c", "user.email=a@example.invalid", "-c", "commit.gpgsign=false")


class Repository:
    """A git repository in a folder."""

    def __init__(self, top: Path) -> None:
        self.top = top
        top.mkdir()
        self.git("init", "-q", "-b", "main")

    def git(self, *arguments: str) -> str:
        done = subprocess.run([*GIT, *arguments], cwd=self.top, check=True, capture_output=True, text=True, timeout=60)
        return done.stdout.strip()

    def write(self, folder: str = "decks/small", **changed: str) -> None:
        there = self.top / folder
        there.mkdir(parents=True, exist_ok=True)
        for name, text in {**FILES, **{f"{name}.yaml": text for name, text in changed.items()}}.items():
            (there / name).write_text(text, encoding="utf-8")

    def commit(self, words: str = "a") -> str:
        self.git("add", "-A")
        self.git("commit", "-q", "-m", words)
        return self.git("rev-parse", "HEAD")


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Repository]:
    """Two revisions of the small deck, the working folder in the repository, no setting of anybody's."""
    for name in [name for name in os.environ if name.startswith("GIT_")]:
        monkeypatch.delenv(name)
    monkeypatch.setenv("GIT_CONFIG_GLOBAL", os.devnull)
    monkeypatch.setenv("GIT_CONFIG_NOSYSTEM", "1")
    monkeypatch.setenv("GIT_CEILING_DIRECTORIES", str(tmp_path))
    repository = Repository(tmp_path / "repository")
    repository.write()
    repository.commit()
    repository.write(ground=FILES["ground.yaml"].replace("to: SET", "to: SET HARD"))
    repository.commit()
    monkeypatch.chdir(repository.top)
    yield repository


def found(name: str) -> str:
    with pytest.raises(Rejected) as rejected:
        read_deck_at(name)
    return str(rejected.value)


def test_a_deck_as_it_was_and_as_it_is(here: Repository) -> None:
    """By a revision, by a commit's hash, by a tag and a branch; and from disk."""
    here.git("tag", "v1", "HEAD~1")
    here.git("branch", "try", "HEAD~1")
    full = here.git("rev-parse", "HEAD~1")
    old = [read_deck_at(f"{name}:decks/small") for name in ("HEAD~1", full, full[:10], "v1", "try", "HEAD@{1}")]
    assert {deck.items["brake"].to for deck in old} == {"SET"}
    new = read_deck_at("HEAD:decks/small")
    assert new.items["brake"].to == "SET HARD"
    assert new.hash == read_deck_at("decks/small").hash == read_deck("decks/small")[0].hash


def test_an_annotated_tag_and_a_trailing_slash(here: Repository) -> None:
    here.git("tag", "-a", "-m", "as signed", "signed", "HEAD~1")
    assert read_deck_at("signed:decks/small/").items["brake"].to == "SET"


def test_from_within_a_folder(here: Repository, monkeypatch: pytest.MonkeyPatch) -> None:
    """The path counts from the top of the repository, by ./ from the working folder, as git has it."""
    monkeypatch.chdir(here.top / "decks")
    assert read_deck_at("HEAD~1:decks/small").items["brake"].to == "SET"
    assert read_deck_at("HEAD~1:./small").items["brake"].to == "SET"
    assert "there was no folder 'small' in HEAD" in found("HEAD:small")


def test_a_deck_at_the_top_of_its_repository(here: Repository) -> None:
    here.write(".")
    here.commit()
    assert read_deck_at("HEAD:").items["brake"].to == "SET"


def test_a_bare_repository(here: Repository, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    here.git("clone", "-q", "--bare", ".", str(tmp_path / "bare"))
    monkeypatch.chdir(tmp_path / "bare")
    assert read_deck_at("HEAD~1:decks/small").items["brake"].to == "SET"


def test_only_what_a_deck_is_made_of_is_read(here: Repository) -> None:
    """Another ending, a folder inside: not looked at, as on disk."""
    folder = here.top / "decks" / "small"
    (folder / "notes.txt").write_text("not a deck", encoding="utf-8")
    (folder / "more").mkdir()
    (folder / "more" / "x.yaml").write_text("nothing: [", encoding="utf-8")
    here.commit()
    assert set(files_at("HEAD:decks/small")) == set(FILES)


def test_a_folder_with_a_colon_in_its_name_is_a_folder(here: Repository) -> None:
    """What is on disk goes before what could be a revision."""
    here.write("HEAD:small", ground=FILES["ground.yaml"].replace("to: SET", "to: ON DISK"))
    assert read_deck_at("HEAD:small").items["brake"].to == "ON DISK"


def test_findings_say_of_which_revision(here: Repository) -> None:
    here.write(ground=FILES["ground.yaml"].replace("title: On the ground", "titel: On the ground"))
    here.commit()
    assert found("HEAD:decks/small").startswith("HEAD:decks/small/ground.yaml:2:1 error missing")


@pytest.mark.parametrize(
    ("name", "kind", "words"),
    [
        ("nowhere:decks/small", "no-revision", "there is no revision 'nowhere' in this repository"),
        ("HEAD~99:decks/small", "no-revision", "there is no revision 'HEAD~99'"),
        ("HEAD..HEAD~1:decks/small", "no-revision", "there is no revision 'HEAD..HEAD~1'"),
        ("HEAD:nowhere", "no-deck", "there was no folder 'nowhere' in HEAD"),
        ("HEAD:../small", "no-deck", "there was no folder '../small' in HEAD"),
        ("HEAD:/etc", "no-deck", "there was no folder '/etc' in HEAD"),
        ("HEAD:decks/small/deck.yaml", "no-deck", "was no folder in HEAD"),
        ("HEAD:decks", "no-deck", "this folder holds no deck.yaml"),
        (":decks/small", "no-revision", "write REVISION:FOLDER"),
        ("HEAD^{tree}:decks/small", "no-revision", "there is no revision 'HEAD^{tree}'"),
    ],
)
def test_what_is_not_there(name: str, kind: str, words: str, here: Repository) -> None:
    said = found(name)
    assert kind in said and words in said and "\n" not in said


@pytest.mark.parametrize(
    "revision",
    ["--help", "-h", "--output=stolen", "--upload-pack=touch stolen", "--all", "--git-dir", "--exec=touch stolen", "-"],
)
def test_no_revision_becomes_an_option(revision: str, here: Repository) -> None:
    before = sorted(here.top.rglob("*"))
    assert "there is no revision" in found(f"{revision}:decks/small")
    assert sorted(here.top.rglob("*")) == before


@pytest.mark.parametrize(
    "folder", ["--help", "-z", "$(touch stolen)", "`touch stolen`", "; touch stolen", "*", "\n", "a\0b"]
)
def test_no_folder_becomes_an_option_or_a_command(folder: str, here: Repository) -> None:
    before = sorted(here.top.rglob("*"))
    said = found(f"HEAD:{folder}")
    assert "no-deck" in said or "no-git" in said
    assert sorted(here.top.rglob("*")) == before


def test_no_text_of_a_repository_acts_on_a_terminal(here: Repository) -> None:
    said = found("a\x1b[2J\u202e:decks/small")
    assert said.isprintable() and "<U+001B>" in said
    (here.top / "decks" / "small" / "a\x1b[2J.yaml").write_text("nothing: [", encoding="utf-8")
    here.commit()
    assert "\x1b" not in found("HEAD:decks/small")


def test_a_file_whose_name_is_no_text(here: Repository) -> None:
    """Named in the finding as far as it can be; never a traceback."""
    path = os.fsencode(here.top / "decks" / "small") + b"/\xff.yaml"
    with open(path, "wb") as file:
        file.write(b"nothing: [")
    here.commit()
    assert found("HEAD:decks/small").startswith("HEAD:decks/small/<U+DCFF>.yaml:1:")


def test_a_link_is_not_followed(here: Repository) -> None:
    (here.top / "decks" / "small" / "more.yaml").symlink_to("/etc/hostname")
    here.commit()
    assert "more.yaml: error unreadable: was no file; links in a revision are not followed" in found("HEAD:decks/small")


def test_no_more_is_read_than_a_deck_may_have(here: Repository, monkeypatch: pytest.MonkeyPatch) -> None:
    """One file, all of them, their number, and the listing of a folder that holds something else."""
    folder = here.top / "decks" / "small"
    (folder / "large.yaml").write_bytes(b"#" * (revisions.LARGEST + 1))
    here.commit()
    assert "too-large" in found("HEAD:decks/small")
    (folder / "large.yaml").unlink()
    for number in range(MOST_FILES):
        (folder / f"{number}.yaml").write_bytes(b"#")
    here.commit()
    assert f"{MOST_FILES + len(FILES)} files; a deck has at most {MOST_FILES}" in found("HEAD:decks/small")
    monkeypatch.setattr(revisions, "LISTING", 1000)
    assert "git prints more than 1,000 bytes of it" in found("HEAD:decks/small")


def test_the_bytes_of_all_files_are_bounded(here: Repository, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(revisions, "LARGEST_DECK", 1000)
    assert "all its files are more than 1,000 bytes" in found("HEAD:decks/small")


def test_outside_a_repository(here: Repository, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    said = found("HEAD:decks/small")
    assert "no-repository: this is no git repository (not a git repository" in said and "\n" not in said


def test_without_git(here: Repository, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("PATH", str(tmp_path))
    assert "no-git: a revision is read by git, and there is no git here" in found("HEAD:decks/small")


def test_an_empty_repository(here: Repository, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(Repository(tmp_path / "empty").top)
    assert "there is no revision 'HEAD'" in found("HEAD:decks/small")


def test_an_object_that_is_gone(here: Repository) -> None:
    """A repository that is damaged: said, and no half of a deck is read."""
    object_ = here.git("rev-parse", "HEAD:decks/small/ground.yaml")
    (here.top / ".git" / "objects" / object_[:2] / object_[2:]).unlink()
    said = found("HEAD:decks/small")
    assert said == "HEAD:decks/small/ground.yaml: error unreadable: is missing from this repository"


def test_nothing_of_the_repository_is_run(here: Repository) -> None:
    """Filters, text conversions, aliases and a pager of its settings are not asked."""
    (here.top / ".gitattributes").write_text("*.yaml diff=x filter=x\n", encoding="utf-8")
    here.commit()
    for key in (
        "diff.x.textconv",
        "filter.x.smudge",
        "core.pager",
        "alias.cat-file",
        "core.fsmonitor",
        "core.sshCommand",
    ):
        here.git("config", key, f"touch {here.top / 'stolen'}")
    assert read_deck_at("HEAD:decks/small").items["brake"].to == "SET HARD"
    assert not (here.top / "stolen").exists()


def test_a_bundled_deck_by_name(here: Repository) -> None:
    assert read_deck_at("twinjet").id == "twinjet"
    assert "bundled decks: turboprop, twinjet" in found("nowhere")
