"""A Slurm cluster of this one machine, for tests: own settings, key and ports in one folder, on loopback.

The programs come from Debian's packages, unpacked into a folder: nothing is installed, no settings of the
machine are read or changed, and no right is needed that the user does not have. Jobs are tracked by the
process table instead of control groups, which containers mostly do not hand on.
"""

from __future__ import annotations

import getpass
import os
import shutil
import socket
import subprocess
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path

PACKAGES = ["slurmctld", "slurmd", "slurm-client", "slurm-wlm-basic-plugins", "munge", "libmunge2"]

SETTINGS = """\
ClusterName=test
SlurmctldHost={host}(127.0.0.1)
SlurmctldPort={control_port}
SlurmdPort={node_port}
SlurmUser={user}
SlurmdUser={user}
AuthType=auth/munge
CredType=cred/munge
AuthInfo=socket={home}/munge.socket
PluginDir={plugins}
StateSaveLocation={home}/state
SlurmdSpoolDir={home}/spool
SlurmctldPidFile={home}/slurmctld.pid
SlurmdPidFile={home}/slurmd.pid
SlurmctldLogFile={home}/slurmctld.log
SlurmdLogFile={home}/slurmd.log
ProctrackType=proctrack/linuxproc
TaskPlugin=task/none
SelectType=select/cons_tres
SelectTypeParameters=CR_CPU
SchedulerParameters=sched_interval=1
SwitchType=switch/none
MpiDefault=none
JobAcctGatherType=jobacct_gather/none
AccountingStorageType=accounting_storage/none
ReturnToService=2
KillWait=2
MailProg=/bin/true
SlurmdParameters=config_overrides
NodeName={host} NodeAddr=127.0.0.1 CPUs=4 State=UNKNOWN
PartitionName=all Nodes={host} Default=YES MaxTime=INFINITE State=UP
"""


class NotToBeHad(Exception):
    """Why there is no Slurm here."""


def unpacked(folder: Path) -> Path:
    """Slurm's programs in a folder; fetched by this machine's own package manager where they are not there."""
    root = folder / "root"
    if (folder / "complete").exists():
        return root
    for tool in ("apt-get", "dpkg"):
        if shutil.which(tool) is None:
            raise NotToBeHad(f"Slurm comes from Debian's packages, and there is no {tool} here")
    shutil.rmtree(folder, ignore_errors=True)
    (folder / "lists" / "partial").mkdir(parents=True)
    fetched = folder / "fetched"
    fetched.mkdir()
    quick = ["-o", "Acquire::Retries=0", "-o", "Acquire::http::Timeout=15", "-o", "APT::Sandbox::User="]
    own = [*quick, "-o", f"Dir::State::lists={folder}/lists", "-o", f"Dir::Cache={folder}"]
    known: list[str] = quick
    wanted = ["install", "--simulate", "--no-install-recommends", *PACKAGES]
    try:
        told = _said(["apt-get", *known, *wanted])
    except subprocess.SubprocessError:
        # A bare machine has no lists of packages yet.
        known = own
        try:
            _said(["apt-get", *known, "update"])
            told = _said(["apt-get", *known, *wanted])
        except subprocess.SubprocessError as error:
            raise NotToBeHad("Debian's packages of Slurm cannot be fetched") from error
    missing = [line.split()[1] for line in told.splitlines() if line.startswith("Inst ")]
    try:
        _said(["apt-get", *known, "download", *sorted({*PACKAGES, *missing})], cwd=fetched)
    except subprocess.SubprocessError as error:
        raise NotToBeHad("Debian's packages of Slurm cannot be fetched") from error
    for package in fetched.glob("*.deb"):
        _said(["dpkg", "-x", str(package), str(root)])
    (folder / "complete").touch()
    return root


def _said(words: list[str], cwd: Path | None = None, env: dict[str, str] | None = None, timeout_s: float = 120) -> str:
    done = subprocess.run(words, capture_output=True, text=True, cwd=cwd, env=env, timeout=timeout_s, check=True)
    return done.stdout


def _free_ports(count: int) -> list[int]:
    # All are held until all are known, so that none comes twice.
    held = [socket.create_server(("127.0.0.1", 0)) for _ in range(count)]
    ports = [one.getsockname()[1] for one in held]
    for one in held:
        one.close()
    return ports


def wait_until(what: str, holds: Callable[[], bool], most_s: float) -> None:
    """Waits for a state, and says which one never came."""
    begun = time.monotonic()
    while not holds():
        if time.monotonic() - begun > most_s:
            raise TimeoutError(f"after {most_s:.0f} s still not: {what}")
        time.sleep(0.05)


