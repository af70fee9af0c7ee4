"""Mutation testing of the rules: change the source in one place, and see whether a test fails.

    python -m tests.mutation --sample 500 --seed 1 --results mutants.json
    python -m tests.mutation --sample 500 --seed 1 --again mutants.json     # only those that lived

Each mutant is tried in a copy of the tree, against the tests that execute its statement: those of its own package
first, quick ones before generated ones, then whole files of the rest; the first failure kills it. One at a time.
Needs the extra `mutation`. Exit 0 when done, 2 when the tests fail on the unchanged source.
"""

import argparse
import json
import shutil
import sys
import tempfile
import time
from dataclasses import asdict
from pathlib import Path

# Loaded once here, so that each child need not: third parties only, nothing of this project.
import hypothesis.strategies  # noqa: F401
import msgspec  # noqa: F401
import pydantic  # noqa: F401
import transitions  # noqa: F401
import yaml  # noqa: F401

from tests.mutation.child import OUTPUT, TIMED_OUT, Chosen, in_child, run_tests
from tests.mutation.covered import Covered, watched
from tests.mutation.places import Mutant, drawn

PACKAGES = {
    "flowdeck/arrival": "tests/arrival",
    "flowdeck/conditions": "tests/conditions",
    "flowdeck/engine": "tests/engine",
}
WIDER = ["tests/phasefile", "tests/view", "tests/scenarios/test_goldens.py", "tests/scenarios/test_slip_words.py"]
USELESS = "test_a_second_rehearsal_makes_the_same_events"
"""Compares two flights of the same source, so that a change of it cannot show."""
_IGNORED = shutil.ignore_patterns(".git", ".venv", "__pycache__", ".*_cache", ".hypothesis", "mutants*")


def main() -> int:
    options = _options()
    root = Path(tempfile.mkdtemp(prefix="mutation-")).resolve()
    shutil.copytree(".", root, dirs_exist_ok=True, ignore=_IGNORED)
    sys.dont_write_bytecode = True  # two changes of one second and one size would look the same to the cache
    try:
        return _run(root, options)
    finally:
        shutil.rmtree(root)


def _options() -> argparse.Namespace:
    parser = argparse.ArgumentParser(prog="python -m tests.mutation", description=__doc__.split("\n")[0])
    parser.add_argument("--sample", type=int, default=500, help="mutants over all packages, in proportion to size")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--only", nargs="+", default=["conditions", "engine"], help="packages; arrival is another one")
    parser.add_argument("--results", type=Path, help="write every mutant and what became of it, as JSON")
    parser.add_argument("--again", type=Path, help="try only those that did not die in these results")
    return parser.parse_args()


def _run(root: Path, options: argparse.Namespace) -> int:
    began = time.monotonic()
    packages = {path: tests for path, tests in PACKAGES.items() if path.removeprefix("flowdeck/") in options.only}
    files = [str(p.relative_to(root)) for package in packages for p in sorted((root / package).glob("*.py"))]
    mutants, counts = drawn(root, files, options.sample, options.seed)
    print(f"{sum(counts.values())} places in {len(files)} files; {len(mutants)} drawn with seed {options.seed}")
    wider = WIDER if "engine" in options.only else []
    covered = watched(root, list(packages), [*packages.values(), *wider])
    if covered is None:
        print((root / OUTPUT).read_text() + "\nthe tests fail on the unchanged source", file=sys.stderr)
        return 2
    print(f"{len(covered.seconds)} tests watched, {time.monotonic() - began:.0f} s", flush=True)
    before = {r["name"]: r for r in json.loads(options.again.read_text())} if options.again else {}
    results = []
    for mutant in mutants:
        old = before.get(mutant.name)
        if old is not None and old["fate"] in ("killed", "timed out"):
            results.append(old)
            continue
        fate, by, seconds = _try(root, mutant, covered)
        kept = {key: value for key, value in asdict(mutant).items() if key != "source"}
        results.append({"name": mutant.name, "fate": fate, "by": by, "seconds": round(seconds, 1), **kept})
        print(f"{fate:12} {seconds:5.1f} s  {mutant.name}  {by}", flush=True)
        if options.results:
            options.results.write_text(json.dumps(results, indent=1))
    _tell(results, time.monotonic() - began)
    return 0


def _try(root: Path, mutant: Mutant, covered: Covered) -> tuple[str, str, float]:
    """What becomes of one mutant, the test that noticed, and the seconds it took."""
    tests = covered.tests_of(mutant.file, mutant.first, mutant.last)
    if tests is not None and not tests:
        return "not covered", "", 0.0
    own = PACKAGES[str(Path(mutant.file).parent)]
    mine, others = covered.in_order(tests, own)
    others = [test for test in others if USELESS not in test]
    rank = {test: i for i, test in enumerate([*mine, *others])}
    note, source = root / "first-failure", root / mutant.file
    original, began = source.read_text(), time.monotonic()
    source.write_text(mutant.source)
    try:
        for part in filter(None, (mine, others)):
            note.unlink(missing_ok=True)
            paths = sorted({test.split("::")[0] for test in part})
            limit = 30 + 4 * sum(covered.seconds[test] for test in part)
            code = in_child(root, lambda: run_tests(paths, [Chosen(frozenset(part), rank, note)]), limit)  # noqa: B023
            if code == TIMED_OUT:
                return "timed out", "", time.monotonic() - began
            if code == 5:
                raise RuntimeError(f"no test was run for {mutant.name}")
            if code != 0:
                by = note.read_text() if note.exists() else f"pytest ended with {code}"
                return "killed", by, time.monotonic() - began
        return "survived", "", time.monotonic() - began
    finally:
        source.write_text(original)


def _tell(results: list[dict[str, object]], seconds: float) -> None:
    fates = ("killed", "timed out", "survived", "not covered")
    print(f"\n{'':22}{'mutants':>9}" + "".join(f"{fate:>13}" for fate in fates) + f"{'score':>8}")
    for package in (*PACKAGES, ""):
        of_it = [r for r in results if str(r["file"]).startswith(package)]
        numbers = [sum(r["fate"] == fate for r in of_it) for fate in fates]
        score = (numbers[0] + numbers[1]) / len(of_it) if of_it else 0.0
        print(f"{package or 'in all':22}{len(of_it):9}" + "".join(f"{n:13}" for n in numbers) + f"{score:8.1%}")
    print(f"{seconds / 60:.0f} minutes")
    for result in results:
        if result["fate"] in ("survived", "not covered"):
            print(f"{result['fate']:12} {result['name']}")


if __name__ == "__main__":
    sys.exit(main())
