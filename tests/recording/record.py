"""A recording of what the program gives, to hold changed code against; it goes when the rebuilding ends.

    PYTHONPATH=CLONE python tests/recording/record.py [--pieces [--quick] | --searches] [-k WORD] [-j 2]
                                                      [--keep DIR [--before CLONE]]

runs every paper on the stored pieces, and the searches, with the code of that clone (without PYTHONPATH: with the code
that lies beside this folder), and lists what differs from hashes.json: exit code 1 if anything does. -k takes a part
of a name and may be given again. --write writes hashes.json anew, of a part its entries. --keep DIR leaves the outputs
of all that differs in DIR/now, and with --before CLONE those of that clone's code in DIR/before, to lay side by side:
`diff -r DIR/before DIR/now`. --all keeps equal ones as well.

All goes through the command line; nothing inside is named, so that it may be called anything. Files are compared byte
for byte, pictures in PNG pixel for pixel.
"""

from __future__ import annotations

import argparse
import contextlib
import hashlib
import io
import json
import multiprocessing
import os
import shutil
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, replace
from pathlib import Path

HERE = Path(__file__).resolve().parent
HASHES = HERE / "hashes.json"
# Of a task every command, of a command what it said and every file it wrote or removed, with a digest.
Digests = dict[str, dict[str, str]]


@dataclass(frozen=True)
class Task:
    """Commands run one after the other in a folder of their own. commands: by name, as lists of words.

    pieces: stored pieces that lie in the folder `study` as its squares 1, 2 and so on. files: others, by name.
    """

    name: str
    commands: Mapping[str, Sequence[str]]
    pieces: tuple[str, ...] = ()
    files: tuple[str, ...] = ()


@dataclass(frozen=True)
class Result:
    name: str
    digests: Digests
    seconds: float


def code() -> Path:
    """The folder of the code that is run: of PYTHONPATH, else the one this folder belongs to."""
    places = [Path(each) for each in os.environ.get("PYTHONPATH", "").split(os.pathsep) if each]
    return next((each for each in places if (each / "explore").is_dir()), HERE.parents[1]).resolve()


def done(task: Task, keep: Path | None) -> Result:
    """Run a task. keep: where its folder is left, with what the commands said."""
    began = time.monotonic()
    before = Path.cwd()
    with tempfile.TemporaryDirectory(prefix="recording-") as name:
        folder = Path(name) / "garden"
        folder.mkdir()
        _lay_out(task, folder)
        os.chdir(folder)
        try:
            digests, told = _run_all(task, folder)
        finally:
            os.chdir(before)
        if keep is not None:
            kept = keep / task.name
            shutil.rmtree(kept, ignore_errors=True)
            shutil.copytree(folder, kept)
            for command, text in told.items():
                (kept / f"{command}.said").write_text(text, encoding="utf-8")
    return Result(task.name, digests, time.monotonic() - began)


def _lay_out(task: Task, folder: Path) -> None:
    for name in task.files:
        shutil.copy(HERE / "given" / name, folder)
    if not task.pieces:
        return
    squares = folder / "study" / "squares"
    squares.mkdir(parents=True)
    data = [json.loads((HERE / "pieces" / f"{name}.json").read_text(encoding="utf-8")) for name in task.pieces]
    for number, piece in enumerate(data, 1):
        (squares / f"{number:02d}.json").write_text(json.dumps({**piece, "number": number}), encoding="utf-8")
    brief = f'stamp = ""\nform = "{data[0]["form"]}"\npairs = 60\neffort = 0.1\n'
    (folder / "study" / "brief.toml").write_text(brief, encoding="utf-8")
    shutil.copy(HERE / "given" / "study.json", folder / "study")


def _run_all(task: Task, folder: Path) -> tuple[Digests, dict[str, str]]:
    digests: Digests = {}
    told: dict[str, str] = {}
    seen = _files(folder)
    for name, arguments in task.commands.items():
        status, out, err = run(arguments)
        now = _files(folder)
        lines = {"exit code": status, "stdout": _digest(out.encode()), "stderr": _digest(err.encode())}
        lines |= {path: digest(folder / path) for path, stamp in now.items() if seen.get(path) != stamp}
        lines |= {path: "gone" for path in seen if path not in now}
        digests[name], seen = lines, now
        told[name] = f"$ {' '.join(arguments)}\n{out}--- stderr\n{err}--- {status}\n"
    return digests, told


def run(arguments: Sequence[str]) -> tuple[str, str, str]:
    """Exit code, stdout and stderr of a command. One that ends in an exception ends the recording: it is a defect."""
    from explore import cli

    raw = io.BytesIO(), io.BytesIO()
    out, err = (io.TextIOWrapper(each, "utf-8", write_through=True) for each in raw)
    with contextlib.redirect_stdout(out), contextlib.redirect_stderr(err):
        status = str(cli.run(arguments))
    said, complained = (each.getvalue().decode() for each in raw)
    return status, said, complained


def _files(folder: Path) -> dict[str, tuple[int, int, int]]:
    """Every file, with what changes if it is written."""
    return {
        path.relative_to(folder).as_posix(): (path.stat().st_mtime_ns, path.stat().st_size, path.stat().st_ino)
        for path in sorted(folder.rglob("*"))
        if path.is_file()
    }


def digest(path: Path) -> str:
    """What a file holds, of a PNG its pixels, as sixteen hexadecimal digits."""
    if path.suffix == ".png":
        from PIL import Image

        with Image.open(path) as image:
            return _digest(f"{image.mode} {image.size} ".encode() + image.tobytes())
    return _digest(path.read_bytes())


def _digest(content: bytes) -> str:
    return hashlib.sha256(content).hexdigest()[:16]