class Cluster:
    """A cluster that runs."""

    def __init__(self, home: Path, env: dict[str, str]) -> None:
        self.home = home
        self.env = env

    def said(self, *words: str, cwd: Path | None = None) -> str:
        """What one of Slurm's commands prints."""
        return _said(list(words), cwd=cwd, env=self.env, timeout_s=20).strip()

    def states(self, job: str) -> dict[str, str]:
        """State of every task of an array of jobs."""
        lines = self.said("scontrol", "--oneliner", "show", "job", job).splitlines()
        told = [dict(word.split("=", 1) for word in line.split() if "=" in word) for line in lines]
        return {one["ArrayTaskId"]: one["JobState"] for one in told}

    def processes(self, job: str, task: int) -> list[int]:
        """Numbers of the processes that one task of an array of jobs runs."""
        told = {f"SLURM_ARRAY_JOB_ID={job}".encode(), f"SLURM_ARRAY_TASK_ID={task}".encode()}
        found = []
        for process in Path("/proc").glob("[0-9]*"):
            try:
                surroundings = (process / "environ").read_bytes().split(b"\0")
            except OSError:
                # It has ended meanwhile, or is somebody else's.
                continue
            if told <= set(surroundings):
                found.append(int(process.name))
        return found

    def log(self) -> str:
        """What the cluster itself has to say, for a test that fails."""
        return "\n".join(path.read_text(errors="replace")[-6000:] for path in sorted(self.home.glob("*.log")))

    def all_ended(self, job: str) -> bool:
        """Whether no task waits or runs."""
        return not self.said("squeue", "--noheader", "--jobs", job)


@contextmanager
def cluster(packages: Path, home: Path) -> Iterator[Cluster]:
    """A cluster of this machine, ended with the block."""
    root = unpacked(packages)
    plugins = next(iter(root.glob("usr/lib/*/slurm-wlm")), None) or next(iter(root.glob("usr/lib/*/slurm*")))
    programs = [root / "usr/sbin", root / "usr/bin"]

    def program(name: str) -> str:
        found = [place / f"{name}{ending}" for place in programs for ending in ("-wlm", "")]
        return str(next(path for path in found if path.exists()))

    control_port, node_port = _free_ports(2)
    user, host = getpass.getuser(), socket.gethostname().split(".")[0]
    names = {"home": home, "plugins": plugins, "user": user, "host": host}
    settings = SETTINGS.format(**names, control_port=control_port, node_port=node_port)
    for folder in ("state", "spool"):
        (home / folder).mkdir()
    (home / "slurm.conf").write_text(settings, encoding="utf-8")
    key = home / "munge.key"
    key.write_bytes(os.urandom(128))
    key.chmod(0o600)
    env = {name: value for name, value in os.environ.items() if not name.startswith("SLURM")}
    env["SLURM_CONF"] = str(home / "slurm.conf")
    env["PATH"] = os.pathsep.join([*map(str, programs), env.get("PATH", "")])
    env["LD_LIBRARY_PATH"] = f"{plugins.parent}:{plugins}"
    own = [f"--{name}-file={home}/munge.{name}" for name in ("key", "pid", "log", "seed")]
    daemons = [
        [program("munged"), "--foreground", "--force", f"--socket={home}/munge.socket", *own],
        [program("slurmctld"), "-D", "-i"],
        [program("slurmd"), "-D", "-d", program("slurmstepd")],
    ]
    started: list[subprocess.Popen[bytes]] = []
    running = Cluster(home, env)
    try:
        for words in daemons:
            with open(home / "daemons.txt", "ab") as log:
                started.append(subprocess.Popen(words, env=env, stdout=log, stderr=log, stdin=subprocess.DEVNULL))
            if words is daemons[0]:
                wait_until("munge answers", lambda: (home / "munge.socket").exists(), 10)
        wait_until("the node is idle", lambda: _is_idle(running), 20)
        yield running
    finally:
        # Tasks first: what runs them is nobody's child once the daemons are gone.
        subprocess.run(["scancel", "--signal=KILL", "--full", f"--user={user}"], env=env, timeout=20, check=False)
        subprocess.run(["scancel", f"--user={user}"], env=env, timeout=20, check=False)
        try:
            wait_until("no job is left", lambda: not running.said("squeue", "--noheader"), 10)
        except (TimeoutError, subprocess.SubprocessError):
            pass
        for daemon in reversed(started):
            daemon.terminate()
            try:
                daemon.wait(timeout=5)
            except subprocess.TimeoutExpired:
                daemon.kill()
                daemon.wait()


def _is_idle(running: Cluster) -> bool:
    try:
        return running.said("sinfo", "--noheader", "--format=%T") == "idle"
    except subprocess.SubprocessError:
        return False
