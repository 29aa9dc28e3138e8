"""A PostgreSQL server of the tests' own, in a folder of its own, gone afterwards.

A watch beside it, a shell that waits for its input to end, stops it and clears its folder
even where the tests were killed.
"""

import os
import pwd
import shutil
import subprocess
import tempfile
from pathlib import Path

import pytest

psycopg = pytest.importorskip("psycopg", reason="the extra `postgres` is not there")


def programs():
    """Find the folder with the server's programs, the newest of Debian's first."""
    found = sorted(Path("/usr/lib/postgresql").glob("*/bin/initdb"), reverse=True)
    on_path = shutil.which("initdb")
    candidates = [*found, *([Path(on_path).resolve()] if on_path else [])]
    whole = [c.parent for c in candidates if (c.parent / "pg_ctl").exists()]
    return whole[0] if whole else None


WATCH = """read -r _; "$0" -D "$1/data" -m immediate -w stop; rm -rf "$1" """


class Server:
    """Started by `start`; `url(database)` makes a new database each time."""

    def __init__(self, bin_folder):
        self.bin = bin_folder
        # Short: the path of a Unix socket has at most about a hundred characters.
        self.folder = Path(tempfile.mkdtemp(prefix="pg", dir="/tmp"))
        self.user = {}
        if os.geteuid() == 0:  # which the server refuses to run as
            other = pwd.getpwnam("nobody")
            os.chown(self.folder, other.pw_uid, other.pw_gid)
            self.user = {"user": other.pw_uid, "group": other.pw_gid}
        self.data = self.folder / "data"
        self.count = 0
        self.watch = subprocess.Popen(
            ["sh", "-c", WATCH, str(self.bin / "pg_ctl"), str(self.folder)],
            stdin=subprocess.PIPE,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            start_new_session=True,  # what ends a group of programs leaves it
            **self.user,
        )

    def run(self, program, *arguments):
        done = subprocess.run(
            [str(self.bin / program), *map(str, arguments)],
            cwd=self.folder,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.PIPE,
            text=True,
            env={"LC_ALL": "C", "PATH": os.environ["PATH"], "HOME": str(self.folder)},
            check=False,
            **self.user,
        )
        if done.returncode:
            pytest.fail(f"{program}: {done.stderr}")

    def start(self):
        self.run("initdb", "-D", self.data, "-U", "owner", "-A", "trust", "-E", "UTF8")
        self.run_again()

    def run_again(self):
        options = f"-k {self.folder} -c listen_addresses= -c max_connections=60"
        log = self.folder / "log"
        self.run("pg_ctl", "-D", self.data, "-l", log, "-w", "-o", options, "start")

    def stop(self):
        self.run("pg_ctl", "-D", self.data, "-m", "immediate", "-w", "stop")

    def end(self):
        """Stop it for good, and clear its folder."""
        self.watch.communicate()

    def url(self, user="owner", database="postgres"):
        """Make room for another event: a schema, which is far cheaper than a database."""
        self.count += 1
        schema = f"event{self.count}"
        address = f"host={self.folder} user=owner dbname=postgres"
        with psycopg.connect(address, autocommit=True) as connection:
            connection.execute(f"CREATE SCHEMA {schema}")
        options = f"options=-csearch_path%3D{schema}"
        return f"postgresql://{user}@/{database}?host={self.folder}&{options}"