def differences(name: str, before: Digests | None, now: Digests) -> list[str]:
    """A line for each thing that is not as recorded."""
    if before is None:
        return [f"{name}: not recorded"]
    lines = []
    for command, new in now.items():
        old = before.get(command)
        if old is None:
            lines.append(f"{name}/{command}: not recorded")
            continue
        for path in {**old, **new}:
            if old.get(path) != new.get(path):
                said = f"{old.get(path, 'not there')} -> {new.get(path, 'not there')}"
                lines.append(f"{name}/{command}: {path}: {said}")
    return lines


def recorded() -> dict[str, Digests]:
    """What hashes.json says, by task."""
    found: dict[str, Digests] = json.loads(HASHES.read_text(encoding="utf-8")) if HASHES.exists() else {}
    return found


def everything(
    pieces: bool = True, searches: bool = True, words: Sequence[str] = (), quick: bool = False
) -> list[Task]:
    """The tasks, or those whose names hold one of the words. quick: of a piece a part of its papers."""
    from papers_recorded import paper_tasks
    from searches_recorded import search_tasks

    tasks = [*(search_tasks() if searches else []), *(paper_tasks(quick) if pieces else [])]
    assert len({task.name for task in tasks}) == len(tasks)
    return [task for task in tasks if not words or any(word in task.name for word in words)]


def part(task: Task, words: Sequence[str]) -> Task:
    """A task with those commands alone whose names hold one of the words."""
    chosen = {name: line for name, line in task.commands.items() if any(word in name for word in words)}
    return replace(task, commands=chosen)


def results(tasks: Sequence[Task], processes: int, keep: Path | None) -> Iterator[Result]:
    """What the tasks give, in their order."""
    with ProcessPoolExecutor(processes, mp_context=multiprocessing.get_context("spawn"), initializer=begin) as pool:
        yield from pool.map(done, tasks, [keep] * len(tasks))


def begin() -> None:
    """The code to run comes first in a process; what it says is as wide and in the same letters everywhere."""
    sys.path.insert(0, str(code()))
    os.environ.update(COLUMNS="100", LC_ALL="C.UTF-8", TERM="dumb", NO_COLOR="1")


def _asked() -> argparse.Namespace:
    about = (__doc__ or "").split("\n\n")
    parser = argparse.ArgumentParser(description=about[0], epilog="See the beginning of the file.")
    parser.add_argument("--write", action="store_true", help="write hashes.json")
    parser.add_argument("--pieces", action="store_true", help="the papers of the stored pieces alone")
    parser.add_argument("--searches", action="store_true", help="the searches alone")
    parser.add_argument("--quick", action="store_true", help="of each piece the usual papers and a third of the others")
    parser.add_argument("-k", action="append", default=[], metavar="WORD", help="tasks whose names hold it")
    parser.add_argument("-c", action="append", default=[], metavar="WORD", help="of tasks the commands whose names do")
    parser.add_argument("-j", type=int, default=2, metavar="PROCESSES", help="default: 2")
    parser.add_argument("--keep", type=Path, metavar="DIR", help="leave the outputs of what differs in DIR/now")
    parser.add_argument("--before", type=Path, metavar="CLONE", help="and those of that clone's code in DIR/before")
    parser.add_argument("--all", action="store_true", help="keep all outputs, right in the folder of --keep")
    parser.add_argument("--times", action="store_true", help="tell how long each task took")
    asked = parser.parse_args()
    if asked.quick and asked.write:
        parser.error("--write takes no --quick: all papers are recorded")
    return asked


def main() -> int:
    asked = _asked()
    keep = asked.keep.resolve() if asked.keep else None
    wanted = everything(asked.pieces or not asked.searches, asked.searches or not asked.pieces, asked.k, asked.quick)
    wanted = [part(task, asked.c) for task in wanted] if asked.c else wanted
    print(f"{len(wanted)} tasks with the code of {code()}", flush=True)
    before, now, told = recorded(), {}, 0
    differing: list[Task] = []
    began = time.monotonic()
    into = None if keep is None else keep if asked.all else keep / "now"
    for task, result in zip(wanted, results(wanted, asked.j, into), strict=True):
        now[task.name] = result.digests
        if asked.times:
            print(f"{result.seconds:6.1f} s  {task.name}", flush=True)
        lines = [] if asked.write or asked.all else differences(task.name, before.get(task.name), result.digests)
        told += len(lines)
        print(*lines, sep="\n", end="\n" if lines else "", flush=True)
        if lines:
            differing.append(task)
        elif into is not None and not asked.all:
            shutil.rmtree(into / task.name, ignore_errors=True)
        if asked.write:
            _write(now)
    if keep is not None and asked.before is not None and differing:
        _also_before(asked.before, keep / "before", differing)
    print(f"{told} differences in {len(differing)} of {len(wanted)} tasks, {time.monotonic() - began:.0f} s")
    return 1 if told else 0


def _write(now: Mapping[str, Digests]) -> None:
    before = recorded()
    kept: dict[str, Digests] = {}
    for task in sorted(everything(), key=lambda each: each.name):
        merged = {**before.get(task.name, {}), **now.get(task.name, {})}
        kept |= {task.name: {name: merged[name] for name in task.commands if name in merged}} if merged else {}
    HASHES.write_text(json.dumps(kept, indent=1) + "\n", encoding="utf-8")


def _also_before(clone: Path, folder: Path, differing: Sequence[Task]) -> None:
    words = [word for task in differing for word in ("-k", task.name)]
    command = [sys.executable, __file__, "--all", "--keep", str(folder), *words]
    subprocess.run(command, env={**os.environ, "PYTHONPATH": str(clone.resolve())}, check=True)


if __name__ == "__main__":
    sys.exit(main())
