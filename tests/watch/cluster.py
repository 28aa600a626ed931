"""A PostgreSQL server of one's own, in a folder of its own and on a free port, run as a user who is not root."""
import os
import pathlib
import pwd
import re
import shutil
import socket
import subprocess
import sys
import tempfile

import shop

LONGEST = 300  # seconds that a server may take to begin or to end: only one that hangs takes them
BIN = pathlib.Path("/usr/lib/postgresql/15/bin")


def free_port():
    with socket.socket() as s:
        s.bind(("127.0.0.1", 0))
        return s.getsockname()[1]


class Cluster:
    """Every user is trusted, but `guarded`, who needs the password `a secret`."""

    def __init__(self, fsync=True, under=None):
        self.folder = pathlib.Path(tempfile.mkdtemp(prefix="layright-pg-", dir=under))
        self.port = free_port()
        self.lesser = []
        if os.getuid() == 0:
            user = next(pwd.getpwnam(n) for n in ("postgres", "nobody") if has_user(n))
            os.chown(self.folder, user.pw_uid, user.pw_gid)
            self.lesser = ["setpriv", f"--reuid={user.pw_uid}", f"--regid={user.pw_gid}", "--clear-groups"]
        self.data = self.folder / "data"
        self.call(BIN / "initdb", "-D", self.data, "-U", "layright", "-A", "trust", "-E", "UTF8", "--locale=C", "--no-sync")
        conf = f"port={self.port}\nlisten_addresses='127.0.0.1'\nunix_socket_directories='{self.folder}'\nfsync={'on' if fsync else 'off'}\n" \
               "max_connections=60\nlog_statement=none\nlog_min_messages=fatal\n"
        self.call("sh", "-c", f"cat >> {self.data}/postgresql.conf; echo 'host all guarded 127.0.0.1/32 scram-sha-256' | cat - {self.data}/pg_hba.conf "
                  f"> {self.folder}/hba && cp {self.folder}/hba {self.data}/pg_hba.conf", text=conf)
        self.start()
        self.sql("CREATE ROLE guarded LOGIN PASSWORD 'a secret'", "postgres")
        self.count = 0

    def call(self, *words, text=None):
        run = subprocess.run([*self.lesser, *map(str, words)], input=text, capture_output=True, text=True, cwd=self.folder,
                             env={**os.environ, "LC_ALL": "C"}, timeout=2 * LONGEST)
        if run.returncode:
            raise AssertionError(f"{words[0]} ended with {run.returncode}: {run.stdout}{run.stderr}")
        return run.stdout

    def start(self):
        self.call(BIN / "pg_ctl", "-D", self.data, "-l", self.folder / "log", "-w", "-t", LONGEST, "-s", "start")

    def stop(self, how="immediate"):
        self.call(BIN / "pg_ctl", "-D", self.data, "-m", how, "-w", "-t", LONGEST, "-s", "stop")

    def database(self, owner="layright"):
        """An empty one; its address."""
        self.count += 1
        self.sql(f"CREATE DATABASE d{self.count} OWNER {owner}", "postgres")
        return self.address(f"d{self.count}", owner)

    def address(self, name, user="layright"):
        return f"postgresql://{user}@127.0.0.1:{self.port}/{name}"

    def sql(self, text, database):
        database = re.sub(r"^.*/", "", database)
        run = subprocess.run([BIN / "psql", "-X", "-q", "-A", "-t", "-v", "ON_ERROR_STOP=1", "-h", self.folder, "-p", str(self.port), "-U", "layright",
                              "-d", database, "-c", text], capture_output=True, text=True)
        if run.returncode:
            raise AssertionError(run.stderr)
        return run.stdout.strip()

    def processor_seconds(self):
        """Of all its processes that live."""
        parent = int((self.data / "postmaster.pid").read_text().split()[0])
        return sum(seconds for process, above, seconds in shop.processes() if parent in (process, above))

    def close(self):
        try:
            self.stop()
        except AssertionError as told:
            print(told, file=sys.stderr)
        shutil.rmtree(self.folder, ignore_errors=True)


def has_user(name):
    try:
        return bool(pwd.getpwnam(name))
    except KeyError:
        return False


class SharedShop(shop.Shop):
    """A shop whose ledger is a database of a server; `desk()` begins as many desks as wanted."""

    def __init__(self, program, folder, address, lease="2s", **settings):
        self.address, self.lease, self.desks = address, lease, 0
        super().__init__(program, folder, **settings)

    def configure(self, more="", settle="20ms"):
        super().configure(f'lease = "{self.lease}"\npoll = "200ms"\n' + more, settle)
        self.configure_for(self.address)

    def configure_for(self, address):
        """By which way to the server those go that begin from now on."""
        path = self / "layright.toml"
        path.write_text(re.sub(r'^ledger = .*$', f'ledger = "{address}"', path.read_text(), flags=re.M))

    def sqlite(self, sql):
        return "ok"

    def desk(self, *words, environment=None):
        """A desk that runs, once it has begun; its words lie in told-N."""
        self.desks += 1
        log = self / f"told-{self.desks}"
        with open(log, "w") as out:
            watcher = subprocess.Popen(self.words("watch", *words), stderr=out, stdout=subprocess.DEVNULL, env=self.environment(environment),
                                       start_new_session=True)
        watcher.log = log
        self.watchers.append(watcher)
        shop.wait_for(lambda: "watching" in log.read_text(errors="replace") or watcher.poll() is not None)
        return watcher

    def at_rest(self, count):
        """Whether so many jobs came and none is on its way, by the server."""
        return not self.files("in") and self.summary() == (count, 0)

    def summary(self):
        jobs = self.jobs()
        return len(jobs), sum(j["state"] not in shop.AT_REST for j in jobs)
