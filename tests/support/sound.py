"""A small deck of which no rule says anything: the small one with what its writer left out."""

from tests.support.small import FILES

_CHANGES = {
    "deck.yaml": [("status: draft\n", "status: draft\neffectivity: All of them\n")],
    "approach.yaml": [("    phases: [approach, landing]\n", "    phases: [approach, landing, go_around, ground]\n")],
    "ground.yaml": [
        (
            "    opens: \"since('ground') > 5\"\n",
            "    opens: \"since('ground') > 5\"\n    due: {after_s: 60}\n    late: {after_s: 120}\n"
            "    not_while: near_runway\n",
        )
    ],
}


def changed(text: str, old: str, new: str) -> str:
    """*text* with its one *old* replaced."""
    assert text.count(old) == 1, f"{old!r} stands {text.count(old)} times in the text"
    return text.replace(old, new)


def sound_files() -> dict[str, str]:
    """Its files."""
    files = dict(FILES)
    for name, changes in _CHANGES.items():
        for old, new in changes:
            files[name] = changed(files[name], old, new)
    return files
