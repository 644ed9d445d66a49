"""A run that is stopped, killed or crashes leaves nothing behind, and says by its exit code what it was."""

from __future__ import annotations

import signal
from pathlib import Path

import pytest
from cli_runs import left, started
from waiting import HANGS, until

from neckmodel.stopping import take_away
from neckmodel.writers.drafts import PREFIX, SUFFIX, drafts, sweep

MOMENTS = ("loading the CAD kernel", "building redpoll", "measuring redpoll", "writing redpoll-neck.step")


@pytest.mark.parametrize("moment", MOMENTS)
def test_ctrl_c_stops_it_wherever_it_is(tmp_path: Path, moment: str) -> None:
    run = started(tmp_path, "-m", "neckmodel", "build", "redpoll")
    assert run.stderr is not None
    seen = []
    for line in run.stderr:
        seen.append(line)
        if moment in line:
            break
    run.send_signal(signal.SIGINT)
    _, rest = run.communicate(timeout=HANGS)
    assert (run.returncode, rest.splitlines()[-1]) == (130, "neckmodel: stopped"), seen
    assert left(tmp_path) == []


def test_a_jig_is_stopped_while_it_is_measured(tmp_path: Path) -> None:
    run = started(tmp_path, "-m", "neckmodel", "jig", "redpoll", "trial-block")
    assert run.stderr is not None
    for line in run.stderr:
        if "measuring trial-block" in line:
            break
    run.send_signal(signal.SIGTERM)
    _, rest = run.communicate(timeout=HANGS)
    assert (run.returncode, rest.splitlines()[-1]) == (143, "neckmodel: stopped")
    assert left(tmp_path) == []


# work that holds a draft and takes no signal, as a long call into the kernel does
BUSY = """
import os, signal, sys, time
from pathlib import Path
from neckmodel.stopping import supervised
from neckmodel.writers.drafts import drafts

def work():
    signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT, signal.SIGTERM})
    with drafts(Path("new/exports")) as draft:
        (draft / "half.step").write_text("half of it")
        print(os.getpid(), flush=True)
        while True:
            time.sleep(0.01)

sys.exit(supervised(work))
"""


@pytest.mark.parametrize(("number", "code"), [(signal.SIGINT, 130), (signal.SIGTERM, 143), (signal.SIGHUP, 129)])
def test_work_that_takes_no_signal_is_ended_by_its_parent(tmp_path: Path, number: signal.Signals, code: int) -> None:
    run = started(tmp_path, "-c", BUSY.replace("signal.SIGTERM}", "signal.SIGTERM, signal.SIGHUP}"))
    assert run.stdout is not None
    assert int(run.stdout.readline()) != run.pid
    assert left(tmp_path / "new" / "exports") != []
    run.send_signal(number)
    _, said = run.communicate(timeout=HANGS)
    assert (run.returncode, said) == (code, "neckmodel: stopped\n")
    assert left(tmp_path) == []


def test_work_whose_parent_is_killed_ends_too(tmp_path: Path) -> None:
    run = started(tmp_path, "-c", BUSY)
    assert run.stdout is not None
    worker = int(run.stdout.readline())
    run.kill()
    run.communicate(timeout=HANGS)
    until(lambda: not Path(f"/proc/{worker}").exists(), "the work ends")
    assert left(tmp_path) == []


@pytest.mark.parametrize(
    ("number", "code", "says"),
    [
        (signal.SIGSEGV, 3, "a fault of neckmodel, not of your design: the work broke off, SIGSEGV | please report it"),
        (signal.SIGKILL, 137, "ended from outside (SIGKILL); the machine may have run out of memory"),
    ],
)
def test_work_that_crashes_is_told_in_one_line(tmp_path: Path, number: int, code: int, says: str) -> None:
    script = BUSY.replace(
        "        while True:\n            time.sleep(0.01)", f"        os.kill(os.getpid(), {int(number)})"
    )
    run = started(tmp_path, "-c", script)
    _, said = run.communicate(timeout=HANGS)
    assert (run.returncode, said) == (code, f"neckmodel: {says}\n")
    assert left(tmp_path) == []


@pytest.mark.parametrize("code", [0, 1, 2, 7])
def test_the_exit_code_is_that_of_the_work(tmp_path: Path, code: int) -> None:
    run = started(
        tmp_path, "-c", f"import sys\nfrom neckmodel.stopping import supervised\nsys.exit(supervised(lambda: {code}))"
    )
    assert (run.communicate(timeout=HANGS), run.returncode) == (("", ""), code)


def test_what_belongs_together_is_done_before_it_stops(tmp_path: Path) -> None:
    script = """
import os, signal, sys
from neckmodel.stopping import held, supervised

def work():
    with held():
        os.kill(os.getpid(), signal.SIGINT)
        print("both")
        print("renames", flush=True)
    print("never")
    return 0

sys.exit(supervised(work))
"""
    run = started(tmp_path, "-c", script)
    out, said = run.communicate(timeout=HANGS)
    assert (run.returncode, out, said) == (130, "both\nrenames\n", "neckmodel: stopped\n")


# --- leftovers of a killed run ---------------------------------------------------------------------------------------
HOLDS = """
import time
from pathlib import Path
from neckmodel.writers.drafts import drafts

with drafts(Path(".")) as draft:
    print(draft, flush=True)
    while True:
        time.sleep(0.01)
"""


def test_a_running_process_keeps_its_draft_and_a_killed_ones_is_swept(tmp_path: Path) -> None:
    run = started(tmp_path, "-c", HOLDS)
    assert run.stdout is not None
    draft = tmp_path / run.stdout.readline().strip()
    sweep(tmp_path)
    assert draft.is_dir()
    run.kill()
    run.communicate(timeout=HANGS)
    assert draft.is_dir()
    with drafts(tmp_path) as own:
        assert not draft.exists()
        assert left(tmp_path) == [own.name]
    assert left(tmp_path) == []


def test_nothing_but_drafts_is_swept(tmp_path: Path) -> None:
    for name in (".neckmodel-notes", "wren.part", f"{PREFIX}x{SUFFIX}.toml"):
        (tmp_path / name).mkdir()
    (tmp_path / "wren.toml").touch()
    before = left(tmp_path)
    sweep(tmp_path)
    assert left(tmp_path) == before


def test_an_earlier_export_that_stood_aside_goes_back(tmp_path: Path) -> None:
    """Killed between the two renames of a swap."""
    aside = tmp_path / f"{PREFIX}killed{SUFFIX}" / "old" / "wren"
    aside.mkdir(parents=True)
    (aside / "wren-neck.step").write_text("earlier")
    sweep(tmp_path)
    assert left(tmp_path) == ["wren"]
    assert (tmp_path / "wren" / "wren-neck.step").read_text() == "earlier"


def test_an_earlier_export_whose_successor_stands_goes(tmp_path: Path) -> None:
    aside = tmp_path / f"{PREFIX}killed{SUFFIX}" / "old" / "wren"
    aside.mkdir(parents=True)
    (tmp_path / "wren").mkdir()
    (tmp_path / "wren" / "new.step").touch()
    sweep(tmp_path)
    assert left(tmp_path) == ["wren"]
    assert left(tmp_path / "wren") == ["new.step"]


def test_new_folders_stay_where_something_is_in_them(tmp_path: Path) -> None:
    (tmp_path / "a" / "b").mkdir(parents=True)
    (tmp_path / "a" / "kept").touch()
    take_away(None, [tmp_path / "a" / "b", tmp_path / "a"])
    assert left(tmp_path / "a") == ["kept"]
